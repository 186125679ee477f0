"""Files are opened and saved without harm: what is saved gives the same answer, what is hostile is told."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from dash import Dash
from dash.development.base_component import Component
from flask.testing import FlaskClient

from dashboard import ids, library
from dashboard.app import build_app
from dashboard.saving import file_of
from dashboard.scenarios import scenario_of, start
from dashboard.work import Work
from model.inputs.files import LARGEST_FILE
from model.inputs.reading import read_scenario
from model.inputs.scenario import Scenario
from tests.front.asking import ask
from tests.front.works import tiny_work


@pytest.fixture(scope="module")
def client() -> Iterator[FlaskClient]:
    app: Dash = build_app()
    with app.server.test_client() as made:
        made.get("/_dash-dependencies")
        yield made


def without_sources(scenario: Scenario) -> Scenario:
    """A scenario but for the list of its sources, which only a saved file carries."""
    return scenario.model_copy(update={"sources": {}})


def saved(work: Work, folder: Path) -> Path:
    """The work saved somewhere else."""
    name, text = file_of(work)
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


class TestSaving:
    @pytest.mark.parametrize("name", library.files())
    def test_the_command_line_reads_the_same_scenario(self, name: str, tmp_path: Path) -> None:
        work = Work(name).changed({"prices.fuel": 2.345, "ownership.years": 8})

        told = read_scenario(saved(work, tmp_path))

        assert without_sources(told.scenario) == without_sources(scenario_of(work))

    def test_engines_that_are_not_compared_are_left_out(self, tmp_path: Path) -> None:
        work = replace(start(), engines=("Four-stroke 45 kW",))

        assert [engine.name for engine in read_scenario(saved(work, tmp_path)).scenario.engines] == list(work.engines)

    def test_sources_travel_with_it(self, tmp_path: Path) -> None:
        sources = read_scenario(saved(start(), tmp_path)).scenario.sources

        assert sources["eia-gasoline"].title
        assert "invented" not in sources

    def test_a_source_of_ones_own_keeps_its_key(self, tmp_path: Path) -> None:
        work = tiny_work(prices={"fuel": {"value": 2.0, "source": "my-harbour"}})

        assert read_scenario(saved(work, tmp_path)).scenario.sources["my-harbour"].title == "my-harbour"

    def test_what_is_saved_opens_again(self) -> None:
        name, text = file_of(start().changed({"prices.fuel": 3.0}))
        again = Work(name, text)

        assert scenario_of(again).prices.fuel == 3.0
        assert file_of(again) == (name, text)

    @pytest.mark.parametrize(
        ("title", "name"),
        [
            ("../../etc/passwd", "etc-passwd.toml"),
            ("=cmd|' /C calc'!A0", "cmd-c-calc-a0.toml"),
            ("\u2603 !", "scenario.toml"),
        ],
    )
    def test_a_title_never_becomes_a_path(self, title: str, name: str) -> None:
        assert file_of(start().changed({"title": title}))[0] == name


class TestOpening:
    def opened(self, client: FlaskClient, asked: object) -> dict[str, Component]:
        return dict(ask(client, f"{ids.OPEN_TOLD}.children", {ids.OPEN_ASKED: asked})["response"])

    def test_one_of_the_library(self, client: FlaskClient) -> None:
        told = self.opened(client, {"name": "weekend-lake-boat", "asked": 5})

        assert told[ids.WORK]["data"] == Work("weekend-lake-boat").as_data()
        assert told[ids.SETTLED]["data"] == 5

    def test_one_of_ones_own(self, client: FlaskClient) -> None:
        work = tiny_work()

        told = self.opened(client, {"name": work.name, "text": work.text, "asked": 5})

        assert told[ids.WORK]["data"] == work.as_data()

    @pytest.mark.parametrize(
        "asked",
        [
            {"name": "big.toml", "text": "x" * (LARGEST_FILE + 1)},
            {"name": "zip.toml", "text": "PK\x03\x04\x00"},
            {"name": "page.toml", "text": "<!doctype html><script>alert(1)</script>"},
            {"name": "deep.toml", "text": "a = " + "[" * 3000 + "]" * 3000},
            {"name": "../../secret.toml", "text": 'format = 1\n[[engines]]\nfile = "../../README.md"'},
            {"name": "../requirements"},
            {"name": "sources"},
            {"text": "a = 1"},
            None,
            [],
        ],
    )
    def test_what_cannot_be_opened_is_told_and_changes_nothing(self, client: FlaskClient, asked: object) -> None:
        told = self.opened(client, asked)

        assert set(told) == {ids.OPEN_TOLD}
        heading, problems = told[ids.OPEN_TOLD]["children"]
        assert "What you have now stays" in heading["props"]["children"]
        assert problems["props"]["children"]
        assert str(library.HOME.parent) not in str(told)
