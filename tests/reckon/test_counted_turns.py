"""Turns as shops count them: quarters, or flats of the hex, and what is left belongs to them."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.checks.adjuster import counted_turns
from webapp.reckon.checks.track_bar import move_of_length
from webapp.reckon.sentences.change_words import change_words
from webapp.reckon.sentences.link_answer import link_answer
from webapp.reckon.terms import said, toward, turns_words
from webapp.reckon.typed.turns import parse_turns

BOTH = {"kind": "both_ends", "pitch": 1.5, "step": 0}
# What a shop can set a sleeve to.
SAID = re.compile(
    r"^(\d+ )?(1/4|1/2|3/4) turns?$|^\d+ turns?( and [1245] flats?)?$|^[1245] flats?$"
)


@pytest.mark.parametrize(
    ("turns", "step", "counted"),
    [
        (1.65, 0, 5 / 3),
        (1.78, 0, 1.75),
        (-1.78, 0, -1.75),
        (2.02, 0, 2.0),
        (2.5, 0, 2.5),
        (0.19, 0, 1 / 6),
        # A quarter and a flat are as near: a quarter is told by eye.
        (0.2083333333333333, 0, 0.25),
        (0.08, 0, 0.0),
        (-0.05, 0, 0.0),
        (3.5, 0.5, 3.5),
        (1.6, 0.1, 1.6),
    ],
)
def test_any_position_is_counted_in_quarters_or_flats_whichever_is_nearer(turns, step, counted):
    assert counted_turns(turns, step) == pytest.approx(counted)


@pytest.mark.parametrize(
    ("turns", "words"),
    [
        (0.25, "1/4 turn"),
        (0.75, "3/4 turn"),
        (1.25, "1 1/4 turns"),
        (-3.75, "3 3/4 turns"),
        (1 / 6, "1 flat"),
        (2 / 6, "2 flats"),
        (7 / 6, "1 turn and 1 flat"),
        (3 + 5 / 6, "3 turns and 5 flats"),
        # What somebody logged otherwise stays as it was typed.
        (1.6, "1.6 turns"),
    ],
)
def test_quarters_and_flats_have_their_words(turns, words):
    assert turns_words(turns) == words
    assert parse_turns(words)["value"] == pytest.approx(abs(turns))


@given(st.floats(-40, 40))
def test_counted_turns_are_said_plainly_read_back_and_mirrored(turns):
    counted = counted_turns(turns, 0)

    assert abs(counted - turns) <= 1 / 12 + 1e-9
    assert SAID.match(turns_words(counted)), turns_words(counted)
    assert counted_turns(-turns, 0) == -counted
    assert counted == 0 or parse_turns(turns_words(counted))["value"] == pytest.approx(abs(counted))


def test_the_bars_answer_says_what_is_left_after_the_turns_that_it_names():
    found = assess(changed(SAMPLE, drag_link=None, track_bar={"adjuster": BOTH}))
    change = found["bar_change"]
    rows = {row["name"]: row["shows"] for row in found["numbers"]}
    left = found["centering"]["offset"] + move_of_length(SAMPLE["track_bar"], 1.75 * 3.0)

    assert change["turns"] == change["exact_turns"] and change["leftover"] == pytest.approx(0)
    assert change["counted_turns"] == 1.75
    assert change["counted_leftover"] == pytest.approx(left) and abs(left) > 0.04
    assert ": 1 3/4 turns out. The axle will then sit" in found["says"]
    assert rows["Turns"] == "1 3/4 turns out (exactly 1.77)"
    assert rows["Offset then"] == toward(left, "mm")


def test_an_adjuster_with_a_step_is_counted_by_its_step():
    change = assess(SAMPLE)["bar_change"]

    assert change["counted_turns"] == change["turns"] == 3.5
    assert change["counted_leftover"] == change["leftover"]


def test_less_than_half_a_flat_is_left_as_it_is():
    coarse = {"kind": "both_ends", "pitch": 4, "step": 0}
    bar = {
        "track_bar": {"adjuster": coarse},
        "limits": {"offset": 0.2},
        "drag_link": None,
        "play": None,
    }
    fine = {"read_to": 0.1, "left": [204.6, 204.6], "right": [203.6, 203.6]}
    found = assess(changed(SAMPLE, centering=fine, **bar, confirmed=["implausible"]))

    assert found["bar_change"]["turns"] != 0 and found["bar_change"]["counted_turns"] == 0
    assert found["advice"]["state"] == "leave"
    assert "leave the bar as it is" in found["says"]
    assert "Turns" not in [row["name"] for row in found["numbers"]]


def test_the_drag_link_is_counted_too_and_says_where_the_wheel_is_left():
    found = assess(changed(SAMPLE, drag_link={"adjuster": BOTH}))
    rows = {row["name"]: row["shows"] for row in found["numbers"]}
    wheel = found["wheel"]

    assert wheel["turns"] == pytest.approx(1.78, abs=0.005) and wheel["counted_turns"] == 1.75
    assert "5.3\u202fmm longer, 1 3/4 turns out, before the road." in found["says"]
    assert wheel["leftover_deg"] == pytest.approx(0, abs=1e-9)
    assert 0.5 < abs(wheel["left_deg"]) < 1
    assert rows["Steering wheel once set"].startswith("1°")
    assert any("(1 3/4 turns out)" in why for why in wheel["why"])


def test_a_wheel_off_beside_a_centered_axle_is_told_counted_turns():
    centered = {"left": [203.6, 203.6], "right": [203.6, 203.6]}
    link = {"adjuster": {**BOTH, "pitch": 1.25}}
    found = assess(changed(SAMPLE, centering=centered, drag_link=link, steering={"wheel_deg": 30}))

    assert found["steering"]["counted_turns"] == pytest.approx(-11 / 6)
    assert "1 turn and 5 flats in" in said(link_answer(found, "mm"))


def test_thread_left_is_told_for_the_turns_that_are_named():
    found = assess(
        changed(SAMPLE, drag_link=None, track_bar={"adjuster": {**BOTH, "thread_left": [9.0, 9.0]}})
    )

    assert found["bar_change"]["thread_then"] == [pytest.approx(9.0 - 1.75 * 1.5)] * 2


def test_a_logged_change_says_flats_as_flats():
    assert change_words({"what": "link_turned", "turns": -2 / 6}, "mm").endswith("2 flats in")
