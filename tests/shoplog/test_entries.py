"""Which entries can be kept, and the one way in which each is written."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.entries import ABOUT_A_VEHICLE, BODIES, JOB, SOME_ENTRY, VEHICLE, make_entry, new_id

from webapp.shoplog import entries
from webapp.shoplog.rules.kinds import body_schema
from webapp.shoplog.rules.readings import PICKS

PHONE = "11111111-2222-4333-8444-555555555555"


def refusal(entry, phone=PHONE):
    """Why the entry is refused."""
    with pytest.raises(entries.Refused) as refused:
        entries.checked(entry, phone)
    return str(refused.value)


@pytest.mark.parametrize("kind", BODIES)
def test_every_kind_is_kept_as_it_was_made(kind):
    entry = make_entry(PHONE, kind)

    assert entries.checked(entry, PHONE).made == entry


@pytest.mark.parametrize("kind", BODIES)
def test_what_a_newer_app_adds_to_a_body_is_kept(kind):
    entry = make_entry(PHONE, kind, body={**BODIES[kind], "grip": "left hand"})

    assert entries.checked(entry, PHONE).made["body"]["grip"] == "left hand"


@pytest.mark.parametrize("kind", BODIES)
def test_every_missing_part_of_a_body_is_named(kind):
    missing = refusal(make_entry(PHONE, "limit", body={}))

    assert "The limit's name is missing. The limit's value is missing." in missing
    if kind not in ("vehicle", "change", "photo"):
        assert "is missing." in refusal(make_entry(PHONE, kind, body={}))


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"id": None}, "The entry's id must be an id"),
        ({"id": "17"}, "The entry's id must be an id"),
        ({"id": SOME_ENTRY.upper()}, "in lower case"),
        ({"id": 5}, "The entry's id must be an id"),
        ({"phone": new_id()}, "Another phone made this entry: send it from there."),
        ({"phone": None}, "The entry's phone must be an id"),
        ({"local_no": 0}, "The entry's local no must be a number from 1"),
        ({"local_no": True}, "The entry's local no must be a number from 1"),
        ({"local_no": "7"}, "The entry's local no must be a number from 1"),
        ({"local_no": 10_000_001}, "The entry's local no must be a number from 1"),
        ({"local_no": 2**53}, "The entry's local no must be a number from 1"),
        ({"local_no": 1.5}, "The entry's local no must be a number from 1"),
        ({"v": 2}, "update Axlewright on the shop PC"),
        ({"v": 1.0}, "update Axlewright on the shop PC"),
        ({"v": True}, "update Axlewright on the shop PC"),
        ({"v": None}, "update Axlewright on the shop PC"),
        ({"color": "red"}, "update Axlewright on the shop PC"),
        ({"kind": "song"}, "does not know entries of the kind song"),
        ({"kind": None}, "does not know entries of the kind None"),
        ({"kind": ["reading"]}, "does not know entries of the kind"),
        ({"vehicle": "the gray one"}, "The entry's vehicle must be an id"),
        ({"vehicle": None}, "does not say which vehicle it is about"),
        ({"job": None}, "does not say which job it belongs to"),
        ({"job": 3}, "The entry's job must be an id"),
        ({"round": None}, "does not say which round it belongs to"),
        ({"round": "second"}, "The entry's round must be one of as_found"),
        ({"round": []}, "The entry's round must be one of as_found"),
        ({"body": []}, "The entry's body must be an object"),
        ({"body": None}, "The entry's body must be an object"),
        ({"typed": 8.4375}, "The entry's typed must be a text"),
        ({"typed": "8" * 4001}, "The entry's typed must be a text of at most 4000"),
        ({"typed": "8 7/16\ud83d"}, "broken character"),
        ({"made_at": None}, "with its offset from UTC"),
        ({"made_at": 1764063727}, "with its offset from UTC"),
        ({"made_at": "2026-11-25T10:42:07"}, "with its offset from UTC"),
        ({"made_at": "2026-13-25T10:42:07+01:00"}, "with its offset from UTC"),
        ({"made_at": "2026-11-25T10:42:07+25:00"}, "with its offset from UTC"),
        ({"made_at": "yesterday"}, "with its offset from UTC"),
        ({"build": ""}, "The entry's build must be a text"),
        ({"build": None}, "The entry's build must be a text"),
    ],
)
def test_a_wrong_head_is_refused_and_says_what_is_wrong(changes, says):
    reason = refusal(make_entry(PHONE, "reading", **changes))

    assert says in reason
    assert reason.endswith(entries.RECORD_AGAIN)


@pytest.mark.parametrize(
    "key", ["v", "id", "phone", "local_no", "kind", "body", "made_at", "build"]
)
def test_a_missing_key_is_refused_by_name(key):
    entry = make_entry(PHONE)
    del entry[key]

    assert f"The entry has no {key.replace('_', ' ')}." in refusal(entry)


def test_what_may_be_null_may_also_be_left_out():
    entry = make_entry(PHONE, "limit")
    short = {key: value for key, value in entry.items() if value is not None}

    assert entries.checked(short, PHONE) == entries.checked(entry, PHONE)


def test_what_the_log_added_is_not_part_of_an_entry_sent_again():
    entry = make_entry(PHONE)
    pulled = {**entry, "seq": 5, "person": new_id(), "received_at": "2026-11-25T09:42:09.001+00:00"}

    assert entries.checked(pulled, PHONE) == entries.checked(entry, PHONE)


@pytest.mark.parametrize("kind", ["limit", *ABOUT_A_VEHICLE])
@pytest.mark.parametrize("changes", [{"job": JOB}, {"round": "as_left"}])
def test_an_entry_about_the_shop_or_a_vehicle_names_no_job_or_round(kind, changes):
    assert "job" in refusal(make_entry(PHONE, kind, **changes))


def test_a_limit_names_no_vehicle():
    assert "it names no vehicle" in refusal(make_entry(PHONE, "limit", vehicle=VEHICLE))


def test_a_strike_may_be_about_the_shop_but_in_a_job_it_names_the_vehicle():
    strike = make_entry(PHONE, "strike", vehicle=None, job=None)

    assert entries.checked(strike, PHONE).made == strike
    assert "names a job but not its vehicle" in refusal({**strike, "job": JOB})


@pytest.mark.parametrize(
    ("kind", "body", "says"),
    [
        ("vehicle", {"driving_side": "middle"}, "The vehicle's driving side must be one of left"),
        ("vehicle", {"name": "   "}, "The vehicle's name must be a text"),
        ("vehicle", {"track_bars": None}, "The vehicle's track bars must be an object"),
        ("vehicle", {"track_bars": {"front": None}}, "bars, front must be a track bar as it is on"),
        ("vehicle", {"known_sums": {"front": {"rotor": 1}}}, "sums, front, rotor must be the sum"),
        ("vehicle", {"known_sums": {"front": {"rotor": {"sum": 1}}}}, "front, rotor, u is missing"),
        (
            "vehicle",
            {"known_sums": {"middle": {}}},
            "Each name in the vehicle's known sums",
        ),
        (
            "vehicle",
            {"joint_limits": {"front": {" ": {}}}},
            "limits, front must be a text",
        ),
        ("vehicle", {"rechecks": {"front": 1}}, "The vehicle's rechecks, front must be a day, a"),
        ("vehicle", {"remeasure": {"rear": {}}}, "needs a day, a distance in km or mi, or both"),
        ("vehicle", {"torques": {"rear": [{}]}}, "rear, no. 1, fastener is missing"),
        ("vehicle", {"replaced_tags": {"K7": {}}}, "replaced tags must be a tag code such as"),
        ("vehicle", {"track_bars": {"front": {"length": math.nan}}}, "It holds a number that is"),
        ("vehicle", {"track_bars": {"front": {"length": True}}}, "length must be a number between"),
        ("vehicle", {"axles": ["middle"]}, "The vehicle's axles, no. 1 must be one of front, rear"),
        ("vehicle", {"id": VEHICLE}, "the log fills it in itself"),
        ("vehicle", {"tags": []}, "the log fills it in itself"),
        ("vehicle", {"retired": 1}, "The vehicle's retired must be true or false"),
        ("tag", {"code": "k7rm4tqx"}, "a tag code such as K7RM-4TQX"),
        ("tag", {"code": None}, "a tag code such as K7RM-4TQX"),
        ("limit", {**BODIES["limit"], "value": 0}, "The limit's value must be a number above 0"),
        ("limit", {**BODIES["limit"], "from": "soon"}, "from must be a day such as 2026-12-24"),
        ("limit", {**BODIES["limit"], "name": "wheelbase"}, "must be one of offset, repeat"),
        ("limit", {**BODIES["limit"], "reason": ""}, "The limit's reason must be a text"),
        ("job", {**BODIES["job"], "axle": "both"}, "must be one of front, rear"),
        ("job", {**BODIES["job"], "about": None}, "The job's about must be a text"),
        (
            "reading",
            {**BODIES["reading"], "value": "221.5"},
            "The reading's value must be a number",
        ),
        ("reading", {**BODIES["reading"], "value": True}, "The reading's value must be a number"),
        ("reading", {**BODIES["reading"], "value": None}, "The reading's value must be a number"),
        ("reading", {**BODIES["reading"], "value": 1e6}, "between -20000 and 20000"),
        (
            "reading",
            {**BODIES["reading"], "unit": "ft"},
            "The reading's unit must be one of in, mm",
        ),
        ("reading", {**BODIES["reading"], "read_to": 0}, "The reading's read to must be a number"),
        ("reading", {**BODIES["reading"], "face": "hood"}, "must be one of hub"),
        ("reading", {**BODIES["reading"], "replaces": "it"}, "replaces must be an id"),
        (
            "reading",
            {**BODIES["reading"], "field": "middle"},
            "The reading's field must be one of left",
        ),
        ("reading", {**BODIES["reading"], "step": "paint"}, "no reading left in the step paint"),
        ("tick", {**BODIES["tick"], "value": 1}, "The tick's value must be true or false"),
        ("tick", {**BODIES["tick"], "field": "tidy"}, "The tick's field must be one of level"),
        ("pick", {"step": "heights", "field": "standing"}, "The pick's standing is missing"),
        ("pick", {**BODIES["pick"], "value": "floating"}, "The pick's standing must be one of"),
        ("pick", {**BODIES["pick"], "field": "sitting"}, "nothing to pick called sitting"),
        ("note", {"text": ""}, "The note's text must be a text"),
        ("strike", {"target": "it", "reason": "no"}, "The strike's target must be an id"),
        ("strike", {"target": SOME_ENTRY, "reason": ""}, "The strike's reason must be a text"),
        ("hand_in", {"missing": "all", "reason": None}, "The hand in's missing must be a list"),
        ("decision", {**BODIES["decision"], "verdict": "fine"}, "must be one of accepted, sent_"),
        ("decision", {**BODIES["decision"], "verdict": "sent_back"}, "with a reason: say what"),
        ("change", {"length_change": "5"}, "The change's length change must be a number"),
    ],
)
def test_a_wrong_body_is_refused_and_says_what_is_wrong(kind, body, says):
    assert says in refusal(make_entry(PHONE, kind, body=body))


def test_a_long_body_is_refused():
    body = {**BODIES["note"], "drawing": "x" * 16_384}

    assert "longer than 16 kB" in refusal(make_entry(PHONE, "note", body=body))


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 2**53, 10**400, {1, 2}, {1: 2}])
def test_what_json_on_a_phone_cannot_hold_is_refused(value):
    assert "It holds" in refusal(make_entry(PHONE, "note", body={"text": "x", "more": value}))


def test_a_body_nested_without_end_is_refused():
    body = {"text": "x"}
    body["more"] = body

    assert "nested too deeply" in refusal(make_entry(PHONE, "note", body=body))


@pytest.mark.parametrize("thing", [None, 5, "entry", [], [{}]])
def test_what_is_no_entry_at_all_is_refused(thing):
    assert "This is not an entry." in refusal(thing)


@pytest.mark.parametrize(
    "made_at",
    [
        "1970-01-01T00:00:00Z",
        "2040-02-29T23:59:59.999-11:00",
        "0001-01-01T00:00:00+14:00",
        "9999-12-31T23:59:59-12:00",
    ],
)
def test_f33_a_wrong_clock_is_no_reason_to_refuse(made_at):
    entry = make_entry(PHONE, made_at=made_at)

    assert entries.checked(entry, PHONE).made["made_at"] == made_at


@pytest.mark.parametrize("step", ["heights", "centering", "track_bar", "drag_link"])
def test_every_length_of_a_step_is_kept(step):
    for field in body_schema(f"reading.{step}")["properties"]["field"]["enum"]:
        entry = make_entry(PHONE, body={**BODIES["reading"], "step": step, "field": field})
        assert entries.checked(entry, PHONE).made == entry


GOOD_PICKS = {
    "standing": "hanging",
    "face": "tire",
    "method": "plumb_bob",
    "left_extra": 6,
    "right_extra": None,
    "rail_point_height": 610.5,
    "face_point_height": 380,
    "tilt_deg": 0.2,
    "high_side": "left",
    "frame_end": "right",
    "adjuster": {"kind": "one_end", "pitch": 1.5, "step": 0.5},
    "carried": True,
    "arm_points": "rearward",
    "ratio": 17.5,
    "wheel_deg": -12,
}


@pytest.mark.parametrize("step", ["heights", "centering", "track_bar", "drag_link"])
def test_every_choice_of_a_step_is_kept(step):
    for field in PICKS[step]:
        body = {"step": step, "field": field, "value": GOOD_PICKS[field]}
        assert entries.checked(make_entry(PHONE, "pick", body=body), PHONE).body == (
            entries.canonical(body)
        )


numbers = st.integers(-(2**53) + 1, 2**53 - 1) | st.floats(allow_nan=False, allow_infinity=False)
json_values = st.recursive(
    st.none() | st.booleans() | numbers | st.text(st.characters(codec="utf-8")),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=8,
)


@given(json_values)
def test_the_canonical_writing_survives_a_trip_through_json(value):
    kept = entries.plain(value)

    again = entries.plain(json.loads(json.dumps(kept)))

    assert kept == value
    assert entries.canonical(again) == entries.canonical(kept)


@given(st.integers(0, 10_000))
def test_a_whole_number_hashes_alike_whether_a_phone_or_python_wrote_it(number):
    body = {**BODIES["reading"], "value": number}
    entry = make_entry(PHONE, body=body)
    same = {**entry, "body": {**body, "value": float(number)}}

    assert entries.checked(same, PHONE).content == entries.checked(entry, PHONE).content


@given(st.permutations(list(make_entry(PHONE))))
def test_the_order_of_keys_does_not_change_the_hash(keys):
    entry = make_entry(PHONE)
    shuffled = {key: entry[key] for key in keys}

    assert entries.checked(shuffled, PHONE).content == entries.checked(entry, PHONE).content


@pytest.mark.parametrize("key", entries.MADE)
def test_the_hash_covers_everything_the_phone_made(key):
    entry = make_entry(PHONE)
    body = entries.canonical(entry["body"])
    other = {**entry, key: "something else"}

    changed = entries.content_hash(other, entries.canonical(other["body"]))

    assert changed != entries.content_hash(entry, body)
