"""Odd and impossible geometry: findings in words, never an exception, no NaN, no wrong root."""

import json
import math

import pytest
from hypothesis import given, settings
from kit.sheets import LIKELY, SHEETS

from webapp.reckon.assess import assess
from webapp.reckon.checks.track_bar import shift_at
from webapp.reckon.sheet_faults import faults


def check_whole(thing):
    """Finite numbers and texts without trouble, all the way down."""
    if isinstance(thing, float):
        assert math.isfinite(thing)
    if isinstance(thing, str):
        assert "nan" not in thing.split() and "None" not in thing and "  " not in thing
    if isinstance(thing, dict):
        for value in thing.values():
            check_whole(value)
    if isinstance(thing, list):
        for value in thing:
            check_whole(value)


@given(SHEETS | LIKELY)
@settings(max_examples=400)
def test_any_geometry_gets_findings_in_words(sheet):
    assert faults(sheet) == []

    found = assess(sheet)

    check_whole(found)
    json.dumps(found, allow_nan=False)
    for name, finding in found.items():
        if isinstance(finding, dict) and finding.get("state") in ("incomplete", "impossible"):
            assert len(finding["why"]) > 0, name
    assert len(found["answer"]) % 2 == 1 or found["answer"] == []


def stretch(link, shift, travel, degrees):
    """How much longer than it is the link would have to be with the wheels steered so far."""
    turn = math.radians(degrees)
    arm = link["arm"] if link["arm_points"] == "forward" else -link["arm"]
    side = 1 if link["frame_end"] == "left" else -1
    rise = link["frame_height"] - link["axle_height"]
    lead = link.get("fore_aft") or 0.0
    run = math.sqrt(link["length"] ** 2 - rise**2 - lead**2)
    ball = (
        lead + arm * (math.cos(turn) - 1),
        -side * run + shift + arm * math.sin(turn),
        travel - rise,
    )
    return math.hypot(*ball) - link["length"]


@given(LIKELY)
@settings(max_examples=60)
def test_no_root_lies_nearer_to_straight_than_the_one_that_is_given(sheet):
    link = sheet["drag_link"]
    for travel, steered in (assess(sheet)["steer"].get("curve") or [])[::12]:
        shift = shift_at(sheet["track_bar"], travel)
        nearer = [abs(steered) * step / 40 * side for step in range(40) for side in (1, -1)]
        signs = {stretch(link, shift, travel, each) > 0 for each in nearer}
        assert len(signs) == 1 or abs(steered) < 1e-6
        assert stretch(link, shift, travel, steered) == pytest.approx(0, abs=1e-6)
