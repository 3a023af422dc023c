"""What differs from the file: each field by more than its room, and which change explains it."""

import pytest
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.judgment.against_file import differing, not_measured_since

BAR, LINK = SAMPLE["track_bar"], SAMPLE["drag_link"]
FILED = {"track_bar": BAR, "drag_link": LINK}


def fields(changes=(), before=None, **links):
    sheet = changed(SAMPLE, on_file=FILED, **links)
    sheet = {**sheet, "changes": list(changes), "before": before or {}}
    return [(each["link"], each["field"]) for each in differing(sheet)]


@pytest.mark.parametrize("by", [-1, 1])
@pytest.mark.parametrize("link", ["track_bar", "drag_link"])
def test_a_length_differs_by_more_than_six_millimeters_either_way(link, by):
    length = FILED[link]["length"]

    assert fields(**{link: {"length": length + 6 * by}}) == []
    assert fields(**{link: {"length": length + 6.5 * by}}) == [(link, "length")]


def test_a_bar_that_measures_as_before_although_it_was_turned_is_told_so():
    sheet = changed(SAMPLE, on_file=FILED, before={"offset": 5.4, "length_change": 9.0})
    [reason, *_] = assess(sheet)["advice"]["reasons"]

    assert (reason["field"], reason["logged"]) == ("length", 9.0)
    assert "a change of 9.0 mm is logged since" in reason["says"].replace("\u202f", " ")
    assert "no change is logged" not in reason["says"]


@pytest.mark.parametrize("change", ["bar_replaced", "link_replaced", "part_replaced"])
def test_another_part_may_have_another_length_and_thread(change):
    thread = {**BAR["adjuster"], "pitch": 2.0, "kind": "both_ends"}

    assert fields([change], track_bar={"length": 880, "adjuster": thread}) == []
    assert fields(track_bar={"length": 880, "adjuster": thread}) == [
        ("track_bar", "length"), ("track_bar", "pitch"), ("track_bar", "kind")
    ]  # fmt: skip


@pytest.mark.parametrize("pitch", [1.55, 1.63])
def test_a_pitch_differs_whether_it_is_finer_or_coarser(pitch):
    thread = {**BAR["adjuster"], "pitch": pitch}

    assert fields(track_bar={"adjuster": thread}) == [("track_bar", "pitch")]


def test_a_frame_end_on_the_other_side_is_no_change_that_anything_explains():
    changes = ["bar_replaced", "bracket_moved"]

    assert fields(changes, track_bar={"frame_end": "right"}) == [("track_bar", "frame_end")]
    assert fields(changes, drag_link={"frame_end": "right"}) == [("drag_link", "frame_end")]


def test_a_logged_turn_is_a_length_of_the_bar_and_not_of_the_link():
    turned = {"length_change": 9.0}

    assert fields(before=turned) == [("track_bar", "length")]
    assert fields(before=turned, track_bar={"length": BAR["length"] + 9}) == []
    assert fields(before=turned, drag_link={"length": LINK["length"] + 9}) == [
        ("track_bar", "length"), ("drag_link", "length")
    ]  # fmt: skip


def test_work_that_is_logged_without_a_name_may_have_changed_anything():
    other_bar = {"length": 900, "frame_end": "right", "frame_height": 700}

    assert fields(before={"changed": True}, track_bar=other_bar) == []
    assert fields(["toe_set"], before={"changed": True}, track_bar={"length": 900}) == [
        ("track_bar", "length")
    ]


@pytest.mark.parametrize(
    ("frame", "axle", "named"),
    [
        (20, 20, []),
        (31, 31, ["frame_height"]),
        (6, 0, []),
        (7, 0, ["frame_height"]),
        (0, -7, ["axle_height"]),
        (5, -5, ["frame_height"]),
        (-5, 7, ["axle_height"]),
    ],
)
def test_both_ends_alike_are_another_floor_and_one_end_alone_is_not(frame, axle, named):
    ends = {"frame_height": 612 + frame, "axle_height": 498 + axle}

    assert fields(track_bar=ends) == [("track_bar", each) for each in named]


@pytest.mark.parametrize(("higher", "older"), [(6.0, []), (6.5, ["track_bar", "drag_link"])])
def test_changed_springs_ask_for_both_links_once_the_frame_stands_otherwise(higher, older):
    was = {"left": [221.0 - higher], "right": [219.5 - higher]}
    sheet = changed(SAMPLE, on_file=FILED)
    sheet = {**sheet, "before": {"heights": was}, "changes": ["springs_changed"]}

    assert not_measured_since(sheet) == older
    assert not_measured_since({**sheet, "changes": []}) == []
    one = changed(sheet, track_bar={"frame_height": 613})
    assert not_measured_since(one) == older[1:]
