"""Folding entries: what stands, the job's state, its sheets, the record as a job found it."""

import sys
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worked_sheets import LIMITS, entry

from webapp.reckon.assess import assess
from webapp.reckon.limits import HOUSE_LIMITS, fold_limits, in_force
from webapp.reckon.log.accepted import accepted_patch
from webapp.reckon.log.fold import (
    as_accepted,
    fold_job,
    fold_vehicle,
    record_at,
    standing,
)
from webapp.reckon.log.sheet_of_round import sheet_for


def reading(id, field, value, step="centering", **more):
    body = {"step": step, "field": field, "value": value, "read_to": 1.0, **more.pop("body", {})}
    return entry(id, "reading", body, round=more.pop("round", "as_found"), **more)


def strike(id, target):
    return entry(id, "strike", {"target": target, "reason": "misread"})


def ids(entries):
    return [each["id"] for each in entries]


CHAINS = [
    ([reading("a", "left", 1), strike("b", "a")], {"b"}),
    ([reading("a", "left", 1), strike("b", "a"), strike("c", "b")], {"a", "c"}),
    (
        [reading("a", "left", 1), strike("b", "a"), strike("c", "b"), strike("d", "c")],
        {"b", "d"},
    ),
    (
        [
            reading("a", "left", 1),
            reading("b", "left", 2, body={"replaces": "a"}),
            strike("c", "b"),
        ],
        {"a", "c"},
    ),
    ([strike("a", "elsewhere"), reading("b", "left", 1)], {"a", "b"}),
    ([strike("a", "b"), strike("b", "a"), reading("c", "left", 1)], {"a", "b", "c"}),
    ([reading("a", "left", 1), strike("b", "a"), strike("c", "a"), strike("d", "b")], {"c", "d"}),
]


@pytest.mark.parametrize(("entries", "stands"), CHAINS)
def test_f38_what_stands_does_not_depend_on_what_arrived_first(entries, stands):
    for order in permutations(entries):
        assert set(ids(standing(list(order)))) == stands


@given(st.permutations(list("abcdef")), st.lists(st.sampled_from("abcdef"), min_size=6, max_size=6))
def test_any_tangle_of_strikes_settles(order, targets):
    entries = [strike(id, target) for id, target in zip(order, targets, strict=True)]

    stands = ids(standing(entries))

    assert stands == ids(standing(list(reversed(entries))))[::-1]


def lines_run(work):
    """How many lines of Python a piece of work runs."""
    count = 0

    def counting(frame, event, _):
        nonlocal count
        count += event == "line"
        return counting

    before = sys.gettrace()
    sys.settrace(counting)
    try:
        work()
    finally:
        sys.settrace(before)
    return count


@pytest.mark.parametrize("turned", [False, True])
def test_twice_as_many_strikes_of_strikes_take_twice_the_work(turned):
    def chain(length):
        made = [strike(f"id{n}", f"id{n + 1}") for n in range(length)]
        return list(reversed(made)) if turned else made

    short, long = (lines_run(lambda n=n: standing(chain(n))) for n in (400, 800))

    assert long < 2.2 * short


def test_later_patches_of_a_vehicle_win_key_by_key():
    record = fold_vehicle(
        [
            entry("a", "vehicle", {"name": "Ochre", "units": "in"}),
            entry("t", "tag", {"code": "K7RM-4TQX"}),
            entry("b", "vehicle", {"units": "mm"}),
            entry("u", "tag", {"code": "AAAA-BBBB"}),
            entry("w", "tag", {"code": "K7RM-4TQX"}),
        ]
    )

    assert record == {
        "id": "v",
        "name": "Ochre",
        "units": "mm",
        "tags": ["AAAA-BBBB", "K7RM-4TQX"],
    }


def test_limits_are_the_latest_set_and_the_rest_as_delivered():
    entries = [
        entry("a", "limit", {"name": "offset", "value": 5.0}),
        entry("b", "limit", {"name": "offset", "value": 4.0}),
    ]

    assert fold_limits(entries) == {**HOUSE_LIMITS, "offset": 4.0}


OPENED = entry("o", "job", {"axle": "rear", "round": "fit_up", "about": "new bracket"})
HANDED = entry("h", "hand_in", {"missing": [], "reason": None}, seq=5)


def decided(id, verdict, hand_in="h", **more):
    return entry(id, "decision", {"hand_in": hand_in, "verdict": verdict}, **more)


STATES = [
    ([OPENED], "open"),
    ([OPENED, HANDED], "pending"),
    ([OPENED, HANDED, decided("d", "accepted")], "accepted"),
    ([OPENED, HANDED, decided("d", "sent_back")], "sent_back"),
    ([OPENED, HANDED, decided("d", "sent_back"), decided("e", "accepted")], "accepted"),
    ([OPENED, HANDED, strike("s", "h")], "open"),
    ([OPENED, HANDED, decided("d", "accepted"), strike("s", "d")], "pending"),
    ([OPENED, HANDED, decided("d", "sent_back"), {**HANDED, "id": "h2"}], "pending"),
    ([OPENED, HANDED, decided("d", "accepted", hand_in="older")], "pending"),
]


@pytest.mark.parametrize(("entries", "state"), STATES)
def test_a_job_is_where_its_last_hand_in_and_decision_put_it(entries, state):
    assert fold_job(entries)["state"] == state


def numbered(*entries):
    """These entries as the log numbers and receives them, a lead deciding and somebody working."""
    return [
        {
            **each,
            "seq": seq,
            "received_at": f"2026-11-25T10:00:{seq:02}.000+00:00",
            "person": "lead" if each["kind"] == "decision" else each.get("person") or "tech",
        }
        for seq, each in enumerate(entries, 1)
    ]


MEASURED = reading("r", "left", 1)
ACCEPTED = decided("d", "accepted")
LATER = {
    "strike": strike("s", "r"),
    "correction": reading("c", "left", 20, body={"replaces": "r"}),
    "late reading": reading("c", "right", 2),
    "strike of the hand-in": strike("s", "h"),
    "second hand-in": {**HANDED, "id": "h2"},
    "change": entry("c", "change", {"what": "bar_turned"}, round="as_found"),
}
BESIDE = {
    "note": entry("n", "note", {"text": "grease"}),
    "photo": entry("p", "photo", {"of": "weld"}),
}


@pytest.mark.parametrize("later", LATER.values(), ids=list(LATER))
def test_what_was_accepted_stays_and_what_comes_later_puts_it_before_the_lead(later):
    entries = numbered(OPENED, MEASURED, HANDED, ACCEPTED, later)

    job = fold_job(entries)

    assert job["state"] == "pending"
    assert ids(job["later"]) == [later["id"]]
    assert job["accepted"]["id"] == "d" and job["decision"] is None
    assert job["hand_in"]["id"] == ("h2" if later["kind"] == "hand_in" else "h")
    assert job["handed_in"]["id"] == "h"
    assert ids(standing(as_accepted(entries, job["accepted"]))) == ["o", "r", "h", "d"]


@pytest.mark.parametrize("beside", BESIDE.values(), ids=list(BESIDE))
def test_what_is_not_judged_comes_later_without_more_ado(beside):
    job = fold_job(numbered(OPENED, MEASURED, HANDED, ACCEPTED, beside, strike("s", beside["id"])))

    assert (job["state"], job["later"]) == ("accepted", [])


def again(id, verdict, hand_in="h", **more):
    body = {"hand_in": hand_in, "verdict": verdict, "before": "d", "own_reason": None, **more}
    return entry(id, "decision", body)


@pytest.mark.parametrize("later", LATER.values(), ids=list(LATER))
@pytest.mark.parametrize("keeps", [True, False])
def test_the_lead_decides_again_about_what_came_later(later, keeps):
    hand_in = "h2" if later["kind"] == "hand_in" else "h"
    decision = again("e", "accepted", hand_in, keeps=keeps)
    entries = numbered(OPENED, MEASURED, HANDED, ACCEPTED, later, decision)

    job = fold_job(entries)

    assert (job["state"], job["later"]) == ("accepted", [])
    assert job["accepted"]["id"] == ("d" if keeps else "e") and job["decision"]["id"] == "e"
    counted = as_accepted(entries, job["accepted"])
    assert (later["id"] in ids(counted)) is not keeps


def test_a_lead_who_sends_back_what_came_later_takes_the_acceptance_back():
    for later in (LATER["late reading"], LATER["strike of the hand-in"]):
        job = fold_job(numbered(OPENED, MEASURED, HANDED, ACCEPTED, later, again("e", "sent_back")))

        assert (job["state"], job["accepted"]) == ("sent_back", None)


def test_an_entry_that_a_restore_brought_back_was_there_when_it_was_accepted():
    *before, hand_in, decision = numbered(OPENED, MEASURED, HANDED, ACCEPTED)
    returned = [{**hand_in, "seq": 20}, {**before[1], "seq": 21}]

    job = fold_job([before[0], decision, *returned])

    assert (job["state"], job["later"]) == ("accepted", [])


def test_a_decision_that_came_before_the_hand_in_it_names_decides_nothing():
    own = {**MEASURED, "person": "lead"}
    job = fold_job(numbered(OPENED, ACCEPTED, own, {**HANDED, "person": "lead"}))

    assert (job["state"], job["accepted"]) == ("pending", None)


@pytest.mark.parametrize("part", ["job", "reading", "hand_in"])
@pytest.mark.parametrize("reason", ["Nobody else works here this week.", None])
def test_an_own_job_is_decided_with_a_reason_only(part, reason):
    made = [{**each, "person": "lead"} if each["kind"] == part else each
            for each in (OPENED, MEASURED, HANDED)]  # fmt: skip
    decision = entry("d", "decision", {"hand_in": "h", "verdict": "accepted", "own_reason": reason})

    assert fold_job(numbered(*made, decision))["state"] == ("accepted" if reason else "pending")


def test_second_of_in_a_reading_does_not_make_it_anothers_work():
    own = reading("r", "left", 1, body={"second_of": "other"})
    decision = entry("d", "decision", {"hand_in": "h", "verdict": "accepted", "own_reason": None})

    job = fold_job(numbered(OPENED, {**own, "person": "lead"}, HANDED, decision))

    assert job["state"] == "pending"


def test_a_job_tells_what_it_is_about_and_which_rounds_it_holds():
    job = fold_job([OPENED, reading("r", "left", 1, round="as_left"), HANDED])

    assert (job["job"], job["vehicle"], job["axle"]) == ("j", "v", "rear")
    assert job["about"] == "new bracket"
    assert job["rounds"] == ["fit_up", "as_left"]
    assert job["opened"] == OPENED
    assert job["hand_in"] == HANDED


def test_a_job_without_an_opening_entry_still_folds():
    assert fold_job([])["state"] == "open"
    assert fold_job([])["axle"] == "front"
    assert fold_job([reading("r", "left", 1)])["rounds"] == ["as_found"]


def test_the_record_of_a_job_is_what_stood_before_its_decision_and_is_not_its_own():
    patches = [
        entry("a", "vehicle", {"name": "Ochre"}, job=None, seq=1),
        entry("b", "vehicle", {"name": "own", "from_job": "j"}, job=None, seq=3),
        entry("c", "vehicle", {"note": "later"}, job=None, seq=9),
        entry("d", "vehicle", {"note": "on this phone only"}, job=None, seq=None),
    ]
    job = fold_job([OPENED, HANDED, decided("d", "accepted", seq=6)])

    assert record_at(patches, job) == {"id": "v", "name": "Ochre", "tags": []}
    assert record_at(patches, fold_job([OPENED]))["note"] == "on this phone only"


READINGS = [
    reading("a", "left", 214.0, body={"face": "hub", "method": "plumb_bob"}),
    reading("b", "left", 215.0, body={"face": "hub", "method": "plumb_bob", "read_to": 1.5875}),
    reading("c", "right", 204.0, body={"face": "hub", "method": "plumb_bob"}),
    reading("e", "left", 221.0, step="heights"),
    entry("f", "tick", {"field": "level", "value": True}, round="as_found"),
    entry("g", "pick", {"step": "centering", "field": "tilt_deg", "value": 0.5}, round="as_found"),
    entry(
        "i", "pick", {"step": "heights", "field": "standing", "value": "hanging"}, round="as_found"
    ),
]
RECORD = {"units": "in", "known_sums": {"front": {"hub": {"sum": 418.0, "u": 0.7}}}}


def test_a_sheet_holds_what_stands_in_its_round():
    sheet = sheet_for([*READINGS, strike("s", "b")], "as_found", RECORD, LIMITS)

    assert sheet["centering"]["left"] == [214.0]
    assert sheet["centering"]["right"] == [204.0]
    assert sheet["centering"]["face"] == "hub"
    assert sheet["centering"]["method"] == "plumb_bob"
    assert sheet["centering"]["tilt_deg"] == 0.5
    assert sheet["centering"]["known_sum"] == 418.0
    assert sheet["heights"] == {"left": [221.0], "right": []}
    assert sheet["standing"] == "hanging"
    assert sheet["ready"]["level"] is True
    assert sheet["ready"]["tires"] is False
    assert sheet["units"] == "in"
    assert "track_bar" not in sheet


def test_the_roughest_tape_of_the_readings_counts():
    assert sheet_for(READINGS, "as_found", {}, LIMITS)["centering"]["read_to"] == 1.5875


def test_another_round_has_a_sheet_of_its_own():
    sheet = sheet_for(READINGS, "as_left", RECORD, LIMITS)

    assert "centering" not in sheet
    assert "heights" not in sheet


def test_readings_before_and_after_a_change_are_never_mixed():
    before = [reading("l", "left", 213.0), reading("r", "right", 207.0)]
    turned = entry("c", "change", {"what": "bar_turned"}, round="as_found")
    after = [reading("l2", "left", 210.0), reading("r2", "right", 210.0)]

    def sides(*entries):
        part = sheet_for(list(entries), "as_found", {}, LIMITS)["centering"]
        return part["left"], part["right"]

    assert sides(*before, turned) == ([213.0], [207.0])
    assert sides(*before, turned, after[0]) == ([210.0], [])
    assert sides(*before, turned, *after) == ([210.0], [210.0])
    assert sides(*before, turned, *after, strike("s", "c")) == ([213.0, 210.0], [207.0, 210.0])


def test_heights_before_and_after_other_springs_are_never_mixed():
    before = [reading(f"b{side}", side, 220.0, step="heights") for side in ("left", "right")]
    springs = entry("c", "change", {"what": "springs_changed"}, round="as_found")
    after = [reading(f"a{side}", side, 320.0, step="heights") for side in ("left", "right")]

    found = sheet_for([*before, springs, *after], "as_found", {}, LIMITS)["heights"]

    assert found == {"left": [320.0], "right": [320.0]}


def test_faces_that_differ_are_told():
    mixed = [*READINGS, reading("z", "right", 205.0, body={"face": "tire"})]

    assert sheet_for(mixed, "as_found", {}, LIMITS)["centering"]["mixed_faces"] == ["hub", "tire"]


def test_the_record_names_the_face_where_the_reading_does_not():
    sheet = sheet_for([reading("a", "left", 1.0)], "as_found", {"face": "knuckle"}, LIMITS)

    assert sheet["centering"]["face"] == "knuckle"
    assert sheet_for([reading("a", "left", 1)], "as_found", {}, LIMITS)["centering"]["face"] == (
        "rotor"
    )


ON_FILE = {"track_bars": {"front": {"frame_end": "left", "length": 860, "frame_height": 612}}}
TURNED = entry("t", "change", {"what": "bar_turned", "length_change": 5.5}, round="as_found")
OTHER_CHANGE = entry("u", "change", {"what": "bracket_moved"}, round="as_found")


def bar_length(entries, round_name, record=ON_FILE):
    return sheet_for(entries, round_name, record, LIMITS)["track_bar"]["length"]


def test_the_bar_is_carried_from_the_record_and_measured_over():
    measured = reading("m", "length", 862, step="track_bar")

    assert bar_length([], "as_found") == 860
    assert bar_length([measured], "as_found") == 862
    assert bar_length([measured], "as_left") == 862


def test_a_logged_turn_lengthens_the_bar_of_the_later_rounds():
    assert bar_length([TURNED, OTHER_CHANGE], "as_found") == 860
    assert bar_length([TURNED, OTHER_CHANGE], "as_left") == 865.5


def test_a_length_measured_in_the_round_itself_goes_before_the_logged_turn():
    measured = reading("m", "length", 866, step="track_bar", round="as_left")

    assert bar_length([TURNED, measured], "as_left") == 866


def test_a_turn_of_a_bar_of_unknown_length_says_nothing_about_it():
    record = {"track_bars": {"front": {"frame_end": "left"}}}

    assert "length" not in sheet_for([TURNED], "as_left", record, LIMITS)["track_bar"]


def test_a_picked_side_and_adjuster_go_over_the_record():
    pick = entry("p", "pick", {"step": "track_bar", "field": "frame_end", "value": "right"})
    bar = sheet_for([{**pick, "round": "as_found"}], "as_found", ON_FILE, LIMITS)["track_bar"]

    assert bar["frame_end"] == "right"


def ready_entries():
    sides = [("left", 205), ("left", 205), ("right", 200), ("right", 200)]
    readings = [reading(f"r{i}", side, mm) for i, (side, mm) in enumerate(sides)]
    names = ["level", "tires", "load", "settled", "straight"]
    ticks = [
        entry(f"k{name}", "tick", {"field": name, "value": True}, round="as_found")
        for name in names
    ]
    standing_on = {"step": "heights", "field": "standing", "value": "on_wheels"}
    return [*readings, *ticks, entry("p", "pick", standing_on, round="as_found")]


def test_plans_kept_with_the_job_are_on_the_sheet_of_every_round():
    kept = {"name": "taller bracket", "axle_end_up": 50}
    entries = [*ready_entries(), entry("plan", "plan", kept, round=None)]

    [plan] = sheet_for(entries, "as_found", {}, LIMITS)["plans"]

    assert (plan["name"], plan["axle_end_up"], plan["pitman_down"]) == ("taller bracket", 50, None)
    assert "plans" not in sheet_for(ready_entries(), "as_found", {}, LIMITS)


def test_accepting_puts_bar_and_sum_on_file():
    entries = ready_entries()
    record = {**ON_FILE, "known_sums": {"rear": {"hub": {"sum": 1, "u": 1}}}}
    findings = assess(sheet_for(entries, "as_found", record, LIMITS))

    patch = accepted_patch(entries, record, LIMITS, findings)

    assert patch["from_job"] == "j"
    assert patch["track_bars"] == ON_FILE["track_bars"]
    assert patch["known_sums"]["front"]["rotor"]["sum"] == 405
    assert patch["known_sums"]["rear"] == record["known_sums"]["rear"]


def test_accepting_a_job_without_a_verdict_puts_no_sum_on_file():
    entries = [*ready_entries(), strike("s", "klevel")]
    findings = assess(sheet_for(entries, "as_found", {}, LIMITS))

    assert accepted_patch(entries, {}, LIMITS, findings) == {"from_job": "j"}
    assert accepted_patch([OPENED], {}, LIMITS, {}) == {"from_job": "j"}


def test_a_limit_counts_from_its_day_on():
    made = [{"from": "2026-12-24"}, {}, {"from": "2026-12-09"}]
    entries = [entry(str(n), "limit", {"name": "offset", **body}) for n, body in enumerate(made)]

    assert ids(in_force(entries, "2026-12-08")) == ["1"]
    assert ids(in_force(entries, "2026-12-23")) == ["1", "2"]
    assert ids(in_force(entries, "2026-12-24")) == ["0", "1", "2"]


def filed(id, vehicle, **body):
    return entry(id, "vehicle", body, job=None) | {"vehicle": vehicle}


BAR, OTHER_BAR = {"length": 862}, {"length": 790}
HUB, ROTOR = {"hub": {"sum": 420.0, "u": 0.5}}, {"rotor": {"sum": 417.5, "u": 0.5}}
BY_AXLE = {
    "track_bars": (BAR, OTHER_BAR),
    "drag_links": (BAR, OTHER_BAR),
    "torques": ([{"fastener": "jam nuts"}], []),
    "rechecks": ({"distance": 800, "unit": "km"}, {"date": "2026-12-24"}),
    "remeasure": ({"distance": 800, "unit": "km"}, {"date": "2026-12-24"}),
    "known_sums": (ROTOR, {"rotor": {"sum": 411.0, "u": 0.5}}),
    "joint_limits": ({"frame end": {"house_limit": 1}}, {"frame end": {"house_limit": 2}}),
}


@pytest.mark.parametrize("name", list(BY_AXLE))
def test_what_a_merged_record_filed_for_an_axle_stays_unless_the_other_filed_its_own(name):
    parts, own = BY_AXLE[name]
    part = filed("a", "part", **{name: {"front": parts, "rear": parts}})
    chief = filed("b", "chief", **{name: {"front": own}})

    assert fold_vehicle([part, chief])[name] == {"front": own, "rear": parts}


def test_merged_records_keep_the_tags_that_either_of_them_lost():
    part = filed("a", "part", replaced_tags={"K7RM-4TQX": {"by": None}})
    chief = filed("b", "chief", replaced_tags={"AB2D-9XYZ": {"by": "CD3F-4HJK"}})

    replaced = fold_vehicle([part, chief])["replaced_tags"]

    assert replaced == {"K7RM-4TQX": {"by": None}, "AB2D-9XYZ": {"by": "CD3F-4HJK"}}


def test_merged_records_keep_the_sums_of_every_face_and_the_limits_of_every_joint():
    part = filed("a", "part", known_sums={"front": ROTOR}, joint_limits={"front": {"clevis": {}}})
    chief = filed("b", "chief", known_sums={"front": HUB}, joint_limits={"front": {"ball": {}}})

    record = fold_vehicle([part, chief])

    assert record["known_sums"] == {"front": {**ROTOR, **HUB}}
    assert record["joint_limits"] == {"front": {"clevis": {}, "ball": {}}}


def test_a_patch_replaces_all_that_its_own_record_had_under_a_name():
    part = filed("a", "part", track_bars={"rear": BAR})
    both = filed("b", "chief", track_bars={"front": BAR, "rear": OTHER_BAR})
    one = filed("c", "chief", track_bars={"front": OTHER_BAR})

    assert fold_vehicle([both, one])["track_bars"] == {"front": OTHER_BAR}
    assert fold_vehicle([part, both, one])["track_bars"] == {"front": OTHER_BAR, "rear": BAR}


def test_a_retired_record_that_becomes_part_of_a_vehicle_does_not_retire_it():
    part = filed("a", "part", retired=True, note="put on file twice")
    chief = filed("b", "chief", name="Gray hauler")

    record = fold_vehicle([part, chief])

    assert "retired" not in record and record["note"] == "put on file twice"
    assert fold_vehicle([part, filed("b", "chief", retired=True)])["retired"] is True
