"""What is due on a vehicle: asked once, kept until it is done or asked otherwise."""

from kit.worked_sheets import entry

from webapp.reckon.log.due import done_patch, due_of

PLAN = {"date": "2026-12-24", "distance": 800, "unit": "km"}


def asking(id, key, plan, made_at, seq=1, **more):
    body = {key: {"front": plan}, **more}
    return entry(id, "vehicle", body, job=None, made_at=made_at, seq=seq)


def test_a_recheck_is_due_since_it_was_first_asked():
    first = asking("a", "rechecks", PLAN, "2026-11-01T10:00", from_job="j1")
    again = asking("b", "rechecks", dict(PLAN), "2026-11-09T10:00", from_job="j2")

    [due] = due_of([first, again])

    assert (due["axle"], due["what"], due["since"]) == ("front", "recheck", "2026-11-01T10:00")
    assert (due["date"], due["distance"], due["unit"], due["job"]) == (*PLAN.values(), "j1")


def test_another_plan_counts_from_when_it_was_asked():
    first = asking("a", "rechecks", PLAN, "2026-11-01T10:00")
    other = asking("b", "rechecks", {**PLAN, "distance": 500}, "2026-11-09T10:00")

    [due] = due_of([first, other])

    assert (due["distance"], due["since"]) == (500, "2026-11-09T10:00")


def test_what_is_done_or_struck_is_not_due():
    asked = asking("a", "remeasure", PLAN, "2026-11-01T10:00")
    done = asking("b", "remeasure", None, "2026-11-09T10:00")
    strike = entry("c", "strike", {"target": "a", "reason": "wrong vehicle"})

    assert [due["what"] for due in due_of([asked])] == ["remeasure"]
    assert due_of([asked, done]) == []
    assert due_of([asked, strike]) == []


def test_a_plan_that_is_said_again_beside_another_keeps_its_day():
    first = asking("a", "remeasure", PLAN, "2026-11-01T10:00")
    both = {"front": dict(PLAN), "rear": {"date": "2027-01-05"}}
    again = entry("b", "vehicle", {"remeasure": both}, made_at="2026-11-09T10:00")

    since = {due["axle"]: due["since"] for due in due_of([first, again])}

    assert since == {"front": "2026-11-01T10:00", "rear": "2026-11-09T10:00"}


def test_what_either_record_of_a_merged_vehicle_was_asked_stays_due():
    part = asking("a", "remeasure", PLAN, "2026-11-09T10:00", seq=8) | {"vehicle": "w"}
    other = {"date": "2027-01-05"}
    chief = entry("b", "vehicle", {"remeasure": {"front": None, "rear": other}}, seq=3)
    done = entry("c", "vehicle", {"remeasure": {"front": None, "rear": other}}, seq=9)
    rear = entry("d", "vehicle", {"remeasure": {"front": {"date": "2027-02-01"}}}, seq=2)

    assert [due["axle"] for due in due_of([part, chief])] == ["front", "rear"]
    assert [due["axle"] for due in due_of([part, rear, done])] == ["rear"]
    assert [due["date"] for due in due_of([part, rear])] == ["2027-02-01"]


def test_a_recheck_round_settles_the_bolts_unless_it_asks_for_another():
    record = {"rechecks": {"front": PLAN, "rear": PLAN}}
    settled = {"rechecks": {"front": None, "rear": PLAN}}

    assert done_patch({}, record, "front", ["as_found", "recheck"], False) == settled
    assert done_patch({"rechecks": {}}, record, "front", ["recheck"], False) == {}
    assert done_patch({}, record, "front", ["as_left"], False) == {}
    assert done_patch({}, {}, "front", ["recheck"], False) == {}


def test_a_measured_axle_is_no_longer_due_to_be_measured():
    record = {"remeasure": {"front": PLAN}}

    assert done_patch({}, record, "front", [], True) == {"remeasure": {"front": None}}
    assert done_patch({}, record, "front", [], False) == {}
    assert done_patch({}, record, "rear", [], True) == {}
