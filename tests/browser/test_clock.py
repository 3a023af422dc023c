"""A phone whose clock is far from the shop's says so: every entry carries its time."""

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

SHIFTED = "const now = Date.now; Date.now = () => now() + SHIFT;"
YEAR_MS = 365 * 86400 * 1000


@pytest.mark.parametrize(("shift", "says"), [(YEAR_MS, "ahead of"), (-YEAR_MS, "behind")])
def test_a_clock_that_is_a_year_off_is_told(new_hands, shift, says):
    hands = new_hands()
    hands.page.context.add_init_script(SHIFTED.replace("SHIFT", str(shift)))
    hands.pair()
    told = hands.page.locator(".notice", has_text=f"{says} the shop\u2019s. Set it")

    expect(told).to_contain_text("This phone\u2019s clock is 365 days")
    told.get_by_role("button", name="OK").click()
    expect(told).to_have_count(0)


def test_a_clock_that_is_right_to_some_minutes_is_not(new_hands):
    hands = new_hands()
    hands.page.context.add_init_script(SHIFTED.replace("SHIFT", "300000"))
    hands.pair()

    expect(hands.state).to_contain_text("In contact.")
    expect(hands.page.locator(".notice", has_text="clock")).to_have_count(0)
