"""Hold points."""

import pytest
from kit.worked_sheets import LIMITS, SAMPLE, changed, entry

from webapp.reckon.assess import assess
from webapp.reckon.log.fold import fold_job
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.reckon.step_terms import HOLD_POINT_TITLES
from webapp.reckon.walk.hold_points import STATES, hold_points

OPENED = entry("o", "job", {"axle": "front", "round": "as_found"})
CENTERED = changed(
    SAMPLE,
    centering={"left": [204.0, 204.0], "right": [204.0, 204.2]},
    clearance=None,
    play=None,
)
PLACES = [
    {"state": state, "lock": lock}
    for state in ("ride", "full_bump", "full_droop", "crossed_up")
    for lock in ("left", "straight", "right")
]


def seen(name="as_found", **parts):
    sheet = changed(CENTERED, **parts)
    return {"name": name, "sheet": sheet, "findings": assess(sheet)}


def swept(gap=12.0, places=PLACES):
    return [{"between": ["track bar", "sump"], "gap": gap, **each} for each in places]


def points(entries, *rounds):
    found = hold_points([OPENED, *entries], list(rounds) or [seen()])
    return {each["hold_point"]: each for each in found}


def says(point):
    return [each["says"] for each in point["open"]]


def change(what, id="c", round="as_found"):
    return entry(id, "change", {"what": what}, round=round)


def test_a_plain_check_inside_has_one_hold_point_and_nothing_open():
    found = points([])

    assert list(found) == ["road"]
    assert (found["road"]["state"], found["road"]["open"]) == ("clear", [])
    assert "safe" not in " ".join([*HOLD_POINT_TITLES.values(), *STATES.values()])


HELD = [
    ({"centering": SAMPLE["centering"]}, "The axle sits"),
    ({"centering": {"left": [209.0, 209.0]}}, "too close to the limit to call"),
    ({"standing": "hanging"}, "No verdict on the centering"),
    ({"centering": None}, "The centering was not measured."),
    ({"centering": {"known_sum": 300.0, "known_sum_u": 0.5}}, "The sides add up to"),
    ({"steering": {"wheel_deg": -9}}, "9° to the right. Center it with the drag link."),
    (
        {"clearance": swept("touches", PLACES[:1])},
        "Track bar to sump: contact, at ride height, left lock.",
    ),
    (
        {"play": [{"joint": "frame end", "of": "track_bar", "along": 2.0, "house_limit": 1.0}]},
        "Frame end: outside its limit.",
    ),
    ({"torque": [{"fastener": "frame-end bolt", "value": 90, "unit": "N·m"}]}, "Frame-end bolt: "),
]


@pytest.mark.parametrize(("parts", "words"), HELD)
def test_before_the_road_each_finding_that_is_not_in_order_is_open(parts, words):
    road = points([], seen(**parts))["road"]

    assert road["state"] == "open"
    assert any(words in each for each in says(road)), says(road)


def test_a_wheel_that_sits_centered_is_not_open():
    assert points([], seen(steering={"wheel_deg": 2}))["road"]["open"] == []


def test_a_later_round_goes_before_an_earlier_one_joint_by_joint():
    worn = [{"joint": "frame end", "along": 2.0, "house_limit": 1.0}]
    tight = [{"joint": "frame end", "along": 0.2, "house_limit": 1.0}]

    road = points([], seen(play=worn), seen("as_left", play=tight))["road"]

    assert road["open"] == []


def test_what_a_change_overtook_is_open_once_and_with_its_step():
    road = points([change("bar_turned")], seen(steering={"wheel_deg": 30}))["road"]

    assert [each["step"] for each in road["open"]] == [
        "centering",
        "drag_link",
        "clearance",
        "torque",
    ]


WELDING = [
    ([], [seen("fit_up")]),
    ([change("bracket_moved")], []),
    ([change("hole_repaired")], []),
]


@pytest.mark.parametrize(("entries", "rounds"), WELDING)
def test_a_fit_up_or_cut_metal_comes_to_final_welding(entries, rounds):
    welding = points(entries, *rounds)["final_welding"]

    assert welding["state"] == "open"
    assert len(says(welding)) == 3


def test_a_contact_stays_open_until_that_place_is_looked_at_again():
    bump, ride = PLACES[3], PLACES[0]
    found = seen(clearance=swept("touches", [bump]))
    elsewhere = seen("as_left", clearance=swept(25.0, [ride]))
    there = seen("as_left", clearance=swept(12.0, [bump]))

    road = points([], found, elsewhere)["road"]

    assert says(road) == ["Track bar to sump: contact, at full bump, left lock."]
    assert points([], found, there)["road"]["open"] == []


def tick(field, value=True, id=None, round="fit_up"):
    return entry(id or field, "tick", {"field": field, "value": value}, round=round)


READY = [tick("bar_fitted"), tick("swung")]


def test_a_fit_up_that_was_swept_fitted_and_swung_has_nothing_open():
    assert points(READY, seen("fit_up", clearance=swept()))["final_welding"]["state"] == "clear"


OPEN_AT_FIT_UP = [
    ([tick("swung")], swept(), "Not ticked: Bar fitted"),
    ([tick("bar_fitted"), tick("swung", False)], swept(), "Not ticked: Steering swung"),
    ([tick("bar_fitted"), tick("swung", round="as_left")], swept(), "Not ticked: Steering swung"),
    (READY, swept("touches"), "Track bar to sump: contact at fit-up, at ride height"),
    (READY, swept(places=PLACES[:10]), "Track bar to sump: 2 places not looked at."),
]


@pytest.mark.parametrize(("ticks", "clearance", "words"), OPEN_AT_FIT_UP)
def test_before_final_welding_it_is_said_what_is_open(ticks, clearance, words):
    welding = points(ticks, seen("fit_up", clearance=clearance))["final_welding"]

    assert len(says(welding)) == 1 and words in says(welding)[0]


def place_read(id, round="fit_up"):
    body = {"step": "clearance", "field": "gap", "value": 9.0, "between": ["track bar", "sump"]}
    return entry(id, "reading", {**body, "state": "ride", "lock": "left"}, round=round)


REFITTED = [
    (change("bracket_moved", "c", "fit_up"), 3),
    (change("bar_replaced", "c", "fit_up"), 3),
    (change("hole_repaired", "c", "as_left"), 3),
    (change("bar_turned", "c", "as_left"), 0),
    (change("link_turned", "c", "fit_up"), 0),
]


@pytest.mark.parametrize(("changed_then", "count"), REFITTED)
def test_a_change_after_the_sweep_asks_for_another_fit_up(changed_then, count):
    made = [*READY, place_read("r"), changed_then]
    again = [tick("bar_fitted", id="t3"), tick("swung", id="t4"), place_read("r2")]
    round = seen("fit_up", clearance=swept())

    assert len(says(points(made, round)["final_welding"])) == count
    assert points([*made, *again], round)["final_welding"]["state"] == "clear"


def passed(id="p", seen_open=None, point="road"):
    body = {"hold_point": point, "reason": "tested on the ring road"}
    return entry(id, "pass_over", body if seen_open is None else {**body, "open": seen_open})


def test_passing_over_covers_what_was_open_then_and_no_more():
    outside = seen(centering=SAMPLE["centering"])
    opened = says(points([], outside)["road"])

    covered = points([passed(seen_open=opened)], outside)["road"]
    more = points([passed(seen_open=opened), change("part_replaced")], outside)["road"]

    assert covered["state"] == "passed_over"
    assert covered["passed"]["body"]["reason"] == "tested on the ring road"
    assert more["state"] == "open" and more["passed"] is not None
    assert points([passed()], outside)["road"]["state"] == "passed_over"
    assert points([passed(point="final_welding")], outside)["road"]["passed"] is None
    assert points([passed(seen_open=opened)])["road"]["state"] == "clear"


def test_a_struck_passing_over_passes_nothing():
    strike = entry("s", "strike", {"target": "p", "reason": "not yet"})

    found = points([passed(), strike], seen(centering=SAMPLE["centering"]))["road"]

    assert (found["state"], found["passed"]) == ("open", None)


def test_a_real_jobs_sheets_come_to_hold_points():
    entries = [OPENED, change("bar_turned")]
    sheet = sheet_for(entries, "as_found", {}, LIMITS)
    rounds = [{"name": "as_found", "sheet": sheet, "findings": assess(sheet)}]

    assert fold_job(entries)["rounds"] == ["as_found"]
    assert len(hold_points(entries, rounds)[0]["open"]) == 4
