"""Changes: turns as written, what they lengthen, in words; and what they make stale."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worked_sheets import SAMPLE, entry

from webapp.reckon.log.changes import CHANGE_ASKS, length_of_turns
from webapp.reckon.log.stale import FINDINGS, REOPENS, reopened_findings, stale
from webapp.reckon.sentences.change_words import (
    CHANGE_NAMES,
    FINDING_NAMES,
    SINCE,
    change_words,
    reopened_sentence,
    stale_sentence,
)
from webapp.reckon.walk.missing import missing
from webapp.reckon.walk.steps import next_after, places


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
    ({"what": "part_replaced", "part": "bushing", "text": "both sides"}, "bushing, both sides"),
    ({"what": "axle_painted"}, "axle painted"),
    ({}, "not said"),
]


@pytest.mark.parametrize(("body", "says"), WORDS)
def test_a_change_is_said_with_its_amounts(body, says):
    assert says in change_words(body, "mm").replace("\u202f", " ")


def test_every_change_has_what_it_asks_reopens_and_how_it_is_said():
    assert set(CHANGE_NAMES) == set(CHANGE_ASKS) == set(REOPENS) == set(SINCE)
    assert list(FINDING_NAMES) == FINDINGS


def made(id, kind, body, round="as_found"):
    return entry(id, kind, body, round=round)


def change(what, id="c", round="as_found", **more):
    return made(id, "change", {"what": what, **more}, round)


def reading(step, field="left", id="r", round="as_found", **more):
    return made(id, "reading", {"step": step, "field": field, "value": 200.0, **more}, round)


def reopened(entries, round="as_found"):
    return [each["finding"] for each in stale(entries, round)]


def said_again(entries, step, round="as_found"):
    return [stale_sentence(each) for each in stale(list(entries), round) if each["step"] == step]


# By the rules of the walk: what each change reopens. The torque comes with all of them.
RULES = [
    ("bar_turned", ["centering", "wheel", "clearance", "torque"]),
    ("bar_replaced", ["centering", "wheel", "play", "clearance", "torque"]),
    ("bracket_moved", ["centering", "bump_steer", "wheel", "clearance", "torque"]),
    ("pitman_changed", ["bump_steer", "wheel", "clearance", "torque"]),
    ("hole_repaired", ["centering", "wheel", "play", "clearance", "torque"]),
    ("part_replaced", ["centering", "wheel", "play", "clearance", "torque"]),
    ("link_turned", ["wheel", "torque"]),
    ("link_replaced", ["toe", "wheel", "play", "clearance", "torque"]),
    (
        "springs_changed",
        [
            "heights",
            "centering",
            "bar_heights",
            "link_heights",
            "travel",
            "wheel",
            "clearance",
            "torque",
        ],
    ),
    (
        "wheels_changed",
        [
            "heights",
            "centering",
            "bar_heights",
            "link_heights",
            "travel",
            "wheel",
            "clearance",
            "torque",
        ],
    ),
    ("toe_set", ["toe", "wheel", "torque"]),
    ("arm_moved", ["bump_steer", "toe", "wheel", "clearance", "torque"]),
    (
        "part_removed",
        ["heights", "bar_heights", "link_heights", "travel", "clearance", "torque"],
    ),
    ("axle_painted", []),
]


@pytest.mark.parametrize(("what", "findings"), RULES)
def test_a_change_reopens_findings_by_its_kind(what, findings):
    assert reopened([change(what)]) == findings


AGAIN = [
    ("centering", reading("centering", id="x")),
    ("clearance", reading("clearance", "gap", id="x")),
    ("play", reading("play", "along", id="x")),
    ("torque", reading("torque", "fastener", id="x")),
    ("wheel", made("x", "pick", {"step": "drag_link", "field": "wheel_deg", "value": 0})),
    ("bump_steer", reading("track_bar", "axle_height", id="x")),
]


@pytest.mark.parametrize(("finding", "entry_again"), AGAIN)
def test_what_is_made_again_is_stale_no_more(finding, entry_again):
    changes = [change("bracket_moved", "c1"), change("part_replaced", "c2")]

    assert finding in reopened(changes)
    assert finding not in reopened([*changes, entry_again])
    assert finding in reopened([entry_again, *changes])


def bolt(name, id="b", **more):
    return reading("torque", "fastener", id, fastener=name, **more)


def joint(name, id="j"):
    return reading("play", "along", id, joint=name)


def gap(state, id, lock="straight", pair=("track bar", "tie rod"), round="as_found"):
    return reading("clearance", "gap", id, round, between=list(pair), state=state, lock=lock)


# Change, its part, what has to be done again, and what does not do for it.
EACH = [
    ("bar_turned", None, "torque", [bolt("jam nuts")], [bolt("drag link clamps")]),
    ("link_turned", None, "torque", [bolt("drag link clamps")], [bolt("jam nuts")]),
    (
        "bar_replaced",
        None,
        "torque",
        [bolt("frame-end bolt", "1"), bolt("axle-end bolt", "2")],
        [bolt("frame-end bolt", "1"), bolt("jam nuts", "2")],
    ),
    (
        "hole_repaired",
        "frame-end bracket",
        "torque",
        [bolt("frame-end bolt")],
        [bolt("frame-end bolt", moved=False)],
    ),
    ("bracket_moved", "axle-end bracket", "torque", [bolt("bracket stud")], [bolt("jam nuts")]),
    ("bar_replaced", None, "play", [joint("frame end", "1"), joint("axle end", "2")], []),
    ("bar_replaced", None, "play", [joint("frame end", "1"), joint("ball", "2")], [joint("ball")]),
    ("hole_repaired", "frame-end bracket", "play", [joint("frame end")], [joint("axle end")]),
    (
        "part_replaced",
        "drag link",
        "play",
        [joint("drag link frame end", "1"), joint("drag link axle end", "2")],
        [joint("drag link frame end", "1"), joint("axle end", "2")],
    ),
    (
        "bracket_moved",
        "frame-end bracket",
        "bump_steer",
        [reading("track_bar", "frame_height")],
        [
            reading("track_bar", "axle_height", "1"),
            made("x", "pick", {"step": "track_bar", "field": "carried", "value": True}),
        ],
    ),
    (
        "springs_changed",
        "springs",
        "heights",
        [reading("heights", "left", "1"), reading("heights", "right", "2")],
        [reading("heights", "left")],
    ),
    (
        "springs_changed",
        "springs",
        "link_heights",
        [reading("drag_link", "frame_height", "1"), reading("drag_link", "axle_height", "2")],
        [reading("track_bar", "frame_height", "1"), reading("drag_link", "axle_height", "2")],
    ),
    (
        "part_removed",
        "bump stop",
        "travel",
        [reading("track_bar", "bump", "1"), reading("track_bar", "droop", "2")],
        [reading("track_bar", "bump", "1")],
    ),
    (
        "arm_moved",
        "steering arm",
        "bump_steer",
        [reading("drag_link", "axle_height")],
        [reading("drag_link", "frame_height")],
    ),
    (
        "pitman_changed",
        "longer arm",
        "bump_steer",
        [reading("drag_link", "frame_height")],
        [reading("track_bar", "frame_height")],
    ),
]


@pytest.mark.parametrize(("what", "part", "finding", "enough", "too_little"), EACH)
def test_everything_that_a_change_undid_is_done_again(what, part, finding, enough, too_little):
    changed = change(what, **({"part": part} if part else {}))

    assert finding in reopened([changed, *too_little])
    assert finding not in reopened([changed, *enough])


def test_it_is_said_which_are_left():
    entries = [change("bar_replaced"), bolt("axle-end bolt")]

    [says] = said_again(entries, "torque")

    assert says.startswith("Torque what was undone (frame-end bolt): ")


def test_changes_ask_for_what_each_undid_in_one_sentence():
    turned = [change("bar_turned", "1"), change("link_turned", "2")]
    replaced = change("bar_replaced", "3")

    def torques(*entries):
        return said_again(entries, "torque")

    assert torques(*turned, bolt("drag link clamps")) == [
        "Torque what was undone (jam nuts): the track bar was turned since then."
    ]
    assert torques(*turned, replaced) == [
        "Torque what was undone (jam nuts, drag link clamps, frame-end bolt and axle-end bolt): "
        "the track bar was replaced since then."
    ]


def test_every_place_that_was_looked_at_before_a_change_is_looked_at_again():
    before = [gap("ride", "1"), gap("full_bump", "2", pair=("tie rod", "track bar"))]
    entries = [*before, change("bar_turned"), gap("ride", "3", round="as_left")]

    [says] = said_again(entries, "clearance", "as_left")

    assert says.startswith("Check the clearance again, 1 place is left: ")
    assert "clearance" not in reopened(
        [*entries, gap("full_bump", "4", round="as_left")], "as_left"
    )


def test_a_note_or_another_reading_makes_nothing_again():
    others = [made("n", "note", {"text": "done"}), reading("heights", id="h")]

    assert reopened([change("link_turned"), *others]) == ["wheel", "torque"]


def test_a_struck_change_overtakes_nothing():
    strike = made("s", "strike", {"target": "c", "reason": "wrong job"})

    assert reopened([change("bar_turned"), strike]) == []


def test_a_round_that_a_later_one_follows_is_history():
    entries = [
        reading("centering"),
        change("bar_turned"),
        reading("heights", id="h", round="as_left"),
    ]

    assert reopened(entries, "as_found") == []
    assert "centering" in reopened(entries, "as_left")


def test_a_rear_axle_has_no_steering_to_set():
    opened = entry("o", "job", {"axle": "rear", "round": "as_found"})

    assert reopened([opened, change("bar_turned")]) == ["centering", "clearance", "torque"]
    assert reopened([opened, change("pitman_changed")]) == ["clearance", "torque"]
    assert "link_heights" not in reopened([opened, change("springs_changed")])


def test_a_moved_bracket_asks_for_its_height_on_a_rear_axle_too():
    opened = entry("o", "job", {"axle": "rear", "round": "as_found"})
    moved = change("bracket_moved", part="axle-end bracket")

    [says] = said_again([opened, moved], "track_bar")

    assert "axle-end height of the track bar" in says
    assert said_again([opened, moved], "drag_link") == []


def test_it_is_said_what_to_do_and_since_when():
    assert said_again([change("bar_turned")], "centering") == [
        "Measure the centering again: the track bar was turned since then."
    ]


def test_what_a_change_reopens_is_said_in_one_sentence():
    def says(what):
        return reopened_sentence(reopened_findings(what))

    assert says("bar_turned") == "This reopens centering, steering wheel, clearance and torque."
    assert says("link_turned") == "This reopens steering wheel and torque."
    assert says("axle_painted") == "This reopens the torque."


@given(st.lists(st.sampled_from([*CHANGE_NAMES, "note"]), max_size=6))
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
    overtaken = stale([reading("centering"), change("bar_turned")], "as_found")

    assert states(SAMPLE, overtaken)["centering"] == "stale"
    assert states(SAMPLE)["centering"] == "done"
    steps = [each["step"] for each in missing(SAMPLE, overtaken)]
    assert steps.count("centering") == 1 and "torque" in steps
    bare = [each["says"] for each in missing({}, overtaken)]
    assert not any("centering again" in says for says in bare)


def test_steps_that_nobody_began_stay_empty_and_are_passed_by():
    sheet = {"drag_link": {"length": 905}, "changed_here": ["bar_turned"]}

    assert states({})["drag_link"] == states({})["change"] == "empty"
    assert states(sheet)["drag_link"] == "begun"
    assert states(sheet)["change"] == "done"
    assert states({"steering": {"wheel_deg": 0}})["drag_link"] == "done"
    assert next_after(places({}, "open"), "track_bar")["step"] == "hand_in"
    assert next_after(places(sheet, "open"), "track_bar")["step"] == "drag_link"
    assert next_after(places(sheet, "open"), "hand_in")["step"] == "hand_in"


def test_a_step_that_a_change_asks_for_is_gone_to_though_it_was_not_begun():
    overtaken = stale([change("bar_turned")], "as_found")

    assert states({}, overtaken)["torque"] == states({}, overtaken)["clearance"] == "asked"
    assert states({}, overtaken)["centering"] == "empty"
    assert next_after(places({}, "open", overtaken), "track_bar")["step"] == "drag_link"
