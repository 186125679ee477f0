"""What a user works on: one form, nothing in it trusted, and the scenario that it makes."""

from datetime import date
from typing import Any

import pytest

from dashboard import library
from dashboard.scenarios import counted, reading_of, scenario_of, start, work_of
from dashboard.work import Work, stored_work, toml_text
from model.inputs.files import LARGEST_FILE, loads
from model.inputs.problems import InputError
from model.inputs.reading import read_scenario
from tests.front.works import tiny_work

FOUR = 'engines["Four-stroke 45 kW"]'
"""An engine of the demo."""


class TestWork:
    def test_what_is_stored_comes_back_the_same(self) -> None:
        work = start().changed({"prices.fuel": 2.1, f"{FOUR}.price": 9000})

        assert stored_work(work.as_data()) == work

    def test_the_order_of_changes_does_not_matter(self) -> None:
        one = start().changed({"prices.fuel": 2.1}).changed({"ownership.years": 5})
        other = start().changed({"ownership.years": 5}).changed({"prices.fuel": 2.1})

        assert one == other
        assert hash(one) == hash(other)

    def test_a_change_of_a_table_drops_those_within_it(self) -> None:
        work = start().changed({"use.band[1].share": 0.1, "use.hours_per_year": 90})

        changed = work.changed({"use.band": [{"speed": 1, "share": 1}]})

        assert [path for path, _ in changed.changes] == ["use.band", "use.hours_per_year"]

    def test_a_change_is_taken_back(self) -> None:
        assert start().changed({"prices.fuel": 2.1}).changed({"prices.fuel": None}) == start()

    @pytest.mark.parametrize(
        "value", [1, 2.5, 1e-7, True, 'a "quote"\n\\ and \x7f \u00e9', date(2027, 4, 1), [], [{"a.b": [1, {"c": "d"}]}]]
    )
    def test_values_are_written_as_toml(self, value: object) -> None:
        assert loads(f"value = {toml_text(value)}") == {"value": value}

    @pytest.mark.parametrize(
        "stored",
        [
            None,
            [],
            "x",
            {},
            {"name": 1},
            {"name": ""},
            {"name": "../sources"},
            {"name": "sources"},
            {"name": "/etc/passwd"},
            {"name": "a", "text": 3},
            {"name": "a", "text": "x" * (LARGEST_FILE + 1)},
            {"name": "x" * 999, "text": "a = 1"},
            {"name": library.FIRST, "changes": []},
            {"name": library.FIRST, "engines": "all"},
            {"name": library.FIRST, "changes": {f"a{number}": "1" for number in range(999)}},
        ],
    )
    def test_what_is_no_work_is_none(self, stored: object) -> None:
        assert stored_work(stored) is None

    @pytest.mark.parametrize(
        "change",
        [("a" * 999, "1"), ("prices.fuel", "1\nother = 2"), ("prices.fuel", 2), ("prices.fuel", "["), ("", "1")],
    )
    def test_what_is_no_change_is_left_out(self, change: tuple[Any, Any]) -> None:
        assert stored_work({"name": library.FIRST, "changes": dict([change])}) == start()


class TestScenario:
    def test_it_is_the_command_lines(self) -> None:
        work = start().changed({"prices.fuel": 2.5, f"{FOUR}.price": 9000, "use.kind": "private"})

        told = read_scenario(
            library.files()[library.FIRST], ["prices.fuel=2.5", f"{FOUR}.price=9000", 'use.kind="private"']
        )

        assert scenario_of(work) == told.scenario

    def test_problems_come_by_their_path(self) -> None:
        with pytest.raises(InputError) as caught:
            scenario_of(start().changed({"prices.fuel": -1, f"{FOUR}.price": "cheap"}))

        assert {problem.key for problem in caught.value.problems} == {"prices.fuel", f"{FOUR}.price"}

    def test_the_file_itself_stays_as_it_is(self) -> None:
        before = reading_of(start()).scenario

        scenario_of(start().changed({f"{FOUR}.service.task[1].labour": 9.0}))

        assert reading_of(start()).scenario == before

    def test_what_does_not_hold_is_not_counted(self) -> None:
        sound = start().changed({"prices.fuel": 2.5})

        assert counted(sound.changed({"ownership.years": 0, "nonsense.key": 1})) == sound
        assert work_of({"name": "old.toml", "text": "format = 9"}) == start()

    def test_engines_nobody_has_are_left_out(self) -> None:
        compared = Work(library.FIRST, engines=("Nobody's", "Four-stroke 45 kW"))

        assert [engine.name for engine in scenario_of(compared).engines] == ["Four-stroke 45 kW"]


class TestOpenedFile:
    def test_it_may_name_files_of_the_library(self) -> None:
        text = library.files()[library.FIRST].read_text(encoding="utf-8")

        assert scenario_of(Work("mine.toml", text)) == scenario_of(start())

    @pytest.mark.parametrize(
        "name",
        [
            "../../secret.toml",
            "/etc/hostname",
            "engines/../../README.md",
            "~/x.toml",
            "a\\u0000b",
            "../requirements.txt",
        ],
    )
    def test_it_may_name_no_other(self, name: str) -> None:
        text = f'{tiny_work().text}\n[[engines]]\nfile = "{name}"\n'

        with pytest.raises(InputError) as caught:
            scenario_of(Work("mine.toml", text))

        told = str(caught.value)
        assert "engines[3].file" in told
        assert ("of the library" in told) or ("no such file" in told) or ("no file can have" in told)
        assert "boat" not in told

    def test_nor_a_read_out(self) -> None:
        text = f"{tiny_work(use={'band': None}).text}\n[use.read_out]\nfile = '../../x.csv'\nrated_speed = 5500\n"

        with pytest.raises(InputError, match="of the library"):
            scenario_of(Work("mine.toml", text))

    def test_its_own_sources_stand_for_themselves(self) -> None:
        work = tiny_work(prices={"fuel": {"value": 2.0, "source": "my-harbour"}})

        assert [value.source for value in reading_of(work).sources] == ["my-harbour"]

    @pytest.mark.parametrize(
        "text", ["[" * 5000, "a" + ".b" * 5000 + " = 1", "x = 9" + "9" * 500, "\0", "<html>", "PK\x03\x04"]
    )
    def test_hostile_text_is_told(self, text: str) -> None:
        with pytest.raises(InputError):
            scenario_of(Work("mine.toml", text))
