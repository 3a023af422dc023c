"""What the log keeps of play, clearance and torque: the rules of their readings and picks."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from webapp.reckon.joint_terms import RUBBER_WHY
from webapp.shoplog.rules.values import (
    NUMBER,
    POSITIVE,
    UNIT,
    YES_NO,
    Rule,
    is_number,
    one_of,
    or_null,
    text,
)

NAME = text(60)
WORDS = text(200)
PLAY_FIELDS = ("along", "bolt", "hole_long", "hole_short", "edge", "sleeve")
LOOSE = (
    "sleeve_in_rubber",
    "sleeve_narrow",
    "bolt_in_sleeve",
    "bolt_in_hole",
    "bracket",
    "thread_in_hole",
)
# Beyond this a sheet could not be read, and no phone lets it be typed.
MOST = 20_000
NOT_BELOW_0: Rule = (
    lambda value: is_number(value) and 0 <= value <= MOST,
    f"a number from 0 to {MOST}",
)
TURNED: Rule = (lambda value: is_number(value) and 0 < value <= 720, "an angle up to 720 degrees")


def is_pair(value: Any, test: Callable[[Any], bool]) -> bool:
    """Whether this is a list of two values that pass the test."""
    return isinstance(value, list) and len(value) == 2 and all(test(each) for each in value)


def is_name(value: Any) -> bool:
    """Whether this is the name of a part."""
    return NAME[0](value)


def is_above_0(value: Any) -> bool:
    """Whether this is a distance or a size that there can be."""
    return NOT_BELOW_0[0](value) and value > 0


def is_date(value: Any) -> bool:
    """Whether this is a day such as 2026-12-24."""
    try:
        return isinstance(value, str) and date.fromisoformat(value).isoformat() == value
    except ValueError:
        return False


def is_limits(value: Any) -> bool:
    """Whether these are the limits of one joint, the maker's with its source."""
    if not isinstance(value, dict) or not is_name(value.get("joint")):
        return False
    limits = [value.get("maker_limit"), value.get("house_limit")]
    sourced = limits[0] is None or WORDS[0](value.get("maker_source"))
    return sourced and all(each is None or NOT_BELOW_0[0](each) for each in limits)


def is_looseness(value: Any) -> bool:
    """Whether this says what is loose at a joint; nothing is `what` null."""
    if not isinstance(value, dict) or not is_name(value.get("joint")):
        return False
    what = value.get("what")
    return what is None or (isinstance(what, str) and what in LOOSE)


def is_recheck(value: Any) -> bool:
    """Whether this says when the bolts are checked again: after a distance, on a day, or both."""
    if not isinstance(value, dict):
        return False
    distance, day = value.get("distance"), value.get("date")
    far = distance is None or (is_above_0(distance) and value.get("unit") in ("km", "mi"))
    return far and (day is None or is_date(day)) and (distance, day) != (None, None)


def is_remeasure(value: Any) -> bool:
    """Whether this says for each axle when it is measured again; None where it need not be."""
    if not isinstance(value, dict) or not set(value) <= {"front", "rear"}:
        return False
    return all(each is None or is_recheck(each) for each in value.values())


READING_REQUIRED: Mapping[str, Mapping[str, Rule]] = {
    "play": {
        "joint": NAME,
        "of": one_of("track_bar", "drag_link", "steering"),
        "value": NOT_BELOW_0,
        "unit": UNIT,
        "read_to": POSITIVE,
    },
    "clearance": {
        "between": (lambda value: is_pair(value, is_name), "a list of two parts"),
        "state": one_of("ride", "full_bump", "full_droop", "crossed"),
        "lock": one_of("left", "straight", "right"),
    },
    "torque": {"fastener": NAME},
}
READING_OPTIONAL: Mapping[str, Mapping[str, Rule]] = {
    "play": {
        "how": or_null(WORDS),
        "pair": or_null((lambda value: is_pair(value, NOT_BELOW_0[0]), "a list of two numbers")),
    },
    "clearance": {
        "value": or_null(NOT_BELOW_0),
        "mark": or_null(one_of("touches", "witness mark")),
        "unit": UNIT,
        "read_to": POSITIVE,
    },
    "torque": {
        "value": or_null(POSITIVE),
        "figure": or_null(NAME),
        "also": or_null(POSITIVE),
        "also_figure": or_null(NAME),
        "tolerance": or_null(NUMBER),
        "source": or_null(WORDS),
        "end": or_null(one_of("nut", "bolt")),
        "thread": or_null(one_of("dry", "oiled", "locking compound", "new fastener")),
        "then_angle": or_null(TURNED),
        "tool": or_null(NAME),
        "rubber": YES_NO,
        "on_springs": YES_NO,
        "moved": or_null(YES_NO),
    },
}
STEP_PICKS: Mapping[str, Mapping[str, Rule]] = {
    "play": {
        "limit": (is_limits, "the limits of one joint, the maker's with its source"),
        "loose": (is_looseness, "what is loose at one joint"),
    },
    "torque": {"recheck": (is_recheck, "a distance in km or mi, a day, or both")},
}


def play_faults(body: Mapping[str, Any]) -> list[str]:
    """Whether the field is known, and a reading both ways adds up."""
    if body["field"] not in PLAY_FIELDS:
        return [f"There is no reading {body['field']} in the step play."]
    if body["field"] != "along" and body["value"] == 0:
        return ["A bolt, hole, sleeve or edge measures more than 0. Measure it again."]
    pair = body.get("pair")
    if pair is not None and abs(pair[0] + pair[1] - body["value"]) > 1e-6:
        return ["The two ways of the reading do not add up to its value."]
    return []


def clearance_faults(body: Mapping[str, Any]) -> list[str]:
    """Whether the reading is either a gap or a mark."""
    if body["field"] != "gap":
        return [f"There is no reading {body['field']} in the step clearance."]
    if (body.get("value") is None) == (body.get("mark") is None):
        return ["A clearance is a gap in mm or a mark: one of the two."]
    return []


def torque_faults(body: Mapping[str, Any]) -> list[str]:
    """Whether a figure comes with its source, and rubber was clamped with the weight on it."""
    if body["field"] != "fastener":
        return [f"There is no reading {body['field']} in the step torque."]
    if body.get("moved") is not None:
        return []
    if body.get("rubber") and not body.get("on_springs"):
        return [RUBBER_WHY]
    if body.get("value") is None or not body.get("source"):
        return ["A torque needs its figure and where the figure comes from."]
    return []


READING_FAULTS: Mapping[str, Callable[[Mapping[str, Any]], list[str]]] = {
    "play": play_faults,
    "clearance": clearance_faults,
    "torque": torque_faults,
}
