"""The published figures that the checks are made against: inputs, answer, tolerance, source.

An answer is `printed` in its source, or `derived` from a closed form and an independent numerical check. A tolerance
stands beside the figures it was set for, before the first run: half a unit of the last printed digit, a whole one where
the source rounds on the way.
"""

import json
from pathlib import Path
from typing import Any, NamedTuple


class Check(NamedTuple):
    """One published or derived figure, or a few from the same place."""

    inputs: dict[str, Any]
    """What the answer was worked out from."""
    answer: Any
    """Printed or derived."""
    tolerance: Any
    """Absolute."""


def check(key: str) -> Check:
    """The figures of that key in `checks.json`."""
    content = json.loads(Path(__file__).with_name("checks.json").read_text(encoding="utf-8"))[key]
    answer = content["printed"] if "printed" in content else content["derived"]
    return Check(content["inputs"], answer, content.get("tolerance"))
