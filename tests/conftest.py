"""What tests of every kind share."""

import pytest
from hypothesis import settings

from model.inputs.scenario import Scenario
from tests.tiny import two_engines

settings.register_profile("house", deadline=None, max_examples=50, derandomize=True)
settings.load_profile("house")


@pytest.fixture
def tiny() -> Scenario:
    """A two-stroke and a four-stroke with round numbers."""
    return two_engines()
