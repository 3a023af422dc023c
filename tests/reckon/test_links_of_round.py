"""Bars and links of a round: carried, measured, picked, and as long as the changes made them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worked_sheets import LIMITS, entry

from webapp.reckon.assess import assess
from webapp.reckon.log.accepted import accepted_patch
from webapp.reckon.log.fold import fold_vehicle
from webapp.reckon.log.links_of_round import changed_by, length_changes, steering_of
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.reckon.sentences.change_words import length_then_changed

LINK = {"frame_end": "left", "length": 905, "frame_height": 588, "axle_height": 521, "arm": 158}
BAR = {"frame_end": "left", "length": 862}
RECORD = {"track_bars": {"front": BAR}, "drag_links": {"front": LINK}, "track": 1480}


def reading(id, step, field, value, round="as_found", **body):
    body = {"step": step, "field": field, "value": value, "read_to": 1.0, **body}
    return entry(id, "reading", body, round=round)


def pick(id, field, value, step="drag_link", round="as_found"):
    return entry(id, "pick", {"step": step, "field": field, "value": value}, round=round)


def change(id, what, longer=None, round="as_found"):
    return entry(id, "change", {"what": what, "length_change": longer}, round=round)


def axle_read(id, round="as_found"):
    return reading(id, "centering", "left", 210.0, round)


def sheet(entries, round="as_found", record=RECORD):
    return sheet_for(entries, round, record, LIMITS)


def lengths(entries, round):
    found = sheet(entries, round)
    return found["track_bar"]["length"], found["drag_link"]["length"]


def test_a_drag_link_is_carried_from_the_record_of_its_axle():
    assert sheet([])["drag_link"] == LINK
    assert "drag_link" not in sheet([entry("o", "job", {"axle": "rear", "round": "as_found"})])


def test_what_a_round_reads_and_picks_goes_over_the_record():
    entries = [
        reading("a", "drag_link", "arm", 160),
        reading("b", "drag_link", "fore_aft", -12),
        pick("c", "arm_points", "rearward"),
        pick("d", "ratio", 18),
        pick("e", "adjuster", {"kind": "both_ends", "pitch": 1.5, "step": 0}),
        pick("f", "carried", True),
    ]

    link = sheet(entries)["drag_link"]

    assert (link["arm"], link["fore_aft"], link["arm_points"]) == (160, -12, "rearward")
    assert (link["ratio"], link["adjuster"]["pitch"]) == (18, 1.5)
    assert "carried" not in link and link["length"] == 905


def test_the_heights_of_lever_arms_are_carried_over_and_filed_as_the_others_are():
    entries = [
        entry("o", "job", {"axle": "front", "round": "as_found"}, round="as_found"),
        reading("a", "track_bar", "axle_tube_height", 400),
        reading("b", "track_bar", "rail_height", 700),
    ]

    later = sheet(entries, "as_left")["track_bar"]
    filed = accepted_patch(entries, RECORD, LIMITS, {})["track_bars"]["front"]

    for bar in (later, filed):
        assert (bar["axle_tube_height"], bar["rail_height"]) == (400, 700)


FOLLOWS = [
    ("nothing was changed", [], "as_found", (862, 905)),
    ("what was found stays", [change("t", "bar_turned", 5)], "as_found", (862, 905)),
    ("the next round follows", [change("t", "bar_turned", 5)], "as_left", (867, 905)),
    ("a link follows its own", [change("t", "link_turned", -2)], "as_left", (862, 903)),
    ("a bar that was replaced", [change("t", "bar_replaced", 3)], "fit_up", (865, 905)),
    ("a bracket changes no length", [change("t", "bracket_moved", 9)], "as_left", (862, 905)),
    ("turned without its thread", [change("t", "bar_turned")], "as_left", (862, 905)),
    (
        "read again after the change",
        [axle_read("a"), change("t", "bar_turned", 5), axle_read("b")],
        "as_found",
        (867, 905),
    ),
    (
        "changed after the last reading of the round",
        [axle_read("a", "as_left"), change("t", "bar_turned", 5, "as_left")],
        "as_left",
        (862, 905),
    ),
    (
        "and the recheck follows that",
        [axle_read("a", "as_left"), change("t", "bar_turned", 5, "as_left")],
        "recheck",
        (867, 905),
    ),
    (
        "changed, measured, changed again",
        [
            change("t", "bar_turned", 5),
            reading("m", "track_bar", "length", 866, "fit_up"),
            change("u", "bar_turned", 1, "fit_up"),
        ],
        "as_left",
        (867, 905),
    ),
    ("a change of no round", [change("t", "bar_turned", 5, None)], "as_left", (867, 905)),
]


@pytest.mark.parametrize(("says", "entries", "round", "expected"), FOLLOWS)
def test_lengths_follow_what_was_changed_before_the_axle_was_measured(
    says, entries, round, expected
):
    assert lengths(entries, round) == expected, says


@given(st.lists(st.integers(-9, 9), max_size=6))
def test_changes_of_one_job_add_up_in_any_order(changes):
    entries = [change(f"t{i}", "bar_turned", mm) for i, mm in enumerate(changes)]

    assert lengths(entries, "as_left") == (862 + sum(changes), 905)
    assert lengths(list(reversed(entries)), "as_left") == (862 + sum(changes), 905)
    assert length_changes(entries, "track_bar") == sum(changes)


def test_toe_wheelbase_and_steering_wheel_belong_to_their_round():
    entries = [
        reading("a", "drag_link", "toe_front", 1520),
        reading("b", "drag_link", "toe_rear", 1522, read_to=1.5875),
        reading("c", "drag_link", "wheelbase_left", 2601),
        pick("d", "wheel_deg", -12),
    ]

    found = sheet(entries)

    assert found["toe"] == {"front": 1520, "rear": 1522, "read_to": 1.5875}
    assert found["wheelbase"] == {"left": 2601, "track": 1480, "read_to": 1.0}
    assert found["steering"] == {"wheel_deg": -12}
    assert not {"toe", "wheelbase", "steering"} & set(sheet(entries, "as_left"))


def test_a_track_that_was_read_goes_before_the_one_on_file():
    entries = [reading("a", "drag_link", "wheelbase_track", 1490)]

    assert sheet(entries)["wheelbase"]["track"] == 1490
    assert (
        "track"
        not in sheet([reading("b", "drag_link", "wheelbase_left", 1)], record={})["wheelbase"]
    )


def test_the_sheet_names_what_was_changed_in_its_round():
    entries = [change("t", "bar_turned", 5), entry("u", "change", {}, round="as_found")]

    assert sheet(entries)["changed_here"] == ["bar_turned", ""]
    assert "changed_here" not in sheet(entries, "as_left")
    assert sheet(entries, "as_left")["changes"] == ["bar_turned", ""]


def test_ticks_of_the_fit_up_are_no_part_of_the_preparation():
    swung = entry("a", "tick", {"field": "swung", "value": True}, round="as_found")

    assert "swung" not in sheet([swung])["ready"]


def test_accepting_puts_the_drag_link_on_file_as_the_job_left_it():
    entries = [change("t", "link_turned", 2), axle_read("a", "as_left")]

    patch = accepted_patch(entries, {**RECORD, "drag_links": {"front": LINK, "rear": {}}}, {}, {})

    assert patch["drag_links"]["front"]["length"] == 907
    assert patch["drag_links"]["rear"] == {}


def test_a_length_that_was_read_and_then_changed_is_shown_as_both():
    read, turned = reading("r", "track_bar", "length", 862), change("t", "bar_turned", 5.3)
    again = reading("s", "track_bar", "length", 867, "as_left")

    def by(entries, round):
        return changed_by(entries, round, BAR, "track_bar")

    assert by([read, turned], "as_found") == 0
    assert by([read, turned], "as_left") == pytest.approx(5.3)
    assert by([turned], "as_left") == pytest.approx(5.3)
    assert by([read, turned, again], "as_left") == 0
    assert by([turned, axle_read("c")], "as_found") == pytest.approx(5.3)
    assert changed_by([turned], "as_left", {}, "track_bar") == 0
    assert length_then_changed("862", 0.0, "mm") == "862"
    assert length_then_changed("862", 5.3, "mm") == "862, then +5.3\u202fmm by what was changed"
    assert (
        length_then_changed("862", -1.5, "mm") == "862, then \u22121.5\u202fmm by what was changed"
    )


def test_a_wheel_seen_in_several_places_has_no_one_place_until_it_is_said_again():
    wanders = pick("1", "wheel_deg", [-30, 30])

    found = sheet([wanders])

    assert found["steering"] == {"after_bumps": [-30, 30]}
    assert [each["code"] for each in assess(found)["advice"]["reasons"]] == ["wheel_wanders"]
    assert sheet([wanders, pick("2", "wheel_deg", 3)])["steering"] == {"wheel_deg": 3}


def test_what_a_lead_confirmed_of_the_vehicle_is_on_the_sheet_of_every_job():
    body = {"code": "implausible", "key": "implausible x range 5.00", "says": "Usual is less."}
    said = {**entry("c", "confirm", body), "job": None, "round": None}
    struck = {**entry("s", "strike", {"target": "c"}), "job": None, "round": None}

    record = fold_vehicle([said])

    assert record["confirmed"] == [body["key"]]
    assert sheet([], "as_left", record)["confirmed"] == [body["key"]]
    assert "confirmed" not in fold_vehicle([said, struck])


def test_what_was_confirmed_is_on_the_sheet_of_every_round():
    body = {"code": "leans", "key": "leans 41.00", "says": "It leans."}
    said = entry("c", "confirm", body, round="as_found")

    assert sheet([said], "as_left")["confirmed"] == ["leans 41.00"]
    assert "confirmed" not in sheet([said, entry("s", "strike", {"target": "c"})])


def wheel(id, degrees, round="as_left"):
    body = {"step": "drag_link", "field": "wheel_deg", "value": degrees}
    return entry(id, "pick", body, round=round)


def link_turned(id="t", longer=4.5, what="link_turned"):
    return entry(id, "change", {"what": what, "length_change": longer}, round="as_left")


def test_a_wheel_seen_before_and_after_the_drag_link_was_turned_tells_both():
    made = [wheel("a", -30, "as_found"), link_turned(), wheel("b", -60)]

    assert steering_of(made[2:], made) == {
        "wheel_deg": -60,
        "before_deg": -30,
        "link_longer": 4.5,
    }


@pytest.mark.parametrize(
    "made",
    [
        [link_turned(), wheel("b", -60)],
        [wheel("a", -30, "as_found"), wheel("b", -60)],
        [wheel("a", -30, "as_found"), link_turned(longer=None), wheel("b", -60)],
        [
            wheel("a", -30, "as_found"),
            link_turned(),
            link_turned("c", 2, "bar_turned"),
            wheel("b", 9),
        ],
        [wheel("a", [-30, 20], "as_found"), link_turned(), wheel("b", -60)],
    ],
)
def test_a_wheel_of_which_less_is_known_stands_by_itself(made):
    assert list(steering_of(made[-1:], made)) == ["wheel_deg"]
