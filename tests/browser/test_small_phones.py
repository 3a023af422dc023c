"""Screens on the smallest phones: nothing is wider than the glass."""

import pytest
from hands import Hands
from yard import TAG, put_in_the_yard

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(browser, real_server):
    """A technician with a phone of 360 by 640, at the heights of an open job."""
    server, phone = real_server
    put_in_the_yard(phone)
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
    hands = Hands(context.new_page(), server.url)
    hands.come_in()
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    yield hands
    context.close()


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
