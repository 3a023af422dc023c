"""What is due on a vehicle: asked once, kept until it is done or asked otherwise."""

import pytest
from reckon_kit import entry

from webapp.reckon.due import done_patch, due_of, same_plan

PLAN = {"date": "2026-12-24", "distance": 800, "unit": "km"}


def asking(id, key, plan, made_at, **more):
    return entry(id, "vehicle", {key: {"front": plan}, **more}, job=None, made_at=made_at)


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


@pytest.mark.parametrize(
    ("first", "second", "same"),
    [(None, None, True), (PLAN, None, False), (PLAN, dict(PLAN), True), (PLAN, {}, False)],
)
def test_plans_are_the_same_in_all_their_parts_or_not_at_all(first, second, same):
    assert same_plan(first, second) is same
    assert same_plan(second, first) is same


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
