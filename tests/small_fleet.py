"""A fleet file, a register and logs as small as they go, to be spoilt or changed one text at a time."""

from datetime import date
from pathlib import Path
from typing import Any

from model.fleet.fleet_file import FleetFile
from model.fleet.reading import Fleet, read_fleet
from model.fleet.register import Unit
from tests.tiny import BANDS, FOUR_STROKE, TWO_STROKE

FLEET = """
format = 1
title = "Hire boats"
note = "Invented."
[fleet]
register = "units.csv"
as_of = 2027-01-01
budget_start = 2027-01-01
horizon = 4
policy = { at_age = 5 }
candidates = ["Four-stroke"]
[[use.band]]
speed = 0.1
share = 0.5
[[use.band]]
speed = 1.0
share = 0.5
[prices]
fuel = 2.0
labour = 100
[[engines]]
file = "four.toml"
"""
"""The smallest fleet file."""

ENGINE = """
format = 1
name = "Four-stroke"
technology = "four-stroke injected"
rated_power = 30
price = 6000
fit_up = 500
[fuel]
points = [[0.1, 0.5], [1.0, 13.5]]
[[repair]]
name = "Fuel system"
clock = "hours"
scale = 1000
shape = 1.5
parts_price = 400
[[repair]]
name = "Wiring"
clock = "years"
scale = 4
shape = 1.0
parts_price = 100
[resale]
yearly_decline = 0.2
"""
"""Its engine."""

REGISTER = """unit,engine,count,in_service,meter_hours,hours_per_year,variation,site,note
A,Four-stroke,1,2023-01-01,400,100,0.2,North,
B,Four-stroke,2,2025-01-01,150,80,,South,
"""
"""Its register."""

FLEET_FILE, REGISTER_FILE = "fleet.toml", "units.csv"


def write_fleet(folder: Path, fleet: str = FLEET, register: str = REGISTER, **logs: str) -> Path:
    """Write all files; the path is the fleet file's. Logs are named by their key, `hours="..."` as hours.csv."""
    (folder / "four.toml").write_text(ENGINE, encoding="utf-8")
    (folder / REGISTER_FILE).write_text(register, encoding="utf-8")
    for name, text in logs.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    (folder / FLEET_FILE).write_text(fleet, encoding="utf-8")
    return folder / FLEET_FILE


def small_fleet(folder: Path, *sets: str, **texts: str) -> Fleet:
    """That fleet as it is read."""
    return read_fleet(write_fleet(folder, **texts), sets)


def fleet_file(fleet: dict[str, Any] | None = None, four: dict[str, Any] | None = None, **tables: Any) -> FleetFile:
    """A fleet file without a register: the tiny two-stroke and four-stroke, over four years."""
    horizon = (fleet or {}).get("horizon", 4)
    content: dict[str, Any] = {
        "title": "Tiny fleet",
        "note": "Invented.",
        "ownership": {"years": float(horizon), "delivery": date(2027, 1, 1)},
        "use": {"hours_per_year": 100.0, "band": BANDS},
        "prices": {"fuel": 2.0, "two_stroke_oil": 10.0, "labour": 100.0},
        "fleet": {
            "register": "units.csv",
            "as_of": date(2027, 1, 1),
            "budget_start": date(2027, 1, 1),
            "horizon": horizon,
            "policy": {"at_age": 3.0},
            "candidates": ["Four-stroke", "Two-stroke"],
        }
        | (fleet or {}),
        "engines": [TWO_STROKE, {key: value for key, value in {**FOUR_STROKE, **(four or {})}.items() if value}],
    }
    content["use"] |= tables.pop("use", {})
    return FleetFile.model_validate(content | tables)


def unit(name: str = "A", engine: str = "Four-stroke", **other: Any) -> Unit:
    """A unit two years old with 200 h that runs 100 h a year."""
    stated: dict[str, Any] = {"count": 1, "age": 2.0, "meter_hours": 200.0, "hours_per_year": 100.0, "variation": 0.0}
    stated["in_service"] = date(2025, 1, 1)
    return Unit(name, engine, **(stated | other))
