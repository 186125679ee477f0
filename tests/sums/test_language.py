"""Languages: sentences from catalogues, numbers and dates by locale."""

import threading
from datetime import date

import pytest
from babel.dates import format_date
from babel.numbers import format_decimal

from model import language
from model.language import dated, say, speaking, spoken, written


@pytest.fixture(autouse=True)
def one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    """A catalogue of one sentence."""
    monkeypatch.setattr(language, "catalogue", lambda _: {"{engine} costs less.": "{engine} cuesta menos."})


class TestSay:
    def test_follows_the_language_of_the_moment(self) -> None:
        with speaking("es"):
            assert say("{engine} costs less.", engine="Four") == "Four cuesta menos."
        assert say("{engine} costs less.", engine="Four") == "Four costs less."

    def test_stays_english_where_the_catalogue_has_nothing(self) -> None:
        with speaking("es"):
            assert say("Unheard of.") == "Unheard of."

    def test_takes_a_language_that_it_does_not_know_for_english(self) -> None:
        with speaking("xx"):
            assert spoken().language == "en"

    def test_leaves_braces_of_a_name_alone(self) -> None:
        assert say("{engine} costs less.", engine="{odd}") == "{odd} costs less."

    @pytest.mark.parametrize(
        ("number", "expected"),
        [(0, "0 visits fall"), (1, "1 visit falls"), ("1.5", "1.5 visits fall"), (21, "21 visits fall")],
    )
    def test_words_follow_their_number(self, number: object, expected: str) -> None:
        assert say("{number} {number:visit falls|visits fall}", number=number) == expected
        assert "".join(language.say_around("*{number} {number:visit falls|visits fall}*", number=number)) == expected

    def test_words_may_hold_the_number(self) -> None:
        told = [say("{engine}: {number:once|{number} times}", engine="{a|b}", number=number) for number in (1, 2)]

        assert told == ["{a|b}: once", "{a|b}: 2 times"]

    def test_words_and_other_figures_stand_side_by_side(self) -> None:
        told = say("{{{name}}} in {year:.1f} {year:year|years}, {number:|again}", name="A|B", year=1.26, number=2)

        assert told == "{A|B} in 1.3 years, again"

    def test_a_figure_that_is_missing_is_a_mistake(self) -> None:
        with pytest.raises(KeyError):
            say("{number} {number:visit|visits} of {engine}", number=1)

    def test_is_of_one_thread(self) -> None:
        heard = []
        with speaking("es"):
            thread = threading.Thread(target=lambda: heard.append(spoken().language))
            thread.start()
            thread.join()
        assert heard == ["en"]


class TestWritten:
    @pytest.mark.parametrize("locale", ["en", "es", "de", "de_CH", "fr", "en_GB"])
    @pytest.mark.parametrize("number", [0.0, -12345.5, 1234567.25, 999.0])
    def test_writes_as_babel_does(self, locale: str, number: float) -> None:
        """Source: Unicode CLDR through babel, a general-purpose library."""
        expected = format_decimal(number, "#,##0.00", locale=locale).replace("\u202f", "\u00a0")
        with speaking("en", locale):
            assert written(f"{number:,.2f}") == expected


class TestDated:
    @pytest.mark.parametrize(("locale", "written"), [("en", "Apr 1, 2027"), ("es", "1 Apr 2027"), ("de", "01.04.2027")])
    def test_is_in_the_order_of_the_locale_and_in_the_language(self, locale: str, written: str) -> None:
        with speaking("en", locale):
            assert dated(date(2027, 4, 1)) == written

    def test_is_as_babel_writes_it_where_language_and_locale_are_one(self) -> None:
        with speaking("es"):
            assert dated(date(2027, 4, 1)) == format_date(date(2027, 4, 1), "medium", locale="es")
