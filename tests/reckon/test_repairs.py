"""Repair choices: the next bolt that cleans a worn hole up, and the drill before the reamer."""

import pytest

from webapp.reckon.checks.hole_sizes import INCH_HOLES, METRIC_HOLES
from webapp.reckon.checks.repairs import (
    drill_before,
    edge_left,
    is_worn,
    next_bolt,
    repairs,
    snug_hole,
)

INCH = 25.4


@pytest.mark.parametrize(
    ("holes", "bolt", "worn", "name"),
    [
        (METRIC_HOLES, 14.0, 15.2, "M16"),
        (METRIC_HOLES, 14.0, 16.2, "M16"),
        (METRIC_HOLES, 14.0, 16.25, "M18"),
        (METRIC_HOLES, 13.7, 14.1, "M16"),
        (METRIC_HOLES, 13.5, 14.1, "M14"),
        (INCH_HOLES, 12.7, 13.4, "9/16 in"),
    ],
)
def test_the_next_bolt_is_the_smallest_whose_snug_hole_takes_the_wear_away(holes, bolt, worn, name):
    assert next_bolt(holes, bolt, worn)[0] == name


def test_no_bolt_is_large_enough_for_some_holes():
    assert next_bolt(METRIC_HOLES, 14.0, 200.0) is None


@pytest.mark.parametrize(("worn", "hole"), [(15.0, 16.1), (16.1, 16.1), (16.15, 16.2)])
def test_a_hole_is_reamed_no_wider_than_the_wear_asks(worn, hole):
    assert snug_hole(16.0, worn) == pytest.approx(hole)


@pytest.mark.parametrize(
    ("joint", "limit", "worn"),
    [
        ({"bolt": 14.0, "hole_long": 14.8}, 0.8, False),
        ({"bolt": 14.0, "hole_long": 14.9}, 0.8, True),
        ({"bolt": 14.0, "hole_long": 14.2}, None, False),
        ({"bolt": 14.0, "hole_long": 14.3}, None, True),
        ({"bolt": 14.0, "hole_long": 14.5, "hole_short": 14.45}, 0.8, False),
        ({"bolt": 14.0, "hole_long": 14.5, "hole_short": 14.3}, 0.8, True),
        ({"bolt": 14.0, "hole_long": 14.5, "hole_short": 14.3, "read_to": 0.3}, 0.8, False),
        ({"bolt": 14.0, "hole_long": 14.3, "hole_short": 14.2}, 0.8, False),
        ({"bolt": 16.0, "hole_long": 16.1, "hole_short": 16.0}, 0.8, False),
    ],
)
def test_a_hole_is_worn_where_it_is_loose_past_the_limit_or_oval(joint, limit, worn):
    assert is_worn(joint, limit) is worn
    assert (len(repairs(joint, limit)) > 0) is worn


def test_half_the_oval_is_lost_at_the_edge():
    joint = {"hole_long": 15.2, "edge": 22.0}

    assert edge_left(joint) == 22.0
    assert edge_left({**joint, "hole_short": 14.6}) == pytest.approx(21.7)
    assert edge_left({**joint, "hole_short": 15.6}) == 22.0
    assert edge_left({"hole_long": 15.2}) is None


@pytest.mark.parametrize(
    ("hole", "unit", "size", "unit_said", "letter"),
    [
        (16.1, "mm", 16.0, "mm", None),
        (16.02, "mm", 15.5, "mm", None),
        (0.413 * INCH + 0.06, "in", 0.413 * INCH, "in", 25),
        (0.404 * INCH + 0.06, "in", 0.404 * INCH, "in", 24),
        (0.234 * INCH + 0.06, "in", 0.234 * INCH, "in", 0),
        (0.23 * INCH, "in", 14 / 64 * INCH, "in", None),
        (0.568 * INCH, "in", 36 / 64 * INCH, "in", None),
    ],
)
def test_the_drill_before_the_reamer_leaves_something_to_ream(hole, unit, size, unit_said, letter):
    found = drill_before(hole, unit)

    assert found["size"] == pytest.approx(size)
    assert (found["unit"], found["letter"]) == (unit_said, letter)
    assert hole - found["size"] >= 0.05 - 1e-9
