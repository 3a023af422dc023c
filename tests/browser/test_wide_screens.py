"""Phones held across and tablets: the drawn tape reads where it is touched."""

import pytest
from playwright.sync_api import expect
from yard import TAG

pytestmark = pytest.mark.browser

SIZES = [(800, 360), (768, 1024)]


@pytest.fixture(params=SIZES, ids=[f"{width}x{height}" for width, height in SIZES])
def hands(request, new_hands):
    """A technician with a wide screen, at the heights of an open job."""
    width, height = request.param
    hands = new_hands(viewport={"width": width, "height": height})
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    return hands


@pytest.mark.parametrize("fraction", ["1/16", "7/16", "15/16"])
def test_the_mark_that_is_touched_is_the_mark_that_is_entered(hands, fraction):
    hands.touch_mark(fraction)

    expect(hands.page.locator(".pad-figure")).to_have_value(fraction)


IN_SIGHT = """() => {
  const [now, pad, keep] = ['.now', '.pad', '.keep'].map((css) =>
    document.querySelector(css).getBoundingClientRect());
  return now.top >= 0 && now.bottom <= pad.top && keep.bottom <= innerHeight;
}"""


def test_what_is_being_read_and_the_button_that_saves_it_are_both_in_sight(hands):
    page = hands.page
    expect(page.locator(".now")).to_be_visible()

    assert page.evaluate(IN_SIGHT)
    hands.enter("8 3/4")
    assert page.evaluate(IN_SIGHT)
    hands.keep_button.click()
    expect(page.get_by_role("button", name="Save right 1", exact=True)).to_be_visible()
    assert page.evaluate(IN_SIGHT)
