"""What is odd is asked back where it is typed, and an answer that is kept ends a hold."""

import pytest
from playwright.sync_api import expect
from test_change_and_hold_points import entries_of

pytestmark = pytest.mark.browser
IT_IS_RIGHT = "Measured again: it is right"


@pytest.fixture
def hands(hands_at_vehicle):
    """A technician who is paired and has opened the vehicle of the yard."""
    return hands_at_vehicle


@pytest.fixture
def reading(hands):
    """A phone at the first reading of the centering of a job."""
    hands.open_job("odd readings")
    hands.make_ready()
    for value in ("8 3/4", "8 5/8"):
        hands.read(value)
    hands.press("Next: centering")
    return hands


def save(hands, press):
    """Press what saves the reading on the pad, and wait until the next one is asked for."""
    asked = hands.keep_button.inner_text()
    press()
    expect(hands.page.get_by_role("button", name=asked, exact=True)).to_have_count(0)


def type_and_press(hands, text):
    hands.page.locator(".pad-figure").fill(text)
    hands.keep_button.click()


def test_365_in_inch_mode_is_asked_back_with_its_likeliest_meaning(reading):
    """The choice is touched, and the reading is kept as that."""
    type_and_press(reading, "365")
    expect(reading.page.locator(".pad-says")).to_contain_text("30.4")
    reading.press("365\u202fmm", exact=True)
    save(reading, reading.keep_button.click)

    kept = [e["body"]["value"] for e in entries_of(reading, "reading")]
    assert kept[-1] == 365
    assert entries_of(reading, "confirm") == []


def test_an_odd_value_that_was_measured_again_is_kept_with_that_answer(reading):
    """The same value is not asked about again; the next different one is."""
    type_and_press(reading, "30")
    save(reading, lambda: reading.press(IT_IS_RIGHT, exact=True))

    [answer] = entries_of(reading, "confirm")
    assert answer["body"]["code"] == "implausible"
    assert answer["body"]["key"] == "implausible centering.left range 762.00"
    type_and_press(reading, "31")
    expect(reading.page.get_by_role("button", name=IT_IS_RIGHT)).to_be_visible()


def test_a_bare_zero_is_asked_about_once(reading):
    """Nothing but another measurement, or that it was measured again, is offered."""
    type_and_press(reading, "0")

    buttons = reading.page.locator(".pad-says button")
    expect(buttons).to_have_text([IT_IS_RIGHT])
    buttons.click()
    expect(reading.keep_button).to_have_text("Save left 2 of 2")
    assert [e["body"]["value"] for e in entries_of(reading, "reading")][-1] == 0


def test_a_wheel_that_wanders_is_kept_and_holds_the_advice(hands):
    """Its places stand in its row until it is said to sit in one."""
    hands.open_job("wanders")
    hands.step("Drag link")
    hands.open_value("Steering wheel sits")
    hands.page.locator("form input").fill("1, 3, 11 o'clock")
    hands.press("Save steering wheel")
    hands.back_at_values()
    row = hands.page.locator(".rows button.row", has_text="Steering wheel sits")
    expect(row).to_contain_text("30° to the right, then 90° to the right, then 30° to the left")
    [kept] = entries_of(hands, "pick")
    assert kept["body"]["value"] == [-30, -90, 30]
    hands.back()
    expect(hands.page.locator(".answer")).to_contain_text("Do not adjust yet.")


def test_a_hold_is_ended_by_measuring_again_and_saying_so(hands):
    """A bar length that differs from the file is confirmed on the job's page."""
    hands.open_job("another bar")
    hands.step("Track bar")
    hands.read_value("Bar length", "900 mm")
    hands.back()
    expect(hands.page.locator(".answer")).to_contain_text("on file, and no change is logged")
    hands.press(IT_IS_RIGHT, exact=True)
    expect(hands.page.locator(".hold-answers")).to_have_count(0)
    [answer] = entries_of(hands, "confirm")
    assert answer["body"]["code"] == "differs_from_file"
