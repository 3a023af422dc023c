"""Clearance: the least gap of each pair, contact first, and what was not looked at."""

import pytest
from kit.worded import worded
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.checks import clearance as checks

clearance = worded(checks.clearance)

PAIR = ["track bar", "tie rod"]


def gap(value, state="ride", lock="straight", between=PAIR):
    return {"between": between, "state": state, "lock": lock, "gap": value}


def pair_of(*entries, limit=None):
    return clearance(list(entries), {"clearance": limit})["pairs"][0]


def test_the_least_gap_and_where_it_is():
    found = pair_of(gap(12), gap(9.5, "full_bump", "left"), gap(20, "full_droop", "right"))

    assert found["least"] == 9.5
    assert found["at"] == {"state": "full_bump", "lock": "left"}
    assert found["state"] == "recorded"


@pytest.mark.parametrize("touching", ["touches", "witness_mark", 0])
def test_contact_comes_first(touching):
    found = pair_of(gap(0.5), gap(touching, "full_bump", "right"), limit=10)

    assert found["state"] == "contact"
    assert found["least"] == 0
    assert found["at"]["lock"] == "right"


@pytest.mark.parametrize(
    ("least", "state"), [(9.9, "tight"), (10, "clear"), (25, "clear"), (0.1, "tight")]
)
def test_a_gap_is_judged_against_the_house_limit_only(least, state):
    assert pair_of(gap(least), limit=10)["state"] == state


def test_what_was_not_checked_is_listed():
    found = pair_of(gap(9), gap(12, "full_bump", "left"), gap(None, "full_droop", "left"))

    assert len(found["unchecked"]) == 10
    assert {"state": "full_droop", "lock": "left"} in found["unchecked"]
    assert {"state": "ride", "lock": "straight"} not in found["unchecked"]


def test_a_pair_is_the_same_in_either_order():
    found = clearance(
        [gap(9), gap(7, between=["tie rod", "track bar"]), gap(5, between=["a", "b"])], {}
    )

    assert [each["least"] for each in found["pairs"]] == [7, 5]


SAYS = [
    (
        [gap(9.5, "full_bump", "left")],
        None,
        "Track bar to tie rod: least 9.5 mm at full bump, left",
    ),
    ([gap(9.5)], None, "No limit is known, so it is recorded and not judged. 1 of 12 places"),
    ([gap(9.5)], 10, "under the house limit of 10.0 mm. Make room. 1 of 12 places checked."),
    ([gap(12)], 10, "least 12.0 mm at ride height, wheels straight. 1 of 12 places checked."),
    (
        [gap("touches")],
        10,
        "they touch at ride height, wheels straight. Make room before the road.",
    ),
    ([gap("witness_mark")], None, "there is a witness mark at ride height"),
    ([gap(0)], None, "no gap is left at ride height"),
    ([gap(None)], None, "Track bar to tie rod: no gap recorded. 0 of 12 places checked."),
    ([gap(5, None, None)], None, "at an unrecorded place in the travel, lock not recorded"),
    ([gap(5, between=None)], None, "One part to another: least 5.0 mm"),
]


@pytest.mark.parametrize(("entries", "limit", "says"), SAYS)
def test_each_pair_says_how_it_stands_and_where(entries, limit, says):
    why = clearance(entries, {"clearance": limit})["why"]

    assert says in why[0].replace("\u202f", " ")


def test_the_house_limit_of_the_sheet_is_used():
    found = assess(changed(SAMPLE, limits={"clearance": 12.0}))["clearance"]

    assert [each["state"] for each in found["pairs"]] == ["tight", "contact"]
