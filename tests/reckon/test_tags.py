"""What a tag leads to, whichever phone scanned it first."""

import pytest
from kit.worked_sheets import entry

from webapp.reckon.log.tags import current_tag, family, follow
from webapp.reckon.sentences.tag_words import replaced_tag_sentence


def put(id, code, vehicle, first=False):
    body = {"code": code, "first": True} if first else {"code": code}
    return entry(id, "tag", body, vehicle=vehicle, job=None)


def merged(id, vehicle, into):
    return entry(id, "vehicle", {"merged_into": into}, vehicle=vehicle, job=None)


def test_a_tag_leads_to_the_vehicle_that_it_was_put_on_last():
    found = follow([put("a", "T1", "truck"), put("b", "T1", "tender")])

    assert found == {"leads": {"T1": "tender"}, "merged": {}}


def test_a_late_first_scan_becomes_part_of_the_vehicle_that_has_the_tag():
    found = follow([put("a", "T1", "truck"), put("b", "T1", "made here", first=True)])

    assert found == {"leads": {"T1": "truck"}, "merged": {"made here": "truck"}}
    assert family("made here", found["merged"]) == ["made here", "truck"]


def test_a_first_scan_of_a_blank_tag_takes_it():
    found = follow([put("a", "T1", "made here", first=True)])

    assert found == {"leads": {"T1": "made here"}, "merged": {}}


def test_a_vehicle_with_a_tag_of_its_own_is_not_made_by_another_scan():
    entries = [put("a", "T1", "truck"), put("b", "T2", "tender"), put("c", "T1", "tender", True)]

    assert follow(entries)["merged"] == {}
    assert follow([put("a", "T1", "truck"), put("b", "T1", "truck", True)])["merged"] == {}


def test_merging_takes_tags_and_earlier_parts_along():
    found = follow(
        [
            put("a", "T1", "old"),
            put("b", "T2", "older"),
            merged("c", "older", "old"),
            put("d", "T3", "new"),
            merged("e", "old", "new"),
        ]
    )

    assert found["leads"] == {"T1": "new", "T2": "new", "T3": "new"}
    assert found["merged"] == {"older": "new", "old": "new"}
    assert set(family("older", found["merged"])) == {"older", "old", "new"}


def test_merging_a_second_time_changes_nothing():
    entries = [merged("a", "old", "new"), merged("b", "old", "new")]

    assert follow(entries) == {"leads": {}, "merged": {"old": "new"}}


@pytest.mark.parametrize(
    ("told", "says"),
    [
        (None, ""),
        ({"by": "T2"}, "This tag was replaced by T2. Take it off the vehicle."),
        ({"lost": True}, "This tag was reported lost. Check that it is on the right vehicle."),
    ],
)
def test_a_tag_that_counts_no_more_says_so(told, says):
    assert replaced_tag_sentence({"replaced_tags": {"T1": told}}, "T1") == says


def test_the_current_tag_is_the_last_that_still_counts():
    record = {"tags": ["T1", "T2", "T3"], "replaced_tags": {"T3": {"by": None}}}

    assert current_tag(record) == "T2"
    assert current_tag({"tags": ["T1"]}) == "T1"
    assert current_tag({}) is None
