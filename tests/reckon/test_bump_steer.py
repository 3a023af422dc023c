"""Bump steer: facts of the trade, laws, and geometry that cannot be."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.linkages import BAR, BARS, INCH, LINK, LINKS, bar_of, link_of
from kit.worded import worded
from kit.worked_sheets import OTHER, SAMPLE, changed, mirrored

from webapp.reckon.assess import assess
from webapp.reckon.checks import bump_steer
from webapp.reckon.checks.drag_link import link_change_for, root_of, steer_at
from webapp.reckon.checks.track_bar import length_for_move, run_of
from webapp.reckon.sentences.link_answer import link_answer
from webapp.reckon.terms import said, steer_words

steer = worded(bump_steer.steer)


def error_in(bar, link, travel):
    """How far apart bar and link would carry the ball in this travel, in mm, to first order."""
    degrees = abs(steer(bar, link)["curve"][-1][1])
    assert steer(bar, link)["curve"][-1][0] == travel
    return math.sin(math.radians(degrees)) * link["arm"]


def test_an_angle_matters_far_more_than_a_length():
    """At 3 in of travel: 3 degrees make about 0.16 in of error, 32 in against 28 in 0.02 in."""
    travel = 3 * INCH
    level = bar_of(bump=travel, droop=travel)

    by_angle = error_in(bar_of(angle_deg=3.0, bump=travel, droop=travel), link_of(), travel)
    by_length = error_in(level, link_of(28 * INCH), travel)

    assert by_angle / INCH == pytest.approx(0.16, abs=0.005)
    assert by_length / INCH == pytest.approx(0.02, abs=0.003)


def test_parallel_links_of_the_same_length_do_not_steer():
    found = steer(bar_of(800, 6.0), link_of(800, 6.0))

    assert found["mismatch_deg"] == pytest.approx(0)
    assert found["worst_deg"] == pytest.approx(0, abs=1e-9)
    assert found["toward_in_bump"] == "neither"
    assert "In the first 25\u202fmm of bump the wheels do not steer." in found["why"]
    assert "nothing" in " ".join(found["why"])


def test_the_sample_sheet_steers_to_the_left_in_bump():
    found = assess(SAMPLE)["steer"]

    assert found["toward_in_bump"] == "left"
    assert found["worst_deg"] == pytest.approx(found["curve"][0][1])
    assert found["worst_at"] == -100
    assert found["length_ratio"] == pytest.approx(905 / 862)
    assert found["why"][0] == (
        "In the first 25\u202fmm of bump the wheels steer 0.53° to the left."
    )
    assert (
        "The most it steers over the travel is 2.31° to the right, at 100\u202fmm of droop."
        in found["why"]
    )


def test_the_worst_may_lie_inside_the_travel_and_is_found_there():
    """A level bar shifts with the square of travel, a sloping link straight: they cancel later."""
    bar = bar_of(700, 0.0, bump=100, droop=0)
    link = link_of(2000, -3.0)

    found = steer(bar, link)

    assert 20 < found["worst_at"] < 80
    assert abs(found["worst_deg"]) >= max(abs(point[1]) for point in found["curve"])
    before, at, after = (
        abs(steer_at(link, -(run_of(bar, -t) - 700), t))
        for t in (found["worst_at"] - 1, found["worst_at"], found["worst_at"] + 1)
    )
    assert before < at > after
    assert "mm of bump." in " ".join(found["why"])


def test_opposite_frame_ends_are_told_and_angles_are_seen_from_the_bar():
    found = steer(bar_of(angle_deg=5.0), link_of(angle_deg=5.0, frame_end="right"))

    assert found["link_angle_deg"] == pytest.approx(-5.0)
    assert found["mismatch_deg"] == pytest.approx(10.0)
    assert any("opposite sides" in says for says in found["why"])


def test_arm_and_link_in_line_are_told():
    bar = bar_of(bump=1, droop=1)
    link = {**link_of(900), "fore_aft": -890, "arm": 150, "arm_points": "forward"}

    assert any("almost in line" in says for says in steer(bar, link)["why"])
    assert not any("almost in line" in says for says in steer(BAR, LINK)["why"])


def test_without_travel_there_is_a_rate_and_no_worst():
    found = steer({**BAR, "bump": None}, LINK)

    assert found["worst_deg"] is None
    assert found["curve"] == []
    assert found["per_25_bump_deg"] == pytest.approx(assess(SAMPLE)["steer"]["per_25_bump_deg"])
    assert found["why"][-1] == "Enter bump and droop travel to find the worst."


@pytest.mark.parametrize(
    ("field", "says"),
    [
        ("frame_end", "on which side its frame end is"),
        ("length", "its length from ball to ball"),
        ("frame_height", "the height of its frame-end ball"),
        ("axle_height", "the height of its axle-end ball"),
        ("arm", "the length of the steering arm"),
        ("arm_points", "whether the arm points forward or rearward"),
    ],
)
def test_a_short_link_is_incomplete_and_names_what_it_needs(field, says):
    found = assess(changed(SAMPLE, drag_link={field: None}))

    for part in ("steer", "wheel", "what_if"):
        assert found[part]["state"] == "incomplete"
        assert found[part]["why"] == [f"The drag link needs {says}."]


def test_a_link_without_a_bar_says_what_carries_the_axle():
    found = assess({"drag_link": LINK})

    assert found["steer"]["state"] == "incomplete"
    assert found["steer"]["why"] == ["Enter the track bar: it carries the axle sideways."]
    assert "wheel" not in found


def test_a_short_bar_makes_the_steer_incomplete():
    found = assess(changed(SAMPLE, track_bar={"length": None}))

    assert found["steer"]["why"] == ["The track bar needs its length from eye to eye."]
    assert found["steer"]["state"] == "incomplete"


def test_a_link_shorter_than_its_rise_is_impossible_in_words():
    found = assess(changed(SAMPLE, drag_link={"length": 60}))

    assert found["steer"]["state"] == "impossible"
    assert "cannot reach between its ends" in found["steer"]["why"][0]
    assert found["wheel"] == found["steer"]
    assert len(found["wheel"]["why"]) == 1
    assert found["what_if"]["state"] == "impossible"
    assert link_change_for({**LINK, "length": 60}, 5.0) is None


def test_a_bar_shorter_than_its_rise_makes_the_steer_impossible():
    found = assess(changed(SAMPLE, track_bar={"length": 60}))["steer"]

    assert found["state"] == "impossible"
    assert found["why"][0].startswith("A bar of this length cannot reach")


def test_a_travel_that_bar_or_link_cannot_follow_is_told():
    for parts in ({"track_bar": {"droop": 900}}, {"drag_link": {"length": 100}}):
        found = assess(changed(SAMPLE, **parts))["steer"]
        assert found["worst_deg"] is None
        assert "cannot reach through the whole travel" in found["why"][-1]


def test_a_bump_that_cannot_be_followed_at_all_has_no_direction():
    short = bar_of(60, 80.0, bump=10, droop=10)

    found = steer(short, LINK)

    assert found["per_25_droop_deg"] is None or found["per_25_bump_deg"] is None


def test_a_steer_is_named_by_side_and_a_tiny_one_is_nothing():
    assert steer_words(0.004) == "nothing"
    assert steer_words(-1.2) == "1.20° to the right"


def test_a_ball_over_the_pitman_ball_has_no_steer():
    at = {"x": 0.0, "y": 0.0, "z": 0.0, "arm": 100.0, "square": 1.0}

    assert root_of(at, 0.0, 0.0) is None


def test_a_link_stretched_to_the_last_digit_still_has_its_steer():
    at = {"x": -100.0, "y": 0.0, "z": 0.0, "arm": 100.0, "square": 30000.000000008}

    assert root_of(at, 0.0, 0.0) == pytest.approx(180)
    assert root_of({**at, "arm": -100.0, "square": -10000.000000008}, 0.0, 0.0) == pytest.approx(
        180
    )
    assert root_of({**at, "square": 30001.0}, 0.0, 0.0) is None


@given(LINKS, st.floats(-20, 20), st.floats(-60, 60))
def test_the_link_keeps_its_length_in_every_position(link, shift, travel):
    steered = math.radians(steer_at(link, shift, travel))
    side = 1 if link["frame_end"] == "left" else -1
    arm = link["arm"] if link["arm_points"] == "forward" else -link["arm"]
    rise = link["frame_height"] - link["axle_height"]
    run = math.sqrt(link["length"] ** 2 - rise**2 - link["fore_aft"] ** 2)

    ball = (
        link["fore_aft"] + arm * (math.cos(steered) - 1),
        -side * run + shift + arm * math.sin(steered),
        -rise + travel,
    )

    assert math.dist(ball, (0, 0, 0)) == pytest.approx(link["length"], abs=1e-7)
    assert steer_at(link, 0.0, 0.0) == pytest.approx(0, abs=1e-9)


@given(BARS, LINKS)
def test_a_mirrored_vehicle_steers_the_mirrored_way(bar, link):
    found, mirror = steer(bar, link), steer(mirrored(bar), mirrored(link))

    assert mirror["worst_deg"] == pytest.approx(-found["worst_deg"], abs=1e-7)
    assert mirror["mismatch_deg"] == pytest.approx(found["mismatch_deg"])
    assert mirror["toward_in_bump"] == OTHER.get(found["toward_in_bump"], "neither")


@given(BARS, LINKS)
def test_the_worst_is_nowhere_exceeded(bar, link):
    found = steer(bar, link)

    assert all(abs(point[1]) <= abs(found["worst_deg"]) + 1e-9 for point in found["curve"])


@given(BARS, st.floats(1, 20))
def test_a_bar_that_is_set_right_needs_no_change(bar, offset):
    set_right = {**bar, "length": length_for_move(bar, -offset)}

    assert run_of(set_right, 0.0) is not None


def judged(limit, units="mm"):
    found = assess({**SAMPLE, "units": units, "limits": {"bump_steer": limit}})
    return said(link_answer(found, units)).replace("\u202f", " ")


def test_a_house_limit_for_bump_steer_is_said_with_what_it_judges():
    assert "It is outside the house limit of 0.05° in 25 mm." in judged(0.05)
    assert "It is inside the house limit of 5° in 25 mm." in judged(5)
    assert "It is inside the house limit of 5.08° in an inch." in judged(5, "in")
    assert "house limit" not in judged(None)
