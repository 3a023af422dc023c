"""Two readings of one axle by two people: do they agree within what each of them is good to?

The difference of two independent results has U = sqrt(U1² + U2²) (JCGM 100); their mean has half
of that.
"""

import math

from ..terms import plus_minus, side_of
from ..typed.lengths import show_amount
from .centering import JUDGED, TOLERANCE


def compare(first: dict, second: dict, unit: str) -> dict:
    """{state, answer}: whether the offsets of two findings agree, in words in runs.

    `state` is `agree`, `differ` or `unknown`; beside it, where both are known, `difference` (second
    less first, left positive), `expanded`, `together` and `together_expanded`, in mm.
    """
    one = first.get("centering") or {}
    two = second.get("centering") or {}
    if one.get("state") not in JUDGED or two.get("state") not in JUDGED:
        says = "The two cannot be compared yet: both need a verdict on the centering."
        return {"state": "unknown", "answer": [says]}
    both = one["expanded"] * one["expanded"] + two["expanded"] * two["expanded"]
    found: dict = {
        "difference": two["offset"] - one["offset"],
        "expanded": math.sqrt(both),
        "together": (one["offset"] + two["offset"]) / 2,
        "together_expanded": math.sqrt(both) / 2,
    }
    agree = abs(found["difference"]) <= found["expanded"] + TOLERANCE
    found["state"] = "agree" if agree else "differ"
    found["answer"] = told(found, unit)
    return found


def told(found: dict, unit: str) -> list:
    """What the comparison comes to, in runs."""
    room = f" (±{show_amount(found['expanded'], unit)}): "
    apart = show_amount(abs(found["difference"]), unit)
    side = side_of(found["difference"])
    lies = "no further to either side" if side == "neither" else f"{apart} further to the {side}"
    begin = ["The second reading finds the axle ", lies, room]
    if found["state"] == "differ":
        return begin + [
            "the two do not agree",
            ". One of them is misread, or something moved in between: measure it together.",
        ]
    size = plus_minus(abs(found["together"]), found["together_expanded"], unit)
    toward = side_of(found["together"])
    both = size if toward == "neither" else f"{size}, {toward}"
    return begin + ["the two agree", ". Taken together: ", both, "."]


def trials_of(sheet: dict) -> list:
    """The offset in mm of each pair of readings of a sheet, left and right as they were taken."""
    part = sheet.get("centering") or {}
    left = part.get("left") or []
    right = part.get("right") or []
    shift = (part.get("left_extra") or 0.0) - (part.get("right_extra") or 0.0)
    return [(left[i] - right[i] - shift) / 2 for i in range(min(len(left), len(right)))]
