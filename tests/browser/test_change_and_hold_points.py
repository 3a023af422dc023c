"""A job with a drag link and a change: what goes stale, hold points, rounds side by side."""

import pytest
from playwright.sync_api import expect
from yard import VEHICLE

pytestmark = pytest.mark.browser
AS_FOUND = ("8 7/16", "8 7/16", "8", "8 1/16")
AS_LEFT = ("8 1/4", "8 1/4", "8 1/4", "8 1/4")
AFTER_ONE_TURN = ("8 3/8", "8 3/8", "8 1/8", "8 1/8")


@pytest.fixture
def hands(hands_at_vehicle):
    """A technician who is paired and has opened the vehicle of the yard."""
    return hands_at_vehicle


def measured(hands, readings):
    """From ride height to the answer of a round."""
    hands.make_ready()
    hands.read("8 3/4")
    hands.read("8 5/8")
    hands.press("Next: centering")
    for reading in readings:
        hands.read(reading)


def turned(hands):
    """As found outside, the bar turned by what the answer said."""
    hands.open_job("bar turned")
    measured(hands, AS_FOUND)
    hands.press("Log what was changed")
    hands.log_change("Track bar turned")


def turn_out(hands, turns):
    """Log turns of the track bar that make it longer, on the form of a change."""
    hands.page.get_by_label("Track bar turned").click()
    hands.page.get_by_label("Turns").fill(turns)
    hands.page.get_by_label("out, longer").check()
    hands.log_change_now()


def entries_of(hands, kind):
    """The entries of one kind that the shop holds, once it holds all of this phone's."""
    expect(hands.state).to_contain_text("Everything is at the shop")
    return [e for e in hands.shop.pull(most=500).json["entries"] if e["kind"] == kind and e["job"]]


def test_the_drag_link_says_what_a_bump_steers_and_what_the_bar_will_do(hands):
    """Every value is entered, the answer names bump steer and steering wheel, and toe counts."""
    hands.open_job("drag link")
    measured(hands, AS_FOUND)
    hands.step("Drag link")
    hands.press("Cancel")
    expect(hands.page.locator(".answer")).to_contain_text("Enter the drag link")
    hands.measure_link()
    expect(hands.page.locator(".answer")).to_contain_text("inch of bump the wheels steer")
    expect(hands.page.locator(".answer")).to_contain_text("The steering wheel will then sit")
    for name, text in {
        "Toe ahead": "1520",
        "Toe behind": "1522",
        "Toe span": "780",
    }.items():
        hands.read_value(name, f"{text} mm")
    expect(hands.page.locator(".nums")).to_contain_text("Total toe, in positive")
    sent = {(e["body"]["field"], e["body"]["value"]) for e in entries_of(hands, "reading")}
    assert {("arm", 158), ("fore_aft", 12), ("toe_span", 780)} <= sent


def test_the_steering_wheel_is_entered_by_the_clock_and_asked_back(hands):
    """One o'clock is 30 degrees to the right; a side that is missing is asked for."""
    hands.open_job("wheel off")
    hands.step("Drag link")
    hands.open_value("Steering wheel sits")
    hands.press("1 o’clock", exact=True)
    hands.press("Save steering wheel")
    hands.back_at_values()
    expect(hands.page.locator(".answer")).to_contain_text("sits 30° to the right")
    hands.open_value("Steering wheel sits")
    hands.page.locator("form input").fill("1/4 turn")
    hands.press("Save steering wheel")
    hands.press("90 deg left", exact=True)
    hands.back_at_values()
    expect(hands.page.locator(".answer")).to_contain_text("sits 90° to the left")
    picks = [
        e["body"]["value"] for e in entries_of(hands, "pick") if e["body"]["field"] == "wheel_deg"
    ]
    assert picks == [-30, 90]


def test_a_change_makes_findings_stale_and_the_next_round_clears_them(hands):
    """The turns come from the answer; what they overtook is said until it is measured again."""
    turned(hands)
    expect(hands.page.locator(".stale-notice")).to_contain_text(
        "Measure the centering again: the track bar was turned since then."
    )
    expect(hands.page.locator(".places .stale")).to_have_text("Centering")
    [change] = entries_of(hands, "change")
    assert change["body"]["what"] == "bar_turned"
    assert change["body"]["turns"] == 3
    assert change["body"]["length_change"] == pytest.approx(3 * 1.5875)
    hands.press("Start round: as left")
    expect(hands.page.get_by_text("The vehicle stands")).to_be_visible()
    measured(hands, AS_LEFT)
    assert "Leave the track bar as it is" in hands.answer
    expect(hands.page.locator(".places .stale")).to_have_count(0)


def test_a_second_turn_in_the_same_round_is_measured_on_its_own(hands):
    """Readings before and after it are of two places of the axle, and are never averaged."""
    hands.open_job("bar turned")
    measured(hands, AS_FOUND)
    hands.press("Log what was changed")
    turn_out(hands, "1")
    hands.press("Start round: as left")
    measured(hands, AFTER_ONE_TURN)
    first = hands.answer
    hands.press("Log what was changed")
    hands.press("Log another change")
    turn_out(hands, "2")
    hands.step("Centering")
    expect(hands.page.locator(".stale-notice")).to_contain_text("Measure the centering again")
    assert hands.answer == first
    hands.press("Measure again")
    expect(hands.keep_button).to_have_text("Save left 1 of 2")
    for reading in AS_LEFT:
        hands.read(reading)

    expect(hands.page.locator(".answer").first).to_contain_text("The axle sits in the middle")
    expect(hands.page.locator(".reading.overtaken")).to_have_count(4)
    expect(hands.page.locator(".reading.overtaken").first).to_contain_text("before the change")


def test_a_bar_that_was_read_and_then_turned_shows_what_the_sums_use(hands):
    """What was typed stays, and beside it stands what the logged turns add in the next round."""
    hands.open_job("bar turned")
    measured(hands, AS_FOUND)
    hands.step("Track bar")
    hands.read_value("Bar length", "862 mm")
    row = hands.page.locator(".rows .row", has_text="Bar length")
    expect(row).to_contain_text("862 mm")
    hands.press("Log what was changed")
    hands.log_change("Track bar turned")
    hands.step("Track bar")
    expect(row).not_to_contain_text("then")
    hands.page.goto(hands.page.url.replace("as_found", "as_left"))
    expect(row).to_contain_text("33 15/16")
    expect(row).to_contain_text("then 3/16\u202fin (4.8\u202fmm) longer by what was changed")


def test_rounds_stand_side_by_side_with_the_numbers_that_changed(hands):
    """Both intervals, both answers and the numbers before and after."""
    turned(hands)
    hands.press("Start round: as left")
    measured(hands, AS_LEFT)
    hands.back()
    box = hands.page.locator(".before-after")
    expect(box).to_contain_text("The axle moved")
    drawn = box.locator("figure svg").get_attribute("aria-label")
    assert "As found, outside" in drawn and "As left, inside" in drawn
    expect(box.get_by_role("row", name="Ride height left")).to_contain_text("8 3/4")
    box.get_by_text("Numbers that changed").click()
    expect(box.get_by_role("row", name="Sides differ by")).to_contain_text("0\u202fin")


def test_rounds_without_centering_show_what_both_measured(hands):
    """Steering wheel and ride height of both stand beside each other; toe of one alone does not."""
    hands.open_job("wheel off")
    for heights, wheel in ((("8 3/4", "8 5/8"), "12 left"), (("9", "8 7/8"), "straight")):
        hands.make_ready()
        for reading in heights:
            hands.read(reading)
        hands.step("Drag link")
        hands.write_value("Steering wheel sits", wheel, "Save steering wheel")
        if wheel == "straight":
            break
        hands.read_value("Toe ahead", "1520 mm")
        hands.back()
        expect(hands.page.locator(".before-after")).to_have_count(0)
        hands.page.get_by_role("link", name="Start round: as left").click()
        hands.page.locator(".rows .row", has_text="Ride height").click()
    hands.back()
    box = hands.page.locator(".before-after")
    expect(box.locator("tbody tr")).to_have_count(3)
    rows = box.locator("tbody tr").all()
    assert [[cell.inner_text() for cell in row.locator("th, td").all()] for row in rows] == [
        ["Ride height left", "8 3/4\u202fin (222.3\u202fmm)", "9\u202fin (228.6\u202fmm)"],
        ["Ride height right", "8 5/8\u202fin (219.1\u202fmm)", "8 7/8\u202fin (225.4\u202fmm)"],
        ["Steering wheel", "12° to the left", "straight"],
    ]
    expect(box.locator("figure")).to_have_count(0)


def test_handing_in_lists_what_the_change_left_undone(hands):
    """Steering wheel, clearance and torque are missing by name, and the hold point is open."""
    turned(hands)
    hands.step("Hand in")
    for says in (
        "Say where the steering wheel sits now",
        "Check the clearance again",
        "Torque what was undone",
    ):
        expect(hands.page.locator(".rows").first).to_contain_text(says)
    road = hands.page.locator(".hold-point", has_text="Before the road")
    expect(road.locator("summary")).to_contain_text("4 open, 1 not looked at")


def test_what_is_left_open_stands_at_the_vehicle_and_in_its_next_job(hands):
    """Jam nuts that nobody torqued are said again, before the shop knows of either job."""
    turned(hands)
    hands.step("Hand in")
    hands.page.get_by_label("Why it is handed in incomplete").fill("closing time")
    hands.press("Hand in incomplete")
    expect(hands.page.get_by_text("Handed in.")).to_be_visible()
    vehicle = f"{hands.url}/app#/vehicle/{VEHICLE}"
    hands.page.goto(vehicle)
    left = hands.page.locator(".left-open")
    expect(left.locator("summary")).to_contain_text("Left open on the front axle")
    left.locator("summary").click()
    expect(left).to_contain_text("Torque what was undone (jam nuts)")
    hands.open_job("bolts again")
    hands.back()
    road = hands.page.locator(".hold-point", has_text="Before the road")
    road.locator("summary").click()
    nuts = road.locator("li", has_text="Torque what was undone (jam nuts)")
    expect(nuts).to_contain_text("left open by an earlier job")


def test_a_fit_up_has_its_own_hold_point_and_ticks(hands):
    """Bar installed and steering turned are ticked on the job's page of that round."""
    hands.open_job("new bracket")
    hands.back()
    hands.page.get_by_role("link", name="Start round: fit-up").click()
    hands.page.get_by_role("link", name="Ride height").first.click()
    hands.page.get_by_text("on its wheels", exact=True).click()
    hands.back()
    welding = hands.page.locator(".hold-point", has_text="Before final welding")
    expect(welding).to_contain_text("Not looked at: bracket to spring bucket.")
    welding.get_by_label("Bar installed as it will run").check()
    welding.get_by_label("Steering turned lock to lock").check()
    expect(welding.locator("summary")).to_have_text("Before final welding7 not looked at")
    ticks = [e["body"]["field"] for e in entries_of(hands, "tick") if e["round"] == "fit_up"]
    assert ticks == ["bar_fitted", "swung"]


def test_news_from_the_shop_closes_no_fold_and_takes_no_focus(hands):
    """The page is drawn again around whoever reads it or goes through it with keys."""
    hands.open_job("new bracket")
    hands.back()
    fold = hands.page.locator(".hold-point", has_text="Before the road").locator("summary")
    fold.press("Enter")
    job = hands.page.url.split("/job/")[1].split("/")[0]
    body = {"text": "The wheels go back on at four."}
    note = hands.shop.entry("note", body, job=job, vehicle=VEHICLE, round="as_found")
    hands.shop.push(note)
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(hands.page.get_by_text("The wheels go back on at four.")).to_be_attached()
    expect(fold).to_be_focused()
    expect(fold.locator("xpath=..")).to_have_attribute("open", "")


def test_a_bracket_is_logged_with_how_far_and_where_to(hands):
    """A change needs its part; a wrong length is told at its field and nothing is lost."""
    hands.open_job("bracket")
    hands.step("Change")
    hands.page.get_by_label("Bracket moved").click()
    hands.page.get_by_label("How far it was moved").fill("far")
    hands.press("Log the change")
    expect(hands.page.get_by_label("How far it was moved")).to_have_value("far")
    hands.page.get_by_label("How far it was moved").fill("1 1/2")
    hands.press("Log the change")
    expect(hands.page.get_by_text("Say which part it was.")).to_be_visible()
    hands.press("axle-end bracket")
    hands.press("Log the change")
    expect(hands.page.get_by_text("Choose which way.")).to_be_visible()
    hands.page.get_by_label("up", exact=True).check()
    hands.press("Log the change")
    expect(hands.page.locator(".log")).to_contain_text("Bracket moved, axle-end bracket")
    [change] = entries_of(hands, "change")
    assert change["body"] == {
        "what": "bracket_moved",
        "moved": pytest.approx(38.1),
        "toward": "up",
        "part": "axle-end bracket",
    }


def accepted_at_the_desk(browser, url):
    """The lead signs in and accepts what waits."""
    page = browser.new_context().new_page()
    page.goto(f"{url}/door")
    page.get_by_role("button", name="lead").click()
    page.get_by_role("link", name="Plow 3").click()
    page.get_by_role("button", name="Accept").click()
    expect(page.get_by_text("Plow 3: accepted.")).to_be_visible()
    page.context.close()


def test_what_moved_the_axle_is_said_against_the_last_accepted_round(hands, browser):
    """A move that nothing logged explains asks for damage or play before adjusting."""
    hands.open_job("yearly check")
    measured(hands, AS_LEFT)
    hands.press("Next: track bar")
    hands.step("Hand in")
    hands.press("Hand in", exact=True)
    expect(hands.page.get_by_text("The shop has it.")).to_be_visible()
    accepted_at_the_desk(browser, hands.url)
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(hands.page.get_by_text("Accepted by the lead.")).to_be_visible()
    hands.back()
    hands.back()
    hands.open_job("caught a curb")
    measured(hands, AS_FOUND)
    moved = hands.page.locator(".moved")
    expect(moved).to_contain_text("Since the last round the axle moved")
    expect(moved).to_contain_text("look for damage or play before adjusting")
    hands.back()
    expect(hands.page.locator(".moved")).to_have_count(1)
