"""What moved the axle since the last accepted round."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worked_sheets import SAMPLE, changed, mirrored

from webapp.reckon.assess import assess
from webapp.reckon.checks.track_bar import shift_at

BEFORE = {"offset": 1.0, "expanded": 0.8, "heights": {"left": [241], "right": [239.5]}}


def moved(parts=None, **before):
    sheet = changed(SAMPLE, before={**BEFORE, **before}, **(parts or {}))
    return assess(sheet)["moved"]


def test_sagged_springs_move_the_axle_along_the_arc():
    """The frame stands 20 mm lower over the axle than before: the arc from there to today."""
    found = moved()

    assert found["from_height"] == pytest.approx(-shift_at(SAMPLE["track_bar"], -20))
    assert found["from_bar"] == 0
    assert found["observed"] == pytest.approx(4.35)
    assert found["rest"] == pytest.approx(4.35 - found["from_height"])


def test_a_logged_longer_bar_moves_the_axle_away_from_the_frame_end():
    found = moved(heights=SAMPLE["heights"], length_change=5.3)

    assert found["from_bar"] == pytest.approx(-5.35, abs=0.05)
    assert found["from_height"] == 0


def test_height_and_bar_are_both_taken_off_what_was_observed():
    found = moved(length_change=5.3)

    assert found["rest"] == pytest.approx(4.35 - found["from_height"] - found["from_bar"])
    assert [says.replace("\u202f", " ") for says in found["why"]] == [
        "Since the last round the axle moved: 4.4 mm to the left. Ride height and logged"
        " bar changes account for 8.3 mm to the right.",
        "Nothing that is logged explains the rest, 12.6 mm to the left (±1.3 mm): look for damage"
        " or play before adjusting.",
    ]


def test_a_round_in_inches_is_told_in_inches():
    found = moved({"units": "in"}, length_change=5.3)

    assert all("\u202fin (" in says for says in found["why"])
    assert found["why"][1].count("\u202fin (") == 2
    assert moved({"units": "in"}, offset=4.9)["why"][0].count("\u202fin (") == 2


def test_an_earlier_round_of_unknown_uncertainty_adds_none():
    assert moved(expanded=None)["expanded"] == pytest.approx(moved(expanded=0)["expanded"])


def test_what_the_arc_explains_needs_no_damage():
    explained = moved(offset=5.35 - moved()["from_height"])

    assert explained["state"] == "explained"
    assert explained["why"][-1] == "The rest is within what the readings can tell."
    assert explained["rest"] == pytest.approx(0)


def test_a_rest_without_a_logged_change_points_at_damage_or_play():
    found = moved()

    assert found["state"] == "unexplained"
    assert found["toward"] == "left"
    assert "look for damage or play before adjusting" in found["why"][-1]


def test_a_rest_with_other_work_logged_goes_with_it():
    found = moved(changed=True)

    assert found["state"] == "changed"
    assert "goes with the other work that is logged" in found["why"][-1]


def test_an_axle_that_stayed_is_told():
    found = moved(offset=5.35, heights=SAMPLE["heights"])

    assert (
        "the axle moved: nothing. Ride height and logged bar changes account for nothing"
        in (found["why"][0])
    )


def test_the_uncertainty_adds_both_rounds_and_the_heights():
    found = moved()
    slope = 114 / (862**2 - 114**2 - 18**2) ** 0.5

    assert found["expanded"] == pytest.approx(2 * (0.27 + 0.16 + slope**2 / 12) ** 0.5, abs=1e-3)
    assert found["improve"]["reading"] == "offset"


@pytest.mark.parametrize(
    ("parts", "before", "says"),
    [
        (None, {"offset": None}, "The offset of both rounds is needed"),
        ({"centering": None}, {}, "The offset of both rounds is needed"),
        (None, {"heights": None, "offset": 5.0}, "The ride height of both rounds is needed"),
        ({"heights": {"left": []}}, {"offset": 5.0}, "The ride height of both rounds is needed"),
        ({"track_bar": {"length": None}}, {}, "The track bar needs its length"),
        ({"track_bar": None}, {}, "The track bar needs on which side"),
        ({"track_bar": {"length": 50}}, {}, "A bar of this length cannot reach"),
    ],
)
def test_what_is_missing_is_named(parts, before, says):
    found = moved(parts, **before)

    assert found["state"] == "incomplete"
    assert found["why"][0].startswith(says)


def test_a_bar_that_could_not_reach_then_is_told():
    assert moved(length_change=800)["state"] == "impossible"


@given(st.floats(150, 300), st.floats(-8, 8), st.floats(-8, 8))
def test_a_mirrored_vehicle_moved_the_mirrored_way(height, offset, longer):
    sheet = changed(
        SAMPLE,
        before={
            "offset": offset,
            "heights": {"left": [height], "right": [height]},
            "length_change": longer,
        },
    )
    mirror = mirrored(sheet)
    mirror["before"]["offset"] = -offset

    found, other = assess(sheet)["moved"], assess(mirror)["moved"]

    assert other["rest"] == pytest.approx(-found["rest"], abs=1e-9)
    assert other["state"] == found["state"]


def without_heights(left, right, **before):
    sheet = changed(SAMPLE, heights=None, on_file=None, centering={"left": left, "right": right})
    return assess({**sheet, "before": {"offset": 5.4, "expanded": 0.8, **before}})


def test_a_move_against_the_turned_bar_is_seen_without_any_ride_height():
    """A bar made longer on the left pushes the axle to the right; it went further left."""
    found = without_heights([218.0, 218.0], [200.0, 200.0], length_change=5.3)

    assert found["moved"]["state"] == "wrong_side"
    assert found["moved"]["from_bar"] == pytest.approx(-5.3)
    [reason] = [each for each in found["advice"]["reasons"] if each["code"] == "wrong_side"]
    assert "should have moved the axle 5.3 mm to the right" in reason["says"].replace("\u202f", " ")
    assert "Are the sides swapped?" in reason["says"]


@pytest.mark.parametrize(
    ("left", "right", "before"),
    [
        ([209.0, 209.0], [209.2, 209.2], {"length_change": 5.3}),
        ([218.0, 218.0], [200.0, 200.0], {"length_change": 0.0}),
        ([218.0, 218.0], [200.0, 200.0], {"length_change": 5.3, "changed": True}),
        ([211.6, 211.6], [206.4, 206.4], {"length_change": 5.3}),
    ],
)
def test_without_heights_nothing_else_is_held_against_the_bar(left, right, before):
    assert without_heights(left, right, **before)["moved"]["state"] == "incomplete"


def test_a_move_too_large_for_heights_that_nobody_would_notice_is_unexplained_without_them():
    """15 mm of height on a bar that rises 114 in 854 carry the axle 2.0 mm."""
    found = without_heights([221.0, 221.0], [197.0, 197.0], length_change=0.0)

    assert found["moved"]["state"] == "unexplained"
    assert found["moved"]["why"][0].startswith("The ride height of both rounds is needed")
    [reason] = [each for each in found["advice"]["reasons"] if each["code"] == "moved_unexplained"]
    assert "The axle moved 6.6 mm to the left" in reason["says"].replace("\u202f", " ")
    assert "Measure the ride heights; then look for swapped sides" in reason["says"]


def test_without_heights_a_logged_turn_that_moved_nothing_is_unexplained():
    found = without_heights([214.6, 214.6], [203.4, 203.4], length_change=5.3)

    assert found["moved"]["state"] == "unexplained"
    assert found["moved"]["rest"] == pytest.approx(5.5)


def test_without_bar_and_heights_the_steepest_bar_is_allowed_for():
    sheet = changed(SAMPLE, heights=None, on_file=None, track_bar=None, drag_link=None)

    def state(offset, **before):
        return assess({**sheet, "before": {"offset": offset, "expanded": 0.8, **before}})["moved"]

    assert state(-0.2)["state"] == "incomplete"
    assert state(-0.8)["state"] == "unexplained"
    held = assess({**sheet, "before": {"offset": -0.8, "expanded": 0.8}})["says"]
    assert "Measure the ride heights and the track bar; then" in held
    heights = {"heights": SAMPLE["heights"]}
    before = {"offset": -0.8, "expanded": 0.8, **heights}
    assert "Measure the track bar; then" in assess({**sheet, **heights, "before": before})["says"]
    assert state(-9.0, length_change=5.3)["state"] == "incomplete"
    assert state(-9.0, changed=True)["state"] == "incomplete"


def test_changed_springs_without_their_heights_leave_the_move_open():
    found = without_heights([229.0, 229.0], [189.0, 189.0], length_change=0.0)
    sheet = changed(SAMPLE, heights=None, on_file=None, centering={"left": [229.0, 229.0]})
    sheet = {**sheet, "changes": ["springs_changed"], "before": {"offset": 5.4, "expanded": 0.8}}

    assert found["moved"]["state"] == "unexplained"
    assert assess(sheet)["moved"]["state"] == "incomplete"


# The sample's sides on file: half the sum of 418 mm each, 5.35 mm apart from the middle.
def on_one_side(**sides):
    centering = {"left": [214.4, 214.4], "right": [203.6, 203.6], "known_sum": 418.0}
    centering = {**centering, "known_sum_u": 0.3, "read_to": 1.0, **sides}
    before = {"offset": 5.4, "expanded": 0.7, "heights": SAMPLE["heights"]}
    return assess(changed(SAMPLE, centering=centering, before=before, on_file=None))


@pytest.mark.parametrize(
    ("sides", "side", "way"),
    [
        ({"left": [217.1, 217.1]}, "left", "more"),
        ({"left": [211.7, 211.7]}, "left", "less"),
        ({"right": [206.3, 206.3]}, "right", "more"),
    ],
)
def test_one_side_that_reads_further_by_itself_is_a_misread_tape(sides, side, way):
    """2.7 mm: too little for the sum's room of 3.0 mm and for the move's room of 1.6 mm."""
    found = on_one_side(**sides)

    assert [each["code"] for each in found["advice"]["reasons"]] == ["one_side_differs"]
    says = found["advice"]["reasons"][0]["says"].replace("\u202f", " ")
    assert says == (
        f"The {side} side alone reads 2.7 mm {way} than on file; the other reads as before."
        f" Measure the {side} side again."
    )


@pytest.mark.parametrize(
    "sides",
    [
        {},
        {"left": [215.6, 215.6], "right": [202.4, 202.4]},
        {"left": [215.6, 215.6], "right": [204.8, 204.8]},
        {"left": [216.2, 216.2]},
        {"left": [217.1, 217.1], "known_sum": None},
    ],
)
def test_an_axle_that_moved_a_little_and_two_tapes_are_no_misread_side(sides):
    assert on_one_side(**sides)["advice"]["reasons"] == []


def test_a_misread_side_that_breaks_the_sum_is_said_once():
    codes = [each["code"] for each in on_one_side(left=[219.0, 219.0])["advice"]["reasons"]]

    assert "sum_differs" in codes and "one_side_differs" not in codes


def test_heights_on_file_stand_in_for_those_of_the_round_before():
    filed = {"on_file": {"heights": {"left": 241.0, "right": 239.5}}}

    assert moved(filed, heights=None)["from_height"] == pytest.approx(moved()["from_height"])
    for side in ("left", "right"):
        short = {"on_file": {"heights": {**filed["on_file"]["heights"], side: None}}}
        assert moved(short, heights=None)["from_height"] is None


def test_a_turn_is_held_against_what_the_heights_leave_of_the_move():
    """The arc takes 2.9 mm to the right of it: 4.35 seen are 7.3 against the turned bar."""
    found = moved(length_change=3.0)

    assert found["state"] == "wrong_side"
    assert found["from_change"] == pytest.approx(4.35 - found["from_height"])
    assert found["from_change"] > 7


def test_without_heights_the_better_known_offset_is_not_the_one_to_improve():
    found = without_heights([221.0, 221.0], [197.0, 197.0], expanded=2.0)["moved"]

    assert found["improve"]["reading"] == "before"
    found = without_heights([221.0, 221.0], [197.0, 197.0], expanded=0.2)["moved"]
    assert found["improve"]["reading"] == "offset"
