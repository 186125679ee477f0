"""Every problem names the file, the key, what was found and what is allowed; and all of them at once."""

import copy
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from model.inputs.files import loads, parse_toml
from model.inputs.problems import InputError, Problem
from model.inputs.reading import read_scenario, scenario_from_document
from tests.small_files import ENGINE, ENGINE_FILE, SCENARIO, SCENARIO_FILE, Change, changed, write_files


def problems_of(path: Path, *sets: str, overrides: Mapping[str, Any] | None = None) -> list[Problem]:
    """What is wrong with a scenario."""
    with pytest.raises(InputError, match="found") as caught:
        read_scenario(path, sets, overrides)
    return list(caught.value.problems)


def assert_one(problems: list[Problem], file: Path, key: str, found: str, allowed: str) -> None:
    """One problem only, in that file, at that key, with these words in it."""
    assert [(problem.file, problem.key) for problem in problems] == [(str(file), key)]
    assert found in problems[0].found
    assert allowed in problems[0].allowed


IN_THE_SCENARIO = {
    "unknown key": (("fuel = 1.9", "fuel = 1.9\nlabor = 80"), "prices.labor", "'labor'", "labour? Known here: fuel"),
    "unknown table": (("[prices]", "[price]\n[prices]"), "price", "'price'", "prices?"),
    "unknown key of an entry": (
        ("price = 9000", "price = 9000\nfille = 1"), 'engines["Two-stroke"].fille', "'fille'", "file?"),
    "negative price": (
        ("fuel = 1.9", "fuel = -1.9"), "prices.fuel", "-1.9", "a number, 0 or more: Price of fuel. [money/L]"),
    "negative number with a unit": (
        ("fuel = 1.9", 'fuel = { value = -3, unit = "US gal" }'), "prices.fuel", "-3 US gal", "[money/L]"),
    "unknown unit": (("years = 3", 'years = { value = 3, unit = "week" }'), "ownership.years", "3 week", "unit: year"),
    "a table that is no number": (
        ("years = 3", "years = { valeu = 3 }"), "ownership.years", "a table with valeu", "a table with value"),
    "tax on what is no price": (
        ("years = 3", 'years = { value = 3, tax = "included" }'), "ownership.years", "3", "no `tax` here"),
    "tax without a rate": (
        ("fuel = 1.9", 'fuel = { value = 1.6, tax = "excluded" }'), "prices.fuel", "1.6", "needs [money] tax_rate"),
    "shares that do not add to 1": (("share = 0.4", "share = 0.5"), "use.band", "1.1", "add to 1"),
    "a share above 1": (("share = 0.4", "share = 1.4"), "use.band[2].share", "1.4", "at most 1"),
    "NaN": (("fuel = 1.9", "fuel = nan"), "prices.fuel", "nan", "a number, 0 or more"),
    "infinity": (("fuel = 1.9", "fuel = inf"), "prices.fuel", "inf", "at most 1000000"),
    "true for a number": (("fuel = 1.9", "fuel = true"), "prices.fuel", "true", "a number, 0 or more"),
    "text for a number": (("fuel = 1.9", 'fuel = "1.9"'), "prices.fuel", "'1.9'", "a number, 0 or more"),
    "a list for a number": (("fuel = 1.9", "fuel = [1.9]"), "prices.fuel", "[1.9]", "a number, 0 or more"),
    "a list for a table": (("[prices]\nfuel = 1.9\nlabour = 80", "[[prices]]"), "prices", "a list of 1", "a table"),
    "a number for a table": (
        ('title = "Launch"', "money = 3"), "money", "3", "a table: Inflation, discount and tax."),
    "text for true": (
        ("years = 3", 'years = 3\nservice_at_handover = "yes"'), "ownership.service_at_handover", "'yes'",
        "true or false"),
    "text for a date": (("2027-04-01", '"spring"'), "ownership.delivery", "'spring'", "a date from 1950-01-01"),
    "a number for a date": (("2027-04-01", "20270401"), "ownership.delivery", "20270401", "such as 2027-04-01"),
    "a date long past": (("2027-04-01", "0027-04-01"), "ownership.delivery", "0027-04-01", "1950"),
    "a share for a whole number": (
        ("hours_per_year = 100", "hours_per_year = 100\nper_boat = 1.5"), "use.per_boat", "1.5",
        "a whole number, 1 or more"),
    "an unknown word": (
        ("hours_per_year", 'kind = "hire"\nhours_per_year'), "use.kind", "'hire'", 'one of "private", "commercial"'),
    "no currency": (("format = 1", 'format = 1\ncurrency = "euro"'), "currency", "'euro'", 'such as "EUR"'),
    "another format": (("format = 1", "format = 2"), "format", "2", "1: Version of the file format."),
    "9,000 h a year": (
        ("hours_per_year = 100", "hours_per_year = 9000"), "use.hours_per_year", "9000", "at most 8766: Running hours"),
    "hours by year of the wrong length": (
        ("hours_per_year = 100", "hours_by_year = [100, 90]"), "use.hours_by_year", "2 given",
        "3 for ownership.years = 3"),
    "hours two ways": (
        ("hours_per_year = 100", "hours_per_year = 100\nhours_by_year = [1, 2, 3]"), "use.hours_per_year", "both",
        "hours_per_year or hours_by_year"),
    "a bad year": (
        ("hours_per_year = 100", "hours_by_year = [100, 90, -1]"), "use.hours_by_year[3]", "-1", "0 or more"),
    "no ownership period": (("years = 3\n", ""), "ownership.years", "nothing", "above 0, at most 60"),
    "a missing engine file": (
        ("engines/four.toml", "engines/five.toml"), "engines[1].file", "'engines/five.toml', no such file",
        "five.toml"),
    "a file that is no text": (('file = "engines/four.toml"', "file = 4"), "engines[1].file", "4", "a path in quotes"),
    "two engines of one name": (
        ('name = "Two-stroke"', 'name = "Four-stroke"'), "engines[2].name", "'Four-stroke' a second time",
        "a name of its own"),
    "a list replaced on the entry": (
        ('file = "engines/four.toml"', 'file = "engines/four.toml"\nfuel = { points = [[0.5, 1], [0.4, 2]] }'),
        'engines["Four-stroke"].fuel.points[2]', "[0.4, 2.0] after [0.5, 1.0]", "above the one before"),
    "a value changed on the entry": (
        ('file = "engines/four.toml"', 'file = "engines/four.toml"\nprice = -1'), 'engines["Four-stroke"].price', "-1",
        "0 or more"),
    "a key missing in a table of the entry": (
        ('file = "engines/four.toml"', 'file = "engines/four.toml"\nfinance = { deposit = 0.2, rate = 0.05 }'),
        'engines["Four-stroke"].finance.months', "nothing", "a whole number, 1 or more"),
    "a used engine without a list price": (
        ('file = "engines/four.toml"', 'file = "engines/four.toml"\nstart = { meter_hours = 300, age = 4 }'),
        'engines["Four-stroke"].list_price', "none on a used engine", "same engine new"),
    "a command to a terminal in the title": (
        ('"Launch"', '"La\\u001b[2Junch"'), "title", "'La\\x1b[2Junch'", "on one line, without control characters"),
    "a line break in the title": (('"Launch"', '"La\\nunch"'), "title", "'La\\nunch'", "text on one line"),
    "a command to a terminal in the note": (
        ('"Launch"', '"Launch"\nnote = "\\u009b2J"'), "note", "'\\x9b2J'", "other than tabs and line breaks"),
    "a null in the title of a source": (
        ("[prices]", '[sources.log]\ntitle = "Log\\u0000"\n[prices]'), "sources.log.title", "'Log\\x00'",
        "on one line"),
    "a tab in the place of a source": (
        ("[prices]", '[sources.log]\ntitle = "Log"\nplace = "p.\t3"\n[prices]'), "sources.log.place", "'p.\\t3'",
        "on one line"),
    "a line break in the address of a source": (
        ("[prices]", '[sources.log]\ntitle = "Log"\naddress = "a\\nb"\n[prices]'), "sources.log.address", "'a\\nb'",
        "on one line"),
    "a line break in the key of a source": (
        ("[prices]", '[sources."a\\nb"]\ntitle = "Log"\n[prices]'), 'sources["a\\u000ab"]', "a table with title",
        "on one line"),
    "a command to a terminal in a key": (
        ("format = 1", 'format = 1\n"\\u001b[2J" = 1'), '["\\u001b[2J"]', "'\\x1b[2J'", "Known here: format"),
    "a command to a terminal in the name of a read-out": (
        ("[[use.band]]\nspeed = 0.2\nshare = 0.6\n[[use.band]]\nspeed = 0.8\nshare = 0.4",
         'read_out = { file = "\\u001b[2J.csv", rated_speed = 5500 }'), "use.read_out.file", "'\\x1b[2J.csv'",
        "on one line"),
    "a command to a terminal in the name of an engine file": (
        ("engines/four.toml", "engines/\\u001b[2J.toml"), "engines[1].file", "'engines/\\x1b[2J.toml', no such file",
        "engines/\\x1b[2J.toml'"),
    "both discount rates": (
        ("[prices]", "[money]\ndiscount_rate = 0.05\nreal_discount_rate = 0.03\n[prices]"), "money.real_discount_rate",
        "it beside discount_rate", "one of the two"),
}  # fmt: skip


IN_THE_ENGINE = {
    "unknown key": (("[fuel]", "[feul]\n[fuel]"), "feul", "'feul'", "fuel? Known here: format, name"),
    "unknown key of a part": (
        ("quantity = 0.9", "quantitiy = 0.9"), 'service.task["Gear oil"].parts["Oil"].quantitiy', "'quantitiy'",
        "quantity?"),
    "negative price": (
        ("price = 21", "price = -21"), 'service.task["Gear oil"].parts["Oil"].price', "-21",
        "a number, 0 or more: Price of one unit. [money]"),
    "unsorted points": (
        ("[0.5, 4.7], [1.0, 17.1]", "[1.0, 17.1], [0.5, 4.7]"), "fuel.points[3]", "[0.5, 4.7]", "above"),
    "a point that is no pair": (("[0.5, 4.7]", "[0.5]"), "fuel.points[2]", "[0.5]", "[-, L/h]"),
    "a negative flow": (("[0.5, 4.7]", "[0.5, -4.7]"), "fuel.points[2]", "-4.7", "0 or more"),
    "a task shorter than the base": (
        ("every = { hours = 100, months = 12 }\nlabour", "every = { hours = 50, months = 12 }\nlabour"),
        'service.task["Gear oil"].every.hours', "50 h",
        "at least the base interval, 100 h: shorten service.every.hours"),
    "a limit that the base has not": (
        ("every = { hours = 100, months = 12 }\n[[", "every = { hours = 100 }\n[["),
        'service.task["Gear oil"].every.months', "12 months", "add service.every.months"),
    "no name": (('name = "Four-stroke"\n', ""), "name", "nothing", "text in quotes: What the comparison calls it."),
    "an unknown technology": (
        ("four-stroke injected", "rotary"), "technology", "'rotary'", '"two-stroke carburetted"'),
    "no limit on the warranty": (("months = 36", "excess = 3"), "warranty.months", "no limit", "months, hours or both"),
    "oil on a four-stroke": (
        ("[warranty]", "[oil]\nratio = 50\n[warranty]"), "oil", "it on a four-stroke injected", "no [oil]"),
    "a command to a terminal in the note": (
        ("price = 10000", 'price = 10000\nnote = "\\u001b[2J"'), "note", "'\\x1b[2J'", "without control characters"),
    "a command to a terminal in the name of a part": (
        ('name = "Oil"', 'name = "\\u001b[2J"'), 'service.task["Gear oil"].parts["\\u001b[2J"].name', "'\\x1b[2J'",
        "text on one line"),
    "a tab in the unit of a part": (
        ('unit = "L"', 'unit = "L\t"'), 'service.task["Gear oil"].parts["Oil"].unit', "'L\\t'", "text on one line"),
    "too long a name": (('"Four-stroke"', f'"{"x" * 81}"'), "name", "xxx...", "text of 1 to 80 characters"),
}  # fmt: skip


@pytest.mark.parametrize(("change", "key", "found", "allowed"), IN_THE_SCENARIO.values(), ids=IN_THE_SCENARIO)
def test_in_the_scenario(tmp_path: Path, change: Change, key: str, found: str, allowed: str) -> None:
    path = write_files(tmp_path, scenario=changed(SCENARIO, change))

    assert_one(problems_of(path), path, key, found, allowed)


@pytest.mark.parametrize(("change", "key", "found", "allowed"), IN_THE_ENGINE.values(), ids=IN_THE_ENGINE)
def test_in_the_engine_file(tmp_path: Path, change: Change, key: str, found: str, allowed: str) -> None:
    path = write_files(tmp_path, engine=changed(ENGINE, change))

    assert_one(problems_of(path), tmp_path / ENGINE_FILE, key, found, allowed)


@pytest.mark.parametrize("note", ['"""Two\nlines."""', '"Two\\nlines."'])
def test_a_note_may_have_several_lines(tmp_path: Path, note: str) -> None:
    file = write_files(
        tmp_path, *(changed(text, ("format = 1", f"format = 1\nnote = {note}")) for text in (SCENARIO, ENGINE))
    )

    scenario = read_scenario(file).scenario

    assert (scenario.note, scenario.engines[0].note) == ("Two\nlines.", "Two\nlines.")


class TestFiles:
    """A file that cannot be read as TOML is told like anything else."""

    @pytest.mark.parametrize(
        ("content", "found", "allowed"),
        [
            pytest.param(b"years = = 3", "no TOML: Invalid value (at line 1, column 9)", "a TOML file", id="not TOML"),
            pytest.param(
                b"a = 1\na = 2\n", "no TOML: a key that stands twice (at line 2, column 6)", "a TOML file", id="twice"
            ),
            pytest.param(b"a = " + b"[" * 20_000, "nested without end", "a TOML file", id="endless lists"),
            pytest.param(b"a = " + b"{a=" * 20_000, "nested without end", "a TOML file", id="endless tables"),
            pytest.param(b"a = " + b"[" * 13 + b"]" * 13, "more than 12 deep", "a TOML file", id="nested 14 deep"),
            pytest.param(
                b"\n" + b"a." * 20_000 + b"a = 1", "30 parts or more in line 2", "a TOML file", id="40 kB key"
            ),
            pytest.param(
                b"[" + b'"a" . ' * 7_000 + b"a]", "30 parts or more in line 1", "a TOML file", id="40 kB header"
            ),
            pytest.param(b".".join([b"a"] * 20) + b" = 1", "more than 12 deep", "a TOML file", id="20 parts"),
            pytest.param(b"a = " + b"1" * 5_000, "no TOML", "a TOML file", id="endless number"),
            pytest.param(b"a = 0x" + b"f" * 40_000, "beyond 64 bits", "a TOML file", id="endless hexadecimal number"),
            pytest.param(b'\ntitle = "\xe9"', "no UTF-8 in line 2", "a TOML file in UTF-8", id="not UTF-8"),
            pytest.param(b"\xff\xfe\x00", "no UTF-8 in line 1", "UTF-8", id="another encoding"),
            pytest.param(b"a = [" + b"1," * 2_001 + b"]", "2,001 items in one list", "a TOML file", id="endless list"),
            pytest.param(b"#" * 2_000_000, "2,000,000 bytes", "at most 1,000,000 bytes", id="2 MB"),
        ],
    )
    @pytest.mark.parametrize("name", [SCENARIO_FILE, ENGINE_FILE])
    def test_content(self, tmp_path: Path, name: str, content: bytes, found: str, allowed: str) -> None:
        path = write_files(tmp_path)
        (tmp_path / name).write_bytes(content)

        assert_one(problems_of(path), tmp_path / name, "", found, allowed)

    def test_a_missing_scenario(self, tmp_path: Path) -> None:
        assert_one(problems_of(tmp_path / "none.toml"), tmp_path / "none.toml", "", "no such file", "a TOML file")

    def test_a_directory(self, tmp_path: Path) -> None:
        assert_one(problems_of(tmp_path), tmp_path, "", "a directory", "a TOML file")

    def test_a_directory_for_an_engine_file(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("engines/four.toml", "engines")))

        assert_one(problems_of(path), tmp_path / "engines", "", "a directory", "a TOML file")

    def test_a_name_that_no_file_can_have(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("engines/four.toml", "four\\u0000")))

        assert [problem.found for problem in problems_of(path)] == ["a name that no file can have"]

    def test_the_name_of_a_file_is_the_users_own(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        write_files(tmp_path, engine=changed(ENGINE, ("price = 10000", "price = -1")))
        monkeypatch.chdir(tmp_path)

        assert [problem.file for problem in problems_of(Path(SCENARIO_FILE))] == [ENGINE_FILE]


class TestBetweenFiles:
    """What only shows where the owner and the engines meet."""

    def test_a_band_above_the_points(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, engine=changed(ENGINE, ("[1.0, 17.1]", "[0.7, 8.0]")))

        allowed = "at most 0.7, the last fuel point of 'Four-stroke'"
        assert_one(problems_of(path), path, "use.band[2].speed", "0.8", allowed)

    def test_commercial_use_without_commercial_cover(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("[use]", '[use]\nkind = "commercial"')))

        allowed = '[warranty.commercial], with use.kind = "commercial"'
        assert_one(problems_of(path), tmp_path / ENGINE_FILE, "warranty.commercial", "none", allowed)

    def test_two_engines_of_one_name_in_their_files(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, SCENARIO + f'[[engines]]\nfile = "{ENGINE_FILE}"\n')

        assert_one(problems_of(path), path, "engines[3].name", "'Four-stroke' a second time", "a name of its own")

    def test_one_fault_of_a_file_used_twice_is_told_once(self, tmp_path: Path) -> None:
        scenario = SCENARIO + f'[[engines]]\nfile = "{ENGINE_FILE}"\nname = "Second"\n'
        path = write_files(tmp_path, scenario, changed(ENGINE, ("price = 10000", "price = -1")))

        assert_one(problems_of(path), tmp_path / ENGINE_FILE, "price", "-1", "0 or more")

    def test_oil_without_a_price(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, SCENARIO + "oil = { ratio = 50 }\n")

        assert_one(problems_of(path), path, "prices.two_stroke_oil", "'Two-stroke' burns oil", "a price per L")

    def test_skipped_servicing_without_its_factors(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("[ownership]", 'servicing = "skipped"\n[ownership]')))

        assert_one(problems_of(path), path, "neglect", "none", "resale_factor and repair_factor")

    def test_own_servicing_without_a_word_on_cover(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("[ownership]", 'servicing = "own"\n[ownership]')))

        assert_one(problems_of(path), path, "own_service_keeps_cover", "none", "true or false")

    @pytest.mark.parametrize(
        ("engines", "key", "found", "allowed"),
        [
            ("", "engines", "nothing", "a list of tables"),
            ("engines = []", "engines", "an empty list", "a list of 1 or more tables"),
            ("engines = {}", "engines", "a table with no keys", "a list of tables"),
            ("engines = 3", "engines", "3", "a list of tables"),
            ("engines = [3]", "engines[1]", "3", "a table"),
            ('engines = ["four.toml"]', "engines[1]", "'four.toml'", "a table"),
        ],
    )
    def test_no_engines(self, tmp_path: Path, engines: str, key: str, found: str, allowed: str) -> None:
        owner = SCENARIO[: SCENARIO.index("[[engines]]")]
        path = write_files(tmp_path, changed(owner, ("format = 1", f"format = 1\n{engines}")))

        assert_one(problems_of(path), path, key, found, allowed)


class TestAllAtOnce:
    """One wrong value hides no other."""

    def test_in_several_files(self, tmp_path: Path) -> None:
        scenario = changed(SCENARIO, ("fuel = 1.9", "fuel = -1"), ("share = 0.4", "share = 0.5"), ("9000", "-9000"))
        engine = changed(
            ENGINE, ("price = 21", "prise = 21"), ("0.5, 4.7", "0.05, 4.7"), ("labour = 0.5", "labour = nan")
        )
        path = write_files(tmp_path, scenario, engine)

        assert {(Path(problem.file).name, problem.key) for problem in problems_of(path)} == {
            ("launch.toml", "prices.fuel"),
            ("launch.toml", "use.band"),
            ("launch.toml", 'engines["Two-stroke"].price'),
            ("four.toml", "fuel.points[2]"),
            ("four.toml", 'service.task["Gear oil"].parts["Oil"].prise'),
            ("four.toml", 'service.task["Gear oil"].parts["Oil"].price'),
            ("four.toml", 'service.task["Gear oil"].labour'),
        }

    def test_rules_between_the_files_beside_wrong_values(self, tmp_path: Path) -> None:
        scenario = changed(
            SCENARIO,
            ("fuel = 1.9", "fuel = -1"),
            ("hours_per_year = 100", 'kind = "commercial"\nhours_by_year = [100]'),
            ('name = "Two-stroke"', 'name = "Four-stroke"'),
        )
        path = write_files(tmp_path, scenario, changed(ENGINE, ("price = 10000", "price = -1")))

        assert {(Path(problem.file).name, problem.key) for problem in problems_of(path)} == {
            ("launch.toml", "prices.fuel"),
            ("launch.toml", "use.hours_by_year"),
            ("launch.toml", "engines[2].name"),
            ("four.toml", "warranty.commercial"),
            ("four.toml", "price"),
        }

    def test_rules_of_a_plan_beside_a_wrong_task(self, tmp_path: Path) -> None:
        short = '[[service.task]]\nname = "Plugs"\nevery = { hours = 50 }\n'
        engine = changed(ENGINE, ("labour = 0.5", "labour = -1"), ("[warranty]", f"{short}[warranty]"))

        assert {problem.key for problem in problems_of(write_files(tmp_path, engine=engine))} == {
            'service.task["Gear oil"].labour',
            'service.task["Plugs"].every.hours',
        }

    def test_a_refused_table_gives_no_ground_for_further_refusals(self, tmp_path: Path) -> None:
        # Out of order, the last point is no top speed that the bands could be held against.
        path = write_files(tmp_path, engine=changed(ENGINE, ("[1.0, 17.1]", "[0.3, 17.1]")))

        assert [problem.key for problem in problems_of(path)] == ["fuel.points[3]"]

    def test_a_wrong_price_of_the_file_shows_though_the_entry_has_its_own(self, tmp_path: Path) -> None:
        scenario = changed(SCENARIO, (f'file = "{ENGINE_FILE}"', f'file = "{ENGINE_FILE}"\nprice = 8000'))
        path = write_files(tmp_path, scenario, changed(ENGINE, ("price = 10000", "price = -1")))

        assert_one(problems_of(path), tmp_path / ENGINE_FILE, "price", "-1", "share of; the file's own price")

    def test_a_file_full_of_faults_is_told_in_part(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, "".join(f"key_{number} = 1\n" for number in range(150)) + SCENARIO)
        problems = problems_of(path)

        assert len(problems) == 101
        assert problems[-1].found == "50 more problems"

    def test_an_unreadable_engine_file_hides_nothing_else(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("fuel = 1.9", "fuel = -1")), "no TOML")

        assert [(Path(problem.file).name, problem.key) for problem in problems_of(path)] == [
            ("four.toml", ""),
            ("launch.toml", "prices.fuel"),
        ]


class TestSettings:
    """What is set on top of the files is checked like what stands in them."""

    @pytest.mark.parametrize(
        ("text", "found", "allowed"),
        [
            ("prices.fuel", "'prices.fuel'", "path=value"),
            ("prices.fuel=", "'prices.fuel='", "path=value"),
            ("=3", "''", "a path such as prices.fuel"),
            ("prices..fuel=3", "'prices..fuel'", "a path such as"),
            ("prices.fuel.=3", "'prices.fuel.'", "a path such as"),
            ("[1].fuel=3", "'[1].fuel'", "a path such as"),
            ("title=Launch", "'Launch'", 'text stands in quotes: title="Launch"'),
            ('title="a"\nformat=3', "", "one TOML value"),
            ('engines["Five-stroke"].price=1', "'Five-stroke'", '"Four-stroke", "Two-stroke"'),
            ("engines[3].price=1", "'3'", '"Four-stroke", "Two-stroke"'),
            ("engines.price=1", "'price'", '"Four-stroke", "Two-stroke"'),
            ("use.band[3].share=1", "'3'", "a position, 1 to 2"),
            ("use.band[0].share=1", "'0'", "a position, 1 to 2"),
            ('engines["Two-stroke"].service.task["Gear oil"].labour=1', "no 'service' there", "an array that is there"),
            ("prices.fuel.litre=3", "1.9 on the way", "through tables and arrays"),
            ("prices[1]=3", "[1] on a table", "a key"),
            ("prices.fuel=" + "[" * 20_000, "[[[", "a TOML value"),
            (".".join(["a"] * 20_000) + "=3", "'a.a.", "a path such as"),
        ],
    )
    def test_what_cannot_be_set(self, tmp_path: Path, text: str, found: str, allowed: str) -> None:
        path = write_files(tmp_path)

        assert_one(problems_of(path, text), path, f"--set {text}"[:126], found, allowed)

    @pytest.mark.parametrize(
        ("text", "key", "found"),
        [
            ("prices.fuel=-1", "prices.fuel", "-1"),
            ("prices.feul=1", "prices.feul", "'feul'"),
            ('engines["Four-stroke"].price=-1', 'engines["Four-stroke"].price', "-1"),
            ('engines["Four-stroke"].service.task["Gear oil"].labour=-1',
             'engines["Four-stroke"].service.task["Gear oil"].labour', "-1"),
            ("engines=[3]", "engines[1]", "3"),
            ("engines[2]=3", "engines[2]", "3"),
            ("ownership=3", "ownership", "3"),
        ],
    )  # fmt: skip
    def test_a_wrong_value_is_told_where_it_was_set(self, tmp_path: Path, text: str, key: str, found: str) -> None:
        path = write_files(tmp_path)

        assert (str(path), key, found) in [(told.file, told.key, told.found) for told in problems_of(path, text)]

    def test_years_that_do_not_fit_the_hours_by_year(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("hours_per_year = 100", "hours_by_year = [100, 90, 80]")))

        problems = problems_of(path, overrides={"ownership.years": 5.0})

        assert_one(problems, path, "use.hours_by_year", "3 given", "5 for ownership.years = 5")


class TestSources:
    """A source that nobody can look up is no source."""

    SOURCED = ("fuel = 1.9", 'fuel = { value = 1.9, source = "pump-prise" }')

    def test_an_unknown_key(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, self.SOURCED))
        (tmp_path / "sources.toml").write_text('[pump-price]\ntitle = "Pump"\n', encoding="utf-8")

        assert_one(problems_of(path), path, "prices.fuel.source", "'pump-prise'", "pump-price? Known here: invented")

    def test_no_sources_at_all(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, self.SOURCED))

        allowed = '"invented", or a key of a sources.toml beside the scenario; there is none'
        assert_one(problems_of(path), path, "prices.fuel.source", "'pump-prise'", allowed)

    def test_a_source_beside_points_in_the_engine_file(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, engine=changed(ENGINE, ("[service]", 'source = "mine"\n[service]')))

        assert_one(problems_of(path), tmp_path / ENGINE_FILE, "fuel.source", "'mine'", "invented")

    def test_a_source_that_is_no_text(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("fuel = 1.9", "fuel = { value = 1.9, source = 3 }")))

        assert_one(problems_of(path), path, "prices.fuel.source", "3", "invented")

    def test_sources_that_are_no_toml(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("fuel = 1.9", 'fuel = { value = 1.9, source = "pump" }')))
        (tmp_path / "sources.toml").write_text("no TOML", encoding="utf-8")

        assert [Path(problem.file).name for problem in problems_of(path)] == ["sources.toml", "launch.toml"]


class TestReadOut:
    """Every bad row of a read-out is told with its number in the file."""

    @staticmethod
    def with_read_out(folder: Path, text: str) -> Path:
        owner = SCENARIO[: SCENARIO.index("[[use.band]]")] + SCENARIO[SCENARIO.index("[prices]") :]
        (folder / "bands.csv").write_text(text, encoding="utf-8")
        read_out = 'hours_per_year = 100\nread_out = { file = "bands.csv", rated_speed = 5500 }'
        return write_files(folder, changed(owner, ("hours_per_year = 100", read_out)))

    def test_every_bad_row(self, tmp_path: Path) -> None:
        rows = "speed_from,speed_to,hours\n500,900,10\n900,x,5\n1500,1000,-2\n\n800,2000,3\n2000,2500\n2500,nan,inf\n"
        path = self.with_read_out(tmp_path, rows)

        assert [(Path(told.file).name, told.key, told.found) for told in problems_of(path)] == [
            ("bands.csv", "row 3, speed_to", "'x'"),
            ("bands.csv", "row 4, hours", "'-2'"),
            ("bands.csv", "row 6, speed_from", "800"),
            ("bands.csv", "row 7, hours", "nothing"),
            ("bands.csv", "row 8, speed_to", "'nan'"),
            ("bands.csv", "row 8, hours", "'inf'"),
        ]

    @pytest.mark.parametrize(
        ("text", "key", "found", "allowed"),
        [
            ("", "row 1", "nothing", "the columns speed_from, speed_to, hours"),
            ("from,to,hours\n1,2,3\n", "row 1", "from, to, hours", "the columns speed_from"),
            ("speed_from,speed_to,hours\n", "hours", "no hours", "above 0 in one row"),
            ("speed_from,speed_to,hours\n1,2,0\n", "hours", "no hours", "above 0 in one row"),
            ("speed_from,speed_to,hours\n2,1,3\n", "row 2, speed_to", "1", "above speed_from, 2 rev/min"),
            ('speed_from,speed_to,hours\n"1"2,1,3\n', "", "no CSV", "a CSV file of"),
        ],
    )
    def test_the_file(self, tmp_path: Path, text: str, key: str, found: str, allowed: str) -> None:
        path = self.with_read_out(tmp_path, text)

        assert_one(problems_of(path), tmp_path / "bands.csv", key, found, allowed)

    def test_a_missing_file(self, tmp_path: Path) -> None:
        path = self.with_read_out(tmp_path, "")
        (tmp_path / "bands.csv").unlink()

        assert_one(problems_of(path), tmp_path / "bands.csv", "", "no such file", "a CSV file of")

    def test_speeds_above_what_is_clipped(self, tmp_path: Path) -> None:
        path = self.with_read_out(tmp_path, "speed_from,speed_to,hours\n500,900,10\n5900,6000,1\n")

        allowed = "at most 5 % above the last fuel point of 'Four-stroke', 5500 rev/min"
        assert (problems_of(path)[0].key, problems_of(path)[0].allowed) == ("use.read_out", allowed)


WRONG = st.one_of(
    st.sampled_from([None, -1, 0, 1, 2**70, 10**400, 1e308, float("nan"), float("inf"), True, "", "x", "invented"]),
    st.sampled_from(
        [[], {}, [[]], [{}], [1], [1, 2], [[1]], [[1, 2]], {"value": "x"}, {"value": 10**400, "unit": "hp"}]
    ),
    st.sampled_from([{"value": 1, "unit": []}, {"value": 1, "unit": "%", "tax": {}}, {"name": 3}, [{"name": "x"}] * 2]),
)
"""Values that are right almost nowhere."""


def problems_if_any(read: Callable[[], object]) -> list[Problem]:
    """What is wrong, if anything; any other error comes through."""
    try:
        read()
    except InputError as error:
        return list(error.problems)
    return []


def places(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Paths of all values of a document."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in items:
        yield (*path, key)
        yield from places(value, (*path, key))


FULL = loads(SCENARIO.replace(f'file = "{ENGINE_FILE}"', 'name = "Four-stroke"')) | {
    "engines": [
        loads(ENGINE) | {"oil": {"ratio": 50}, "start": {"meter_hours": 1, "age": 1, "last_done": {}}},
        loads(ENGINE) | {"name": "Second", "repair": [{"name": "Pump", "clock": "hours", "scale": 1, "shape": 1}]},
    ]
}
"""A document that holds everything itself."""


@given(data=st.data())
@settings(max_examples=400, deadline=None)
def test_no_wrong_value_anywhere_brings_anything_but_problems(data: st.DataObject) -> None:
    document = copy.deepcopy(FULL)
    for _ in range(data.draw(st.integers(1, 3))):
        *way, last = data.draw(st.sampled_from(list(places(document))))
        table: Any = document
        for step in way:
            table = table[step]
        table[last] = copy.deepcopy(data.draw(WRONG))

    told = problems_if_any(lambda: scenario_from_document(document))

    assert all(problem.file and problem.found and problem.allowed for problem in told)


@given(text=st.text(max_size=300))
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_text_brings_anything_but_problems(tmp_path: Path, text: str) -> None:
    path = tmp_path / "any.toml"
    path.write_text(text, encoding="utf-8", errors="replace")

    assert len(problems_if_any(lambda: parse_toml(path))) <= 1
