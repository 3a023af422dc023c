"""Every field of the walk asks back what no vehicle has, where it is typed."""

import pytest
from playwright.sync_api import expect
from test_change_and_hold_points import entries_of

pytestmark = pytest.mark.browser
IT_IS_RIGHT = "Measured again: it is right"


@pytest.fixture
def hands(hands_at_vehicle):
    """A technician who is paired and has a job open at the vehicle of the yard."""
    hands_at_vehicle.page.set_default_timeout(8000)
    hands_at_vehicle.open_job("odd values")
    hands_at_vehicle.make_ready()
    return hands_at_vehicle


def asked(hands, says, choice=None):
    """What is asked at the field: these words, this choice, and that it may be so."""
    box = hands.page.locator(".asked:not(:empty)")
    expect(box).to_have_count(1)
    expect(box).to_contain_text(says)
    if choice is not None:
        expect(box.get_by_role("button", name=choice, exact=True)).to_be_visible()
    expect(box.get_by_role("button", name=IT_IS_RIGHT)).to_be_visible()


def on_the_pad(hands, text, says, choice=None):
    hands.page.locator(".pad-figure").fill(text)
    hands.page.locator(".keep.main").click()
    asked(hands, says, choice)


READINGS = {
    "Bar length": ("3.4", "A track bar of 3.4", "34\u202fin"),
    "Frame-end height": ("612", "ft", "612\u202fmm"),
    "Axle-end height": ("498", "ft", "498\u202fmm"),
    "Fore-aft lead": ("18.5", "fore-aft lead", None),
}
LINK = {
    "Link length": ("3.5", "A drag link of 3.5", "35\u202fin"),
    "Steering arm": ("158", "ft", "158\u202fmm"),
}


def test_readings_of_bar_and_link(hands):
    hands.step("Track bar")
    for name, (text, says, choice) in READINGS.items():
        hands.open_value(name)
        on_the_pad(hands, text, says, choice)
        hands.press("Cancel")
        hands.back_at_values()
    hands.step("Drag link")
    for name, (text, says, choice) in LINK.items():
        hands.open_value(name)
        on_the_pad(hands, text, says, choice)
        hands.press("Cancel")
        hands.back_at_values()
    hands.open_value("Steering ratio")
    hands.page.locator("form input").fill("1.8")
    hands.press("Save steering ratio")
    asked(hands, "A steering ratio of 1.8", "18")
    hands.press("18", exact=True)
    hands.back_at_values()
    hands.open_value("Steering wheel sits")
    hands.page.locator("form input").fill("500 left")
    hands.press("Save steering wheel")
    asked(hands, "500°")
    hands.press(IT_IS_RIGHT)
    hands.back_at_values()
    assert [e["body"]["key"] for e in entries_of(hands, "confirm")] == [
        "implausible steering.wheel_deg range 500.00"
    ]


def test_the_adjusters_pitch_and_the_thread_left(hands):
    hands.step("Track bar")
    hands.open_value("Adjuster")
    hands.page.get_by_label("One threaded end").check()
    hands.page.locator("select[name=thread]").select_option(label="another pitch")
    pitch = hands.page.get_by_label("Pitch, mm per turn")
    pitch.fill("16")
    hands.press("Save adjuster")
    asked(hands, "A thread pitch of", "16 threads per inch")
    hands.press("16 threads per inch")
    hands.back_at_values()
    kept = entries_of(hands, "pick")[-1]["body"]["value"]
    assert kept["pitch"] == pytest.approx(1.5875)
    hands.open_value("Adjuster")
    hands.page.get_by_label("At the threaded end").fill("300 mm")
    hands.press("Save adjuster")
    asked(hands, "Thread left of", "30\u202fmm")
    hands.press(IT_IS_RIGHT)
    hands.back_at_values()
    kept = entries_of(hands, "pick")[-1]["body"]["value"]
    assert kept["thread_left"] == 300
    assert [e["body"]["key"] for e in entries_of(hands, "confirm")] == [
        "implausible track_bar.adjuster.thread_left range 300.00"
    ]


def test_play(hands):
    hands.step("Play")
    hands.open_joint("Track bar, frame end")
    hands.page.locator(".pad-figure").fill("600")
    hands.page.locator(".keep.main").click()
    expect(hands.page.locator(".asked:not(:empty)")).to_have_text("Choose how it is rocked.")
    hands.page.get_by_label("wheel rocked lightly").check()
    on_the_pad(hands, "600", "0.6", None)
    hands.press("Bolt, hole and limits")
    for name, text, says, choice in [
        ("Bolt", "14", "A bolt of 14", "14\u202fmm"),
        ("Hole, the long way", "16", "A hole of 16", "16\u202fmm"),
        ("Sleeve bore", "0", "A sleeve of zero", None),
        ("Hole's middle to the edge", "22", "An edge distance of 22", "22\u202fmm"),
    ]:
        hands.page.locator(".rows .row", has_text=name).first.click()
        hands.page.locator(".pad-figure").fill(text)
        hands.page.locator(".keep.main").click()
        box = hands.page.locator(".asked:not(:empty)")
        expect(box).to_contain_text(says)
        if choice:
            expect(box.get_by_role("button", name=choice, exact=True)).to_be_visible()
        hands.press("Cancel")
    hands.page.get_by_text("No known limit").click()
    hands.page.get_by_label("House limit").fill("14 mm")
    hands.press("Save limits")
    asked(hands, "A play limit of")
    hands.press(IT_IS_RIGHT)
    expect(hands.page.get_by_text("Limits: house")).to_be_visible()


def test_torque_and_recheck(hands):
    hands.step("Torque")
    hands.page.locator(".rows .row", has_text="Frame-end bolt").click()
    on_the_pad(hands, "2000 lb-ft", "A torque of", "2000 lb-in")
    hands.press(IT_IS_RIGHT)
    hands.torqued("At the nut", "Dry", "manual")
    hands.page.get_by_text("When to check again").click()
    hands.page.get_by_label("After this distance").fill("5 miles")
    hands.press("Save re-check")
    asked(hands, "to the re-check of 5", "50")


def test_clearance_and_change(hands):
    hands.step("Clearance")
    hands.open_pair("Track bar to differential cover")
    hands.press("Gap", exact=True)
    on_the_pad(hands, "250", "A gap of", "250\u202fmm")
    hands.page.locator(".pad-figure").fill("0")
    hands.page.locator(".keep.main").click()
    expect(hands.page.locator(".asked:not(:empty)")).to_contain_text("A distance of 0")
    hands.press("touching", exact=True)
    hands.page.locator(".keep.main").click()
    expect(hands.place("at ride height, left lock")).to_contain_text("touches")
    hands.back()
    hands.step("Change")
    hands.page.get_by_label("Track bar turned").click()
    hands.page.get_by_label("Turns").fill("35")
    hands.page.get_by_label("out, longer").check()
    hands.press("Log the change")
    asked(hands, "An adjustment of 35 turns", "3.5 turns")


def test_centering_settings(hands):
    hands.step("Centering")
    hands.page.locator("details.settings summary").click()
    field = hands.page.get_by_label("Spacer or thicker rotor, left")
    field.fill("25")
    field.blur()
    asked(hands, "A spacer of", "25\u202fmm")
