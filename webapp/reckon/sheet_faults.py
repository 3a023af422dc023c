"""What is at fault in a bad sheet.

A sheet is everything that stands recorded in one round. Parts may be missing; what is there must
be of the right kind, so that a misspelled field or a text for a number never passes unseen.
"""

from .numbers import is_number, trimmed
from .sheet_rules import RULES


def fault(field: str, says: str) -> dict:
    """One fault: the field by its path, and a sentence that says what it must be."""
    return {"field": field, "says": says}


def node(many: bool) -> dict:
    """A part of a sheet: its fields by name; `many` where it is a list of such objects."""
    return {"fields": {}, "many": many, "rule": None}


def tree_of(rules: list) -> dict:
    """The rules by the names along their paths, so that a sheet is walked once."""
    root = node(False)
    for rule in rules:
        at = root
        for step in rule[0].split("."):
            name = step.replace("[]", "")
            at["fields"].setdefault(name, node(step.endswith("[]")))
            at = at["fields"][name]
        at["rule"] = rule
    return root


TREE = tree_of(RULES)


def faults(sheet: object) -> list:
    """Everything at fault in a sheet, as {field, says}; an empty list means that it can be read."""
    if not isinstance(sheet, dict):
        return [fault("sheet", "must be an object with the parts of a sheet")]
    return faults_in(sheet, TREE, "")


def faults_in(part: dict, at: dict, prefix: str) -> list:
    """The faults of one object and of what it holds."""
    found: list = []
    for name in list(part):
        path = prefix + name
        if name not in at["fields"]:
            found.append(fault(path, "is not a field of a sheet; check its spelling"))
        elif part[name] is not None:
            found.extend(faults_of_value(part[name], at["fields"][name], path))
    return found


def faults_of_value(value: object, at: dict, path: str) -> list:
    """The faults of one value: of a field, of an object, or of a list of objects."""
    if at["rule"] is not None:
        says = check(value, at["rule"][1], at["rule"][2])
        return [fault(path, says)] if len(says) > 0 else []
    if at["many"]:
        return faults_of_many(value, at, path)
    if isinstance(value, dict):
        return faults_in(value, at, f"{path}.")
    return [fault(path, "must be an object with its fields")]


def faults_of_many(value: object, at: dict, path: str) -> list:
    """The faults of a list of objects, each named by its place from 0."""
    if not isinstance(value, list):
        return [fault(path, "must be a list of objects")]
    found: list = []
    for index, each in enumerate(value):
        place = f"{path}[{index}]"
        if isinstance(each, dict):
            found.extend(faults_in(each, at, f"{place}."))
        else:
            found.append(fault(place, "must be an object with its fields"))
    return found


def check(value: object, kind: str, bounds: list) -> str:
    """What is wrong with a value, as the end of a sentence; empty when it is right."""
    if kind == "choice":
        return check_choice(value, bounds)
    if kind == "truth":
        return "" if isinstance(value, bool) else "must be true or false"
    if kind == "text":
        return "" if isinstance(value, str) else "must be a text"
    if kind == "texts":
        return check_texts(value, bounds)
    if kind == "pair":
        return check_pair(value)
    if kind == "numbers" or kind == "angles":
        return check_numbers(value, bounds)
    if kind == "along":
        return check_along(value, bounds)
    if kind == "gap":
        return check_gap(value, bounds)
    return check_number(value, kind, bounds)


def check_choice(value: object, choices: list) -> str:
    """What is wrong with a value that must be one of some words."""
    if isinstance(value, str) and value in choices:
        return ""
    return f"must be one of {', '.join(choices)}"


def check_number(value: object, kind: str, bounds: list) -> str:
    """What is wrong with a value that must be a number."""
    if not is_number(value):
        return "must be a number"
    if kind == "above zero" and not value > 0:  # type: ignore[operator]
        return "must be more than 0"
    if value < bounds[0] or value > bounds[1]:
        return f"must be from {trimmed(bounds[0], 1)} to {trimmed(bounds[1], 1)}"
    return ""


def check_numbers(value: object, bounds: list) -> str:
    """What is wrong with a value that must be a list of numbers."""
    if not isinstance(value, list):
        return "must be a list of readings"
    for index, each in enumerate(value):
        says = check_number(each, "number", bounds)
        if len(says) > 0:
            return f"reading {index + 1} {says}"
    return ""


def check_along(value: object, bounds: list) -> str:
    """What is wrong with a movement: a number, or the two of a reading both ways."""
    if not isinstance(value, list):
        return check_number(value, "number", bounds)
    if len(value) != 2:
        return "must be one number, or two for a reading both ways"
    return check_numbers(value, bounds)


def check_gap(value: object, words: list) -> str:
    """What is wrong with a gap: a number in mm, or a word for parts that touch."""
    if isinstance(value, str):
        return "" if value in words else f"must be a number or one of {', '.join(words)}"
    return check_number(value, "number", [0, 20000])


def check_texts(value: object, choices: list | None) -> str:
    """What is wrong with a list of texts, each of them one of the choices where there are any."""
    if not isinstance(value, list):
        return "must be a list of texts"
    for each in value:
        if not isinstance(each, str):
            return "must be a list of texts"
        if choices is not None and each not in choices:
            return f"may hold {' and '.join(choices)} only"
    return ""


def check_pair(value: object) -> str:
    """What is wrong with the names of two parts."""
    two = isinstance(value, list) and len(value) == 2
    return "" if two and check_texts(value, None) == "" else "must be a list of two parts"
