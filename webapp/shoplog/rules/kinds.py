"""What the body of each kind of entry must hold.

Keys that no rule names are kept as they are, so that a newer app may say more.
"""

from collections.abc import Callable, Mapping
from typing import Any

from webapp.reckon.judgment.answers import ANSWERABLE
from webapp.reckon.log.links_of_round import BAR_READINGS
from webapp.reckon.terms import TICKS
from webapp.shoplog.rules.joint_rules import (
    READING_FAULTS,
    READING_OPTIONAL,
    READING_REQUIRED,
    STEP_PICKS,
    is_date,
    is_remeasure,
)
from webapp.shoplog.rules.link_rules import CHANGE, LINK_PICKS, LINK_READINGS, PASS_OVER, SEEN_OPEN
from webapp.shoplog.rules.link_rules import TICKS as FIT_UP_TICKS
from webapp.shoplog.rules.photo_rules import PHOTO, PHOTO_OPTIONAL
from webapp.shoplog.rules.values import (
    CODE,
    ID,
    NUMBER,
    OBJECT,
    POSITIVE,
    REASON,
    RESERVED,
    ROUND,
    SIDE,
    UNIT,
    WORD,
    YES_NO,
    Rule,
    list_of,
    one_of,
    or_null,
    text,
)

FACE = one_of("hub", "rotor", "knuckle", "tire")


# What every reading of a length holds; steps that read otherwise have rules of their own.
MEASURED: Mapping[str, Rule] = {"value": NUMBER, "unit": UNIT, "read_to": POSITIVE}

REQUIRED: Mapping[str, Mapping[str, Rule]] = {
    "vehicle": {},
    "tag": {"code": CODE},
    "limit": {
        "name": one_of("offset", "repeat", "face_u", "lean", "bolt_clearance", "clearance"),
        "value": POSITIVE,
        "reason": REASON,
    },
    "job": {"axle": one_of("front", "rear"), "round": ROUND, "about": text(500, least=0)},
    "reading": {"step": WORD, "field": WORD},
    "tick": {"field": one_of(*TICKS, *FIT_UP_TICKS), "value": YES_NO},
    "pick": {"step": WORD, "field": WORD},
    "note": {"text": text(4000)},
    "strike": {"target": ID, "reason": REASON},
    "hand_in": {"missing": list_of(REASON), "reason": or_null(text(1000, least=0))},
    "decision": {
        "hand_in": ID,
        "verdict": one_of("accepted", "sent_back"),
        "reason": or_null(text(1000, least=0)),
    },
    "pass_over": PASS_OVER,
    "confirm": {"code": one_of(*ANSWERABLE), "key": text(200), "says": REASON},
    "change": {},
    "photo": PHOTO,
    "plan": {"name": text(60)},
}

OPTIONAL: Mapping[str, Mapping[str, Rule]] = {
    "vehicle": {
        "id": RESERVED,
        "tags": RESERVED,
        "name": text(120),
        "note": text(4000, least=0),
        "units": UNIT,
        "read_to": POSITIVE,
        "driving_side": SIDE,
        "face": FACE,
        "method": WORD,
        "track_bars": OBJECT,
        "drag_links": OBJECT,
        "rail_width": or_null(POSITIVE),
        "track": or_null(POSITIVE),
        "axles": list_of(one_of("front", "rear")),
        "retired": YES_NO,
        "known_sums": OBJECT,
        "joint_limits": OBJECT,
        "torques": OBJECT,
        "rechecks": OBJECT,
        "ride_heights": OBJECT,
        "last_rounds": OBJECT,
        "links_older": OBJECT,
        "unaccepted": RESERVED,
        "remeasure": (is_remeasure, "for each axle a day, a distance, or both"),
        "replaced_tags": OBJECT,
        "merged_into": ID,
    },
    "limit": {"from": (is_date, "a day such as 2026-12-24")},
    "job": {"second_of": or_null(ID)},
    "tag": {"first": YES_NO},
    "reading": {"face": FACE, "method": WORD},
    "change": CHANGE,
    "photo": PHOTO_OPTIONAL,
    "pass_over": SEEN_OPEN,
    "plan": {
        "axle_end_up": NUMBER,
        "frame_end_down": NUMBER,
        "pitman_down": NUMBER,
        "link_axle_end_up": NUMBER,
        "height_change": NUMBER,
    },
}

READINGS: Mapping[str, tuple[str, ...]] = {
    "heights": ("left", "right"),
    "centering": ("left", "right"),
    "track_bar": tuple(BAR_READINGS),
    "drag_link": LINK_READINGS,
}

PICKS: Mapping[str, Mapping[str, Rule]] = {
    "heights": {"standing": one_of("on_wheels", "on_stands_loaded", "hanging")},
    "centering": {
        "face": FACE,
        "method": WORD,
        "left_extra": or_null(NUMBER),
        "right_extra": or_null(NUMBER),
        "rail_point_height": or_null(NUMBER),
        "face_point_height": or_null(NUMBER),
        "tilt_deg": or_null(NUMBER),
        "high_side": or_null(SIDE),
    },
    "track_bar": {"frame_end": SIDE, "adjuster": OBJECT, "carried": YES_NO},
    "drag_link": LINK_PICKS,
}


RULES: Mapping[str, Mapping[str, Rule]] = {
    kind: {**rules, **OPTIONAL.get(kind, {}), "replaces": or_null(ID)}
    for kind, rules in REQUIRED.items()
}


def body_faults(kind: str, body: Mapping[str, Any]) -> list[str]:
    """A sentence for everything that is wrong with this body; none when it can be kept."""
    required, optional = REQUIRED[kind], RULES[kind]
    if kind == "reading":
        required = {**required, **of_step(READING_REQUIRED, body, MEASURED)}
        optional = {**optional, **required, **of_step(READING_OPTIONAL, body, {})}
    faults = [f"{named(kind, field)} is missing." for field in required if field not in body]
    faults += [
        f"{named(kind, field)} must be {words}."
        for field, (test, words) in optional.items()
        if field in body and not test(body[field])
    ]
    return faults or SPECIAL.get(kind, no_more)(body)


def of_step(table: Mapping[str, Any], body: Mapping[str, Any], otherwise: Any) -> Any:
    """What a table says for the step that a body names."""
    step = body.get("step")
    return table.get(step, otherwise) if isinstance(step, str) else otherwise


def named(kind: str, field: str) -> str:
    """How a sentence names a field: The reading's read to."""
    return f"The {kind.replace('_', ' ')}'s {field.replace('_', ' ')}"


def no_more(_: Mapping[str, Any]) -> list[str]:
    """No further faults."""
    return []


def reading_faults(body: Mapping[str, Any]) -> list[str]:
    """Whether the log knows the step and field that this reading is for, and all of it fits."""
    if body["step"] in READING_FAULTS:
        return READING_FAULTS[body["step"]](body)
    if body["field"] in READINGS.get(body["step"], ()):
        return []
    return [f"There is no reading {body['field']} in the step {body['step']}."]


def pick_faults(body: Mapping[str, Any]) -> list[str]:
    """Whether the log knows the choice, and the value is one that it can have."""
    rule = {**PICKS, **STEP_PICKS}.get(body["step"], {}).get(body["field"])
    if rule is None:
        return [f"There is nothing to pick called {body['field']} in the step {body['step']}."]
    if "value" not in body:
        return ["The pick's value is missing."]
    return [] if rule[0](body["value"]) else [f"The pick's {body['field']} must be {rule[1]}."]


def decision_faults(body: Mapping[str, Any]) -> list[str]:
    """A job is sent back with a reason."""
    if body["verdict"] == "sent_back" and not (body["reason"] or "").strip():
        return ["A job is sent back with a reason: say what has to be done."]
    return []


SPECIAL: Mapping[str, Callable[[Mapping[str, Any]], list[str]]] = {
    "reading": reading_faults,
    "pick": pick_faults,
    "decision": decision_faults,
}
