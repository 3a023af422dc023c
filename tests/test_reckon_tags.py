"""Where tags lead, and which vehicles turn out to be one and the same."""

from hypothesis import given
from same_tags import tag_lines

from webapp.reckon.tags import family, follow

X, Y = "K7RM-4TQX", "AB2D-9XYZ"


def put(number, code, vehicle, **more):
    """A tag put on a vehicle, as line `number` of the log."""
    body = {"code": code, **more}
    return {"id": f"e-{number}", "kind": "tag", "vehicle": vehicle, "body": body}


def lines(*puts):
    """The lines of the log, numbered."""
    return [put(number, *(each[:2]), **dict.fromkeys(each[2:], True)) for number, each in puts]


def log(*puts):
    """Where tags lead after (code, vehicle) or (code, vehicle, "first") in this order."""
    return follow(lines(*enumerate(puts)))


def test_a_first_scan_of_a_blank_tag_makes_its_vehicle():
    assert log((X, "new", "first")) == {"leads": {X: "new"}, "merged": {}}


def test_two_first_scans_of_one_tag_are_one_vehicle():
    assert log((X, "new", "first"), (X, "new", "first")) == {"leads": {X: "new"}, "merged": {}}


def test_two_first_scans_under_two_ids_are_merged_into_the_first():
    found = log((X, "one", "first"), (X, "two", "first"), (X, "three", "first"))

    assert found == {"leads": {X: "one"}, "merged": {"two": "one", "three": "one"}}


def test_a_first_scan_of_a_tag_that_was_given_before_is_part_of_its_vehicle():
    found = log((X, "lorry"), (X, "new", "first"))

    assert found == {"leads": {X: "lorry"}, "merged": {"new": "lorry"}}
    assert family("lorry", found["merged"]) == family("new", found["merged"]) == ["new", "lorry"]


def test_a_tag_moved_on_purpose_parts_nothing_and_merges_nothing():
    found = log((X, "new", "first"), (X, "lorry"))

    assert found == {"leads": {X: "lorry"}, "merged": {}}


def test_a_late_first_scan_takes_no_tag_and_no_vehicle_that_had_it_once():
    found = log((X, "new", "first"), (X, "lorry"), (X, "new", "first"))

    assert found == {"leads": {X: "lorry"}, "merged": {}}


def test_a_tag_put_on_a_merged_vehicle_leads_to_the_one_it_is_part_of():
    found = log((X, "lorry"), (X, "new", "first"), (Y, "new"))

    assert found == {"leads": {X: "lorry", Y: "lorry"}, "merged": {"new": "lorry"}}


def test_striking_the_first_scan_parts_the_vehicles_again():
    made = lines((0, (X, "lorry")), (1, (X, "new", "first")))
    strike = {"id": "s", "kind": "strike", "vehicle": "new", "body": {"target": "e-1"}}

    assert follow([*made, strike]) == {"leads": {X: "lorry"}, "merged": {}}


@given(tag_lines())
def test_whatever_is_merged_is_merged_into_one_that_is_not(lines):
    found = follow(lines)

    assert not set(found["merged"].values()) & set(found["merged"])
    assert not set(found["leads"].values()) & set(found["merged"])
    assert all(family(chief, found["merged"])[-1] == chief for chief in found["leads"].values())
