"""Angles and steering-wheel positions: accepted, asked back, or refused with a reason."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.reckon.typed.angles import parse_angle, parse_wheel

ANGLES = [
    ("10 deg", 10),
    ("10 deg.", 10),
    ("10", 10),
    ("6*", 6),
    ("1.5°", 1.5),
    ("1,5", 1.5),
    ("1 30'", 1.5),
    ("1° 30'", 1.5),
    ("1°30′", 1.5),
    ("2 deg 15 min", 2.25),
    ("15 min", 0.25),
    ("0", 0),
]


@pytest.mark.parametrize(("text", "value"), ANGLES)
def test_an_angle_is_read_as_people_write_it(text, value):
    assert parse_angle(text) == {"ok": True, "value": pytest.approx(value)}


def test_a_lone_minute_mark_is_asked_back():
    found = parse_angle("15'")

    assert found["says"] == "Is that degrees or minutes of a degree?"
    assert [each["value"] for each in found["choices"]] == [15, 0.25]


NO_ANGLES = [
    ("", "Nothing was entered"),
    ("-5", "no sign"),
    ("abc", "“abc” is not part of an angle"),
    ("10 left", "“left” is not part of an angle"),
    ("1..5", "“1..5” is not a number"),
    ("1 30", "mark the minutes"),
    ("1 30 x", "mark the minutes"),
    ("1° 2..3'", "“2..3” is not a number"),
    ("1 70'", "60 minutes"),
    ("400", "more than any angle"),
]


@pytest.mark.parametrize(("text", "reason"), NO_ANGLES)
def test_what_is_no_angle_is_refused_with_the_reason(text, reason):
    found = parse_angle(text)

    assert not found["ok"]
    assert reason in found["says"]


WHEELS = [
    ("10 deg left", 10),
    ("10° right", -10),
    ("10 to the right", -10),
    ("left 10", 10),
    ("400 left", 400),
    ("1 o'clock", -30),
    ("5 o'clock", -150),
    ("11 o’clock", 30),
    ("at 7 o'clock", 150),
    ("12 o'clock", 0),
    ("1 o'clock right", -30),
    ("6 o'clock left", 180),
    ("1/4 turn left", 90),
    ("¼ turn right", -90),
    ("a quarter turn to the left", 90),
    ("half turn right", -180),
    ("1 1/4 turns left", 450),
    ("0.5 turn left", 180),
    ("straight", 0),
    ("centered", 0),
    ("0", 0),
]


@pytest.mark.parametrize(("text", "value"), WHEELS)
def test_a_wheel_position_is_left_positive(text, value):
    assert parse_wheel(text) == {"ok": True, "value": pytest.approx(value)}


@pytest.mark.parametrize(("text", "size"), [("10", 10), ("half turn", 180), ("6 o'clock", 180)])
def test_a_position_without_a_side_is_asked_back(text, size):
    found = parse_wheel(text)

    assert found["choices"] == [
        {"text": "left", "value": size},
        {"text": "right", "value": -size},
    ]


NO_WHEELS = [
    ("", "Nothing was entered"),
    ("left", "Say how far"),
    ("left right 10", "Left or right, once"),
    ("-10 left", "no sign"),
    ("13 o'clock", "hours from 1 to 12"),
    ("o'clock", "hours from 1 to 12"),
    ("1:30 o'clock", "hours from 1 to 12"),
    ("1 o'clock left", "that is to the right"),
    ("11 o'clock right", "that is to the left"),
    ("turn", "Write the turns"),
    ("1/0 turn left", "Write the turns"),
    ("x turn left", "Write the turns"),
    ("1 2 3/4 turn left", "Write the turns"),
    ("1 2 turn left", "Write the turns"),
    ("x/4 turn left", "Write the turns"),
    ("9 turns left", "No steering wheel turns that far"),
    ("5000 left", "more than any angle"),
    ("1/4 left", "“/” is not part"),
    ("straight left", "“straight” is not part"),
]


@pytest.mark.parametrize(("text", "reason"), NO_WHEELS)
def test_what_is_no_position_is_refused_with_the_reason(text, reason):
    found = parse_wheel(text)

    assert not found["ok"]
    assert reason in found["says"]


MARKS = [*"0123456789 /.,'°*-½", "deg", "min", "o'clock", "turn", "left", "right", "half", "to"]


@given(st.text() | st.lists(st.sampled_from(MARKS), max_size=8).map(" ".join))
def test_any_text_gives_an_angle_or_a_sentence(text):
    for found in (parse_angle(text), parse_wheel(text)):
        if found["ok"]:
            assert abs(found["value"]) <= 1080
        else:
            assert found["says"][-1] in ".?"
