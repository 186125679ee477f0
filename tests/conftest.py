"""What tests of every kind share."""

import pytest

from model.inputs.scenario import Scenario
from tests.tiny import two_engines


@pytest.fixture
def tiny() -> Scenario:
    """A two-stroke and a four-stroke with round numbers."""
    return two_engines()
