"""The pages in Spanish, as their users see them."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from dashboard.pages import PAGES
from tests.browser.chromium import until
from tests.browser.conftest import WAIT
from tests.browser.serving import DRAWN

pytestmark = pytest.mark.browser

PAGE_IS_THERE = "document.querySelector('#page').children.length && !document.querySelector('.waiting')"
"""The page in sight is drawn."""


@pytest.fixture
def users(browser: Browser) -> Iterator[list[BrowserContext]]:
    """Two users, each with a browser of their own."""
    contexts = [browser.new_context(), browser.new_context()]
    for context in contexts:
        context.set_default_timeout(WAIT)
    yield contexts
    for context in contexts:
        context.close()


def opened(user: BrowserContext, address: str, width: int = 1280) -> Page:
    """The first page, drawn."""
    page = user.new_page()
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(address)
    until(page, DRAWN)
    return page


def in_spanish(user: BrowserContext, address: str, width: int = 1280) -> Page:
    """The first page after Spanish was chosen in the bar."""
    page = opened(user, address, width)
    page.get_by_role("button", name="Español").click()
    expect(page.locator("html")).to_have_attribute("lang", "es")
    until(page, DRAWN)
    return page


def answer_of(page: Page) -> str:
    """The answer."""
    return page.locator("#answer").inner_text().replace("\u00a0", " ")


def test_spanish_is_chosen_and_stays(users: list[BrowserContext], address: str) -> None:
    page = in_spanish(users[0], address)
    told = answer_of(page)

    assert "En 8 años a 120 h al año" in told
    assert "1.231 EUR" in told
    assert page.title() == "Lo que cuesta un motor fueraborda con los años"

    page.reload()
    until(page, DRAWN)

    assert answer_of(page) == told


def test_english_comes_back(users: list[BrowserContext], address: str) -> None:
    page = in_spanish(users[0], address)

    page.get_by_role("button", name="English").click()

    expect(page.locator("html")).to_have_attribute("lang", "en")
    expect(page.locator("#answer")).to_contain_text("Over 8 years at 120 h a year")


def test_numbers_are_written_as_in_spanish(users: list[BrowserContext], address: str) -> None:
    page = in_spanish(users[0], address)

    expect(page.get_by_role("textbox", name="Precio del combustible")).to_have_value("1,85")
    expect(page.locator("#elements-graph .xtick").first).to_be_visible()
    ticks = page.locator("#elements-graph .xtick").all_text_contents()
    assert "10.000" in ticks


@pytest.mark.parametrize("typed", ["2,5", "2.5"])
def test_a_comma_or_a_point_is_typed(users: list[BrowserContext], address: str, typed: str) -> None:
    page = in_spanish(users[0], address)
    before = answer_of(page)

    box = page.get_by_role("textbox", name="Precio del combustible")
    box.select_text()
    box.press_sequentially(typed)

    expect(page.locator("#answer")).not_to_have_text(before)
    page.reload()
    until(page, DRAWN)
    expect(page.get_by_role("textbox", name="Precio del combustible")).to_have_value("2,5")


@pytest.mark.parametrize(("filled", "read"), [("2,5", "2,5"), ("2.5", "2,5"), ("1.200", "1200"), ("0.125", "0,125")])
def test_what_is_filled_in_at_once_is_not_misread(
    users: list[BrowserContext], address: str, filled: str, read: str
) -> None:
    page = in_spanish(users[0], address)

    page.get_by_role("textbox", name="Precio del combustible").fill(filled)

    expect(page.get_by_role("textbox", name="Precio del combustible")).to_have_value(read)


@pytest.mark.parametrize(
    ("typed", "read"), [("1,200", "1200"), ("1,200.5", "1200.5"), ("1.200", "1.2"), ("2,5", "2.5"), ("0,125", "0.125")]
)
def test_thousands_are_parted_by_key(users: list[BrowserContext], address: str, typed: str, read: str) -> None:
    english, spanish = opened(users[1], address), in_spanish(users[0], address)
    swapped = str.maketrans(",.", ".,")
    for page, name, keys, shown in (
        (english, "Running hours", typed, read),
        (spanish, "Horas de motor", typed.translate(swapped), read.translate(swapped)),
    ):
        box = page.get_by_role("textbox", name=name)
        box.select_text()
        box.press_sequentially(keys)
        box.blur()

        expect(box).to_have_value(shown)


def test_what_was_worked_on_stays_when_the_language_changes(users: list[BrowserContext], address: str) -> None:
    page = opened(users[0], address)
    page.get_by_role("textbox", name="Running hours").fill("200")
    expect(page.locator("#answer")).to_contain_text("at 200 h a year")

    page.get_by_role("button", name="Español").click()

    expect(page.locator("#answer")).to_contain_text("a 200 h al año")


def test_two_users_with_different_languages_do_not_mix(users: list[BrowserContext], address: str) -> None:
    spanish, english = in_spanish(users[0], address), opened(users[1], address)

    for hours in ("150", "210"):
        spanish.get_by_role("textbox", name="Horas de motor").fill(hours)
        english.get_by_role("textbox", name="Running hours").fill(hours)
        expect(spanish.locator("#answer")).to_contain_text(f"a {hours} h al año")
        expect(english.locator("#answer")).to_contain_text(f"at {hours} h a year")


@pytest.mark.parametrize("width", [390, 1280])
def test_longer_words_stay_within_the_page(users: list[BrowserContext], address: str, width: int) -> None:
    page = in_spanish(users[0], address, width)

    for link in page.locator("[data-page]").all():
        link.click()
        until(page, PAGE_IS_THERE)
        assert page.evaluate("document.documentElement.scrollWidth") <= width

    assert page.locator("[data-page]").count() == len(PAGES)
