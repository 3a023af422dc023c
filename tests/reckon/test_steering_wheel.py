"""The steering wheel, the drag link's answer, its names, and rounds side by side."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worded import worded
from kit.worked_sheets import SAMPLE, changed, mirrored

from webapp.reckon.assess import assess
from webapp.reckon.checks import steering_wheel
from webapp.reckon.checks.drag_link import linkage, ratio_of, root_of
from webapp.reckon.checks.steering_wheel import change_for
from webapp.reckon.sentences.compared_rounds import (
    beside_centering,
    changed_numbers,
    measured_twice,
)
from webapp.reckon.sentences.link_answer import (
    link_answer,
    link_numbers,
    link_why,
    steering_runs,
)
from webapp.reckon.step_names import LINK_STEP_NAMES
from webapp.reckon.terms import said, wheel_position, wheel_sits
from webapp.reckon.walk.link_steps import (
    LINK_ASKS,
    READING_ASKS,
    lead_words,
    link_begun,
)
from webapp.reckon.walk.missing import missing_link

steering = worded(steering_wheel.steering)
LINK = {
    "frame_end": "left",
    "length": 905,
    "frame_height": 588,
    "axle_height": 521,
    "fore_aft": -12,
    "arm": 158,
    "arm_points": "forward",
    "ratio": 18,
    "adjuster": {"kind": "both_ends", "pitch": 1.5, "step": 0.25},
}


def without(*names, **more):
    return {**{key: value for key, value in LINK.items() if key not in names}, **more}


def plainly(runs):
    return said(runs).replace("\u202f", " ")


@given(st.integers(-360, 360), st.sampled_from(["forward", "rearward"]))
def test_the_change_that_centers_the_wheel_steers_by_its_angle_over_the_ratio(wheel, points):
    link = without(arm_points=points)
    change = change_for(link, wheel)
    at = linkage({**link})
    at["square"] = (link["length"] + change) ** 2 - at["arm"] ** 2

    assert root_of(at, 0.0, 0.0) == pytest.approx(wheel / 18, abs=1e-6)


@given(st.integers(-90, 90))
def test_a_mirrored_vehicle_needs_the_same_change_for_the_mirrored_wheel(wheel):
    assert change_for(mirrored(LINK), -wheel) == pytest.approx(change_for(LINK, wheel), abs=1e-9)


def test_the_answer_names_where_it_sits_and_what_centers_it():
    found = steering({"wheel_deg": 12}, LINK)

    assert found["state"] == "off"
    assert plainly(steering_runs(found, "mm", "leave")).startswith(
        "The steering wheel sits 12° to the left: once toe is right, make the drag link 1."
    )
    assert plainly(steering_runs(found, "mm", "leave")).endswith("1/2 turn in, before the road.")
    assert "stability control" in " ".join(found["why"])


QUIET = [
    ({"wheel_deg": 0.2}, LINK, "The steering wheel sits straight."),
    ({"wheel_deg": 12}, None, "The steering wheel sits 12° to the left."),
    ({"wheel_deg": -12}, without("ratio"), "The steering wheel sits 12° to the right."),
    ({"wheel_deg": -12}, without("arm"), "The steering wheel sits 12° to the right."),
    ({"wheel_deg": 1}, LINK, "The steering wheel sits 1° to the left."),
    ({"wheel_deg": 12}, without(length=20), "The steering wheel sits 12° to the left."),
]


@pytest.mark.parametrize(("part", "link", "says"), QUIET)
def test_it_says_no_more_than_it_knows(part, link, says):
    assert plainly(steering_runs(steering(part, link), "mm", "leave")) == says


def test_a_link_without_a_thread_is_told_its_length_alone():
    found = steering({"wheel_deg": 12}, without("adjuster"))

    says = plainly(steering_runs(found, "in", "leave"))
    assert found["turns"] is None and "turn" not in says.split("link")[1]


def test_a_wheel_less_than_five_degrees_off_counts_as_centered():
    assert steering({"wheel_deg": 4.9}, LINK)["state"] == "centered"
    assert steering({"wheel_deg": -5}, LINK)["state"] == "off"
    assert "Enter the drag link" in steering({"wheel_deg": 1}, None)["why"][0]


def test_the_position_of_the_wheel_is_named_by_side():
    assert wheel_position(-30) == "30° to the right"
    assert wheel_sits(0) == "The steering wheel sits straight"


def findings(**parts):
    return assess(changed(SAMPLE, **{"drag_link": LINK, **parts}))


def test_the_drag_links_answer_is_its_bump_steer_and_the_wheel_after_the_change():
    says = plainly(link_answer(findings(), "mm"))

    assert says.startswith("In the first 25 mm of bump the wheels steer ")
    assert "The most over the travel is " in says
    assert "The steering wheel will then sit" in says


def test_a_wheel_already_off_gets_one_change_of_the_drag_link_for_both_causes():
    """The bar change alone takes it 35° further, and one change of the link centers it."""
    found = findings(steering={"wheel_deg": -30})
    says = plainly(link_answer(found, "mm"))

    assert "sits 30° to the right. The steering wheel will then sit 65° to the right" in says
    assert says.count("make the drag link 9.9 mm longer") == 1 and "Once" not in says
    assert found["wheel"]["link_length_change"] == found["steering"]["link_length_change"]
    assert found["wheel"]["turns"] == found["steering"]["turns"]
    assert (
        "will then sit 65° to the right: once toe is right, make the drag link 9.9 mm"
        in plainly(found["answer"])
    )
    assert found["wheel"]["rim_deg"] == pytest.approx(findings()["wheel"]["rim_deg"])


def test_a_wheel_off_beside_a_centered_axle_is_centered_by_itself():
    centered = {"left": [203.6, 203.6], "right": [203.6, 203.6]}
    says = plainly(link_answer(findings(steering={"wheel_deg": -30}, centering=centered), "mm"))

    assert (
        "sits 30° to the right: once toe is right, make the drag link" in says
        and "will then" not in says
    )


def test_a_much_longer_drag_link_asks_first_how_much_thread_is_left():
    asks = "Measure first how much thread is left."

    def says(wheel_deg, link):
        return plainly(steering_runs(steering({"wheel_deg": wheel_deg}, link), "mm", "leave"))

    assert says(-80, LINK).endswith(f"before the road. {asks}")
    assert asks not in says(-60, LINK)
    assert asks not in says(80, LINK)
    measured = {**LINK, "adjuster": {**LINK["adjuster"], "thread_left": [40.0]}}
    assert asks not in says(-80, measured)


def test_a_box_ratio_is_converted_by_the_two_arms():
    """A 6 in pitman arm and a 16:1 box turn 1/4 in of axle shift into about 38 degrees."""
    link = without("ratio", box_ratio=16, pitman_arm=152.4, arm=200)

    assert ratio_of(link) == pytest.approx(16 * 200 / 152.4)
    assert math.degrees(6.35 / 200) * ratio_of(link) == pytest.approx(38.2, abs=0.05)
    assert ratio_of(without("ratio", box_ratio=16)) is None
    assert change_for(link, 12) is not None


def test_the_answer_says_what_is_still_needed():
    assert "Enter the drag link" in plainly(link_answer({}, "mm"))
    assert "The drag link needs" in plainly(link_answer(findings(drag_link={"arm": None}), "mm"))


def test_without_the_travel_only_the_first_25_mm_are_said():
    found = findings(track_bar={"bump": None})

    assert "the travel" not in plainly(link_answer(found, "mm"))


STRAIGHT = {"state": "known", "worst_deg": None, "why": [], "per_25_bump_deg": 0.0}


def bump(**more):
    return plainly(link_answer({"steer": {**STRAIGHT, **more}}, "mm"))


def test_no_steer_and_no_reach_are_said_as_such():
    assert bump() == "In the first 25 mm of bump the wheels do not steer."
    assert "cannot follow" in bump(per_25_bump_deg=None)
    in_inches = {**STRAIGHT, "per_inch_bump_deg": 0.54}
    assert plainly(link_answer({"steer": in_inches}, "in")) == (
        "In the first inch of bump the wheels steer 0.54° to the left."
    )
    assert "at 40 mm of droop" in bump(worst_deg=-1.0, worst_at=-40.0)


def test_numbers_and_reasons_are_those_of_the_step():
    found = findings(toe={"front": 1520, "rear": 1522, "span": 780}, steering={"wheel_deg": 9})
    names = [each["name"] for each in link_numbers(found, "mm")]

    assert "Link angle" in names and "Total toe, in positive" in names
    assert "Offset" not in names and "Bar angle" not in names
    assert any("stability control" in says for says in link_why(found))
    short = findings(drag_link={"arm": None}, toe=None, wheelbase=None)
    assert link_numbers(short, "mm") == []
    assert link_why({}) == []


def test_two_findings_show_only_the_numbers_that_differ():
    row = lambda name, shows: {"name": name, "shows": shows}  # noqa: E731
    first = {"numbers": [row("Offset", "5.4"), row("Bar angle", "8°"), row("Turns", "3")]}
    then = {"numbers": [row("Offset", "0.2"), row("Bar angle", "8°"), row("Toe", "0.1°")]}

    assert changed_numbers(first, then) == [
        {"name": "Offset", "before": "5.4", "after": "0.2"},
        {"name": "Turns", "before": "3", "after": "not known"},
        {"name": "Toe", "before": "not known", "after": "0.1°"},
    ]
    assert changed_numbers({}, {}) == []


def test_what_two_rounds_both_measured_stands_side_by_side():
    toe = {"name": "Total toe, in positive", "shows": "0.15°"}
    numbers = [toe, {"name": "Worst over the travel", "shows": "2.3°, right"}]
    sheet = {"heights": {"left": [222.0, 224.0], "right": []}}
    before = beside_centering(sheet, {"steering": {"wheel_deg": 12}, "numbers": numbers}, "mm")
    after = beside_centering(sheet, {"numbers": numbers}, "mm")

    assert measured_twice(before, after) == [
        {"name": "Ride height left", "before": "223.0\u202fmm", "after": "223.0\u202fmm"},
        {"name": "Total toe, in positive", "before": "0.15°", "after": "0.15°"},
    ]
    steered = {**after, "Steering wheel": "straight", "Worst over the travel": "0.1°"}
    assert measured_twice(before, steered)[1:] == [
        {"name": "Steering wheel", "before": "12° to the left", "after": "straight"},
        {"name": "Total toe, in positive", "before": "0.15°", "after": "0.15°"},
        {"name": "Worst over the travel", "before": "2.3°, right", "after": "0.1°"},
    ]


@given(st.lists(st.tuples(st.sampled_from("abc"), st.sampled_from("12")), max_size=5))
def test_a_round_beside_itself_shows_nothing(rows):
    found = {"numbers": [{"name": name, "shows": shows} for name, shows in rows]}

    assert changed_numbers(found, found) == []


def test_the_lead_is_said_with_where_it_lies():
    assert lead_words(0, "mm", None) == "level"
    assert lead_words(12, "mm", "1/2") == "1/2 ahead"
    assert lead_words(-12, "mm", None).replace("\u202f", " ") == "12.0 mm behind"


def test_every_reading_of_the_step_has_a_name_and_says_what_to_measure():
    assert set(READING_ASKS) <= set(LINK_STEP_NAMES)
    assert set(LINK_ASKS) <= set(READING_ASKS)


def test_the_step_lacks_nothing_until_it_was_begun():
    assert missing_link({}) == [] and not link_begun({})
    part = {"drag_link": {}, "toe": {"front": 1}, "wheelbase": {"left": 1, "track": 1}}
    says = " ".join(missing_link(part))
    assert "The drag link needs the length of the steering arm." in says
    assert "Toe needs" in says and "Wheelbase needs the wheelbase on the right." in says
    assert link_begun({"toe": {"front": 1}})


def turned_link(now, longer, before=-30):
    told = {"wheel_deg": now, "before_deg": before, "link_longer": longer}
    return assess(changed(SAMPLE, steering=told))


def held_by_link(found):
    return [each for each in found["advice"]["reasons"] if each["code"] == "wrong_side"]


def test_a_drag_link_that_was_turned_the_wrong_way_is_held():
    """What would center the wheel, made the other way round, takes it further off."""
    centers = assess(changed(SAMPLE, bar_change=None, centering=None, steering={"wheel_deg": -30}))
    longer = centers["steering"]["link_length_change"]

    [reason] = held_by_link(turned_link(-60, longer))

    assert reason["expected"] == pytest.approx(30, abs=1.5)
    assert reason["observed"] == -30
    assert reason["says"].startswith("The logged change of the drag link should have turned")
    assert "to the left; it went 30° to the right" in reason["says"]
    assert held_by_link(turned_link(0, longer)) == []
    assert held_by_link(turned_link(-33, longer)) == []
    assert held_by_link(turned_link(-60, longer, before=None)) == []
