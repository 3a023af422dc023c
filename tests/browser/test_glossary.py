"""The glossary at hand: a word on a screen opens its line, with the network gone too."""

from collections.abc import Callable

import pytest
from hands import Hands, wait_for
from playwright.sync_api import Locator, expect
from yard import TAG

pytestmark = pytest.mark.browser
NewHands = Callable[..., Hands]
KEPT = "caches.match(`${document.querySelector('script').src.split('/js/')[0]}/glossary.json`)"


@pytest.fixture
def offline(hands: Hands) -> Hands:
    """A phone that has the glossary and lost the shop."""
    wait_for(hands.page, f"await {KEPT}")
    hands.page.context.set_offline(True)
    return hands


def touch(hands: Hands, place: Locator, word: str) -> None:
    """Touch a word in the text of an element."""
    x, y = place.evaluate(
        """(element, word) => {
          element.scrollIntoView({block: 'center'});
          const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
          while (walker.nextNode()) {
            const from = walker.currentNode.data.indexOf(word);
            if (from < 0) continue;
            const range = new Range();
            range.setStart(walker.currentNode, from);
            range.setEnd(walker.currentNode, from + word.length);
            const {left, top, width, height} = range.getBoundingClientRect();
            return [left + width / 2, top + height / 2];
          }
        }""",
        word,
    )
    hands.page.mouse.click(x, y)


def test_a_word_that_is_touched_opens_its_line(offline: Hands) -> None:
    page = offline.page
    offline.reach_the_heights(TAG)

    touch(offline, page.get_by_text("top of the axle tube"), "frame")

    line = page.get_by_role("dialog", name="frame")
    expect(line).to_contain_text("the ladder that carries the body.")
    expect(line).to_contain_text("Also called: chassis (UK).")
    line.get_by_role("button", name="Close").click()
    expect(line).to_have_count(0)
    expect(offline.keep_button).to_be_visible()


def test_a_word_in_its_everyday_sense_opens_nothing(offline: Hands) -> None:
    page = offline.page
    offline.open_tag(TAG)
    offline.open_job()

    touch(offline, page.get_by_text("Only rated stands hold"), "stands")
    touch(offline, page.get_by_text("hanging axle can jump"), "hanging")

    expect(page.get_by_role("dialog")).to_have_attribute("aria-label", "hanging")


def test_the_head_lists_every_word_of_the_screen_and_leads_to_all(offline: Hands) -> None:
    page = offline.page
    offline.open_tag(TAG)
    expect(page.get_by_text("Open a job")).to_be_visible()
    page.get_by_role("button", name="Words on this screen").press("Enter")

    words = page.locator("dialog dt")
    expect(words.filter(has_text="frame end on the")).to_have_count(1)
    expect(words.filter(has_text="as found, fit-up, as left, recheck")).to_have_count(1)
    assert words.all_inner_texts() == sorted(words.all_inner_texts())

    page.get_by_role("link", name="All words").click()
    page.get_by_label("Find a word").fill("panhard")
    expect(page.locator(".words dt")).to_have_text(["track bar"])
    page.get_by_label("Find a word").fill("no such word")
    expect(page.get_by_text("No word of the glossary matches that.")).to_be_visible()
    offline.back()
    expect(page.get_by_text("Open a job")).to_be_visible()


def test_a_touch_on_a_box_or_a_button_is_theirs(offline: Hands) -> None:
    page = offline.page
    offline.open_tag(TAG)
    offline.open_job()
    box = page.get_by_label("Tires the same")

    touch(offline, page.get_by_text("Tires the same"), "Tires")

    expect(box).to_be_checked()
    expect(page.get_by_role("dialog")).to_have_count(0)


def test_without_the_glossary_on_the_phone_it_says_when_it_comes(new_hands: NewHands) -> None:
    hands = new_hands()
    page = hands.page
    page.context.route("**/glossary.json", lambda route: route.abort())
    hands.pair()
    page.goto(f"{hands.url}/app#/glossary")

    expect(
        page.get_by_text("comes to this phone the next time it reaches the shop")
    ).to_be_visible()

    page.context.unroute("**/glossary.json")
    page.reload()
    expect(page.locator(".words dt").first).to_have_text("adjuster")
