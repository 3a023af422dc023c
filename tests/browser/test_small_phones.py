"""Screens on the smallest phones: nothing is wider than the glass."""

import pytest
from playwright.sync_api import expect
from yard import TAG

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(new_hands):
    """A technician with a phone of 360 by 640, at the heights of an open job."""
    hands = new_hands(viewport={"width": 360, "height": 640})
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    return hands


def widths(page):
    """How wide the page is, and how wide it may be."""
    return page.evaluate("[document.documentElement.scrollWidth, innerWidth]")


def test_long_readings_do_not_push_the_keep_button_aside(hands):
    """The longest readings that a tape in 16ths gives, on both sides, and one under way."""
    hands.read("10 11/16")
    hands.read("10 13/16")
    hands.press("Next: centering")
    hands.read("20 11/16")
    hands.read("20 13/16")
    hands.enter("20 15/16")

    wide, room = widths(hands.page)

    assert wide <= room
    hands.keep_button.click()


# Whether what is seen at the middle of the first caution is that caution, and no pad over it.
SEEN = """(() => {
  const caution = document.querySelector('.caution-fold summary');
  const box = caution.getBoundingClientRect();
  return caution.contains(document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2));
})()"""


def test_the_first_caution_is_seen_while_readings_are_taken_and_leads_to_the_others(hands):
    hands.enter("8 3/4")
    expect(hands.page.locator(".caution-fold summary")).to_contain_text("Only rated stands hold")
    assert hands.page.evaluate(SEEN)
    expect(hands.keep_button).to_be_in_viewport(ratio=1)
    hands.keep_button.click()
    hands.read("8 5/8")
    hands.press("Next: centering")
    for reading in ("8 7/16", "8 7/16"):
        expect(hands.keep_button).to_be_in_viewport(ratio=1)
        hands.read(reading)
    first = hands.page.locator(".caution-fold summary")
    expect(first).to_contain_text("the axle rests on rated stands")
    assert hands.page.evaluate(SEEN)
    others = hands.page.get_by_text("Keep fingers out of holes and brackets.")
    expect(others).to_be_hidden()
    first.click()

    expect(others).to_be_visible()
