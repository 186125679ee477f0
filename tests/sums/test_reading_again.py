"""A scenario read again with other settings: what they leave alone is taken over, and nothing else changes."""

from pathlib import Path
from typing import Any

import pytest

from model.inputs.copying import copied
from model.inputs.files import parse_toml
from model.inputs.merging import Merged, merge
from model.inputs.problems import InputError, Problem
from model.inputs.reading import Reading, read_merged, untouched_parts
from tests.rules.project import ROOT
from tests.small_files import ENGINE, SCENARIO, Change, changed, write_files

FILES = sorted((ROOT / "scenarios").glob("*.toml"))
SCENARIOS = [path for path in FILES if "engines" in parse_toml(path)]

SETTINGS: dict[str, dict[str, Any]] = {
    "nothing": {},
    "a price": {"prices.fuel": 2.35},
    "a price without tax, where none is stated": {"prices.fuel": {"value": 2.0, "tax": "excluded"}},
    "a price without tax": {"prices.labour": {"value": 80.0, "tax": "excluded"}, "money.tax_rate": 0.2},
    "net of tax": {"money.net": True, "money.tax_rate": 0.1},
    "years": {"ownership.years": 6.5},
    "hours": {"use.hours_per_year": 310.0},
    "hours year by year, one year short": {"use.hours_by_year": [100.0], "ownership.years": 2.0},
    "a spread": {"use.spread": {"shape": "lognormal", "variation": 0.3, "owner_share": 0.5}},
    "a negative price": {"prices.fuel": -1.0},
    "an unknown key": {"prices.fule": 1.0, "trails.seed": 1},
    "an unknown table": {"price": {"fuel": 1.0}},
    "no path": {"prices..fuel": 1.0, "prices.labour": -3.0},
    "a place that is not there": {'engines["None"].price': 1.0},
    "servicing of one's own": {"servicing": "own"},
    "skipped servicing": {"servicing": "skipped", "neglect": {"resale_factor": 0.5, "repair_factor": 2.0}},
    "a commercial boat": {"use.kind": "commercial"},
    "an engine's price": {"engines[1].price": 12345.0},
    "an engine that is used": {"engines[1].start": {"meter_hours": 100.0, "age": 2.0}},
    "a source that no list has": {"prices.fuel": {"value": 1.9, "source": "nobody"}},
    "sources of its own": {"sources": {"own": {"title": "Own"}}, "prices.fuel": {"value": 1.9, "source": "own"}},
    "too deep": {"downtime.day_cost": [[[[[[[[[[[[[1]]]]]]]]]]]]]},
    "a table in place of the engines": {"engines": {}},
    "no engines": {"engines": []},
}
"""Values set on top of a file, sound ones and others."""


def read(merged: Merged, settings: dict[str, Any], before: Reading | None) -> Reading | tuple[Problem, ...]:
    """What comes of a reading: the reading, or what is wrong."""
    try:
        return read_merged(copied(merged, settings), (), settings, before)
    except InputError as error:
        return error.problems


@pytest.mark.parametrize("settings", SETTINGS.values(), ids=SETTINGS.keys())
@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_it_reads_as_if_for_the_first_time(path: Path, settings: dict[str, Any]) -> None:
    merged = merge(path, parse_toml(path))
    before = read_merged(copied(merged, ()))
    assert read(merged, settings, before) == read(merge(path, parse_toml(path)), settings, None)


def test_both_sound_and_unsound_settings_are_among_those_tried() -> None:
    merged = merge(SCENARIOS[0], parse_toml(SCENARIOS[0]))
    found = [read(merged, settings, read_merged(copied(merged, ()))) for settings in SETTINGS.values()]
    assert {type(result) for result in found} == {Reading, tuple}


def small(folder: Path, *changes: Change, engine: str = ENGINE) -> Merged:
    """The small scenario with its engine's file, changed."""
    path = write_files(folder, changed(SCENARIO, *changes), engine)
    return merge(path, parse_toml(path))


def test_parts_that_no_setting_leads_into_are_the_very_same(tmp_path: Path) -> None:
    merged = small(tmp_path)
    before = read_merged(copied(merged, ()))
    settings = {"prices.fuel": 3.0}
    again = read_merged(copied(merged, settings), (), settings, before).scenario
    assert again.prices.fuel == 3.0
    assert all(now is then for now, then in zip(again.engines, before.scenario.engines, strict=True))
    assert again.ownership is before.scenario.ownership


def test_a_tax_rate_concerns_every_part(tmp_path: Path) -> None:
    merged = small(tmp_path)
    before = read_merged(copied(merged, ()))
    with_tax = copied(merged, {"money.tax_rate": 0.2})
    again = read_merged(with_tax, (), {"money.tax_rate": 0.2}, before)
    assert untouched_parts(again.merged, before) == {}


def test_a_list_of_sources_concerns_every_part(tmp_path: Path) -> None:
    merged = small(tmp_path)
    before = read_merged(copied(merged, ()))
    settings = {"sources": {"own": {"title": "Own"}}}
    again = read_merged(copied(merged, settings), (), settings, before)
    assert untouched_parts(again.merged, before) == {}


def test_rules_between_a_part_that_is_set_and_one_that_is_not_still_hold(tmp_path: Path) -> None:
    merged = small(tmp_path)
    before = read_merged(copied(merged, ()))
    name = before.scenario.engines[0].name
    found = read(merged, {"servicing": "own", "engines": before.document["engines"] * 2}, before)
    assert isinstance(found, tuple)
    assert {problem.key for problem in found} >= {"own_service_keeps_cover"}
    assert any(repr(name) in problem.found for problem in found)
