"""A scenario and an engine file as small as they go, to be spoilt or changed one text at a time."""

from pathlib import Path

SCENARIO = """
format = 1
title = "Launch"
[ownership]
years = 3
delivery = 2027-04-01
[use]
hours_per_year = 100
[[use.band]]
speed = 0.2
share = 0.6
[[use.band]]
speed = 0.8
share = 0.4
[prices]
fuel = 1.9
labour = 80
[[engines]]
file = "engines/four.toml"
[[engines]]
name = "Two-stroke"
technology = "two-stroke direct-injected"
rated_power = 44
price = 9000
"""
"""The smallest comparison that has all that the cases below spoil."""

ENGINE = """
format = 1
name = "Four-stroke"
technology = "four-stroke injected"
rated_power = 44
price = 10000
[fuel]
points = [[0.12, 0.9], [0.5, 4.7], [1.0, 17.1]]
[service]
every = { hours = 100, months = 12 }
[[service.task]]
name = "Gear oil"
every = { hours = 100, months = 12 }
labour = 0.5
parts = [{ name = "Oil", quantity = 0.9, unit = "L", price = 21 }]
[warranty]
months = 36
"""
"""The engine file of that comparison."""

SCENARIO_FILE = "launch.toml"
ENGINE_FILE = "engines/four.toml"


Change = tuple[str, str]
"""A text of the file, and what stands in its place."""


def changed(text: str, *changes: Change) -> str:
    """The text with each change made once."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def write_files(folder: Path, scenario: str = SCENARIO, engine: str = ENGINE) -> Path:
    """Write both files; the path is the scenario's."""
    (folder / "engines").mkdir(exist_ok=True)
    (folder / ENGINE_FILE).write_text(engine, encoding="utf-8")
    (folder / SCENARIO_FILE).write_text(scenario, encoding="utf-8")
    return folder / SCENARIO_FILE
