"""Toe and wheelbase: whether the wheels and the axle point straight ahead."""

import math

from ..terms import degrees
from ..typed.lengths import show_mm
from .uncertainty import reading_u

TOE_NEEDED = {
    "front": "the distance between the wheels ahead of the axle",
    "rear": "the distance between the wheels behind the axle",
    "span": "how far apart fore and aft the two distances were measured",
}
BASE_NEEDED = {
    "left": "the wheelbase on the left",
    "right": "the wheelbase on the right",
    "track": "the track",
}
EVEN = 1e-9
WHICH_AXLE = (
    "One difference cannot tell which of the two axles is off: measure the diagonals from each axle"
    " to the frame."
)


def lacking(part: dict, needed: dict, name: str) -> list:
    """What a part lacks, as sentences."""
    return [f"{name} needs {needed[field]}." for field in list(needed) if part.get(field) is None]


def two_readings(u: float) -> float:
    """The expanded uncertainty of a difference of two readings alike."""
    return 2 * math.sqrt(2) * u


def toe(part: dict) -> dict:
    """Total toe in degrees, in positive: the finding `toe`."""
    why = lacking(part, TOE_NEEDED, "Toe")
    if len(why) > 0:
        return {"state": "incomplete", "why": why}
    difference = part["rear"] - part["front"]
    if abs(difference) > 2 * part["span"]:
        says = "The two distances differ by more than the wheels allow. Measure both again."
        return {"state": "impossible", "why": [says]}
    total = math.degrees(2 * math.asin(difference / (2 * part["span"])))
    u = math.degrees(reading_u(part) / part["span"])
    return {
        "state": "known",
        "why": [toe_words(total, difference)],
        "total_deg": total,
        "difference": difference,
        "toward": way_of_toe(difference),
        "expanded": two_readings(u),
    }


def toe_words(total: float, difference: float) -> str:
    """The toe in a sentence."""
    way = way_of_toe(difference)
    if way == "none":
        return "Total toe is nothing: both distances are the same."
    wider = "behind" if way == "in" else "ahead of"
    return (
        f"Total toe is {degrees(abs(total), 2)} {way}: the wheels stand "
        f"{show_mm(abs(difference))} further apart {wider} the axle."
    )


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
    why = lacking(part, BASE_NEEDED, "Wheelbase")
    if len(why) > 0:
        return {"state": "incomplete", "why": why}
    difference = part["left"] - part["right"]
    u = math.degrees(reading_u(part) / part["track"])
    yaw = math.degrees(math.atan2(difference, part["track"]))
    forward = forward_side(difference, axle)
    return {
        "state": "known",
        "why": [square_words(yaw, difference, forward)],
        "yaw_deg": yaw,
        "difference": difference,
        "forward": forward,
        "expanded": two_readings(u),
    }


def square_words(yaw: float, difference: float, forward: str) -> str:
    """How the axle stands, in a sentence."""
    if forward == "even":
        return "The axle stands square: both wheelbases are the same."
    return (
        f"The {forward} wheel stands {show_mm(abs(difference))} forward: the axle is "
        f"{degrees(abs(yaw), 2)} off square. {WHICH_AXLE}"
    )


def forward_side(difference: float, axle: str) -> str:
    """Which wheel stands forward, `left` or `right`, or `even`."""
    if abs(difference) < EVEN:
        return "even"
    left_is_longer = difference > 0
    return "left" if left_is_longer == (axle == "front") else "right"
