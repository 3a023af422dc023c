"""How well decided values are known: first-order propagation against a thousand shaken sheets."""

import random
import statistics

import pytest
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.checks.bump_steer import steered
from webapp.reckon.checks.drag_link import FIELDS, steer_at
from webapp.reckon.checks.track_bar import BAR_FIELDS, bar_change, change_for
from webapp.reckon.checks.uncertainty_budget import combined, reading_u, shares_of, slope_of
from webapp.reckon.sentences.reasons import sentence

BAR, LINK = SAMPLE["track_bar"], SAMPLE["drag_link"]


def shaken(part, fields, chance):
    """The part with each reading moved by as much as a tape read to 1 mm leaves open."""
    return {**part, **{field: part[field] + chance.uniform(-0.5, 0.5) for field in fields}}


def test_a_length_change_is_known_as_well_as_the_offset_and_the_bar():
    chance = random.Random(3)
    found = bar_change(BAR, 5.35, 0.6)

    many = [
        change_for(shaken(BAR, BAR_FIELDS, chance), 5.35 + chance.gauss(0, 0.6))
        for _ in range(4000)
    ]

    assert found["expanded"] == pytest.approx(2 * statistics.stdev(many), rel=0.05)
    assert found["improve"]["reading"] == "offset"
    assert (
        sentence(found["improve"], "mm") == "All of that comes from the readings of the two sides."
    )


def test_the_worst_steer_is_known_as_well_as_bar_and_link():
    chance = random.Random(4)
    found = assess(SAMPLE)["steer"]

    many = [
        steered(shaken(BAR, BAR_FIELDS, chance), shaken(LINK, FIELDS, chance), -100)
        for _ in range(4000)
    ]

    assert found["expanded"] == pytest.approx(2 * statistics.stdev(many), rel=0.05)
    assert "height of the" in sentence(found["improve"], "mm")


def test_the_steer_after_a_move_is_known_as_well_as_the_offset():
    chance = random.Random(5)
    found = assess(SAMPLE)

    u = found["centering"]["expanded"] / 2
    many = [
        steer_at(shaken(LINK, FIELDS, chance), -5.35 + chance.gauss(0, u), 0.0) for _ in range(4000)
    ]

    assert found["wheel"]["expanded"] == pytest.approx(2 * statistics.stdev(many), rel=0.05)


def test_a_reading_is_as_good_as_what_it_was_read_to():
    assert reading_u({}) == pytest.approx(0.288675, abs=1e-6)
    assert reading_u({"read_to": 0.5}) == reading_u({}) / 2
    finer = assess(changed(SAMPLE, track_bar={"read_to": 0.1}, drag_link={"read_to": 0.1}))
    assert finer["steer"]["expanded"] == pytest.approx(assess(SAMPLE)["steer"]["expanded"] / 10)


def test_the_largest_share_is_named_to_be_improved_first():
    found = combined([{"name": "offset", "u": 1.0}, {"name": "bar.length", "u": 2.0}])

    assert found["expanded"] == pytest.approx(2 * 5**0.5)
    assert found["improve"] == {"code": "improve", "reading": "bar.length", "share": 0.8}
    assert sentence(found["improve"], "mm") == (
        "The largest part of that, 80%, comes from the track bar's length: improve that first."
    )


def test_where_nothing_is_uncertain_nothing_is_to_be_improved():
    assert combined([{"name": "offset", "u": 0.0}]) == {"expanded": 0.0, "improve": None}


def test_next_to_the_end_of_reach_nothing_is_claimed():
    taut = {**BAR, "length": 120, "fore_aft": 0, "frame_height": 617.9}

    assert slope_of(lambda bar: change_for(bar, 2.0), {**taut, "length": 119.92}, "length") is None
    assert combined([{"name": "offset", "u": None}]) == {"expanded": None, "improve": None}
    shares = shares_of(lambda bar: None, BAR, ["length"], "bar")
    assert shares == [{"name": "bar.length", "u": None}]


@pytest.mark.parametrize("name", ["bar_change", "steer", "wheel"])
def test_every_decided_value_has_its_uncertainty_and_what_to_improve(name):
    found = assess(SAMPLE)[name]

    assert found["expanded"] > 0
    assert found["improve"]["code"] == "improve"


def test_a_reading_that_was_not_taken_is_nudged_about_zero():
    """A bar without a lead is known as well as one whose lead is zero."""
    without = {name: BAR[name] for name in BAR if name != "fore_aft"}

    def shares(bar):
        return shares_of(lambda other: change_for(other, 5.35), bar, BAR_FIELDS, "bar")

    assert shares(without) == shares({**BAR, "fore_aft": 0.0})
    assert shares(without)[-1]["u"] == pytest.approx(0, abs=1e-6)
