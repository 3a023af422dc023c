"""Play joint by joint, its totals, and what would repair a worn hole."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worded import worded
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.checks import play as checks
from webapp.reckon.checks.hole_sizes import EDGES, INCH_HOLES, METRIC_HOLES
from webapp.reckon.checks.play import along_of
from webapp.reckon.checks.repairs import drill_before, edge_needed, oval_of, repairs
from webapp.reckon.joint_terms import LOOSE_NAMES, fields_of
from webapp.reckon.sentences import play_reasons

joint_found, play = worded(checks.joint_found), worded(checks.play)
BAR, LINK = SAMPLE["track_bar"], SAMPLE["drag_link"]
JOINT = SAMPLE["play"][0]
WORN = {"bolt": 14.1, "hole_long": 15.2, "hole_short": 14.6, "edge": 30}


def repairs_told(joint, unit="mm"):
    """The repair choices of a joint as their readers meet them."""
    return worded(checks.joint_found, unit)(joint)["repairs"]


def test_a_reading_both_ways_counts_as_both():
    assert along_of({"along": [0.4, 0.5]}) == pytest.approx(0.9)
    assert along_of({"along": 0.7}) == 0.7
    assert along_of({}) is None


def test_clearance_and_oval_come_from_bolt_and_hole():
    found = joint_found(JOINT)

    assert found["clearance"] == pytest.approx(0.7)
    assert found["oval"] == pytest.approx(0.6)
    assert found["state"] == "recorded"


@pytest.mark.parametrize(
    ("hole", "oval"),
    [
        ({"hole_long": 15.2, "hole_short": 15.15}, 0),
        ({"hole_long": 15.2, "hole_short": 15.0, "read_to": 0.5}, 0),
        ({"hole_long": 15.2, "hole_short": 15.0, "read_to": 0.1}, 0.2),
        ({"hole_long": 15.2}, None),
        ({"hole_long": 14.3, "hole_short": 14.2}, 0),
        ({"hole_long": 16.1, "hole_short": 16.0}, 0),
        ({"hole_long": 17.0, "hole_short": 16.9}, 0),
        ({"hole_long": 15.2, "hole_short": 15.1}, 0),
        ({"hole_long": 16.1, "hole_short": 16.0, "read_to": 0.05}, 0.1),
    ],
)
def test_a_hole_is_oval_beyond_what_the_tool_can_tell(hole, oval):
    assert oval_of(hole) == (pytest.approx(oval) if oval is not None else None)


LIMITS = [
    ({}, "recorded", "recorded and not judged: no limit is known"),
    ({"maker_limit": 1.0}, "inside", "inside the maker's figure of 1.0 mm"),
    ({"maker_limit": 0.5}, "outside", "outside the maker's figure of 0.5 mm"),
    ({"house_limit": 0.5}, "outside", "outside the house limit of 0.5 mm"),
    (
        {"maker_limit": 1.0, "house_limit": 0.5},
        "inside",
        "inside the maker's figure of 1.0 mm and outside the house limit of 0.5 mm",
    ),
    ({"maker_limit": 1.0, "along": None}, "recorded", "no movement along the bar is recorded"),
]


def test_nothing_is_said_of_a_hole_that_is_round_as_far_as_the_tool_can_tell():
    found = checks.joint_found({"bolt": 14.0, "hole_long": 14.5, "hole_short": 14.45})

    assert found["oval"] == 0.0
    assert "oval_hole" not in [each["code"] for each in found["reasons"]]


@pytest.mark.parametrize(("joint", "state", "says"), LIMITS)
def test_the_makers_figure_and_the_house_limit_are_never_merged(joint, state, says):
    found = joint_found({"joint": "axle end", "along": 0.8, **joint})

    assert found["state"] == state
    assert says in found["why"][0].replace("\u202f", " ")


def test_each_kind_of_looseness_has_its_own_sentence():
    says = {joint_found({"loose": kind})["why"][1] for kind in checks.LOOSE}

    assert len(says) == len(checks.LOOSE)
    assert list(LOOSE_NAMES) == list(play_reasons.LOOSE) == checks.LOOSE


def test_a_bolt_larger_than_its_hole_was_misread():
    found = joint_found({"bolt": 16, "hole_long": 15})

    assert "the bolt measures more than its hole. Measure both again." in found["why"]


def test_play_along_the_bar_adds_over_its_joints_only():
    joints = [
        {"joint": "frame end", "of": "track_bar", "along": [0.4, 0.5]},
        {"joint": "axle end", "along": 0.3},
        {"joint": "pitman ball", "of": "drag_link", "along": 0.6},
        {"joint": "box", "of": "other", "along": 5.0},
    ]
    run = math.sqrt(862**2 - 114**2 - 18**2)

    found = play(joints, BAR, LINK)

    assert found["axle_movement"] == pytest.approx(1.2 * 862 / run)
    assert math.sin(math.radians(found["steer_deg"])) * 158 == pytest.approx(found["axle_movement"])
    assert found["rim_deg"] == pytest.approx(found["steer_deg"] * 18)
    link_run = math.sqrt(905**2 - 67**2 - 12**2)
    assert math.sin(math.radians(found["link_steer_deg"])) * 158 == pytest.approx(
        0.6 * 905 / link_run
    )
    assert found["link_rim_deg"] == pytest.approx(found["link_steer_deg"] * 18)
    assert found["why"][1] == (
        "Track bar, axle end: 0.3\u202fmm along the bar, recorded and not judged: no limit is "
        "known."
    )


NO_TOTALS = [
    ([{"along": None}], BAR, LINK),
    ([{"along": 1}], None, LINK),
    ([{"along": 1}], {**BAR, "length": None}, LINK),
    ([{"along": 1}], {**BAR, "length": 60}, LINK),
]


@pytest.mark.parametrize(("joints", "bar", "link"), NO_TOTALS)
def test_totals_are_left_empty_where_they_cannot_be_known(joints, bar, link):
    found = play(joints, bar, link)

    assert found["axle_movement"] is None
    assert found["steer_deg"] is None
    assert found["rim_deg"] is None


@pytest.mark.parametrize(
    "link",
    [None, {}, {**LINK, "length": None}, {**LINK, "axle_height": None}, {**LINK, "length": 60}],
)
def test_the_links_own_play_needs_the_link(link):
    found = play([{"along": 1, "of": "drag_link"}], BAR, link)

    assert found["link_steer_deg"] is None


def test_a_movement_longer_than_the_arm_has_no_angle():
    assert play([{"along": 200}], BAR, LINK)["steer_deg"] is None
    assert play([{"along": 1}], BAR, {"arm": 158})["rim_deg"] is None
    assert play([{"along": 1}], BAR, {})["steer_deg"] is None


def test_the_next_bolt_is_the_smallest_whose_snug_hole_takes_the_wear_away():
    choices = repairs_told(WORN)

    assert [each["kind"] for each in choices] == [
        "next_bolt",
        "next_bolt",
        "weld_washers",
        "new_bracket",
    ]
    metric, inch, washers, bracket = choices
    assert (metric["bolt"], metric["hole"], metric["sleeve_bore"]) == ("M16", 16.1, 16)
    assert metric["pitches"] == [2.0, 1.5]
    assert metric["source"] == "iso_273_fine"
    assert metric["confidence"] == "two"
    assert "Drill 16\u202fmm, then ream to 16.1\u202fmm for an M16 bolt" in metric["says"]
    assert "By ISO 273, fine series, the hole is 17.0\u202fmm: the bolt drops" in metric["says"]
    assert (inch["bolt"], inch["hole"]) == ("5/8 in", pytest.approx(15.975))
    assert "Drill 5/8\u202fin, then ream to 15.98\u202fmm (0.629\u202fin)" in inch["says"]
    assert washers["hole"] == pytest.approx(14.2)
    assert washers["covers"] == 15.2
    assert all("qualified person" in each["says"] for each in (washers, bracket))


@pytest.mark.parametrize(
    "worn",
    [
        {"bolt": 15.9, "hole_long": 17.0},
        {"bolt": 15.875, "hole_long": 16.7},
        {"bolt": 14.1, "hole_long": 15.0},
        {"bolt": 14.2875, "hole_long": 15.2},
        {"bolt": 12.0, "hole_long": 12.3, "hole_short": 12.1},
    ],
)
def test_no_repair_rebuilds_the_fault(worn):
    """A close-fit hole of the tables is one that a bolt drops through: 1.00 mm with an M16."""
    choices = repairs(worn)

    assert len(choices) >= 2
    assert all(0.1 <= each["clearance"] + 1e-9 <= 0.2 + 2e-9 for each in choices)


def test_a_nine_sixteenths_bolt_is_no_m14_and_gets_its_word():
    worn = {"joint": "axle end", "bolt": 14.2875, "hole_long": 15.0}
    found = joint_found(worn, 0.8)

    assert found["clearance_state"] == "inside"
    assert found["why"][1].startswith("its bolt has 0.71\u202fmm of clearance in the hole, inside")
    tight = joint_found(worn, 0.5)
    assert tight["clearance_state"] == "outside"
    assert [each["bolt"] for each in repairs(worn, 0.5) if "bolt" in each] == ["M16", "5/8 in"]
    assert repairs({"bolt": 12.7, "hole_long": 14.3})[1]["bolt"] == "9/16 in"


def test_each_choice_says_what_it_leaves_loose():
    found = play([{**WORN, "joint": "frame end", "along": 0.9}], BAR, LINK, 0.8)["joints"][0]
    metric = found["repairs"][0]
    run = math.sqrt(862**2 - 114**2 - 18**2)

    assert metric["axle_movement"] == pytest.approx(0.1 * 862 / run)
    assert metric["rim_deg"] == pytest.approx(
        math.degrees(math.asin(metric["axle_movement"] / 158)) * 18
    )
    assert metric["says"].endswith(
        "It leaves 0.1\u202fmm of clearance, 0.1\u202fmm at the axle, 0.7° at the steering wheel."
    )


STEERING = [
    {"joint": "drag link frame end", "of": "drag_link"},
    {"joint": "left tie rod end", "of": "other"},
    {"joint": "Pitman arm", "of": "other"},
]
BAD = [
    WORN,
    {"bolt": 15.0, "hole_long": 16.2},
    {"bolt": 15.0, "hole_long": 15.1, "hole_short": 14.9},
    {"along": 2.0, "house_limit": 1.5},
    {"along": 2.0, "maker_limit": 1.5, "house_limit": 3.0},
    *[{"loose": loose} for loose in LOOSE_NAMES],
]


@pytest.mark.parametrize("joint", STEERING)
@pytest.mark.parametrize("bad", BAD)
def test_a_bad_steering_joint_is_replaced_and_nothing_of_it_is_drilled_or_welded(joint, bad):
    found = joint_found({**joint, **bad}, 0.8, BAR, LINK)

    assert [(each["kind"], each["says"]) for each in found["repairs"]] == [
        (
            "replace_part",
            "Replace the worn part. Never drill, ream, heat or weld a steering part.",
        )
    ]
    assert not re.search(
        r"\b(drill|ream|weld|washers|bracket with|shank goes)\b", " ".join(found["why"])
    )


@pytest.mark.parametrize("joint", STEERING)
def test_a_good_steering_joint_needs_no_repair(joint):
    good = {"along": 0.3, "house_limit": 1.5, "bolt": 15.0, "hole_long": 15.1, "hole_short": 15.0}

    assert joint_found({**joint, **good}, 0.8)["repairs"] == []


@pytest.mark.parametrize(("of", "fields"), [("track_bar", 6), ("drag_link", 4), ("steering", 4)])
def test_what_only_a_repaired_hole_asks_for_is_asked_of_the_track_bar_alone(of, fields):
    asked = fields_of(of)

    assert len(asked) == fields
    assert ("edge" in asked) is (of == "track_bar")
    assert ("sleeve" in asked) is (of == "track_bar")


def test_the_list_of_choices_begins_with_no_or():
    says = [each["says"] for each in repairs_told({"bolt": 30.0, "hole_long": 33.0})]

    assert [each.split(" ")[0] for each in says] == ["Weld", "Or"]
    too_near = [each["says"] for each in repairs_told({**WORN, "edge": 10})]
    assert [each.split(" ")[0] for each in too_near] == ["Do", "Do", "Weld", "Or"]


@pytest.mark.parametrize(
    ("hole", "unit", "drill"),
    [(16.1, "mm", "16\u202fmm"), (14.39, "in", "9/16\u202fin"), (9.6, "in", "letter U")],
)
def test_a_drill_of_the_shop_leaves_something_to_ream(hole, unit, drill):
    assert play_reasons.drill_words(drill_before(hole, unit)) == drill


def test_the_edge_distance_left_is_taken_from_the_middle_of_the_new_hole():
    metric = repairs_told(WORN)[0]

    assert metric["edge_left"] == pytest.approx(30 - 0.3)
    assert metric["edge_needed"] == 22
    assert "29.7\u202fmm to the edge is left, 22.0\u202fmm is the least" in metric["says"]


def test_in_inches_play_and_holes_are_thousandths_and_the_inch_bolt_comes_first():
    inch, metric, washers, _ = repairs_told({**WORN, "along": 0.9}, "in")

    assert (inch["bolt"], metric["bolt"]) == ("5/8 in", "M16")
    assert "ream to 0.629\u202fin for a 5/8 in bolt, with a sleeve of 0.625\u202fin" in inch["says"]
    assert "ream to 0.634\u202fin (16.1\u202fmm) for an M16 bolt" in metric["says"]
    assert "Or weld washers with a 0.559\u202fin (14.2\u202fmm) hole" in washers["says"]
    found = worded(checks.joint_found, "in")({"along": 0.9, "house_limit": 0.5})
    assert found["why"][0] == (
        "0.035\u202fin (0.9\u202fmm) along the bar, outside the house limit of "
        "0.020\u202fin (0.5\u202fmm)."
    )


def test_a_joint_without_a_name_is_called_so():
    found = play([{"along": 0.9}], None, None)

    assert found["why"] == [
        "A joint: 0.9\u202fmm along the bar, recorded and not judged: no limit is known."
    ]


def test_a_hole_of_just_the_next_size_is_taken_with_its_sleeve():
    choice = repairs_told({"bolt": 14.1, "hole_long": 16.2, "edge": 22})[0]

    assert choice["bolt"] == "M16"
    assert choice["hole"] == 16.2
    assert choice["edge_left"] == 22
    assert "22.0\u202fmm to the edge is left" in choice["says"]
    assert "a sleeve of 15.88\u202fmm (0.625\u202fin) bore" in repairs_told(WORN)[1]["says"]


def test_too_little_metal_at_the_edge_is_told():
    says = repairs_told({**WORN, "edge": 22})[0]["says"]

    assert says.startswith("Do not drill for an M16 bolt. Too little metal: 21.7")
    assert "then ream" not in says and "It leaves" not in says


@pytest.mark.parametrize("edge", [{"edge": None}, {"edge": 60, "bolt": 30, "hole_long": 31.9}])
def test_an_edge_that_is_not_known_is_asked_for(edge):
    choice = repairs_told({**WORN, "hole_short": None, **edge})[0]

    if choice["edge_needed"] is None or choice["edge_left"] is None:
        assert "Measure from the hole's middle to the bracket's edge" in choice["says"]


@pytest.mark.parametrize(
    "joint", [{}, {"bolt": 14}, {"hole_long": 15}, {"bolt": 14.2, "hole_long": 15.0}]
)
def test_a_hole_that_is_not_worn_needs_no_repair(joint):
    assert repairs(joint, 0.8) == []


def test_a_hole_worn_past_every_size_leaves_washers_and_a_bracket():
    assert [each["kind"] for each in repairs({"bolt": 30, "hole_long": 60})] == [
        "weld_washers",
        "new_bracket",
    ]


def test_edge_distances_are_those_of_the_next_size_of_the_table():
    assert edge_needed(14)[1] == 22.225
    assert edge_needed(16)[1] == 22
    assert edge_needed(40) is None


def test_the_tables_rise_and_name_their_confidence():
    for table in (METRIC_HOLES, INCH_HOLES, EDGES):
        sizes = [row[1] if isinstance(row[0], str) else row[0] for row in table]
        assert sizes == sorted(sizes)
        assert all(row[-1] in ("two", "one") for row in table)
    assert all(row[2] > row[1] for row in METRIC_HOLES + INCH_HOLES)


@given(st.floats(6, 32), st.floats(0, 8), st.floats(0, 4))
def test_a_repair_always_cleans_the_wear_up(bolt, wear, oval):
    joint = {"bolt": bolt, "hole_long": bolt + wear, "hole_short": max(bolt + wear - oval, 1)}

    for choice in repairs(joint):
        if choice["kind"] == "next_bolt":
            assert choice["hole"] >= joint["hole_long"]
            assert choice["sleeve_bore"] > bolt


def test_play_is_among_the_findings_and_its_sentences():
    found = assess(changed(SAMPLE))

    assert found["play"]["joints"][0]["joint"] == "frame end"
    assert any(says.startswith("Track bar, frame end: 0.9") for says in found["why"])
    names = {each["name"]: each["shows"] for each in found["numbers"]}
    assert names["Axle movement in play"] == "0.9\u202fmm"
