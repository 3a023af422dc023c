"""Confirmations: what an answer is kept under is the reason and the values it was given for."""

import pytest

from webapp.reckon.judgment.confirmations import ANSWERABLE, is_confirmed, key_of

# A reason of each kind with the key that its answer is kept under.
KEYS = [
    ({"code": "implausible", "field": "heights.left", "ask": "range", "value": 921.5},
     "implausible heights.left range 921.50"),
    ({"code": "differs_from_file", "link": "drag_link", "field": "arm_points", "now": "rearward"},
     "differs_from_file drag_link arm_points rearward"),
    ({"code": "sum_differs", "excess": 25.4}, "sum_differs 25.40"),
    ({"code": "one_side_differs", "side": "left", "by": -2.7}, "one_side_differs left −2.70"),
    ({"code": "wrong_side", "link": "drag_link", "observed": 12.0, "expected": -9.0},
     "wrong_side drag_link 12.00 −9.00"),
    ({"code": "moved_unexplained", "rest": 6.125}, "moved_unexplained 6.13"),
    ({"code": "height_changed", "side": "right", "higher": 28.0}, "height_changed right 28.00"),
    ({"code": "leans", "difference": -41.0}, "leans −41.00"),
    ({"code": "links_older", "link": "track_bar", "frame_height": 612.0, "axle_height": 498.0},
     "links_older track_bar 612.00 498.00"),
]  # fmt: skip


@pytest.mark.parametrize(("reason", "key"), KEYS)
def test_an_answer_is_kept_under_its_reason_and_values(reason, key):
    assert key_of(reason) == key
    assert is_confirmed(reason, [key]) and is_confirmed(reason, [reason["code"]])
    assert not is_confirmed(reason, [f"{key}1", "another"])


def test_every_reason_that_can_be_answered_has_its_key_here():
    assert {reason["code"] for reason, _ in KEYS} == set(ANSWERABLE)


def test_a_value_that_is_not_known_leaves_no_gap():
    assert key_of({"code": "wrong_side", "observed": 1, "expected": -1}) == "wrong_side 1.00 −1.00"


def test_what_a_repair_ends_has_no_key():
    assert key_of({"code": "joint_outside", "joint": "frame end"}) is None
    assert not is_confirmed({"code": "joint_outside"}, ["joint_outside"])
