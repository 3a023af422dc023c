"""Whatever is kept is felt: one short buzz, once the store has said so and never before."""

import pytest
from hands import ABORTING, Hands, wait_for
from playwright.sync_api import expect
from yard import TAG

pytestmark = pytest.mark.browser
FELT = """() => {
  globalThis.felt = 0;
  Object.defineProperty(navigator, 'vibrate', {configurable: true, value: () => { felt += 1; }});
}"""


@pytest.fixture
def hands(new_hands) -> Hands:
    """A technician at the first height of a new job, whose phone counts its buzzes."""
    hands = new_hands()
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.page.evaluate(FELT)
    return hands


def felt(hands: Hands, times: int) -> None:
    """Wait for so many buzzes, and take the count back to nothing."""
    wait_for(hands.page, f"felt >= {times}")
    assert hands.page.evaluate("felt") == times
    hands.page.evaluate("felt = 0")


def test_picks_ticks_and_readings_of_every_step_are_felt_once_each(hands: Hands) -> None:
    hands.make_ready()
    felt(hands, 6)
    hands.read("8 3/4")
    felt(hands, 1)
    hands.step("Track bar")
    hands.read_value("Bar length", "34")
    felt(hands, 1)
    hands.step("Drag link")
    hands.pick_value("Frame end on the", "left")
    felt(hands, 1)
    hands.write_value("Steering ratio", "18", "Save steering ratio")
    felt(hands, 1)
    hands.step("Play")
    hands.open_joint("Track bar, frame end")
    hands.gauge("16")

    felt(hands, 1)


def test_notes_and_the_hand_in_are_felt(hands: Hands) -> None:
    hands.back()
    hands.page.get_by_text("Write a note").click()
    hands.page.get_by_label("Note").fill("grease")
    hands.press("Save note")
    felt(hands, 1)
    hands.page.get_by_role("link", name="Hand in").click()
    hands.page.get_by_label("Why it is handed in incomplete").fill("parts are missing")
    hands.press("Hand in incomplete")

    felt(hands, 1)


def test_f01_what_is_not_kept_is_not_felt(hands: Hands) -> None:
    hands.make_ready()
    felt(hands, 6)
    hands.enter("8 3/4")
    hands.page.evaluate(ABORTING)
    hands.keep_button.click()
    expect(hands.page.locator(".alarm")).to_contain_text("NOT SAVED")

    assert hands.page.evaluate("felt") == 0
