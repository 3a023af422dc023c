"""Rules of what an entry holds: a test of a value, and the words that say what it must be.

The words end the sentence "... must be ...".
"""

import re
from collections.abc import Callable
from typing import Any

Rule = tuple[Callable[[Any], bool], str]

UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
TAG_CODE = re.compile(r"[0-9A-Z]{4}-[0-9A-Z]{4}")
FARTHEST_MM = 100_000


def is_id(value: Any) -> bool:
    """Whether this is a UUID in the usual lower-case writing."""
    return isinstance(value, str) and UUID.fullmatch(value) is not None


def is_number(value: Any) -> bool:
    """Whether this is a number of millimeters or degrees that a shop can meet."""
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


def either(rule: Rule, other: Rule) -> Rule:
    """What one rule says, or the other."""
    return lambda value: rule[0](value) or other[0](value), f"{rule[1]}, or {other[1]}"


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
