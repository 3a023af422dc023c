"""What a sheet may hold, and what is at fault in a bad one.

A sheet is everything that stands recorded in one round. Parts may be missing; what is there must
be of the right kind, so that a misspelt field or a text for a number never passes unseen.
"""

from .numbers import is_number, trimmed
from .words import FACES, METHODS, STANDINGS
from .written import LONGEST

SIDES = ["left", "right"]
ADJUSTERS = ["one_end", "both_ends", "fixed"]

# Path, kind, and what the kind needs: choices, or the least and the largest number.
RULES: list = [
    ["axle", "choice", ["front", "rear"]],
    ["units", "choice", ["in", "mm"]],
    ["driving_side", "choice", SIDES],
    ["standing", "choice", list(STANDINGS)],
    ["ready.level", "truth", None],
    ["ready.tyres", "truth", None],
    ["ready.load", "truth", None],
    ["ready.settled", "truth", None],
    ["ready.straight", "truth", None],
    ["heights.left", "numbers", [0, LONGEST]],
    ["heights.right", "numbers", [0, LONGEST]],
    ["centring.face", "choice", list(FACES)],
    ["centring.method", "choice", list(METHODS)],
    ["centring.left", "numbers", [0, LONGEST]],
    ["centring.right", "numbers", [0, LONGEST]],
    ["centring.left_extra", "number", [-LONGEST, LONGEST]],
    ["centring.right_extra", "number", [-LONGEST, LONGEST]],
    ["centring.read_to", "above zero", [0, 100]],
    ["centring.known_sum", "number", [-LONGEST, LONGEST]],
    ["centring.known_sum_u", "number", [0, LONGEST]],
    ["centring.drop", "number", [0, LONGEST]],
    ["centring.tilt_deg", "number", [0, 45]],
    ["centring.high_side", "choice", SIDES],
    ["centring.mixed_faces", "texts", None],
    ["track_bar.frame_end", "choice", SIDES],
    ["track_bar.length", "above zero", [0, LONGEST]],
    ["track_bar.frame_height", "number", [-LONGEST, LONGEST]],
    ["track_bar.axle_height", "number", [-LONGEST, LONGEST]],
    ["track_bar.fore_aft", "number", [-LONGEST, LONGEST]],
    ["track_bar.frame_end_from_centre", "number", [-LONGEST, LONGEST]],
    ["track_bar.adjuster.kind", "choice", ADJUSTERS],
    ["track_bar.adjuster.pitch", "above zero", [0, 100]],
    ["track_bar.adjuster.step", "number", [0, 100]],
    ["track_bar.bump", "number", [0, LONGEST]],
    ["track_bar.droop", "number", [0, LONGEST]],
    ["track_bar.axle_tube_height", "number", [-LONGEST, LONGEST]],
    ["track_bar.rail_height", "number", [-LONGEST, LONGEST]],
    ["limits.offset", "above zero", [0, LONGEST]],
    ["limits.repeat", "above zero", [0, LONGEST]],
    ["limits.face_u", "number", [0, LONGEST]],
]
LATER_PARTS = ["drag_link", "play", "clearance", "toe", "wheelbase"]


def fault(field: str, says: str) -> dict:
    """One fault: the field by its path, and a sentence that says what it must be."""
    return {"field": field, "says": says}


def faults(sheet: object) -> list:
    """Everything at fault in a sheet, as {field, says}; an empty list means that it can be read."""
    if not isinstance(sheet, dict):
        return [fault("sheet", "must be an object with the parts of a sheet")]
    found = strange_fields(sheet, "")
    for path, kind, bounds in RULES:
        value = value_at(sheet, path)
        says = check(value, kind, bounds) if value is not None else ""
        if len(says) > 0:
            found.append(fault(path, says))
    return found


def names_under(prefix: str) -> list:
    """The field names that may stand directly under a path."""
    names: list = list(LATER_PARTS) if prefix == "" else []
    for path, _kind, _bounds in RULES:
        if path.startswith(prefix):
            names.append(path[len(prefix) :].split(".")[0])
    return names


def is_part(path: str) -> bool:
    """Whether a path names an object with fields of its own."""
    return len([each for each in RULES if each[0].startswith(path + ".")]) > 0


def strange_fields(part: dict, prefix: str) -> list:
    """Faults for fields that no sheet has and for parts that are no objects."""
    found: list = []
    names = names_under(prefix)
    for name in list(part):
        path = prefix + name
        if name not in names:
            found.append(fault(path, "is not a field of a sheet; check its spelling"))
        elif is_part(path) and part[name] is not None:
            if isinstance(part[name], dict):
                found.extend(strange_fields(part[name], path + "."))
            else:
                found.append(fault(path, "must be an object with its fields"))
    return found


def value_at(sheet: dict, path: str) -> object:
    """The value at a path, or None where it or a part on the way is missing."""
    value: object = sheet
    for name in path.split("."):
        if not isinstance(value, dict):
            return None
        value = value.get(name)
    return value


def check(value: object, kind: str, bounds: list) -> str:
    """What is wrong with a value, as the end of a sentence; empty when it is right."""
    if kind == "choice":
        return check_choice(value, bounds)
    if kind == "truth":
        return "" if isinstance(value, bool) else "must be true or false"
    if kind == "texts":
        return "" if isinstance(value, list) else "must be a list of faces"
    if kind == "numbers":
        return check_numbers(value, bounds)
    return check_number(value, kind, bounds)


def check_choice(value: object, choices: list) -> str:
    """What is wrong with a value that must be one of some words."""
    if isinstance(value, str) and value in choices:
        return ""
    return "must be one of " + ", ".join(choices)


def check_number(value: object, kind: str, bounds: list) -> str:
    """What is wrong with a value that must be a number."""
    if not is_number(value):
        return "must be a number"
    if kind == "above zero" and not value > 0:  # type: ignore[operator]
        return "must be more than 0"
    if value < bounds[0] or value > bounds[1]:
        return "must be from " + trimmed(bounds[0], 1) + " to " + trimmed(bounds[1], 1)
    return ""


def check_numbers(value: object, bounds: list) -> str:
    """What is wrong with a value that must be a list of numbers."""
    if not isinstance(value, list):
        return "must be a list of readings in mm"
    for index, each in enumerate(value):
        says = check_number(each, "number", bounds)
        if len(says) > 0:
            return "reading " + str(index + 1) + " " + says
    return ""
