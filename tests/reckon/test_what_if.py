"""Plans beside today, the raise to lie parallel and the raise to steer least."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kit.linkages import BARS, LINKS
from kit.worded import worded
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.checks import what_if as plans
from webapp.reckon.checks.bump_steer import steer
from webapp.reckon.checks.drag_link import linkage
from webapp.reckon.checks.track_bar import run_of
from webapp.reckon.checks.what_if import (
    least_steer,
    lever,
    parallel_raise,
    plan_found,
    ratio_of,
    steer_of_rise,
    vertex_of,
    worst_for,
)
from webapp.reckon.minimum import least_between, least_sharply

what_if = worded(plans.what_if)
BAR, LINK = SAMPLE["track_bar"], SAMPLE["drag_link"]
FULL = {**BAR, "frame_end_from_center": 420, "axle_tube_height": 400, "rail_height": 700}


def plan_of(bar=FULL, link=LINK, **plan):
    return plan_found(bar, link, plan)


def test_today_is_what_the_sheet_says():
    found = assess(changed(SAMPLE, track_bar=FULL))

    today = found["what_if"]["today"]
    assert today["name"] == "Today"
    assert today["bar_length_change"] == pytest.approx(0)
    assert today["link_length_change"] == pytest.approx(0)
    assert today["worst_deg"] == pytest.approx(found["steer"]["worst_deg"])
    assert today["roll_center"] == pytest.approx(found["bar_arc"]["roll_center"])
    assert today["axle_lever"] == 98
    assert today["axle_lever_ratio"] == 1
    shifts = [found["bar_arc"]["bump_shift"], found["bar_arc"]["droop_shift"]]
    assert today["sideways"] == pytest.approx(max(shifts) - min(shifts))


def test_the_plans_of_a_sheet_are_reckoned_with_its_drag_link():
    plans = [{"name": "taller bracket", "axle_end_up": 40}, {"pitman_down": 25}]

    found = assess(changed(SAMPLE, plans=plans))["what_if"]["plans"]

    assert [each["name"] for each in found] == ["taller bracket", "Plan 2"]
    assert found[0]["worst_deg"] == plan_of(BAR, axle_end_up=40)["worst_deg"]
    assert found[1]["worst_deg"] == plan_of(BAR, pitman_down=25)["worst_deg"]


def test_axle_end_up_and_frame_end_down_change_the_arc_alike_but_not_roll_center_nor_levers():
    up, down = plan_of(axle_end_up=40), plan_of(frame_end_down=40)

    assert up["shift_curve"] == down["shift_curve"]
    assert up["bar_length"] == pytest.approx(down["bar_length"])
    assert up["worst_deg"] == pytest.approx(down["worst_deg"])
    assert up["roll_center"] - down["roll_center"] == pytest.approx(40)
    assert up["axle_lever_ratio"] == pytest.approx(138 / 98)
    assert up["frame_lever_ratio"] == 1
    assert down["axle_lever_ratio"] == 1
    assert down["frame_lever_ratio"] == pytest.approx(128 / 88)


def test_a_plan_keeps_the_axle_and_the_wheels_where_they_are():
    found = plan_of(name="bracket", axle_end_up=40, pitman_down=25, link_axle_end_up=10)

    bar = {**FULL, "axle_height": 538, "length": found["bar_length"]}
    assert found["name"] == "bracket"
    assert run_of(bar, 612 - 538) == pytest.approx(run_of(FULL, 612 - 498))
    assert found["link_length"] == pytest.approx(
        math.sqrt(905**2 - (588 - 521) ** 2 + (563 - 531) ** 2)
    )
    assert found["mismatch_deg"] == pytest.approx(found["angle_deg"] - found["link_angle_deg"])


def test_more_ride_height_lifts_the_frame_and_leaves_the_stops():
    """After a lift on the old bump stops the wheel still travels to the old stop."""
    found = plan_of(height_change=50)

    assert found["shift_curve"][0][0] == -50
    assert found["shift_curve"][-1][0] == 130
    assert found["frame_lever_ratio"] == 1
    assert found["angle_deg"] > plan_of()["angle_deg"]
    assert plan_of(height_change=150)["shift_curve"][0][0] == 0
    assert found["link_length"] == pytest.approx(math.sqrt(905**2 - 67**2 + (67 + 50) ** 2))


def test_what_is_not_known_of_a_plan_is_left_out():
    found = plan_found({**BAR, "bump": None}, None, {"axle_end_up": 10, "height_change": 5})

    assert found["sideways"] is None
    assert found["axle_lever"] is None
    assert found["axle_lever_ratio"] is None
    assert "worst_deg" not in found
    assert lever(FULL, "axle_height", "axle_tube_height") == 98
    assert ratio_of(5.0, 0.0) is None


def test_plans_without_a_drag_link_are_reckoned_for_the_bar():
    sheet = changed(SAMPLE, drag_link=None, plans=[{"name": "raise", "axle_end_up": 30}])

    found = assess(sheet)["what_if"]

    assert found["plans"][0]["angle_deg"] < found["today"]["angle_deg"]
    assert found["parallel_raise"] is None
    assert found["why"] == ["Enter the drag link to find out what a plan does to the steering."]
    assert "what_if" not in assess(changed(SAMPLE, drag_link=None))


@pytest.mark.parametrize(
    ("bar", "state"), [({"length": None}, "incomplete"), ({"length": 90}, "impossible")]
)
def test_plans_for_a_bar_that_is_short_or_cannot_be_say_why(bar, state):
    found = assess(changed(SAMPLE, drag_link=None, plans=[{"axle_end_up": 30}], track_bar=bar))

    assert found["what_if"]["state"] == state
    assert len(found["what_if"]["why"]) == 1


def test_the_raises_are_said():
    found = assess(SAMPLE)["what_if"]

    assert found["why"] == [
        "Bar and link would lie parallel with the axle end 50.6\u202fmm higher; the worst steer is"
        " least with it 51.2\u202fmm higher. The bar's length is reset so that the axle stays "
        "where it is."
    ]


def test_a_raise_at_the_end_of_the_search_is_told():
    ends = {"frame_height": 500, "axle_height": 620}
    steep = changed(SAMPLE, drag_link=ends, confirmed=["implausible"])

    says = assess(steep)["what_if"]["why"][0]
    assert "the end of what was searched (50.0\u202fmm lower to 150.0\u202fmm higher)" in says
    in_inches = assess({**steep, "units": "in"})["what_if"]["why"][0]
    assert "(≈\u202f1 31/32\u202fin (50.0\u202fmm) lower to ≈\u202f5 29/32\u202fin" in in_inches
    low = changed(SAMPLE, track_bar={"frame_height": 450}, confirmed=["implausible"])
    assert "lower" in assess(low)["what_if"]["why"][0]


def test_a_raise_too_small_to_be_shown_has_no_direction():
    """Noise in the last digit is neither higher nor lower, on a phone as little as at the desk."""
    same = {"frame_end": "left", "length": 835, "frame_height": 620, "axle_height": 570}
    found = assess(changed(SAMPLE, track_bar=same, drag_link=same))["what_if"]

    assert found["why"][0].startswith("Bar and link would lie parallel with the axle end where it")


def test_where_no_raise_steers_less_nothing_is_moved():
    assert least_steer({**BAR, "bump": 0, "droop": 0}, LINK)["least_steer_raise"] == 0


def test_without_travel_only_the_parallel_raise_is_known():
    found = what_if({**BAR, "droop": None}, LINK, [])

    assert found["parallel_raise"] == pytest.approx(50.6, abs=0.05)
    assert found["least_steer_raise"] is None
    assert found["why"] == []


def test_a_travel_out_of_reach_leaves_the_least_steer_unknown():
    found = what_if({**BAR, "droop": 900}, LINK, [])

    assert found["least_steer_raise"] is None
    assert found["why"][0].startswith("Bar and link would lie parallel with the axle end 50.6")
    assert "least" not in found["why"][0]


@given(BARS, LINKS)
@settings(max_examples=40)
def test_the_parallel_raise_makes_the_angles_equal(bar, link):
    raised = plan_found(bar, link, {"axle_end_up": parallel_raise(bar, link)})

    assert raised["mismatch_deg"] == pytest.approx(0, abs=1e-9)


def worst_walked(bar, link, lift):
    """The worst steer with the axle end raised, by walking the travel in small steps."""
    raised = plan_found(bar, link, {"axle_end_up": lift})
    new = {**bar, "axle_height": bar["axle_height"] + lift, "length": raised["bar_length"]}
    return abs(steer(new, link)["worst_deg"])


@given(BARS, LINKS)
@settings(max_examples=25)
def test_no_raise_steers_less_than_the_one_that_is_found(bar, link):
    found = least_steer(bar, link)

    walked = [worst_walked(bar, link, lift) for lift in range(-50, 151, 4)]
    near = [found["least_steer_raise"] + step for step in (-0.3, 0.3)]
    inside = [worst_walked(bar, link, lift) for lift in near if -50 <= lift <= 150]
    assert found["least_steer_deg"] <= min(walked + inside) + 2e-3
    assert -50 <= found["least_steer_raise"] <= 150


@pytest.mark.parametrize(
    ("curve", "vertex"),
    [
        ((0, 3, 4), 3),
        ((1, 2, 3), 2),
        ((0, 4, 2), 4 + 1 / 12),
        ((1, 5, 3), 5 + 1 / 12),
        ((0, 1, 0), 1),
        ((0, 7, 12), 7),
        ((5, 5, 5), 5),
    ],
)
def test_the_vertex_of_three_points_counts_inside_their_span(curve, vertex):
    assert vertex_of(*curve) == pytest.approx(vertex)


def test_a_curve_is_as_bad_as_its_vertex_between_the_points():
    at = linkage({**LINK, "length": 2000, "frame_height": 416, "fore_aft": 0})
    coarse = worst_for(700.0, 0.0, 1, at, [0, 40, 80])
    fine = worst_for(700.0, 0.0, 1, at, list(range(81)))

    assert coarse == pytest.approx(fine, rel=0.01)
    assert max(abs(steer_of_rise(700.0, 0.0, 1, at, each)) for each in (0, 40, 80)) < 0.95 * fine


@pytest.mark.parametrize(("low", "high", "least"), [(-5, 5, 2), (3, 9, 3), (-9, 1, 1)])
def test_the_least_value_is_found_inside_or_at_an_end(low, high, least):
    assert least_between(lambda x: (x - 2) ** 2, low, high) == pytest.approx(least, abs=1e-4)


@given(st.floats(-4, 4))
def test_a_smooth_valley_is_found_to_rounding(bottom):
    found = least_sharply(lambda x: 1 - math.cos((x - bottom) / 100), -5, 5)

    assert found == pytest.approx(bottom, abs=1e-7)


@pytest.mark.parametrize(("low", "high", "end"), [(3, 9, 3), (-9, 1, 1)])
def test_a_valley_beyond_an_end_is_least_at_that_end(low, high, end):
    assert least_sharply(lambda x: (x - 2) ** 2, low, high) == end
