"""Angles and steering-wheel positions: accepted, asked back, or refused with a reason."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.reckon.sentences.typed_answers import says_of
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
    ("1/2 deg", 0.5),
    ("1 1/2 deg", 1.5),
    ("1-1/2°", 1.5),
    ("half a degree", 0.5),
]


@pytest.mark.parametrize(("text", "value"), ANGLES)
def test_an_angle_is_read_as_people_write_it(text, value):
    assert parse_angle(text) == {"ok": True, "value": pytest.approx(value)}


def test_a_lone_minute_mark_is_asked_back():
    found = parse_angle("15'")

    assert says_of(found) == "Is that degrees or minutes of a degree?"
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
    assert reason in says_of(found)


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
    ("1 oclock", -30),
    ("1 o-clock", -30),
    ("1.5 o'clock", -45),
    ("1:30 o'clock", -45),
    ("1:30", -45),
    ("half past 1", -45),
    ("half past 1 o'clock", -45),
    ("a quarter to 2", -52.5),
    ("half past 12", -15),
    ("45 L", 45),
    ("45 l.", 45),
    ("45, left", 45),
    ("R 45", -45),
    ("full turn left", 360),
    ("1 o'clock, 1 o'clock", -30),
]


@pytest.mark.parametrize(("text", "value"), WHEELS)
def test_a_wheel_position_is_left_positive(text, value):
    found = parse_wheel(text)

    assert found["ok"], found
    assert found["value"] == pytest.approx(value)
    assert set(found["positions"]) == {found["value"]}


SEVERAL = [
    ("1, 3, 11 o'clock", [-30, -90, 30]),
    ("1,3,11 o'clock", [-30, -90, 30]),
    ("1 and 11 o'clock", [-30, 30]),
    ("1 to 3 o'clock", [-30, -90]),
    ("1-3 o'clock", [-30, -90]),
    ("between 11 and 1 o'clock", [30, -30]),
    ("11 o'clock, then 1 o'clock", [30, -30]),
    ("10 left, 20 right", [10, -20]),
]


@pytest.mark.parametrize(("text", "positions"), SEVERAL)
def test_a_wheel_seen_in_several_positions_has_no_one_value(text, positions):
    assert parse_wheel(text) == {"ok": True, "value": None, "positions": positions}


def test_bare_numbers_in_a_row_are_asked_back_as_hours():
    found = parse_wheel("1, 3, 11")

    assert found["choices"] == [{"text": "1, 3, 11 o'clock", "value": None}]
    assert "Write each in full" in says_of(parse_wheel("1, 30"))
    assert "Write each in full" in says_of(parse_wheel("1, x o'clock"))


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("12", {"12 o'clock": 0, "12 deg left": 12, "12 deg right": -12}),
        ("10", {"10 o'clock": 60, "10 deg left": 10, "10 deg right": -10}),
        ("6", {"6 deg left": 6, "6 deg right": -6}),
        ("1/4 left", {"1/4 turn left": 90, "1/4 deg left": 0.25}),
    ],
)
def test_a_bare_number_of_the_clock_and_a_bare_fraction_are_asked_back(text, choices):
    found = parse_wheel(text)

    assert {each["text"]: each["value"] for each in found["choices"]} == choices
    assert all(parse_wheel(name)["value"] == value for name, value in choices.items())


@pytest.mark.parametrize(("text", "size"), [("45", 45), ("half turn", 180), ("6 o'clock", 180)])
def test_a_position_without_a_side_is_asked_back(text, size):
    found = parse_wheel(text)

    assert found["choices"] == [
        {"text": f"{size} deg left", "value": size},
        {"text": f"{size} deg right", "value": -size},
    ]


NO_WHEELS = [
    ("", "Nothing was entered"),
    ("left", "Say how far"),
    ("left right 10", "Say left or right only once"),
    ("-10 left", "no sign"),
    ("13 o'clock", "from 1 to 12"),
    ("o'clock", "from 1 to 12"),
    ("1:60 o'clock", "from 1 to 12"),
    ("1:3", "from 1 to 12"),
    ("1.30 o'clock", "from 1 to 12"),
    ("1,3 o'clock", "from 1 to 12"),
    ("half past 13", "from 1 to 12"),
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
    ("straight left", "“straight” is not part"),
    ("sometimes left", "“sometimes” is not part"),
]


@pytest.mark.parametrize(("text", "reason"), NO_WHEELS)
def test_what_is_no_position_is_refused_with_the_reason(text, reason):
    found = parse_wheel(text)

    assert not found["ok"]
    assert reason in says_of(found)


MARKS = [*"0123456789 /.,'°*-½", "deg", "min", "o'clock", "turn", "left", "right", "half", "to"]


@given(st.text() | st.lists(st.sampled_from(MARKS), max_size=8).map(" ".join))
def test_any_text_gives_an_angle_or_a_sentence(text):
    for found in (parse_angle(text), parse_wheel(text)):
        if found["ok"]:
            assert all(abs(each) <= 1080 for each in found.get("positions", [found["value"]]))
        else:
            assert says_of(found)[-1] in ".?"
