"""The screen stays lit while something is measured."""

import pytest
from hands import wait_for
from playwright.sync_api import expect
from yard import TAG

pytestmark = pytest.mark.browser
LOCKS = """() => {
  globalThis.locks = [];
  Object.defineProperty(navigator, 'wakeLock', {value: {request: async () => {
    const lock = {released: false, release() { this.released = true; }};
    locks.push(lock);
    return lock;
  }}});
}"""
LIT = "locks.filter(({released}) => !released).length"


def test_the_screen_stays_lit_while_something_is_measured(hands):
    hands.page.evaluate(LOCKS)
    hands.reach_the_heights(TAG)
    wait_for(hands.page, f"{LIT} === 1")
    hands.page.evaluate("locks[0].released = true")
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    wait_for(hands.page, f"{LIT} === 1 && locks.length === 2")
    hands.back()

    wait_for(hands.page, f"{LIT} === 0")


def test_the_screen_stays_lit_while_it_is_said_how_a_bolt_was_turned(hands):
    hands.open_tag(TAG)
    hands.open_job()
    hands.step("Torque")
    hands.page.evaluate(LOCKS)
    hands.torque_figure("Jam nuts", "65", "lb-ft")
    expect(hands.page.get_by_label("Source of the maker’s figure")).to_be_visible()

    assert hands.page.evaluate(f"[locks.length, {LIT}]") == [1, 1]
