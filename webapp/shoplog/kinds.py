"""What the body of each kind of entry must hold.

A rule is a pair: a test of the value, and the words that end the sentence "... must be ...".
Keys that no rule names are kept as they are, so that a newer app may say more.
"""

import re
from collections.abc import Callable, Mapping
from typing import Any

Rule = tuple[Callable[[Any], bool], str]

UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
TAG_CODE = re.compile(r"[0-9A-Z]{4}-[0-9A-Z]{4}")
FARTHEST_MM = 100_000


def is_id(value: Any) -> bool:
    """Whether this is a UUID in the usual lower-case writing."""
    return isinstance(value, str) and UUID.fullmatch(value) is not None


def is_number(value: Any) -> bool:
    """Whether this is a number of millimetres or degrees that a shop can meet."""
    return type(value) in (int, float) and abs(value) <= FARTHEST_MM


def text(most: int, least: int = 1) -> Rule:
    """A text of `least` to `most` characters; blanks alone do not count."""
    words = f"a text of at most {most} characters" + (", not an empty one" if least else "")
    return (
        lambda value: isinstance(value, str) and least <= len(value.strip()) and len(value) <= most,
        words,
    )


def one_of(*choices: Any) -> Rule:
    """One of these texts."""
    return lambda value: isinstance(value, str) and value in choices, "one of " + ", ".join(choices)


def or_null(rule: Rule) -> Rule:
    """What the rule says, or null."""
    return lambda value: value is None or rule[0](value), f"{rule[1]}, or nothing"


def list_of(rule: Rule) -> Rule:
    """A list of what the rule says."""
    return (
        lambda value: isinstance(value, list) and all(rule[0](each) for each in value),
        f"a list, each of it {rule[1]}",
    )


ID: Rule = (is_id, "an id (a UUID)")
NUMBER: Rule = (is_number, f"a number between -{FARTHEST_MM} and {FARTHEST_MM}")
POSITIVE: Rule = (lambda v: is_number(v) and v > 0, f"a number above 0, up to {FARTHEST_MM}")
YES_NO: Rule = (lambda value: isinstance(value, bool), "true or false")
OBJECT: Rule = (lambda value: isinstance(value, dict), "an object")
CODE: Rule = (
    lambda value: isinstance(value, str) and TAG_CODE.fullmatch(value) is not None,
    "a tag code such as K7RM-4TQX",
)
RESERVED: Rule = (lambda _: False, "left out: the log fills it in itself")
SIDE = one_of("left", "right")
UNIT = one_of("in", "mm")
WORD = text(40)
REASON = text(1000)
ROUND = one_of("as_found", "fit_up", "as_left", "recheck")
FACE = one_of("hub", "rotor", "knuckle", "tyre")

REQUIRED: Mapping[str, Mapping[str, Rule]] = {
    "vehicle": {},
    "tag": {"code": CODE},
    "limit": {"name": one_of("offset", "repeat", "face_u"), "value": POSITIVE, "reason": REASON},
    "job": {"axle": one_of("front", "rear"), "round": ROUND, "about": text(500, least=0)},
    "reading": {"step": WORD, "field": WORD, "value": NUMBER, "unit": UNIT, "read_to": POSITIVE},
    "tick": {"field": one_of("level", "tyres", "load", "settled", "straight"), "value": YES_NO},
    "pick": {"step": WORD, "field": WORD},
    "note": {"text": text(4000)},
    "strike": {"target": ID, "reason": REASON},
    "hand_in": {"missing": list_of(REASON), "reason": or_null(text(1000, least=0))},
    "decision": {
        "hand_in": ID,
        "verdict": one_of("accepted", "sent_back"),
        "reason": or_null(text(1000, least=0)),
    },
    "change": {},
    "photo": {},
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
        "rail_width": or_null(POSITIVE),
        "track": or_null(POSITIVE),
        "axles": list_of(one_of("front", "rear")),
        "retired": YES_NO,
        "known_sums": OBJECT,
    },
    "reading": {"face": FACE, "method": WORD},
    "change": {"length_change": or_null(NUMBER)},
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
    "centring": ("left", "right"),
    "track_bar": (
        "length",
        "frame_height",
        "axle_height",
        "fore_aft",
        "frame_end_from_centre",
        "bump",
        "droop",
    ),
}

PICKS: Mapping[str, Mapping[str, Rule]] = {
    "heights": {"standing": one_of("on_wheels", "on_stands_loaded", "hanging")},
    "centring": {
        "face": FACE,
        "method": WORD,
        "left_extra": or_null(NUMBER),
        "right_extra": or_null(NUMBER),
        "drop": or_null(NUMBER),
        "tilt_deg": or_null(NUMBER),
        "high_side": or_null(SIDE),
    },
    "track_bar": {"frame_end": SIDE, "adjuster": OBJECT, "carried": YES_NO},
}


RULES: Mapping[str, Mapping[str, Rule]] = {
    kind: {**rules, **OPTIONAL.get(kind, {}), "replaces": or_null(ID)}
    for kind, rules in REQUIRED.items()
}


def body_faults(kind: str, body: Mapping[str, Any]) -> list[str]:
    """A sentence for everything that is wrong with this body; none when it can be kept."""
    faults = [f"{named(kind, field)} is missing." for field in REQUIRED[kind] if field not in body]
    faults += [
        f"{named(kind, field)} must be {words}."
        for field, (test, words) in RULES[kind].items()
        if field in body and not test(body[field])
    ]
    return faults or SPECIAL.get(kind, no_more)(body)


def named(kind: str, field: str) -> str:
    """How a sentence names a field: The reading's read to."""
    return f"The {kind.replace('_', ' ')}'s {field.replace('_', ' ')}"


def no_more(_: Mapping[str, Any]) -> list[str]:
    """No further faults."""
    return []


def reading_faults(body: Mapping[str, Any]) -> list[str]:
    """Whether the log knows the step and field that this reading is for."""
    if body["field"] in READINGS.get(body["step"], ()):
        return []
    return [f"There is no reading {body['field']} in the step {body['step']}."]


def pick_faults(body: Mapping[str, Any]) -> list[str]:
    """Whether the log knows the choice, and the value is one that it can have."""
    rule = PICKS.get(body["step"], {}).get(body["field"])
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
