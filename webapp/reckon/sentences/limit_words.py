"""A house limit in words, in the unit in which a vehicle is measured."""

from ..numbers import THIN, trimmed
from ..typed.length_grammar import INCH
from ..typed.lengths import show_limit

LIMIT_NAMES = {
    "offset": "offset",
    "repeat": "repeat",
    "face_u": "face",
    "lean": "lean",
    "bolt_clearance": "bolt clearance",
    "clearance": "clearance",
    "bump_steer": "bump steer",
}
# Limits of an angle in so much travel, in degrees in 25 mm; the others are lengths in mm.
OF_ANGLES = ["bump_steer"]
TRAVEL = 25.0


def limit_words(name: str, value: float, unit: str) -> str:
    """A limit as people say it: a length, or degrees in 25 mm or in an inch."""
    if name not in OF_ANGLES:
        return show_limit(value, unit)
    if unit == "in":
        return f"{trimmed(value * INCH / TRAVEL, 2)}° in an inch"
    return f"{trimmed(value, 2)}° in 25{THIN}mm"


def bump_steer_outside(found: dict, unit: str) -> str:
    """That the bump steer is outside its house limit, as the finding `bump_steer` has it."""
    most = limit_words("bump_steer", found["most"], unit)
    limit = limit_words("bump_steer", found["limit"], unit)
    return f"Bump steer of {most} is outside the house limit of {limit}."


def bump_steer_judged(found: dict, unit: str) -> list:
    """How the bump steer stands against its house limit, in runs; nothing where none is set."""
    if found.get("limit") is None or found["limit_state"] == "recorded":
        return []
    limit = limit_words("bump_steer", found["limit"], unit)
    return ["It is ", found["limit_state"], f" the house limit of {limit}."]
