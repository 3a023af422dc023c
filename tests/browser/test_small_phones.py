"""Screens on the smallest phones: nothing is wider than the glass."""

import pytest
from yard import TAG

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(new_hands):
    """A technician with a phone of 360 by 640, at the heights of an open job."""
    hands = new_hands(viewport={"width": 360, "height": 640})
    hands.come_in()
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
    hands.press("Next: centring")
    hands.read("20 11/16")
    hands.read("20 13/16")
    hands.enter("20 15/16")

    wide, room = widths(hands.page)

    assert wide <= room
    hands.keep_button.click()
