"""Toe and wheelbase: whether the wheels and the axle point straight ahead."""

import math

from .track_bar import missing_fields
from .uncertainty_budget import reading_u

TOE_NEEDED = ["front", "rear", "span"]
BASE_NEEDED = ["left", "right", "track"]
EVEN = 1e-9


def two_readings(u: float) -> float:
    """The expanded uncertainty of a difference of two readings alike."""
    return 2 * math.sqrt(2) * u


def toe(part: dict) -> dict:
    """Total toe in degrees, in positive: the finding `toe`."""
    short = missing_fields(part, TOE_NEEDED, "toe")
    if len(short) > 0:
        return {"state": "incomplete", "reasons": short}
    difference = part["rear"] - part["front"]
    if abs(difference) > 2 * part["span"]:
        return {"state": "impossible", "reasons": [{"code": "toe_impossible"}]}
    total = math.degrees(2 * math.asin(difference / (2 * part["span"])))
    u = math.degrees(reading_u(part) / part["span"])
    return {
        "state": "known",
        "reasons": [{"code": "toe", "total_deg": total, "difference": difference}],
        "total_deg": total,
        "difference": difference,
        "toward": way_of_toe(difference),
        "expanded": two_readings(u),
    }


def way_of_toe(difference: float) -> str:
    """`in`, `out` or `none`."""
    if difference > 0:
        return "in"
    return "out" if difference < 0 else "none"


def square(part: dict, axle: str) -> dict:
    """How far the axle is turned from square, degrees: the finding `square`.

    Yaw is positive where the left wheelbase is the longer one. The longer side of a front axle
    stands forward, and the shorter side of a rear axle.
    """
    short = missing_fields(part, BASE_NEEDED, "wheelbase")
    if len(short) > 0:
        return {"state": "incomplete", "reasons": short}
    difference = part["left"] - part["right"]
    u = math.degrees(reading_u(part) / part["track"])
    yaw = math.degrees(math.atan2(difference, part["track"]))
    forward = forward_side(difference, axle)
    return {
        "state": "known",
        "reasons": [
            {"code": "square", "yaw_deg": yaw, "difference": difference, "forward": forward}
        ],
        "yaw_deg": yaw,
        "difference": difference,
        "forward": forward,
        "expanded": two_readings(u),
    }


def forward_side(difference: float, axle: str) -> str:
    """Which wheel stands forward, `left` or `right`, or `even`."""
    if abs(difference) < EVEN:
        return "even"
    left_is_longer = difference > 0
    return "left" if left_is_longer == (axle == "front") else "right"
