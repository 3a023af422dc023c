"""Turns of an adjuster as people write them."""

import pytest

from webapp.reckon.sentences.typed_answers import says_of
from webapp.reckon.typed.turns import parse_turns

TURNS = [
    ("3 1/2", 3.5),
    ("3-1/2", 3.5),
    ("3 and a half", 3.5),
    ("3", 3),
    ("1/4", 0.25),
    ("2.5 turns", 2.5),
    ("half", 0.5),
    ("half a turn", 0.5),
    ("three quarters of a turn", 0.75),
    ("1 turn", 1),
    ("2 flats", 1 / 3),
    ("1 flat", 1 / 6),
    ("3 turns and 2 flats", 3 + 1 / 3),
    ("3 turns 2 flats", 3 + 1 / 3),
    ("turn and 1/2", 1.5),
    ("a turn and a half", 1.5),
    ("full turn and 1/2", 1.5),
    ("turn + 1/4", 1.25),
    ("turn and 2 flats", 1 + 1 / 3),
]


@pytest.mark.parametrize(("text", "turns"), TURNS)
def test_turns_are_read_as_they_are_written(text, turns):
    assert parse_turns(text) == {"ok": True, "value": pytest.approx(turns)}


@pytest.mark.parametrize(
    "text",
    ["", "turns", "some", "0", "1/0", "3/", "2 3", "flats", "3 turns flats", "x flats", "2 3 flats",
     "3 1/2 out", "3 turns 2", "x turns 2 flats", "turn 1/2", "turn 2 flats"],
)  # fmt: skip
def test_what_is_no_number_of_turns_is_refused(text):
    assert "3 1/2" in says_of(parse_turns(text))


def test_more_turns_than_an_adjuster_has_are_refused():
    assert "that far" in says_of(parse_turns("400"))
