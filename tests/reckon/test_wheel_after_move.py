"""The steering wheel after the bar is set: facts of the trade, laws, and what cannot be."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.linkages import INCH, LINK, LINKS, link_of
from kit.worded import worded
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.checks import wheel_after_move
from webapp.reckon.checks.drag_link import link_change_for, steer_at
from webapp.reckon.sentences.number_rows import numbers

wheel = worded(wheel_after_move.wheel)


def test_a_quarter_inch_of_axle_shift_turns_the_wheel_38_degrees():
    """With a 6 in arm and a 16:1 box, 1/4 in of axle shift is about 38 degrees of wheel."""
    found = wheel({"move": 0.25 * INCH}, link_of(arm=6 * INCH, ratio=16), 0.0)

    assert abs(found["rim_deg"]) == pytest.approx(38, abs=0.5)


def test_a_move_that_the_link_cannot_follow_is_told():
    found = wheel({"move": -300.0}, {**LINK, "arm": 100}, 0.0)

    assert found["state"] == "impossible"
    assert found["why"] == ["The drag link cannot reach after that move."]
    assert link_change_for(LINK, 2000.0) is None


def test_the_wheel_needs_its_ratio_for_the_rim():
    found = assess(changed(SAMPLE, drag_link={"ratio": None}))

    assert found["wheel"]["rim_deg"] is None
    assert (
        found["wheel"]["why"][0] == "Enter the steering ratio to find the steering wheel's angle."
    )
    assert "steering wheel" not in found["says"]


MAKE = "once toe is right, make the drag link"
WHEELS = [
    (
        {},
        f"The steering wheel will then sit 35° to the right: {MAKE} 5.3 mm longer",
    ),
    ({}, ", 1 3/4 turns out, before the road."),
    ({"adjuster": None}, f"{MAKE} 5.3 mm longer, before the road."),
    (
        {"adjuster": {"kind": "fixed"}},
        "its drag link cannot be adjusted and would have to be 5.3 mm longer. Ask the lead.",
    ),
    (
        {"frame_end": "right"},
        f"sit 35° to the right: {MAKE} 5.3 mm shorter",
    ),
    (
        {"arm_points": "rearward"},
        f"sit 35° to the left: {MAKE} 5.3 mm longer",
    ),
]


@pytest.mark.parametrize(("link", "says"), WHEELS)
def test_the_answer_tells_where_the_wheel_will_sit(link, says):
    found = assess(changed(SAMPLE, drag_link=link, confirmed=["implausible"]))

    assert says in found["says"].replace("\u202f", " ")


@pytest.mark.parametrize(("points", "side"), [("forward", "right"), ("rearward", "left")])
def test_the_numbers_put_the_wheel_on_the_side_that_the_answer_names(points, side):
    found = assess(changed(SAMPLE, drag_link={"arm_points": points}))
    shown = {each["name"]: each["shows"] for each in numbers(found, "mm")}

    assert shown["Steering wheel then"] == f"35°, {side}"
    assert f"will then sit 35° to the {side}" in found["says"]


def test_a_wheel_that_hardly_turns_has_no_side_in_the_numbers():
    found = assess(changed(SAMPLE, drag_link={"ratio": 0.1}, confirmed=["implausible"]))
    shown = {each["name"]: each["shows"] for each in numbers(found, "mm")}

    assert shown["Steering wheel then"] == "0°"


def test_a_wheel_that_stays_where_it_is_is_not_mentioned():
    assert "steering wheel" not in assess(changed(SAMPLE, drag_link={"ratio": 0.1}))["says"]


@pytest.mark.parametrize("kind", ["one_end", "both_ends"])
def test_the_link_set_by_its_turns_leaves_at_most_half_a_step(kind):
    adjuster = {"kind": kind, "pitch": 1.5, "step": None}

    found = wheel({"move": -5.35}, {**LINK, "adjuster": adjuster}, 0.0)

    assert found["exact_turns"] == pytest.approx(
        found["link_length_change"] / (3 if kind != "one_end" else 1.5)
    )
    assert abs(found["leftover_deg"]) < (1e-9 if kind == "both_ends" else 0.2)


def test_a_move_of_nothing_says_nothing():
    found = wheel({"move": 0.0}, LINK, 0.5)

    assert found["direction"] == "none"
    assert found["steer_deg"] == pytest.approx(0)
    assert found["why"] == []


def test_a_fixed_link_is_told_among_the_reasons():
    found = wheel({"move": 5.0}, {**LINK, "adjuster": {"kind": "fixed"}, "ratio": 1}, 0.0)

    assert "cannot be adjusted; it would have to be" in found["why"][0]
    assert len(found["why"]) == 2


def test_next_to_the_end_of_reach_the_wheel_claims_no_uncertainty():
    link = {**LINK, "arm": 100}
    move = next(each / 4 for each in range(-10, -2000, -1) if steer_at(link, each / 4, 0) is None)

    found = wheel({"move": move + 0.25}, link, 0.5)

    assert found["state"] == "known"
    assert found["expanded"] is None
    assert "known to" not in " ".join(found["why"])


@given(LINKS, st.floats(-15, 15))
def test_the_link_change_brings_the_wheels_back(link, move):
    longer = {**link, "length": link["length"] + link_change_for(link, move)}
    found = wheel({"move": move}, {**link, "adjuster": {"kind": "both_ends", "pitch": 1.0}}, 0.0)

    assert found["leftover_deg"] == pytest.approx(0, abs=1e-7)
    assert longer["length"] == pytest.approx(link["length"] + found["link_length_change"])


@pytest.mark.parametrize("wheel_deg", [-30, 30])
def test_a_wheel_that_is_off_already_is_made_up_for_by_one_change(wheel_deg):
    found = assess(changed(SAMPLE, steering={"wheel_deg": wheel_deg}))

    [says] = [each for each in found["wheel"]["why"] if "bar change steers" in each]
    assert says.endswith(" centers the steering wheel.") and "brings them back" not in says
