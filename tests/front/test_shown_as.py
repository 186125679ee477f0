"""Units, currency and formats by choice: shown and typed by them, never counted otherwise."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date

import pytest
from dash import html
from flask import Flask
from flask.testing import FlaskClient

from dashboard import drawer, shown_as
from dashboard.app import build_app
from dashboard.drawer import Behind
from dashboard.edits import Edited, edited
from dashboard.figures import cheapest_map, fuel_flow, table_of_costs
from dashboard.form import FUEL, check, fields_of
from dashboard.numbers import Content, sections
from dashboard.pages import when
from dashboard.scenarios import looks_of, reading_of, scenario_of, start
from dashboard.work import Work
from model.inputs.terms import Element
from model.inputs.units import (
    GRAMS_PER_KILOWATT_HOUR_IN_A_POUND_PER_HORSEPOWER_HOUR,
    KILOGRAMS_IN_A_POUND,
    KILOWATTS_IN_A_HORSEPOWER,
    LITRES_IN_A_US_GALLON,
)
from model.language import SI, US, dated, separators, speaking, spoken
from model.measures import compare
from model.quantities import SHOWN_AS, a_litre, as_shown, house_value, sold_by, unit_shown, with_unit
from tests.tolerances import IDENTITY

WORK = start()
BASE = "http://127.0.0.1/"
FOUR = 'engines["Four-stroke 45 kW"]'


@contextmanager
def in_us_units() -> Iterator[None]:
    """Quantities as in the United States."""
    with speaking("en", units=US):
        yield


def typed(path: str, raw: str, work: Work = WORK) -> Edited:
    """The work after one number was typed into the form."""
    return edited(work, {}, {"does": "set", "path": path, "raw": raw, "kind": "number"})


def items(work: Work) -> dict[str, dict[str, object]]:
    """Every single field of the first engine and of the owner, by path."""
    content = Content(reading_of(work).document, scenario_of(work), "EUR")
    found = [item for part in ("owner", "0") for group in sections(content, part) for item in _within(group)]
    return {str(item["path"]): item for item in found}


def _within(item: dict[str, object]) -> Iterator[dict[str, object]]:
    """An item and those within it."""
    yield item
    inner = item.get("items", [])
    assert isinstance(inner, list)
    for one in inner:
        yield from _within(one)


class TestQuantities:
    """Against the definitions of the foot-pound system (1959), as `model.inputs.units` has them."""

    @pytest.mark.parametrize(
        ("house", "value", "shown", "name"),
        [
            ("L", LITRES_IN_A_US_GALLON, 1.0, "US gal"),
            ("L/h", 2 * LITRES_IN_A_US_GALLON, 2.0, "US gal/h"),
            ("money/L", 1.0, LITRES_IN_A_US_GALLON, "US gal"),
            ("kW", KILOWATTS_IN_A_HORSEPOWER, 1.0, "hp"),
            ("kg", KILOGRAMS_IN_A_POUND, 1.0, "lb"),
            ("g/kWh", GRAMS_PER_KILOWATT_HOUR_IN_A_POUND_PER_HORSEPOWER_HOUR, 1.0, "lb/hp-h"),
            ("h", 120.0, 120.0, "h"),
            ("money", 5.0, 5.0, "money"),
        ],
    )
    def test_are_shown_in_us_units(self, house: str, value: float, shown: float, name: str) -> None:
        with in_us_units():
            assert as_shown(value, house) == pytest.approx(shown, rel=IDENTITY)
            assert house_value(shown, house) == pytest.approx(value, rel=IDENTITY)
            assert unit_shown(house) == name
        assert (as_shown(value, house), unit_shown(house)) == (value, house)

    def test_what_is_sold_costs_the_same(self) -> None:
        with in_us_units():
            quantity, unit, price = sold_by(100.0, "L", 1.85)

        assert unit == "US gal"
        assert quantity * price == pytest.approx(185.0, rel=IDENTITY)
        assert sold_by(2.0, "piece", 9.0) == (2.0, "piece", 9.0)

    def test_are_told_with_their_unit(self) -> None:
        assert with_unit(10.0, "L/h") == "10 L/h"
        with in_us_units():
            assert (with_unit(10.0, "L/h"), a_litre()) == ("2.64 US gal/h", "a US gallon")

    def test_house_units_are_as_they_are(self) -> None:
        assert SHOWN_AS[SI] == {}


class TestPages:
    def test_the_drawer_has_the_same_money(self) -> None:
        behind = Behind("Four-stroke 45 kW", (Element.FUEL,))
        in_house = drawer.rows_behind(WORK, behind)[0]
        plain = drawer.content(WORK, behind)

        with in_us_units():
            told, line = drawer.content(WORK, behind), drawer._line(in_house)

        assert str(told[1]) == str(plain[1])
        assert line[5].shown == "US gal"
        quantity, price = line[4].value, line[6].value
        assert isinstance(quantity, float)
        assert isinstance(price, float)
        assert quantity * price == pytest.approx(in_house.nominal, rel=IDENTITY)

    def test_table_and_pictures_follow(self) -> None:
        comparison = compare(scenario_of(WORK))
        curves = fuel_flow.picture(scenario_of(WORK), looks_of(WORK))
        with in_us_units():
            table = str(table_of_costs.table_of_costs(comparison))
            drawn = fuel_flow.picture(scenario_of(WORK), looks_of(WORK))
            fuel_map = when.by_fuel_price(WORK)

        assert "Fuel, US gal" in table
        assert "CO2, lb" in table
        assert drawn["layout"]["yaxis"]["title"]["text"] == "US gal/h"
        assert drawn["data"][0]["y"][-1] == pytest.approx(
            curves["data"][0]["y"][-1] / LITRES_IN_A_US_GALLON, rel=IDENTITY
        )
        assert fuel_map.picture["layout"]["yaxis"]["title"]["text"] == "Fuel price, EUR a US gallon"
        assert fuel_map.picture["data"][-1]["y"] == [pytest.approx(1.85 * LITRES_IN_A_US_GALLON, rel=IDENTITY)]
        assert cheapest_map.price_upwards("EUR").unit == "EUR a litre"


class TestTheControls:
    def test_a_price_is_a_gallons_and_goes_into_the_file_as_such(self) -> None:
        with in_us_units():
            checked = check(WORK, {FUEL: 8})
            (field,) = [one for one in fields_of(checked.work) if one.key == FUEL]

        assert checked.work.values() == {"prices.fuel": {"value": 8.0, "unit": "US gal"}}
        assert scenario_of(checked.work).prices.fuel == pytest.approx(8.0 / LITRES_IN_A_US_GALLON, rel=IDENTITY)
        assert (field.value, field.unit) == (8.0, "EUR a US gallon")
        assert field.low <= 8.0 <= field.high

    def test_what_is_shown_is_no_change(self) -> None:
        with in_us_units():
            typed_again = {field.key: field.value for field in fields_of(WORK)}
            assert check(WORK, typed_again).work == WORK


class TestTheForm:
    def test_power_is_in_horsepower(self) -> None:
        with in_us_units():
            shown = items(WORK)[f"{FOUR}.rated_power"]
            found = typed(f"{FOUR}.rated_power", "60")
            again = items(found.work)[f"{FOUR}.rated_power"]

        assert shown["unit"] == "hp"
        assert found.work.values() == {f"{FOUR}.rated_power": {"value": 60, "unit": "hp"}}
        assert again["value"] == 60
        assert scenario_of(found.work).engines[0].rated_power == pytest.approx(
            60 * KILOWATTS_IN_A_HORSEPOWER, rel=IDENTITY
        )

    def test_fuel_points_are_in_gallons_an_hour(self) -> None:
        path = f"{FOUR}.fuel.points"
        with in_us_units():
            table = items(WORK)[path]
            found = typed(f"{path}[5][2]", "5")
            again = items(found.work)[path]

        assert [column["label"] for column in table["columns"]] == ["", "US gal/h"]  # type: ignore[attr-defined]
        flow = scenario_of(found.work).engines[0].fuel.litres_an_hour_points()[4][1]
        assert flow == pytest.approx(5 * LITRES_IN_A_US_GALLON, rel=IDENTITY)
        assert again["rows"][4]["cells"][1]["value"] == 5  # type: ignore[index]

    def test_points_stated_in_gallons_are_shown_in_litres(self) -> None:
        work = WORK.changed({f"{FOUR}.fuel.unit": "US gal/h"})
        shown = items(work)[f"{FOUR}.fuel.points"]["rows"][4]["cells"][1]["value"]  # type: ignore[index]
        found = typed(f"{FOUR}.fuel.points[5][2]", "70", work)

        flows = [scenario_of(one).engines[0].fuel.litres_an_hour_points()[4][1] for one in (work, found.work)]
        assert flows == [pytest.approx(shown, rel=IDENTITY), pytest.approx(70.0, rel=IDENTITY)]

    def test_what_cannot_be_stays_as_it_was_typed(self) -> None:
        path = f"{FOUR}.rated_power"
        with in_us_units():
            found = typed(path, "-3")
            form = json.loads(when_shown(found))

        assert found.work == WORK
        assert path in found.problems
        assert [item["value"] for item in form if item["path"] == path] == [-3]


def when_shown(found: Edited) -> str:
    """Fields of the first engine as the browser has them, as JSON."""
    from dashboard.pages import numbers

    data = json.loads(numbers.form(found, "0"))
    return json.dumps([item for group in data["sections"] for item in _within(group) if "value" in item])


class TestFormats:
    @pytest.mark.parametrize(
        ("locale", "number", "day"),
        [("en", "1,234.5", "Apr 1, 2027"), ("de", "1.234,5", "01.04.2027"), ("fr", "1\u00a0234,5", "1 Apr 2027")],
    )
    def test_differ_from_the_language(self, locale: str, number: str, day: str) -> None:
        from model.wording import plain

        with speaking("en", locale):
            assert (plain(1234.5), dated(date(2027, 4, 1))) == (number, day)

    def test_the_ways_on_offer_all_differ(self) -> None:
        assert len({separators(locale) for locale in shown_as.NUMBER_FORMATS}) == len(shown_as.NUMBER_FORMATS)
        told = [shown_as._date_format(locale)[1] for locale in shown_as.DATE_FORMATS]
        assert told == ["1 Apr 2027", "Apr 1, 2027", "01.04.2027", "2027-04-01"]

    def test_months_are_called_as_in_the_language(self) -> None:
        with speaking("es", "es", "en"):
            assert dated(date(2027, 4, 1)) == "abr 1, 2027"


class TestTheBrowser:
    @pytest.fixture
    def client(self) -> Iterator[FlaskClient]:
        server: Flask = build_app().server
        server.add_url_rule(
            "/now", "now", lambda: " ".join((spoken().language, spoken().locale, spoken().dates, spoken().units))
        )
        with server.test_client() as made:
            yield made

    def test_keeps_what_was_chosen(self, client: FlaskClient) -> None:
        for cookie, value in (("units", "US"), ("numbers", "de"), ("dates", "lt"), ("language", "es")):
            client.set_cookie(cookie, value, domain="127.0.0.1")

        assert client.get("/now", base_url=BASE).text == "es de lt US"
        assert "'data-now': 'US'" in str(client.get("/_dash-layout", base_url=BASE).json)

    @pytest.mark.parametrize("value", ["xx", "../../etc", "en" * 20, ""])
    def test_what_is_no_choice_is_the_languages(self, client: FlaskClient, value: str) -> None:
        for cookie in ("units", "numbers", "dates"):
            client.set_cookie(cookie, value, domain="127.0.0.1")

        assert client.get("/now", base_url=BASE).text == "en en en SI"

    def test_the_sheet_follows_it(self, client: FlaskClient) -> None:
        asked = {"work": WORK.as_data(), "kind": "html", "paper": "A4", "language": "en"}
        for cookie, value in (("units", "US"), ("numbers", "de")):
            client.set_cookie(cookie, value, domain="127.0.0.1")

        page = client.post("/sheet", base_url=BASE, json=asked).text

        assert "EUR a US gallon" in page
        assert "60,3 hp" in page
        assert "Fuel, US gal" in page


def test_every_currency_is_one_of_the_format() -> None:
    codes = [code for code, _ in shown_as.currencies("en")]

    assert {"EUR", "USD", "GBP"} <= set(codes)
    for code in codes:
        scenario_of(WORK.changed({"currency": code}))


def test_a_currency_converts_nothing() -> None:
    found = edited(WORK, {}, {"does": "set", "path": "currency", "raw": "USD", "kind": "text"})

    ours, theirs = compare(scenario_of(WORK)), compare(scenario_of(found.work))
    assert [cost.total for cost in ours.engines] == [cost.total for cost in theirs.engines]
    assert isinstance(shown_as.button(), html.Button)
