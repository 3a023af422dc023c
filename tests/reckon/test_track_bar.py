"""The track bar: facts of the trade, its arc, the change that centers, and laws for any bar."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worded import worded
from kit.worked_sheets import SAMPLE, changed, mirrored

from webapp.reckon.checks import track_bar
from webapp.reckon.checks.adjuster import nearest_turns, per_turn, step_of
from webapp.reckon.checks.track_bar import (
    length_for_move,
    move_of_length,
    shift_at,
    travels,
)

bar_arc, bar_change = worded(track_bar.bar_arc), worded(track_bar.bar_change)
INCH = 25.4
BAR = SAMPLE["track_bar"]
BAR_RUN = math.sqrt(862**2 - 114**2 - 18**2)


def bar_of(**fields):
    return {**BAR, "fore_aft": 0, **fields}


BARS = st.builds(
    lambda side, long, low, rise, lead: bar_of(
        frame_end=side, length=long, frame_height=low + rise, axle_height=low, fore_aft=lead
    ),
    st.sampled_from(["left", "right"]),
    st.floats(600, 1200),
    st.floats(200, 700),
    st.floats(-250, 250),
    st.floats(-60, 60),
)


def test_a_lift_of_four_inches_draws_a_32_inch_bar_sideways():
    """A 32 in bar whose ends differ by 4 in, lifted 4 in: 0.765 in, and 0.741 in more bar."""
    bar = bar_of(length=32 * INCH, frame_height=500 + 4 * INCH, axle_height=500)

    shift = shift_at(bar, -4 * INCH)
    lifted = {**bar, "frame_height": bar["frame_height"] + 4 * INCH}

    assert shift / INCH == pytest.approx(0.765, abs=5e-4)
    longer = length_for_move(lifted, -shift) - bar["length"]
    assert longer / INCH == pytest.approx(0.741, abs=5e-4)


def test_a_lift_of_two_inches_is_five_sixteenths():
    bar = bar_of(length=32 * INCH, frame_height=500 + 4 * INCH, axle_height=500)

    assert shift_at(bar, -2 * INCH) / INCH == pytest.approx(5 / 16, abs=0.01)


def test_lowering_to_level_moves_an_835_mm_bar_a_millimeter_and_a_half():
    bar = bar_of(length=835, frame_height=550, axle_height=500)

    assert shift_at(bar, 50) == pytest.approx(-1.5, abs=0.01)


def test_as_far_below_level_as_above_is_no_shift():
    bar = bar_of(length=835, frame_height=525, axle_height=500)

    assert shift_at(bar, 50) == pytest.approx(0)


@pytest.mark.parametrize(("threads", "half_turn"), [(18, 0.028), (12, 0.042)])
def test_half_a_turn_of_one_end(threads, half_turn):
    """5/8-18 moves .028 in in a half turn, 1 1/4-12 moves .042 in."""
    adjuster = {"kind": "one_end", "pitch": INCH / threads}

    assert per_turn(adjuster) * step_of(adjuster) / INCH == pytest.approx(half_turn, abs=5e-4)


def test_opposite_hands_move_two_pitches_a_turn_at_any_fraction():
    adjuster = {"kind": "both_ends", "pitch": 1.5}

    assert per_turn(adjuster) == 3.0
    assert step_of(adjuster) == 0
    assert nearest_turns(1.2345, 0) == 1.2345


@pytest.mark.parametrize(
    ("exact", "turns"), [(3.34, 3.5), (3.24, 3.0), (0.2, 0), (-0.25, -0.5), (0.25, 0.5)]
)
def test_turns_go_to_the_nearest_step_and_halves_away_from_zero(exact, turns):
    assert nearest_turns(exact, 0.5) == turns


def test_the_side_of_the_frame_end_decides_the_direction():
    """Longer pushes the axle away from the frame end."""
    left, right = bar_change(BAR, 5.0), bar_change({**BAR, "frame_end": "right"}, 5.0)

    assert left["direction"] == "longer"
    assert right["direction"] == "shorter"


def test_a_correction_smaller_than_the_step_is_not_asked_for():
    found = bar_change(BAR, 0.3)

    assert found["turns"] == 0
    assert found["direction"] == "none"
    assert found["leftover"] == pytest.approx(0.3)


def test_a_fixed_bar_gets_a_length_and_no_turns():
    found = bar_change(bar_of(adjuster={"kind": "fixed", "pitch": 1.5}), 5.0)

    assert found["state"] == "fixed"
    assert found["turns"] is None
    assert found["length_change"] == pytest.approx(5.0, abs=0.1)


@pytest.mark.parametrize("adjuster", [None, {"kind": "one_end"}])
def test_an_unknown_adjuster_gets_a_length_and_a_reason(adjuster):
    found = bar_change(bar_of(adjuster=adjuster), 5.0)

    assert found["turns"] is None
    assert found["why"] == ["Enter the adjuster and its thread to get the turns."]


@pytest.mark.parametrize(
    ("field", "says"),
    [
        ("frame_end", "on which side its frame end is"),
        ("length", "its length from eye to eye"),
        ("frame_height", "the height of its frame-end bolt"),
        ("axle_height", "the height of its axle-end bolt"),
    ],
)
def test_a_short_bar_is_incomplete_and_names_what_it_needs(field, says):
    short = bar_of(**{field: None})

    for found in (bar_change(short, 5.0), bar_arc(short)):
        assert found["state"] == "incomplete"
        assert found["reasons"] == [{"code": "missing", "part": "track_bar", "field": field}]
        assert found["why"] == [f"The track bar needs {says}."]


def test_a_bar_shorter_than_its_rise_is_impossible_in_words():
    short = bar_of(length=100)

    assert bar_change(short, 5.0)["state"] == "impossible"
    assert bar_arc(short)["state"] == "impossible"
    assert "cannot reach between these ends" in bar_arc(short)["why"][0]
    assert shift_at(short, 10) is None
    assert move_of_length(short, 1) is None


def test_no_length_moves_the_axle_past_the_frame_end():
    found = bar_change(BAR, -900.0)

    assert found["state"] == "impossible"
    assert "No length of this bar" in found["why"][0]


def test_a_step_that_would_leave_the_bar_too_short_is_passed_over():
    steep = bar_of(length=120, frame_height=612, axle_height=497, adjuster=BAR["adjuster"])
    coarse = {**steep, "adjuster": {"kind": "one_end", "pitch": 8.0, "step": 1.0}}

    found = bar_change(coarse, -30.0)

    assert found["exact_turns"] < -0.5
    assert found["turns"] == 0
    assert found["leftover"] == pytest.approx(-30.0)


def test_the_step_after_one_that_is_too_short_is_reckoned_like_any_other():
    steep = bar_of(length=130, frame_height=612, axle_height=497)
    adjuster = {"kind": "one_end", "pitch": 9.0, "step": 1.0}

    found = bar_change({**steep, "adjuster": adjuster}, -55.0)

    assert found["exact_turns"] == pytest.approx(-1.6, abs=0.1)
    assert found["turns"] == -1
    assert found["leftover"] == pytest.approx(-55 + move_of_length(steep, -9.0))


def test_next_to_the_frame_end_the_change_claims_no_uncertainty():
    found = bar_change(BAR, -BAR_RUN + 0.3)

    assert found["state"] == "known"
    assert found["expanded"] is None
    assert found["improve"] is None


@pytest.mark.parametrize(
    ("offset", "direction"), [(0.4, "longer"), (-0.4, "shorter"), (0.0, "none")]
)
def test_a_small_change_of_length_has_its_direction(offset, direction):
    assert bar_change(bar_of(adjuster=None), offset)["direction"] == direction


def test_a_turn_of_a_fixed_bar_or_of_an_unknown_thread_is_not_known():
    assert per_turn({"kind": "fixed", "pitch": 1.5}) is None
    assert per_turn({"kind": "both_ends"}) is None


def test_a_bar_that_cannot_follow_the_whole_travel_says_so():
    found = bar_arc(bar_of(droop=900))

    assert found["droop_shift"] is None
    assert found["bump_shift"] is not None
    assert found["why"] == [
        "The bar cannot reach through the whole travel. Check its length and heights."
    ]


def test_without_travel_there_is_no_curve():
    assert bar_arc(bar_of(bump=None))["curve"] == []


def test_the_curve_runs_from_droop_to_bump_through_ride_height():
    assert travels(12, 8) == [-12, -8, -4, 0, 4, 8]
    curve = bar_arc(BAR)["curve"]

    assert curve[0] == [-100, bar_arc(BAR)["droop_shift"]]
    assert curve[-1] == [80, bar_arc(BAR)["bump_shift"]]
    assert [0, 0] in curve


def test_the_roll_center_lies_on_the_bar_under_the_middle_of_the_frame():
    """A bar from 400 mm left of the middle to 400 mm right of it crosses halfway down."""
    bar = bar_of(length=math.hypot(800, 100), frame_height=600, axle_height=500)

    assert bar_arc({**bar, "frame_end_from_center": 400})["roll_center"] == pytest.approx(550)
    assert bar_arc(bar)["roll_center"] is None


@given(BARS, st.floats(-120, 120))
def test_the_bar_keeps_its_length_through_the_travel(bar, travel):
    run = bar_arc(bar)["run"]
    sign = 1 if bar["frame_end"] == "left" else -1
    frame, axle = (0, bar["frame_height"]), (-sign * run, bar["axle_height"])

    moved = (axle[0] + shift_at(bar, travel), axle[1] + travel)

    across = math.dist(frame, moved)
    assert math.hypot(across, bar["fore_aft"]) == pytest.approx(bar["length"])
    assert shift_at(bar, 0) == 0


@given(BARS, st.floats(-120, 120), st.floats(-40, 40))
def test_a_mirrored_bar_gives_the_mirrored_answer(bar, travel, offset):
    mirror = mirrored(bar)

    assert shift_at(mirror, travel) == pytest.approx(-shift_at(bar, travel))
    assert bar_change(mirror, -offset)["turns"] == bar_change(bar, offset)["turns"]
    assert bar_change(mirror, -offset)["leftover"] == pytest.approx(
        -bar_change(bar, offset)["leftover"]
    )


@given(BARS, st.floats(-40, 40))
def test_the_length_for_a_move_moves_it_that_far(bar, move):
    change = length_for_move(bar, move) - bar["length"]

    assert move_of_length(bar, change) == pytest.approx(move, abs=1e-7)


@given(BARS, st.floats(0.01, 40))
def test_a_longer_bar_pushes_the_axle_away_from_its_frame_end(bar, change):
    moved = move_of_length(bar, change)

    assert moved < 0 if bar["frame_end"] == "left" else moved > 0


@given(BARS, st.floats(-40, 40))
def test_what_is_left_is_at_most_half_a_step(bar, offset):
    found = bar_change(bar, offset)
    half_step = abs(move_of_length(bar, 0.26 * 1.5875)) + 0.05

    assert abs(found["leftover"]) <= half_step
    assert found["move"] == -offset


def test_a_bar_that_is_carried_from_the_record_has_its_numbers_unchanged():
    before = changed(SAMPLE)

    bar_change(before["track_bar"], 5.0)
    bar_arc(before["track_bar"])

    assert before == SAMPLE
