"""Play, clearance and torque on the sheet, what they still lack, and what they come to in words."""

import pytest
from kit.worked_sheets import SAMPLE, changed, entry

from webapp.reckon.assess import assess
from webapp.reckon.joint_terms import (
    CAUTIONS,
    JOINTS,
    PLAY_ASKS,
    PLAY_NAMES,
    ask_gap,
    joint_title,
    recheck_words,
)
from webapp.reckon.log.accepted import accepted_patch
from webapp.reckon.log.joints_of_round import fasteners
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.reckon.sentences.entry_words import entry_title, entry_value, is_of_joint
from webapp.reckon.sentences.joint_answers import clearance_told, play_told, torque_told
from webapp.reckon.sheet_faults import faults
from webapp.reckon.terms import said
from webapp.reckon.walk.missing import missing
from webapp.reckon.walk.steps import next_after, places

LIMITS = {"offset": 3.0, "repeat": 1.5, "face_u": 0.5}
OPENED = entry("job", "job", {"axle": "front", "round": "as_found", "about": ""})
SOURCE = "maker's manual, page 12"


def plain(text):
    return text.replace("\u202f", " ")


def play(id, joint, field, mm, of="track_bar", round="as_found", **more):
    body = {"step": "play", "field": field, "joint": joint, "of": of, "value": mm, "unit": "mm"}
    return entry(id, "reading", {**body, "read_to": 0.1, **more}, round=round)


def pick(id, step, field, picked, round="as_found"):
    return entry(id, "pick", {"step": step, "field": field, "value": picked}, round=round)


def gap(id, mm, state="ride", lock="straight", between=("track bar", "tie rod"), **more):
    body = {"step": "clearance", "field": "gap", "between": list(between), "state": state}
    return entry(id, "reading", {**body, "lock": lock, "value": mm, **more}, round="as_found")


def bolt(id, name="frame-end bolt", nm=118, round="as_left", **more):
    body = {"step": "torque", "field": "fastener", "fastener": name, "value": nm}
    whole = {"source": SOURCE, "end": "bolt", "thread": "dry", **more}
    return entry(id, "reading", {**body, **whole}, round=round)


def sheet_of(*entries, round="as_found", record=None):
    sheet = sheet_for([OPENED, *entries], round, record or {}, LIMITS)
    assert faults(sheet) == []
    return sheet


def says(sheet, step):
    return [plain(each["says"]) for each in missing(sheet) if each["step"] == step]


def state_of(sheet, step):
    return next(each["state"] for each in places(sheet, "open") if each["step"] == step)


def test_readings_of_a_joint_come_together_on_the_sheet():
    sheet = sheet_of(
        play("1", "axle end", "bolt", 14.1),
        play("2", "own clevis", "along", 0.2, of="steering", how="by hand"),
        play("3", "frame end", "along", 0.9, pair=[0.4, 0.5], how="wheel rocked lightly by hand"),
        play("4", "axle end", "hole_long", 15.2, read_to=0.05),
        play("5", "axle end", "hole_short", 14.6),
        play("6", "drag link frame end", "along", 0.3, of="drag_link"),
    )

    assert sheet["play"] == [
        {
            "joint": "frame end",
            "of": "track_bar",
            "along": [0.4, 0.5],
            "rocked": "wheel rocked lightly by hand",
        },
        {
            "joint": "axle end",
            "of": "track_bar",
            "bolt": 14.1,
            "hole_long": 15.2,
            "hole_short": 14.6,
            "read_to": 0.1,
        },
        {"joint": "drag link frame end", "of": "drag_link", "along": 0.3, "rocked": None},
        {"joint": "own clevis", "of": "other", "along": 0.2, "rocked": "by hand"},
    ]


def test_the_last_reading_of_a_joint_stands_even_where_two_phones_made_one_each():
    sheet = sheet_of(play("1", "frame end", "along", 0.9), play("2", "frame end", "along", 0.4))

    assert sheet["play"][0]["along"] == 0.4


def test_limits_keep_maker_and_house_apart_and_stay_on_file():
    limit = {"joint": "frame end", "maker_limit": 0.5, "maker_source": SOURCE, "house_limit": 0.4}
    found = [OPENED, play("1", "frame end", "along", 0.45), pick("2", "play", "limit", limit)]
    sheet = sheet_of(*found[1:])
    patch = accepted_patch(found, {}, LIMITS, {})
    later = sheet_of(play("9", "frame end", "along", 0.45), record=patch)

    assert sheet["play"][0]["maker_source"] == SOURCE
    assert assess(sheet)["play"]["joints"][0]["maker_state"] == "inside"
    assert assess(sheet)["play"]["joints"][0]["house_state"] == "outside"
    assert patch["joint_limits"] == {"front": {"frame end": limit}}
    assert later["play"] == sheet["play"]


def test_what_is_loose_stands_until_it_is_taken_back():
    loose = pick("1", "play", "loose", {"joint": "axle end", "what": "bolt_in_hole"})
    nothing = pick("2", "play", "loose", {"joint": "axle end", "what": None})

    sheet = sheet_of(loose)
    assert sheet["play"] == [{"joint": "axle end", "of": "track_bar", "loose": "bolt_in_hole"}]
    assert "play" not in sheet_of(loose, nothing)


def test_a_loose_joint_of_another_name_counts_as_steering():
    loose = pick("1", "play", "loose", {"joint": "idler", "what": "bracket"})

    assert sheet_of(loose)["play"] == [{"joint": "idler", "of": "other", "loose": "bracket"}]


def test_gaps_and_marks_come_to_the_sheet_by_pair_state_and_lock():
    sheet = sheet_of(
        gap("1", 9.5, "full_bump", "left"),
        gap("2", None, "crossed", "right", mark="witness mark"),
        gap("3", None, mark="touches"),
        gap("4", 8.5, "full_bump", "left"),
    )

    assert [(each["state"], each["lock"], each["gap"]) for each in sheet["clearance"]] == [
        ("full_bump", "left", 8.5),
        ("crossed_up", "right", "witness_mark"),
        ("ride", "straight", "touches"),
    ]


def test_a_torque_comes_to_the_sheet_with_all_that_goes_with_it():
    made = bolt(
        "1", thread="locking compound", then_angle=90, tolerance=5, also=120, tool="wrench 4",
        rubber=True, on_springs=True,
    )  # fmt: skip

    assert sheet_of(made, round="as_left")["torque"] == [
        {
            "fastener": "frame-end bolt",
            "value": 118,
            "tolerance": 5,
            "also": 120,
            "also_unit": "N·m",
            "source": SOURCE,
            "end": "bolt",
            "thread": "locked",
            "then_deg": 90,
            "tool": "wrench 4",
            "rubber": True,
            "on_springs": True,
        }
    ]


def test_rubber_without_the_weight_on_the_springs_is_told():
    sheet = sheet_of(bolt("1", rubber=True), round="as_left")

    assert any("only with the weight on the springs" in each for each in says(sheet, "torque"))


def test_a_recheck_waits_for_every_bolt_that_was_torqued():
    before = [bolt("1"), bolt("2", "axle-end bolt")]
    moved = bolt("3", nm=80, round="recheck", moved=True)
    sheet = sheet_of(*before, moved, round="recheck")
    found = assess(sheet)["torque"]

    [first, second] = says(sheet, "torque")
    assert first.startswith("Frame-end bolt: it moved. Fit a new bolt and nut where the maker says")
    assert second == "Axle-end bolt: say whether it moved."
    assert state_of(sheet, "torque") == "begun"
    assert said(torque_told(found)) == "Frame-end bolt moved. 1 fastener still to check again."


def test_a_bolt_that_moved_is_open_until_it_was_torqued_again():
    moved = bolt("2", nm=80, round="recheck", moved=True)
    anew = bolt("3", round="recheck")
    due = pick("4", "torque", "recheck", {"date": "2027-01-20"}, round="recheck")

    before = sheet_of(bolt("1"), moved, round="recheck")
    after = sheet_of(bolt("1"), moved, anew, due, round="recheck")

    assert len(says(before, "torque")) == 1
    assert says(after, "torque") == []
    assert after["torque"][0]["moved_before"] is True
    found = assess(after)["torque"]
    assert said(torque_told(found)) == "Frame-end bolt moved, and was torqued again."


def test_a_recheck_in_a_job_of_its_own_knows_the_bolts_on_file():
    job = [OPENED, bolt("1"), pick("2", "torque", "recheck", {"distance": 800, "unit": "km"})]
    patch = accepted_patch(job, {"torques": {"rear": []}}, LIMITS, {})
    sheet = sheet_of(round="recheck", record=patch)

    assert patch["torques"]["rear"] == []
    assert patch["torques"]["front"][0]["value"] == 118
    assert patch["rechecks"] == {"front": {"distance": 800, "unit": "km"}}
    assert sheet["torque"] == [{"fastener": "frame-end bolt", "due": True}]


def test_nothing_goes_on_file_where_nothing_was_found():
    patch = accepted_patch([OPENED], {"torques": {"front": [{"fastener": "x"}]}}, LIMITS, {})

    assert not {"joint_limits", "torques", "rechecks"} & set(patch)


def test_a_bolt_that_was_only_checked_leaves_its_torque_on_file():
    checked = bolt("1", nm=80, round="recheck", moved=False)

    assert "torques" not in accepted_patch([OPENED, checked], {}, LIMITS, {})


def test_the_list_of_fasteners_begins_with_the_usual_ones():
    made = bolt("1", "spring clamp")
    rows = fasteners([OPENED, made], "as_left", {}, "front")
    again = fasteners([OPENED, made], "recheck", {}, "front")

    assert rows[0]["fastener"] == "frame-end bolt"
    assert rows[-1] == {"fastener": "spring clamp", "here": made["body"], "before": None}
    assert again == [{"fastener": "spring clamp", "here": None, "before": made["body"]}]
    assert len(fasteners([OPENED], "recheck", {}, "front")) == 4


def test_a_check_between_leaves_the_torque_before_it_as_it_was():
    made = [bolt("1", round="fit_up"), bolt("2", nm=80, moved=True)]
    [again] = fasteners([OPENED, *made], "recheck", {}, "front")

    assert again["before"]["value"] == 118
    assert fasteners([OPENED, *made], "as_left", {}, "front")[0]["here"]["moved"]


def test_a_plain_centering_check_lacks_none_of_these_steps():
    for step in ["play", "clearance", "torque"]:
        assert says({}, step) == []
        assert state_of({}, step) == "empty"


def test_once_begun_each_step_says_what_it_lacks():
    begun = sheet_of(play("1", "frame end", "bolt", 14.1), gap("2", 9.5), bolt("3", end=None))
    torqued = sheet_of(bolt("3", thread=None), round="as_left")

    assert says(begun, "play") == [
        "Track bar, axle end: not looked at.",
        "Track bar, frame end: no movement along the bar.",
    ]
    assert says(begun, "clearance") == ["Track bar to tie rod: 11 places not checked."]
    assert says(torqued, "torque") == [
        "Frame-end bolt: say whether the thread was dry or oiled.",
        "Say when the fasteners are to be checked again.",
    ]
    assert state_of(begun, "play") == "begun"


def test_a_finished_step_is_done():
    ends = [play(end, end, "along", 0.1) for end in ["frame end", "axle end"]]
    due = pick("due", "torque", "recheck", {"date": "2026-12-24"}, round="as_left")

    assert state_of(sheet_of(*ends), "play") == "done"
    assert state_of(sheet_of(bolt("1"), due, round="as_left"), "torque") == "done"


def test_one_step_of_looking_over_leads_to_the_next():
    found = places({}, "open")

    assert next_after(found, "play")["step"] == "clearance"
    assert next_after(found, "clearance")["step"] == "torque"
    assert next_after(found, "torque")["step"] == "hand_in"
    assert next_after(found, "track_bar")["step"] == "hand_in"


def told(part, teller):
    name = teller.__name__.split("_")[0]
    found = assess(part)
    unit = [] if teller is torque_told else [found["units"]]
    return plain(said(teller(found[name], *unit)))


def test_play_tells_movement_and_dead_band():
    whole = changed(SAMPLE, play=[{"joint": "frame end", "of": "track_bar", "along": 0.9}])
    bare = {"play": [{"joint": "frame end", "along": 0.9, "house_limit": 0.5}]}
    link = changed(
        SAMPLE,
        track_bar=None,
        drag_link={"ratio": None},
        play=[{"joint": "drag link axle end", "of": "drag_link", "along": 0.5}],
    )
    no_link = changed(whole, drag_link=None)

    assert told(whole, play_told).startswith("Play in the track bar lets the axle move 0.9 mm")
    assert told(whole, play_told).endswith("free at the steering wheel.")
    assert told(no_link, play_told).endswith("lets the axle move 0.9 mm sideways.")
    assert told(bare, play_told) == "Track bar, frame end is outside its limit."
    assert told(link, play_told).endswith("of free steer.")


def test_play_tells_that_nothing_found_is_not_safe():
    measured = {"play": [{"joint": "idler", "of": "other", "along": 0.0}]}

    assert "Finding nothing does not make it safe." in told(measured, play_told)
    assert told({"play": [{"joint": "idler"}]}, play_told) == "No movement is recorded yet."


def clear(*entries):
    keys = ("between", "state", "lock", "gap")
    return {"clearance": [dict(zip(keys, each, strict=True)) for each in entries]}


def test_clearance_tells_contact_first_then_what_was_not_checked():
    rod, pan = ["track bar", "tie rod"], ["track bar", "oil pan"]
    touching = clear((rod, "ride", "left", 4), (rod, "full_bump", "left", "touches"))
    marked = clear((pan, "crossed_up", "right", "witness_mark"))
    gaps = clear((rod, "ride", "left", 9.5), (pan, "full_droop", "right", 7))
    every = [
        (rod, state, lock, 9)
        for state in ("ride", "full_bump", "full_droop", "crossed_up")
        for lock in ("left", "straight", "right")
    ]

    assert told(touching, clearance_told) == (
        "Track bar and tie rod touch at full bump, left lock."
        " Track bar to tie rod: 10 places not checked."
    )
    assert told(marked, clearance_told).startswith(
        "Track bar and oil pan left a mark crossed up, right lock."
    )
    assert told(gaps, clearance_told).startswith(
        "The least gap is 7.0 mm: track bar to oil pan at full droop, right lock."
    )
    assert told({**gaps, "limits": {"clearance": 10}}, clearance_told).startswith(
        "The least gap is 7.0 mm: track bar to oil pan at full droop, right lock,"
        " under the house limit of 10.0 mm. Make room."
    )
    assert told(clear(*every), clearance_told).endswith("at ride height, left lock.")
    assert told(clear((rod, "ride", "left", None)), clearance_told) == (
        "Track bar to tie rod: 12 places not checked."
    )


WHOLE = {"fastener": "jam nuts", "value": 90, "source": SOURCE, "end": "nut", "thread": "dry"}


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        ([WHOLE], f"1 fastener torqued. Figures from: {SOURCE}."),
        (
            [WHOLE, WHOLE, {**WHOLE, "source": "generic chart"}],
            f"3 fasteners torqued. Figures from: {SOURCE}; generic chart.",
        ),
        ([{**WHOLE, "source": None}], "Jam nuts: say where the figure comes from."),
        ([{**WHOLE, "also": 90}], "Jam nuts: the two printed figures are 26% apart"),
        ([{**WHOLE, "moved": False}], "1 fastener checked again, none moved."),
        ([{**WHOLE, "moved": True}], "Jam nuts moved."),
    ],
)
def test_torque_tells_what_moved_and_what_lacks(entries, words):
    assert told({"torque": entries}, torque_told).startswith(words)


LOGGED = [
    (
        play("1", "frame end", "along", 0.9, pair=[0.4, 0.5], how="by hand"),
        "Play: Track bar, frame end, movement along the bar",
        "0.4 mm + 0.5 mm = 0.9 mm, by hand",
    ),
    (play("1", "idler", "bolt", 14, unit="in"), "Play: Idler, bolt", "0.551 in"),
    (play("1", "idler", "newer", 14), "Play: Idler, newer", "14.0 mm"),
    (
        gap("1", 9.525, "crossed", "left", unit="in"),
        "Clearance: track bar to tie rod, crossed up, left lock",
        "3/8 in",
    ),
    (gap("1", 9), "Clearance: track bar to tie rod, at ride height, wheels straight", "9.0 mm"),
    (
        gap("1", None, mark="touches"),
        "Clearance: track bar to tie rod, at ride height, wheels straight",
        "touches",
    ),
    (bolt("1"), "Torque: frame-end bolt", f"118 N·m (87 lb-ft), at the bolt, dry, {SOURCE}"),
    (
        bolt("1", nm=54, then_angle=90, tolerance=4, rubber=True, on_springs=True, tool="wrench 4"),
        "Torque: frame-end bolt",
        "54 N·m (40 lb-ft), then 90°, ± 4 N·m (3 lb-ft), at the bolt, dry, rubber bushing, "
        f"weight on the springs, {SOURCE}, wrench 4",
    ),
    (
        bolt("1", nm=None, end=None, thread=None, source=None, rubber=True, moved=False),
        "Torque: frame-end bolt",
        "did not move, rubber bushing, not on the springs",
    ),
    (
        bolt("1", nm=80, end=None, thread=None, source=None, moved=True),
        "Torque: frame-end bolt",
        "moved, 80 N·m (59 lb-ft)",
    ),
    (
        pick("1", "torque", "recheck", {"distance": 800, "unit": "km", "date": "2026-12-24"}),
        "Torque: check again",
        "after 800 km or on 2026-12-24",
    ),
    (
        pick("1", "play", "loose", {"joint": "frame end", "what": "bracket"}),
        "Play: Track bar, frame end, loose",
        "Bracket on frame or axle",
    ),
    (
        pick("1", "play", "loose", {"joint": "frame end", "what": None}),
        "Play: Track bar, frame end, loose",
        "nothing",
    ),
    (
        pick("1", "play", "limit", {"joint": "idler", "maker_limit": 1, "house_limit": 0.5}),
        "Play: Idler, limits",
        "maker 1.0 mm (source not given), house 0.5 mm",
    ),
    (pick("1", "play", "limit", {"joint": "idler"}), "Play: Idler, limits", "none known"),
]


@pytest.mark.parametrize(("made", "about", "holds"), LOGGED)
def test_every_entry_has_words_for_the_log(made, about, holds):
    assert is_of_joint(made["body"])
    assert entry_title(made, None, "mm") == about
    assert plain(entry_value(made, "mm")) == holds


def test_other_steps_are_of_no_joint():
    assert not is_of_joint({"step": "heights", "field": "left"})


def test_each_step_has_its_names_questions_and_cautions():
    assert list(PLAY_NAMES) == list(PLAY_ASKS)
    assert all(CAUTIONS[step] for step in ["play", "clearance", "torque"])
    assert (
        ask_gap(["a", "b"], {"state": "crossed", "lock": "left"})
        == "Smallest gap, a to b, crossed up, left lock."
    )
    assert joint_title(JOINTS[0]["joint"]) == "Track bar, frame end"
    assert plain(recheck_words({"distance": 500, "unit": "mi", "date": None})) == "after 500 mi"
    assert plain(recheck_words({"distance": 500})) == "after 500 km"
    assert recheck_words({"distance": None, "date": "2026-12-24"}) == "on 2026-12-24"
