"""Two readings of one axle by two people: do they agree within what each of them is good to?

The difference of two independent results has U = sqrt(U1² + U2²) (JCGM 100); their mean has half
of that.
"""

import math

from .centering import JUDGED, TOLERANCE


def compare(first: dict, second: dict) -> dict:
    """{state}: whether the offsets of two findings agree.

    `state` is `agree`, `differ` or `unknown`; beside it, where both are known, `difference` (second
    less first, left positive), `expanded`, `together` and `together_expanded`, in mm.
    """
    one = first.get("centering") or {}
    two = second.get("centering") or {}
    if one.get("state") not in JUDGED or two.get("state") not in JUDGED:
        return {"state": "unknown"}
    both = one["expanded"] * one["expanded"] + two["expanded"] * two["expanded"]
    found: dict = {
        "difference": two["offset"] - one["offset"],
        "expanded": math.sqrt(both),
        "together": (one["offset"] + two["offset"]) / 2,
        "together_expanded": math.sqrt(both) / 2,
    }
    agree = abs(found["difference"]) <= found["expanded"] + TOLERANCE
    found["state"] = "agree" if agree else "differ"
    return found


def trials_of(sheet: dict) -> list:
    """The offset in mm of each pair of readings of a sheet, left and right as they were taken."""
    part = sheet.get("centering") or {}
    left = part.get("left") or []
    right = part.get("right") or []
    shift = (part.get("left_extra") or 0.0) - (part.get("right_extra") or 0.0)
    return [(left[i] - right[i] - shift) / 2 for i in range(min(len(left), len(right)))]
