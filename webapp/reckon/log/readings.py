"""What was taken down in a round: its readings, their values, its picks, what they were read to."""

from .fold import of_kind


def readings_of(here: list, step: str) -> list:
    """The standing readings of one step, in order."""
    return [each for each in of_kind(here, "reading") if each["body"]["step"] == step]


def values_of(readings: list, field: str) -> list:
    """The values in mm of the readings of one field."""
    return [each["body"]["value"] for each in readings if each["body"]["field"] == field]


def sides_of(here: list, step: str) -> dict:
    """The values in mm of one step, left and right."""
    found = readings_of(here, step)
    return {"left": values_of(found, "left"), "right": values_of(found, "right")}


def last_value(readings: list, field: str):  # type: ignore[no-untyped-def]
    """The value last read for a field, or None."""
    found = values_of(readings, field)
    return found[len(found) - 1] if len(found) > 0 else None


def last_pick(here: list, step: str, field: str):  # type: ignore[no-untyped-def]
    """The value last picked for a field, or None."""
    value = None
    for entry in of_kind(here, "pick"):
        if entry["body"]["step"] == step and entry["body"]["field"] == field:
            value = entry["body"]["value"]
    return value


def coarsest(found: list) -> float:
    """What the roughest of these readings was read to, in mm."""
    steps = [each["body"].get("read_to", 1.0) for each in found]
    return max(steps)
