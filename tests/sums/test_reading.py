"""A scenario and its files become one checked scenario; what came from where is kept."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from model.inputs.merging import merge_tables
from model.inputs.paths import Named, parse_path, path_text, put
from model.inputs.problems import InputError
from model.inputs.reading import Reading, parse_toml, read_scenario, scenario_from_document, write_toml
from tests.small_files import ENGINE, ENGINE_FILE, SCENARIO, SCENARIO_FILE, Change, changed, write_files
from tests.tolerances import IDENTITY

ENTRY = f'file = "{ENGINE_FILE}"'


def read(folder: Path, *changes: Change, engine: str = ENGINE, sets: Sequence[str] = ()) -> Reading:
    """The small scenario, changed."""
    return read_scenario(write_files(folder, changed(SCENARIO, *changes), engine), sets)


def with_entry(lines: str) -> Change:
    """Lines added to the entry of the engine that has a file."""
    return ENTRY, f"{ENTRY}\n{lines}"


class TestFiles:
    def test_an_engine_of_a_file_and_one_of_the_scenario(self, tmp_path: Path) -> None:
        reading = read(tmp_path)

        assert [engine.name for engine in reading.scenario.engines] == ["Four-stroke", "Two-stroke"]
        assert reading.path == tmp_path / SCENARIO_FILE

    def test_the_path_may_be_text(self, tmp_path: Path) -> None:
        assert read_scenario(str(write_files(tmp_path))).scenario.title == "Launch"

    @pytest.mark.parametrize("name", [SCENARIO_FILE, ENGINE_FILE])
    def test_windows_line_ends_and_a_byte_order_mark(self, tmp_path: Path, name: str) -> None:
        path = write_files(tmp_path)
        plain = read_scenario(path).scenario
        content = (tmp_path / name).read_bytes()
        (tmp_path / name).write_bytes(b"\xef\xbb\xbf" + content.replace(b"\n", b"\r\n"))

        assert read_scenario(path).scenario == plain

    def test_an_engine_file_elsewhere(self, tmp_path: Path) -> None:
        (tmp_path / "elsewhere.toml").write_text(ENGINE, encoding="utf-8")
        (tmp_path / "here").mkdir()

        for file in ("../elsewhere.toml", (tmp_path / "elsewhere.toml").as_posix()):
            assert read(tmp_path / "here", (ENGINE_FILE, file)).scenario.engines[0].name == "Four-stroke"


class TestMerging:
    def test_tables_merge_by_key(self, tmp_path: Path) -> None:
        warranty = read(tmp_path, with_entry("warranty = { excess = 50 }")).scenario.engines[0].warranty

        assert warranty is not None
        assert (warranty.months, warranty.excess) == (36.0, 50.0)

    def test_lists_are_replaced_whole(self, tmp_path: Path) -> None:
        change = with_entry("fuel = { points = [[0.1, 1.0], [1.0, 20.0]] }")

        assert read(tmp_path, change).scenario.engines[0].fuel.points == ((0.1, 1.0), (1.0, 20.0))

    def test_a_number_written_as_a_table_is_replaced_whole(self) -> None:
        below = {"price": {"value": 9, "unit": "x", "source": "y"}, "power": {"value": 1, "unit": "hp"}}

        merged = merge_tables(below, {"price": {"value": 8}, "power": 45})

        assert merged == {"price": {"value": 8}, "power": 45}

    def test_neither_side_is_changed(self) -> None:
        below: dict[str, Any] = {"a": {"b": [1]}}

        merge_tables(below, {"a": {"c": 2}})["a"]["b"].append(3)

        assert below == {"a": {"b": [1]}}


class TestListPrice:
    """Resale is a share of the price before the comparison changes it."""

    @pytest.mark.parametrize(
        ("entry", "engine", "price", "list_price"),
        [
            ("", ENGINE, 10000.0, 10000.0),
            ("price = 8000", ENGINE, 8000.0, 10000.0),
            ("price = 8000\nlist_price = 9500", ENGINE, 8000.0, 9500.0),
            ("price = 8000", ENGINE.replace("price = 10000", "price = 10000\nlist_price = 11000"), 8000.0, 11000.0),
            ("price = 8000", ENGINE.replace("price = 10000\n", ""), 8000.0, 8000.0),
        ],
    )
    def test_of_an_engine_file(self, tmp_path: Path, entry: str, engine: str, price: float, list_price: float) -> None:
        first = read(tmp_path, with_entry(entry), engine=engine).scenario.engines[0]

        assert (first.price, first.list_price) == (price, list_price)

    @pytest.mark.parametrize("name", ["Four-stroke", "Two-stroke"])
    def test_a_price_set_on_top_leaves_it(self, tmp_path: Path, name: str) -> None:
        engine = read(tmp_path, sets=[f'engines["{name}"].price=5000']).scenario.engine(name)

        assert engine.price == 5000.0
        assert engine.list_price == {"Four-stroke": 10000.0, "Two-stroke": 9000.0}[name]

    def test_tax_is_on_it_too(self, tmp_path: Path) -> None:
        tax = ("[prices]", "[money]\ntax_rate = { value = 25, unit = '%' }\n[prices]")
        engine = ENGINE.replace("price = 10000", 'price = { value = 10000, tax = "excluded" }')

        assert read(tmp_path, tax, engine=engine).scenario.engines[0].list_price == pytest.approx(12500.0, rel=IDENTITY)

    def test_a_used_engine_set_on_top_must_state_its_own(self, tmp_path: Path) -> None:
        start = 'engines["Four-stroke"].start={meter_hours = 300, age = 4}'
        stated = 'engines["Four-stroke"].list_price=10000'

        assert read(tmp_path, sets=[start, stated]).scenario.engines[0].start is not None
        with pytest.raises(InputError, match="none on a used engine"):
            read(tmp_path, sets=[start])


class TestSettings:
    @pytest.mark.parametrize(
        ("text", "steps", "expected"),
        [
            ("prices.fuel=2.10", ("prices", "fuel"), 2.1),
            (" prices.fuel = 2.10 ", ("prices", "fuel"), 2.1),
            ('prices.fuel={ value = 3.785411784, unit = "US gal" }', ("prices", "fuel"), 1.0),
            ("use.band[1].share=0.6", ("use", "band", 0, "share"), 0.6),
            ('title="a = b"', ("title",), "a = b"),
            ("downtime.day_cost=60", ("downtime", "day_cost"), 60.0),
            ("money.growth.fuel=0.03", ("money", "growth", "fuel"), 0.03),
            ('engines["Four-stroke"].service.task["Gear oil"].labour=0.7',
             ("engines", 0, "service", "task", 0, "labour"), 0.7),
            ("engines[1].service.task['Gear oil'].parts[1].price=9",
             ("engines", 0, "service", "task", 0, "parts", 0, "price"), 9.0),
            ('engines["Two-stroke"].oil.ratio=50', ("engines", 1, "oil", "ratio"), None),
        ],
    )  # fmt: skip
    def test_the_value_stands_there(
        self, tmp_path: Path, text: str, steps: tuple[str | int, ...], expected: Any
    ) -> None:
        value: Any = read(tmp_path, sets=[text, "prices.two_stroke_oil=12"]).scenario
        for step in steps:
            value = value[step] if isinstance(step, int) else getattr(value, step)

        assert value == (50.0 if expected is None else expected)

    def test_later_ones_count(self, tmp_path: Path) -> None:
        assert read(tmp_path, sets=["prices.fuel=3", "prices.fuel=2"]).scenario.prices.fuel == 2.0

    def test_a_name_with_an_equals_sign(self, tmp_path: Path) -> None:
        change = ('name = "Two-stroke"', 'name = "A = B"')

        assert read(tmp_path, change, sets=['engines["A = B"].price=7']).scenario.engine("A = B").price == 7.0

    def test_hours_a_year_take_the_place_of_hours_by_year(self, tmp_path: Path) -> None:
        path = write_files(tmp_path, changed(SCENARIO, ("hours_per_year = 100", "hours_by_year = [100, 90, 80]")))

        scenario = read_scenario(path, overrides={"use.hours_per_year": 150.0, "ownership.years": 5.0}).scenario

        assert scenario.hours() == (150.0,) * 5

    def test_the_files_stay(self, tmp_path: Path) -> None:
        before = read(tmp_path)
        read_scenario(before.path, ["prices.fuel=3"])

        assert read_scenario(before.path) == before


class TestPaths:
    @pytest.mark.parametrize(
        "text",
        [
            "prices.fuel",
            "use.band[2].share",
            'engines["Four-stroke"].fit_up[1].price',
            'start.last_done["Gear oil"].age',
        ],
    )
    def test_there_and_back(self, text: str) -> None:
        document: dict[str, Any] = {
            "prices": {"fuel": 1},
            "use": {"band": [{"share": 1}, {"share": 2}]},
            "engines": [{"name": "Four-stroke", "fit_up": [{"price": 1}]}],
            "start": {"last_done": {"Gear oil": {"age": 1}}},
        }

        assert path_text(document, put(document, parse_path(text), 7)) == text

    def test_names_that_are_not_their_own_give_way_to_positions(self) -> None:
        assert path_text([{"name": "x"}, {"name": "x"}], (1, "price")) == "[2].price"

    def test_a_point_is_told_whole(self) -> None:
        assert path_text({"points": [[1, 2], [3, 4]]}, ("points", 1, 0)) == "points[2]"

    def test_quoted_keys(self) -> None:
        assert parse_path("a.\"b.c\"['d']") == ("a", "b.c", Named("d"))


class TestTax:
    def test_excluded_prices_of_every_file(self, tmp_path: Path) -> None:
        changes = (
            ("[prices]", "[money]\ntax_rate = 0.2\n[prices]"),
            ("labour = 80", 'labour = { value = 80, tax = "excluded" }'),
        )
        engine = ENGINE.replace("price = 21", 'price = { value = 21, tax = "excluded" }')
        scenario = read(tmp_path, *changes, engine=engine).scenario
        service = scenario.engines[0].service

        assert service is not None
        assert scenario.prices.labour == pytest.approx(96.0, rel=IDENTITY)
        assert service.task[0].parts[0].price == pytest.approx(25.2, rel=IDENTITY)
        assert scenario.prices.fuel == 1.9

    def test_net_figures(self, tmp_path: Path) -> None:
        scenario = read(tmp_path, ("[prices]", "[money]\ntax_rate = 0.25\nnet = true\n[prices]")).scenario

        assert (scenario.prices.fuel, scenario.engines[0].price) == (1.9 / 1.25, 8000.0)

    @pytest.mark.parametrize("rate", ["-1", "20", '"x"', "[]", "{ value = 20, unit = [] }", "true", "nan"])
    def test_a_rate_that_is_none_is_told_once(self, tmp_path: Path, rate: str) -> None:
        price = ("fuel = 1.9", 'fuel = { value = 1.6, tax = "excluded" }')

        with pytest.raises(InputError, match="found") as caught:
            read(tmp_path, ("[prices]", f"[money]\ntax_rate = {rate}\n[prices]"), price)

        assert [problem.key for problem in caught.value.problems] == ["money.tax_rate"]


class TestSources:
    SOURCES = '[pump]\ntitle = "Pump"\n[maker]\ntitle = "Maker"\n'

    def test_every_number_with_its_source(self, tmp_path: Path) -> None:
        (tmp_path / "sources.toml").write_text(self.SOURCES, encoding="utf-8")
        engine = changed(
            ENGINE,
            ("[service]", 'unit = "US gal/h"\nsource = "maker"\n[service]'),
            ("price = 21", 'price = { value = 21, source = "invented" }'),
        )
        change = ("fuel = 1.9", 'fuel = { value = 7, unit = "US gal", source = "pump" }')
        entry = with_entry('price = { value = 8, source = "maker" }')

        found = read(tmp_path, change, entry, engine=engine).sources

        assert [(value.key, value.value, value.unit, value.source, Path(value.file).name) for value in found] == [
            ("prices.fuel", 7, "US gal", "pump", SCENARIO_FILE),
            ('engines["Four-stroke"].price', 8, None, "maker", SCENARIO_FILE),
            ("fuel.points", [[0.12, 0.9], [0.5, 4.7], [1.0, 17.1]], "US gal/h", "maker", "four.toml"),
            ('service.task["Gear oil"].parts["Oil"].price', 21, None, "invented", "four.toml"),
        ]

    def test_the_list_price_that_is_the_price_is_told_once(self, tmp_path: Path) -> None:
        engine = ENGINE.replace("price = 10000", 'price = { value = 10000, source = "invented" }')

        assert [value.key for value in read(tmp_path, engine=engine).sources] == ["price"]

    @pytest.mark.parametrize("place", ["", "..", "../.."])
    def test_beside_the_scenario_or_up_to_two_folders_above(self, tmp_path: Path, place: str) -> None:
        folder = tmp_path / "a" / "b"
        folder.mkdir(parents=True)
        (folder / place / "sources.toml").write_text(self.SOURCES, encoding="utf-8")

        assert read(folder, ("fuel = 1.9", 'fuel = { value = 7, source = "pump" }')).sources[0].source == "pump"

    def test_three_folders_above_is_too_far(self, tmp_path: Path) -> None:
        folder = tmp_path / "a" / "b" / "c"
        folder.mkdir(parents=True)
        (tmp_path / "sources.toml").write_text(self.SOURCES, encoding="utf-8")

        with pytest.raises(InputError, match="there is none"):
            read(folder, ("fuel = 1.9", 'fuel = { value = 7, source = "pump" }'))

    def test_an_engine_file_may_have_its_own(self, tmp_path: Path) -> None:
        for folder in ("mine", "library"):
            (tmp_path / folder).mkdir()
        (tmp_path / "library" / "sources.toml").write_text(self.SOURCES, encoding="utf-8")
        (tmp_path / "library" / "four.toml").write_text(
            changed(ENGINE, ("price = 10000", 'price = { value = 1, source = "maker" }')), encoding="utf-8"
        )

        assert read(tmp_path / "mine", (ENGINE_FILE, "../library/four.toml")).sources[0].source == "maker"

    def test_a_broken_list_beside_an_engine_is_told_though_the_scenario_knows_the_key(self, tmp_path: Path) -> None:
        for folder in ("mine", "library"):
            (tmp_path / folder).mkdir()
        (tmp_path / "mine" / "sources.toml").write_text(self.SOURCES, encoding="utf-8")
        (tmp_path / "library" / "sources.toml").write_text("no TOML", encoding="utf-8")
        (tmp_path / "library" / "four.toml").write_text(
            changed(ENGINE, ("price = 10000", 'price = { value = 1, source = "maker" }')), encoding="utf-8"
        )

        with pytest.raises(InputError) as caught:
            read(tmp_path / "mine", (ENGINE_FILE, "../library/four.toml"))

        assert [Path(problem.file).parent.name for problem in caught.value.problems] == ["library"]


READ_OUT = """speed_from,speed_to,hours
500,1500,60
1500,4500,{most}
5400,5700,{above}
"""


class TestReadOut:
    @staticmethod
    def read(folder: Path, text: str) -> Reading:
        (folder / "bands.csv").write_text(text, encoding="utf-8")
        owner = SCENARIO[SCENARIO.index("[[use.band]]") : SCENARIO.index("[prices]")]
        line = 'read_out = { file = "bands.csv", rated_speed = 5500 }\n'
        return read(folder, (owner, line))

    def test_bins_are_filled_in(self, tmp_path: Path) -> None:
        read_out = self.read(tmp_path, READ_OUT.format(most=40, above=0)).scenario.use.read_out

        assert read_out is not None
        assert read_out.bins == ((500.0, 1500.0, 60.0), (1500.0, 4500.0, 40.0), (5400.0, 5700.0, 0.0))

    def test_columns_in_any_order_and_windows_line_ends(self, tmp_path: Path) -> None:
        read_out = self.read(tmp_path, "\ufeffhours, speed_from ,speed_to\r\n1,2,3\r\n\r\n").scenario.use.read_out

        assert read_out is not None
        assert read_out.bins == ((2.0, 3.0, 1.0),)

    @pytest.mark.parametrize(("above", "warnings"), [(2, 0), (3, 2)])
    def test_hours_above_the_last_point(self, tmp_path: Path, above: int, warnings: int) -> None:
        told = self.read(tmp_path, READ_OUT.format(most=40 - above, above=above)).warnings

        assert len([text for text in told if "above the last fuel point" in text]) == warnings
        assert not warnings or "Four-stroke: 3 % of the read-out's hours" in told[1]


class TestWarnings:
    def test_measured_beside_estimated_fuel(self, tmp_path: Path) -> None:
        assert read(tmp_path).warnings == (
            "Measured and estimated fuel are compared: points are given for Four-stroke, the flow of Two-stroke is an "
            "estimate.",
        )

    def test_none_when_all_are_measured(self, tmp_path: Path) -> None:
        assert read(tmp_path, ("price = 9000", "price = 9000\nfuel = { points = [[0, 1], [1, 20]] }")).warnings == ()

    def test_offered_used_but_counted_as_new(self, tmp_path: Path) -> None:
        told = read(tmp_path, ("price = 9000", 'price = 9000\noffered = "used"')).warnings

        assert told[1] == "Two-stroke: offered used, but without its hours and age, so it is counted as new."


class TestLeftOut:
    def test_what_costs_nothing_is_told(self, tmp_path: Path) -> None:
        assert read(tmp_path).left_out == (
            "No discount rate: later money counts like money at delivery.",
            "No inflation: prices stay as at delivery unless a growth of their own is given.",
            "Four-stroke: no failures are stated, so repairs cost nothing.",
            "Four-stroke: no resale value is stated, so it is worth nothing at the end.",
            "Two-stroke: no two-stroke oil is stated, so it costs nothing.",
            "Two-stroke: no service plan is stated, so servicing costs nothing.",
            "Two-stroke: no failures are stated, so repairs cost nothing.",
            "Two-stroke: no resale value is stated, so it is worth nothing at the end.",
        )

    def test_days_lost_without_their_cost(self, tmp_path: Path) -> None:
        repair = '[[engines.repair]]\nname = "Pump"\nclock = "hours"\nscale = 900\nshape = 1.0\ndays_lost = 2\n'
        told = read(tmp_path, ("price = 9000\n", f"price = 9000\n{repair}")).left_out

        assert "No cost of a day without the boat is stated: days lost cost nothing." in told
        assert "Two-stroke: no written warranty is stated, so the owner pays every repair." in told


class TestDocument:
    def test_it_holds_everything_itself(self, tmp_path: Path) -> None:
        reading = read(tmp_path, with_entry("price = 8000"))

        assert scenario_from_document(reading.document) == reading.scenario
        assert reading.document["engines"][0]["list_price"] == 10000
        assert "file" not in reading.document["engines"][0]

    def test_problems_carry_the_label(self) -> None:
        with pytest.raises(InputError, match=r"^the form: ownership: found nothing"):
            scenario_from_document({}, "the form")


class TestWriting:
    def test_there_and_back(self, tmp_path: Path) -> None:
        reading = read(tmp_path)
        write_toml(reading.document, tmp_path / "copy.toml")

        assert parse_toml(tmp_path / "copy.toml") == reading.document
        assert read_scenario(tmp_path / "copy.toml").scenario == reading.scenario

    def test_a_read_out_goes_with_it(self, tmp_path: Path) -> None:
        reading = TestReadOut.read(tmp_path, READ_OUT.format(most=40, above=0))
        (tmp_path / "bands.csv").unlink()
        write_toml(reading.document, tmp_path / "copy.toml")

        assert read_scenario(tmp_path / "copy.toml").scenario == reading.scenario

    def test_nothing_is_left_aside(self, tmp_path: Path) -> None:
        write_toml({"a": None, "b": [1, {"c": None}]}, tmp_path / "new.toml")

        assert os.listdir(tmp_path) == ["new.toml"]
        assert parse_toml(tmp_path / "new.toml") == {"b": [1, {}]}

    def test_what_stood_there_stays_when_writing_fails(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        path = tmp_path / "kept.toml"
        path.write_text("a = 1\n", encoding="utf-8")

        def full(_: int) -> None:
            raise OSError("no space")

        monkeypatch.setattr(os, "fsync", full)
        with pytest.raises(OSError, match="no space"):
            write_toml({"a": 2}, path)

        assert path.read_text(encoding="utf-8") == "a = 1\n"
        assert os.listdir(tmp_path) == ["kept.toml"]

    def test_the_rights_of_a_file_stay(self, tmp_path: Path) -> None:
        path = tmp_path / "mine.toml"
        path.write_text("", encoding="utf-8")
        path.chmod(0o640)
        write_toml({"a": 1}, path)

        assert path.stat().st_mode & 0o777 == 0o640
