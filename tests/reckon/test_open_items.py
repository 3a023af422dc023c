"""What is open before the road: its step, what settles it, and what earlier jobs leave."""

import pytest
from kit.held_sheets import HELD, KNOWN
from kit.looked_over import (
    BOLTS,
    CENTERED,
    OPENED,
    OVAL,
    PLACES,
    change,
    points,
    says,
    seen,
    swept,
    tight,
    torqued,
)
from kit.worked_sheets import SAMPLE, changed, entry

from webapp.reckon.assess import assess
from webapp.reckon.walk.hold_points import MAX_ACCEPTED, earlier_jobs, hold_points
from webapp.reckon.walk.open_items import items_before_road

# The axle sits in the middle here, where it did not before.
MOVED = {
    "moved_unexplained": {"before": {"offset": -9.0}},
    "wrong_side": {"before": {"offset": -5.0, "length_change": 3.0}},
}


def items(entries=(), **parts):
    return items_before_road([OPENED, *entries], [seen(**parts)], "front")


def held(code):
    """What a sheet on hold leaves open, by its sentence."""
    parts = MOVED.get(code, HELD[code])
    sheet = changed(changed(CENTERED, before=KNOWN["before"]), **parts)
    found = assess(sheet)
    rounds = [{"name": "as_found", "sheet": sheet, "findings": found}]
    reasons = {each["code"]: each["says"] for each in found["advice"]["reasons"]}
    open_items = items_before_road([OPENED], rounds, "front")
    return [each for each in open_items if each["says"] == reasons[code]]


@pytest.mark.parametrize(
    ("code", "step", "about"),
    [
        ("height_changed", "heights", ["step heights"]),
        ("leans", "heights", ["step heights"]),
        ("wheel_wanders", "drag_link", ["step drag_link"]),
        ("does_not_repeat", "centering", ["centering"]),
        ("moved_unexplained", "centering", ["repair"]),
        ("wrong_side", "centering", ["repair"]),
        ("links_older", "drag_link", ["step drag_link"]),
        ("implausible", "centering", ["centering"]),
    ],
)
def test_a_reason_to_hold_names_the_step_that_settles_it(code, step, about):
    [found] = held(code)

    assert (found["step"], found["about"], found["unseen"]) == (step, about, False)


@pytest.mark.parametrize(
    ("parts", "step"),
    [
        ({"heights": {"left": [9271.0]}}, "heights"),
        ({"toe": {"front": 15200, "rear": 15220, "span": 780}}, "drag_link"),
        ({"steering": {"wheel_deg": 500}}, "drag_link"),
        ({"play": [tight("frame end", bolt=500.0), tight("axle end")]}, "play"),
    ],
)
def test_an_odd_value_is_settled_in_its_own_step(parts, step):
    odd = [each for each in items(**parts) if "Usual is" in each["says"]]

    assert {each["step"] for each in odd} == {step}


def test_an_adjuster_without_thread_is_settled_at_the_bar():
    short = {"adjuster": {"kind": "one_end", "pitch": 1.5, "thread_left": 2}}
    found = items(centering=SAMPLE["centering"], track_bar=short)

    steps = {each["step"] for each in found if "of thread left" in each["says"]}
    assert steps == {"track_bar"}


def test_what_sides_and_joints_say_themselves_is_said_once():
    found = items(centering={"known_sum": 300.0, "known_sum_u": 0.5})

    assert len([each for each in found if "add up to" in each["says"]]) == 1


SETTLED_BY = [
    ({"centering": SAMPLE["centering"]}, "centering", ["centering"]),
    ({"standing": "hanging"}, "centering", ["centering"]),
    ({"centering": {"known_sum": 300.0, "known_sum_u": 0.5}}, "centering", ["centering"]),
    ({"steering": {"wheel_deg": 30}}, "drag_link", ["steering"]),
    ({"steering": None}, "drag_link", []),
    ({"limits": {"bump_steer": 0.1}}, "drag_link", ["bump_steer"]),
    ({"play": [tight("frame end", loose="bracket"), tight("axle end")]}, "play",
     ["joint frame end"]),
    ({"play": [tight("frame end", along=2.0), tight("axle end")]}, "play", ["joint frame end"]),
    ({"play": [OVAL, tight("axle end")]}, "play", ["hole frame end"]),
    ({"clearance": swept(places=PLACES[:10])}, "clearance", ["pair oil pan/track bar"]),
    ({"torque": [torqued("jam nuts", source=None), *BOLTS[:2], *BOLTS[3:]]}, "torque",
     ["torque jam nuts"]),
    ({"torque": None}, "torque", []),
]  # fmt: skip


@pytest.mark.parametrize(("parts", "step", "about"), SETTLED_BY)
def test_an_item_names_its_step_and_what_settles_it(parts, step, about):
    found = [each for each in items(**parts) if "Repair it first" not in each["says"]]

    assert [each["step"] for each in found][:1] == [step]
    assert about in [each["about"] for each in found]


REDONE = [
    ("bar_turned", {"centering": ["centering"], "drag_link": ["steering"],
                    "torque": ["torque jam nuts"]}),
    ("hole_repaired", {"play": ["joint frame end"]}),
]  # fmt: skip


@pytest.mark.parametrize(("what", "about"), REDONE)
def test_what_is_to_be_made_again_names_what_settles_it(what, about):
    body = {"what": what, "part": "frame-end bracket"}
    rocked = {"step": "play", "field": "along", "joint": "frame end", "of": "track_bar"}
    told = {"step": "torque", "field": "fastener", "fastener": "jam nuts"}
    before = [
        entry("r", "reading", {**rocked, "value": 0.1, "unit": "mm"}, round="as_found"),
        entry("t", "reading", {**told, "value": 90, "unit": "N·m"}, round="as_found"),
    ]
    made = [*before, entry("c", "change", body, round="as_found")]
    found = {each["step"]: each["about"] for each in items(made) if each["cause"] is not None}

    for step, settles in about.items():
        assert found.get(step) == settles, found


def test_where_the_axle_sits_is_said_in_the_units_of_the_sheet():
    outside = {"centering": SAMPLE["centering"], "units": "in"}
    [found] = [each for each in items(**outside) if "outside the limit" in each["says"]]

    assert "\u202fin (5.4\u202fmm) to the left" in found["says"]


def test_jam_nuts_are_asked_for_where_the_bar_has_threads():
    without = BOLTS[:2] + BOLTS[3:]
    fixed = {"adjuster": {"kind": "fixed"}}

    asked = says(points([], seen(torque=without))["road"])
    assert asked == ["Not looked at: torque of the jam nuts."]
    assert says(points([], seen(torque=without, track_bar=fixed))["road"]) == []


def hand_in(missing=(), id="h"):
    return entry(id, "hand_in", {"missing": list(missing), "reason": "asked for"})


def past_of(*jobs):
    return {"jobs": list(jobs), "closings": []}


def job(state, *rounds, entries=()):
    return {"state": state, "entries": [OPENED, *entries], "rounds": list(rounds)}


def road_after(past, rounds=None, entries=()):
    begun = entry("o2", "job", {"axle": "front", "round": "recheck"})
    found = hold_points([begun, *entries], rounds or [seen("recheck")], past)
    return {each["hold_point"]: each for each in found}["road"]


WORN = seen(play=[OVAL, tight("axle end")])
OVAL_SAYS = "Track bar, frame end: its hole is oval. Repair it, or let the lead judge it."


@pytest.mark.parametrize(
    ("state", "left"), [("pending", 1), ("accepted", 1), ("sent_back", 0), ("open", 0)]
)
def test_a_job_leaves_what_it_found_once_it_is_handed_in_and_not_sent_back(state, left):
    road = road_after(past_of(job(state, WORN, entries=[hand_in()])))

    assert says(road).count(OVAL_SAYS) == left
    assert [each["earlier"] for each in road["open"]] == [True] * left


def test_a_move_that_nothing_explains_is_left_until_something_is_repaired():
    moved = seen(before={"offset": -9.0, "expanded": 0.9, "heights": SAMPLE["heights"]})
    past = past_of(job("accepted", moved, entries=[hand_in()]))

    [left] = [each for each in road_after(past)["open"] if "explain a move" in each["says"]]
    assert (left["step"], left["about"], left["earlier"]) == ("centering", ["repair"], True)
    turned, repaired = change("bar_turned"), change("part_replaced")
    assert "explain a move" in " ".join(says(road_after(past, entries=[turned])))
    assert "explain a move" not in " ".join(says(road_after(past, entries=[repaired])))
    early = past_of(job("accepted", moved, entries=[change("part_replaced"), hand_in()]))
    assert "explain a move" in " ".join(says(road_after(early)))
    assert says(road_after(past_of(job("accepted", seen(), entries=[hand_in()])))) == []


def test_a_round_without_a_sheet_to_judge_hides_no_move():
    moved = seen(before={"offset": -9.0, "expanded": 0.9, "heights": SAMPLE["heights"]})
    blank = {"name": "as_left", "sheet": CENTERED, "findings": {"faults": []}}
    past = past_of(job("accepted", moved, blank, entries=[hand_in()]))

    assert "explain a move" in " ".join(says(road_after(past)))


LACKS = "A job was handed in incomplete: Photograph the tag."
WHOLE = seen("recheck", recheck={"date": "2027-01-05"})
SHORT = seen("recheck", centering={"left": [204.0]})


def test_an_incomplete_job_is_left_until_a_later_round_lacks_nothing():
    first = job("accepted", WHOLE, entries=[hand_in(["Photograph the tag."])])
    whole = job("accepted", WHOLE, entries=[hand_in(id="h2")])
    short = job("accepted", SHORT, entries=[hand_in(id="h2")])

    assert LACKS in says(road_after(past_of(first), [SHORT]))
    assert LACKS not in says(road_after(past_of(first), [WHOLE]))
    assert LACKS not in says(road_after(past_of(first, whole), [SHORT]))
    assert LACKS in says(road_after(past_of(whole, first, short), [SHORT]))


def test_a_job_that_was_handed_in_by_nobody_lacks_nothing():
    assert LACKS not in says(road_after(past_of(job("accepted", seen())), [SHORT]))


def test_no_more_accepted_jobs_are_looked_through_than_a_phone_keeps():
    found = [
        {"job": f"j{at}", "axle": "front", "state": "accepted"} for at in range(MAX_ACCEPTED + 2)
    ]
    waiting = {"job": "w", "axle": "front", "state": "pending"}
    this = {"job": "x", "axle": "front", "state": "open", "second_of": None}

    before = earlier_jobs([waiting, *found, this], this)

    assert before == [waiting, *found[2:]]
    assert earlier_jobs([*found[:2], this], this) == found[:2]


def test_what_was_not_ticked_at_the_fit_up_is_settled_at_the_job():
    ticks = [
        each
        for each in points([change("bracket_moved")])["final_welding"]["open"]
        if each["says"].startswith("Not checked")
    ]

    assert {each["step"] for each in ticks} == {"job"}
    assert [each["about"] for each in ticks] == [["tick bar_fitted"], ["tick swung"]]
