"""Toe from tape and the axle's squareness from wheelbases."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worded import worded
from kit.worked_sheets import OTHER

from webapp.reckon.checks import toe_and_wheelbase

square, toe = worded(toe_and_wheelbase.square), worded(toe_and_wheelbase.toe)

TOE = {"front": 1520, "rear": 1522, "span": 780}
BASE = {"left": 2601, "right": 2598, "track": 1480}


def test_total_toe_is_positive_in():
    found = toe(TOE)

    assert found["total_deg"] == pytest.approx(math.degrees(2 / 780), rel=1e-5)
    assert found["difference"] == 2
    assert found["toward"] == "in"
    assert found["why"] == [
        "Total toe is 0.15° in: the wheels stand 2.0\u202fmm further apart behind the axle."
    ]


def test_wheels_wider_ahead_of_the_axle_toe_out():
    found = toe({**TOE, "rear": 1519})

    assert found["total_deg"] < 0
    assert "0.07° out: the wheels stand 1.0\u202fmm further apart ahead of" in found["why"][0]


def test_half_a_millimeter_has_a_direction_too():
    assert toe({**TOE, "rear": 1520.5})["toward"] == "in"
    assert toe({**TOE, "rear": 1519.5})["toward"] == "out"


def test_yaw_is_as_good_as_two_readings_over_the_track():
    u = 1 / math.sqrt(12) / 1480

    assert square(BASE, "front")["expanded"] == pytest.approx(2 * math.degrees(u * math.sqrt(2)))


def test_no_toe_is_said():
    found = toe({**TOE, "rear": 1520})

    assert found["toward"] == "none"
    assert found["why"] == ["Total toe is zero: both distances are the same."]


def test_toe_is_as_good_as_two_readings_over_the_span():
    u = 1 / math.sqrt(12) / 780

    assert toe(TOE)["expanded"] == pytest.approx(2 * math.degrees(u * math.sqrt(2)))
    assert toe({**TOE, "read_to": 0.5})["expanded"] == pytest.approx(toe(TOE)["expanded"] / 2)


@pytest.mark.parametrize("field", ["front", "rear", "span"])
def test_short_toe_is_incomplete(field):
    found = toe({**TOE, field: None})

    assert found["state"] == "incomplete"
    assert found["why"][0].startswith("Toe needs ")


def test_toe_that_no_wheel_can_have_is_impossible_in_words():
    impossible = toe({**TOE, "rear": 3081})
    assert impossible["state"] == "impossible"
    assert impossible["why"] == [
        "The two distances differ by more than the wheels allow. Measure both again."
    ]
    assert toe({**TOE, "rear": 3080})["total_deg"] == pytest.approx(180)


def test_yaw_is_positive_where_the_left_wheelbase_is_longer():
    found = square(BASE, "front")

    assert found["yaw_deg"] == pytest.approx(math.degrees(math.atan(3 / 1480)))
    assert found["difference"] == 3
    assert found["why"] == [
        "The left wheel stands 3.0\u202fmm forward: the axle is 0.12° off square. One difference"
        " cannot tell which of the two axles is off: measure the diagonals from each axle to the"
        " frame."
    ]


@pytest.mark.parametrize(
    ("left", "axle", "forward"),
    [
        (2601, "front", "left"),
        (2598.5, "front", "left"),
        (2597.5, "front", "right"),
        (2595, "front", "right"),
        (2601, "rear", "right"),
        (2595, "rear", "left"),
        (2598, "front", "even"),
        (2598, "rear", "even"),
    ],
)
def test_which_wheel_is_forward_depends_on_the_axle(left, axle, forward):
    """Front axle: the longer side; rear axle: the shorter."""
    assert square({**BASE, "left": left}, axle)["forward"] == forward


def test_a_square_axle_is_said():
    assert square({**BASE, "left": 2598}, "rear")["why"] == [
        "The axle stands square: both wheelbases are the same."
    ]


@pytest.mark.parametrize("field", ["left", "right", "track"])
def test_short_wheelbases_are_incomplete(field):
    found = square({**BASE, field: None}, "front")

    assert found["state"] == "incomplete"
    assert found["why"][0].startswith("Wheelbase needs ")


@given(st.floats(2000, 4000), st.floats(2000, 4000), st.sampled_from(["front", "rear"]))
def test_a_mirrored_vehicle_is_turned_the_mirrored_way(left, right, axle):
    found = square({"left": left, "right": right, "track": 1480}, axle)
    mirror = square({"left": right, "right": left, "track": 1480}, axle)

    assert mirror["yaw_deg"] == pytest.approx(-found["yaw_deg"])
    assert mirror["forward"] == OTHER.get(found["forward"], "even")
