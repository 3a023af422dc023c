"""Changes: turns as written, what they lengthen, in words; and what they make stale."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reckon_kit import SAMPLE, entry

from webapp.reckon.changes import (
    ASKS,
    CHANGES,
    change_words,
    length_of_turns,
    parse_turns,
)
from webapp.reckon.stale import REOPENS, SINCE, reopened_words, stale
from webapp.reckon.walk import missing, next_after, places

TURNS = [
    ("3 1/2", 3.5),
    ("3", 3),
    ("1/4", 0.25),
    ("2.5 turns", 2.5),
    ("half", 0.5),
    ("1 turn", 1),
]


@pytest.mark.parametrize(("text", "turns"), TURNS)
def test_turns_are_read_as_they_are_written(text, turns):
    assert parse_turns(text) == {"ok": True, "value": turns}


@pytest.mark.parametrize("text", ["", "turns", "some", "0", "1/0", "3/", "2 3"])
def test_what_is_no_number_of_turns_is_refused(text):
    assert "3 1/2" in parse_turns(text)["says"]


def test_more_turns_than_an_adjuster_has_are_refused():
    assert "that far" in parse_turns("400")["says"]


def test_turns_lengthen_by_the_thread_and_say_nothing_without_one():
    assert length_of_turns(3.5, {"kind": "one_end", "pitch": 1.5}) == 5.25
    assert length_of_turns(-1, {"kind": "both_ends", "pitch": 1.5}) == -3
    assert length_of_turns(1, {"kind": "fixed", "pitch": None}) is None
    assert length_of_turns(1, None) is None


WORDS = [
    ({"what": "bar_turned", "turns": 3.5, "length_change": 5.55}, "3 1/2 turns out, 5.6 mm longer"),
    ({"what": "link_turned", "turns": -1, "length_change": -3.0}, "1 turn in, 3.0 mm shorter"),
    ({"what": "bracket_moved", "moved": 25, "toward": "down", "part": "axle-end"}, "25.0 mm down"),
    ({"what": "bracket_moved", "moved": -4}, "4.0 mm across"),
    ({"what": "part_replaced", "part": "bush", "text": "both sides"}, "bush, both sides"),
    ({"what": "axle_painted"}, "axle painted"),
    ({}, "not said"),
]


@pytest.mark.parametrize(("body", "says"), WORDS)
def test_a_change_is_said_with_its_amounts(body, says):
    assert says in change_words(body, "mm").replace("\u202f", " ")


def test_every_change_has_what_it_asks_reopens_and_how_it_is_said():
    assert set(CHANGES) == set(ASKS) == set(REOPENS) == set(SINCE)


def made(id, kind, body, round="as_found"):
    return entry(id, kind, body, round=round)


def change(what, id="c", round="as_found"):
    return made(id, "change", {"what": what}, round)


def reading(step, field="left", id="r", round="as_found"):
    return made(id, "reading", {"step": step, "field": field, "value": 200.0}, round)


def reopened(entries, round="as_found"):
    return [each["finding"] for each in stale(entries, round)]


# By the rules of the walk: what each change reopens. The torque comes with all of them.
RULES = [
    ("bar_turned", ["centring", "wheel", "clearance", "torque"]),
    ("bar_replaced", ["centring", "wheel", "play", "clearance", "torque"]),
    ("bracket_moved", ["centring", "bump_steer", "wheel", "clearance", "torque"]),
    ("pitman_changed", ["bump_steer", "wheel", "clearance", "torque"]),
    ("hole_repaired", ["centring", "wheel", "play", "clearance", "torque"]),
    ("part_replaced", ["play", "clearance", "torque"]),
    ("link_turned", ["wheel", "torque"]),
    ("axle_painted", []),
]


@pytest.mark.parametrize(("what", "findings"), RULES)
def test_a_change_reopens_findings_by_its_kind(what, findings):
    assert reopened([change(what)]) == findings


AGAIN = [
    ("centring", reading("centring", id="x")),
    ("clearance", reading("clearance", "gap", id="x")),
    ("play", reading("play", "along", id="x")),
    ("torque", reading("torque", "fastener", id="x")),
    ("wheel", made("x", "pick", {"step": "drag_link", "field": "wheel_deg", "value": 0})),
    ("bump_steer", reading("track_bar", "axle_height", id="x")),
    ("bump_steer", made("x", "pick", {"step": "drag_link", "field": "carried", "value": True})),
]


@pytest.mark.parametrize(("finding", "entry_again"), AGAIN)
def test_what_is_made_again_is_stale_no_more(finding, entry_again):
    changes = [change("bracket_moved", "c1"), change("part_replaced", "c2")]

    assert finding in reopened(changes)
    assert finding not in reopened([*changes, entry_again])
    assert finding in reopened([entry_again, *changes])


def test_a_note_or_another_reading_makes_nothing_again():
    others = [made("n", "note", {"text": "done"}), reading("heights", id="h")]

    assert reopened([change("link_turned"), *others]) == ["wheel", "torque"]


def test_a_struck_change_overtakes_nothing():
    strike = made("s", "strike", {"target": "c", "reason": "wrong job"})

    assert reopened([change("bar_turned"), strike]) == []


def test_a_round_that_a_later_one_follows_is_history():
    entries = [
        reading("centring"),
        change("bar_turned"),
        reading("heights", id="h", round="as_left"),
    ]

    assert reopened(entries, "as_found") == []
    assert "centring" in reopened(entries, "as_left")


def test_a_rear_axle_has_no_steering_to_set():
    opened = entry("o", "job", {"axle": "rear", "round": "as_found"})

    assert reopened([opened, change("bracket_moved")]) == ["centring", "clearance", "torque"]


def test_it_is_said_what_to_do_and_since_when():
    [centring, *_] = stale([change("bar_turned")], "as_found")

    assert centring["says"] == "Measure the centring again: the track bar was turned since then."
    assert reopened_words("bar_turned") == (
        "This reopens centring, steering wheel, clearance and torque."
    )
    assert reopened_words("link_turned") == "This reopens steering wheel and torque."
    assert reopened_words("axle_painted") == "This reopens the torque."


@given(st.lists(st.sampled_from([*CHANGES, "note"]), max_size=6))
def test_more_changes_never_make_less_stale(kinds):
    entries = [
        made(f"n{i}", "note", {"text": ""}) if kind == "note" else change(kind, f"c{i}")
        for i, kind in enumerate(kinds)
    ]

    found = [set(reopened(entries[:count])) for count in range(len(entries) + 1)]

    assert all(less <= more for less, more in pairwise(found))


def states(sheet, overtaken=None, state="open"):
    return {each["step"]: each["state"] for each in places(sheet, state, overtaken)}


def test_places_show_what_is_stale_and_hand_in_lists_it():
    overtaken = stale([reading("centring"), change("bar_turned")], "as_found")

    assert states(SAMPLE, overtaken)["centring"] == "stale"
    assert states(SAMPLE)["centring"] == "done"
    steps = [each["step"] for each in missing(SAMPLE, overtaken)]
    assert steps.count("centring") == 1 and "torque" in steps
    bare = [each["says"] for each in missing({}, overtaken)]
    assert not any("centring again" in says for says in bare)


def test_steps_that_nobody_began_stay_empty_and_are_passed_by():
    sheet = {"drag_link": {"length": 905}, "changes": ["bar_turned"]}

    assert states({})["drag_link"] == states({})["change"] == "empty"
    assert states(sheet)["drag_link"] == "begun"
    assert states(sheet)["change"] == "done"
    assert states({"steering": {"wheel_deg": 0}})["drag_link"] == "done"
    assert next_after(places({}, "open"), "track_bar")["step"] == "hand_in"
    assert next_after(places(sheet, "open"), "track_bar")["step"] == "drag_link"
    assert next_after(places(sheet, "open"), "hand_in")["step"] == "hand_in"
