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
