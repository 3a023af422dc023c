"""How well a decided value is known, and which reading to improve first.

First order (JCGM 100): each reading adds (slope times its standard uncertainty) squared; slopes are
central differences of the function that is decided on. U = 2 u.
"""

import math

READ_TO = 1.0
NUDGE = 0.05


def reading_u(part: dict) -> float:
    """The standard uncertainty of one reading of a part, in mm, from what it was read to."""
    return (part.get("read_to") or READ_TO) / math.sqrt(12)


def nudged(part: dict, field: str, by: float) -> dict:
    """The part with one reading moved by a little."""
    other = dict(part)
    other[field] = (part.get(field) or 0.0) + by
    return other


def slope_of(value_at, part: dict, field: str) -> float | None:  # type: ignore[no-untyped-def]
    """How much the function of a part changes with one of its readings, per mm; None if unknown."""
    more = value_at(nudged(part, field, NUDGE))
    less = value_at(nudged(part, field, -NUDGE))
    if more is None or less is None:
        return None
    return (more - less) / (2 * NUDGE)


def shares_of(value_at, part: dict, fields: list, name: str) -> list:  # type: ignore[no-untyped-def]
    """What each reading of a part adds, as {name, u} with u in the value's unit, or None."""
    shares: list = []
    for field in fields:
        slope = slope_of(value_at, part, field)
        u = None if slope is None else abs(slope) * reading_u(part)
        shares.append({"name": f"{name}.{field}", "u": u})
    return shares


def combined(shares: list) -> dict:
    """{expanded, improve}: U of all shares together, and which reading to improve first.

    Both None where a share is not known: next to the end of what the geometry can reach.
    """
    variance = 0.0
    for share in shares:
        if share["u"] is None:
            return {"expanded": None, "improve": None}
        variance += share["u"] * share["u"]
    expanded = 2 * math.sqrt(variance)
    return {"expanded": expanded, "improve": to_improve(shares, variance)}


def to_improve(shares: list, variance: float) -> dict | None:
    """The reading that adds most and its share, as a reason; None where nothing adds anything."""
    if variance == 0:
        return None
    most = max([share["u"] for share in shares])
    # Shares that only rounding tells apart count as equal: the first of them is named.
    largest = [each for each in shares if each["u"] >= most * (1 - 1e-9)][0]
    part = largest["u"] * largest["u"] / variance
    return {"code": "improve", "reading": largest["name"], "share": part}
