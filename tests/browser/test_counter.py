"""What people do with the questions: open a card, change what it is asked with, look behind it, hear it plainly."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.browser.chromium import until
from tests.browser.conftest import Opener

pytestmark = pytest.mark.browser

FUEL = "What if fuel gets dearer or cheaper?"
CHEAPER = "Which is cheaper overall for my hours?"
PRIVATE = "Private or commercial use: what does that do to the warranty?"


def to_the_questions(page: Page) -> None:
    """Go to the page of questions."""
    page.get_by_role("link", name="What else do people ask?").click()
    until(page, "document.querySelectorAll('.card-question').length")


def test_a_question_is_answered_when_its_card_is_opened(open_page: Opener) -> None:
    page = open_page()
    to_the_questions(page)
    assert page.locator(".card-answer").count() == 0

    card = page.get_by_role("button", name=FUEL)
    card.click()

    answer = page.locator(".card", has=card).locator(".card-answer")
    expect(answer.locator(".sentence")).to_contain_text("With fuel 30 % dearer, at 2.41 EUR a litre,")
    expect(card).to_have_attribute("aria-expanded", "true")
    page.get_by_label("How far the price goes up, and down").fill("50")
    expect(answer.locator(".sentence")).to_contain_text("With fuel 50 % dearer")
    page.locator("#fuel-box").fill("2")
    expect(answer.locator(".sentence")).to_contain_text("at 3.00 EUR a litre")
    card.click()
    expect(answer).to_have_count(0)


def test_the_rows_behind_an_answer_open_in_the_drawer(open_page: Opener) -> None:
    page = open_page()
    to_the_questions(page)
    page.get_by_role("button", name=CHEAPER).click()

    page.get_by_role("button", name="The rows behind it").click()

    drawer = page.locator("#drawer")
    expect(drawer.get_by_role("heading", name=CHEAPER)).to_be_visible()
    expect(drawer.locator(".sum").first).to_contain_text("Four-stroke 45 kW. Sum: 22,819.52 EUR in present value")
    page.keyboard.press("Escape")
    expect(drawer).not_to_be_visible()


def test_plain_words_and_another_engine(open_page: Opener) -> None:
    page = open_page()
    to_the_questions(page)
    card = page.get_by_role("button", name=CHEAPER)
    card.click()
    sentence = page.locator(".card", has=card).locator(".sentence")
    expect(sentence).to_contain_text("Four-stroke 45 kW")

    page.get_by_label("Held against").first.click()
    page.get_by_role("option", name="Two-stroke carburetted 45 kW").click()
    expect(sentence).to_contain_text("Two-stroke carburetted 45 kW")
    page.get_by_label("In plain words").click()

    expect(sentence).to_contain_text("is the cheaper one for you, by about")
    expect(page.locator(".card-reasons")).to_have_count(0)


def test_a_question_that_does_not_apply_says_why(open_page: Opener) -> None:
    page = open_page(390, 844)
    to_the_questions(page)

    page.get_by_role("button", name=PRIVATE).click()

    expect(page.locator(".card-answer")).to_contain_text("add [warranty.commercial]")


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (390, "dark")])
def test_everyone_can_use_it(open_page: Opener, width: int, scheme: str) -> None:
    page = open_page(width, 900, scheme)
    to_the_questions(page)
    page.get_by_role("button", name=FUEL).click()
    expect(page.locator(".card-answer .sentence")).to_be_visible()

    found = Axe().run(page)

    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
