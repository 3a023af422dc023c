"""Repair choices for a worn hole of a track bar: what would clean it up, what that asks for.

Sizes for comparison, none a judgment of strength. The new hole is taken as centered on the worn
one, so that its middle may lie half the oval nearer to the edge than before.
"""

import math

from ..typed.length_grammar import INCH
from .hole_sizes import EDGES, INCH_HOLES, INCH_SOURCE, METRIC_HOLES, METRIC_SOURCE

HOLES: list = [[METRIC_HOLES, METRIC_SOURCE, "mm"], [INCH_HOLES, INCH_SOURCE, "in"]]
SAME_BOLT = 0.4
TOOL = 0.1
LEAST_REAMED = 0.05
# What a drilled and reamed hole is larger than its bolt, mm: the least, and the most that is snug.
SNUG = [0.1, 0.2]
# The letter drills, A to Z, in.
LETTERS: list = [
    0.234, 0.238, 0.242, 0.246, 0.25, 0.257, 0.261, 0.266, 0.272, 0.277, 0.281, 0.29, 0.295, 0.302,
    0.316, 0.323, 0.332, 0.339, 0.348, 0.358, 0.368, 0.377, 0.386, 0.397, 0.404, 0.413,
]  # fmt: skip


def repairs(joint: dict, limit: float | None = None) -> list:
    """The choices {kind, hole, clearance, ...} for a worn hole with its bolt; else none.

    `limit` is the house's for the clearance of a bolt; without one, what is not snug is worn.
    """
    bolt = joint.get("bolt")
    worn = joint.get("hole_long")
    if bolt is None or worn is None or not is_worn(joint, limit):
        return []
    choices: list = []
    for holes, source, unit in HOLES:
        bigger = next_bolt(holes, bolt, worn)
        if bigger is not None:
            choices.append(next_bolt_choice(joint, bigger, source, unit))
    choices.append(washer_choice(joint, bolt + SNUG[0]))
    choices.append({"kind": "new_bracket", "hole": bolt + SNUG[0], "clearance": SNUG[0]})
    return choices


def is_worn(joint: dict, limit: float | None) -> bool:
    """Whether a hole is looser on its bolt than the limit, or oval."""
    most = SNUG[1] if limit is None else limit
    return joint["hole_long"] - joint["bolt"] > most + 1e-9 or (oval_of(joint) or 0.0) > 0


def oval_of(joint: dict) -> float | None:
    """How much longer than wide the hole is, 0.0 within what the tool can tell; None if unknown."""
    worn = joint.get("hole_long")
    short = joint.get("hole_short")
    if worn is None or short is None:
        return None
    oval: float = worn - short
    return oval if oval > (joint.get("read_to") or TOOL) + 1e-9 else 0.0


def snug_hole(bolt: float, worn: float) -> float:
    """The smallest snug hole for a bolt that takes the wear away, in mm."""
    return bolt + SNUG[0] if bolt + SNUG[0] >= worn else bolt + SNUG[1]


def next_bolt(holes: list, bolt: float, worn: float) -> list | None:
    """The row of the smallest larger bolt whose snug hole takes the wear away, or None."""
    for row in holes:
        if row[1] + SNUG[1] >= worn and row[1] > bolt + SAME_BOLT:
            return row
    return None


def drill_before(hole: float, unit: str) -> dict:
    """The largest drill of the shop that leaves something to ream: {size, unit, letter}.

    `size` is in mm; `letter` is its place among the letter drills, 0 for A, None for one that
    goes by its size in mm or in 64ths of an inch.
    """
    if unit == "mm":
        half = math.floor((hole - LEAST_REAMED) * 2) / 2
        return {"size": half, "unit": "mm", "letter": None}
    most = (hole - LEAST_REAMED) / INCH
    smaller = [each for each in LETTERS if each <= most]
    last = len(smaller) - 1
    sixty_fourths = math.floor(most * 64) / 64
    within = most <= LETTERS[len(LETTERS) - 1]
    if last >= 0 and (within or LETTERS[last] > sixty_fourths):
        return {"size": LETTERS[last] * INCH, "unit": "in", "letter": last}
    return {"size": sixty_fourths * INCH, "unit": "in", "letter": None}


def edge_needed(bolt: float) -> list | None:
    """The row of the least edge distance for a bolt of this size or the next, or None."""
    for row in EDGES:
        if row[0] >= bolt - 0.05:
            return row
    return None


def edge_left(joint: dict) -> float | None:
    """The distance in mm from the middle of the new hole to the nearest edge; None if unknown."""
    if joint.get("edge") is None:
        return None
    short = joint.get("hole_short")
    oval = 0.0 if short is None else max(0.0, joint["hole_long"] - short)
    return joint["edge"] - oval / 2


def next_bolt_choice(joint: dict, row: list, source: str, unit: str) -> dict:
    """The choice of reaming for the next standard bolt."""
    hole = snug_hole(row[1], joint["hole_long"])
    left = edge_left(joint)
    needed = edge_needed(row[1])
    return {
        "kind": "next_bolt",
        "bolt": row[0],
        "unit": unit,
        "hole": hole,
        "clearance": hole - row[1],
        "drill": drill_before(hole, unit),
        "free_hole": row[2],
        "pitches": row[3],
        "sleeve_bore": row[1],
        "edge_left": left,
        "edge_needed": needed[1] if needed is not None else None,
        "source": source,
        "confidence": row[4],
    }


def washer_choice(joint: dict, hole: float) -> dict:
    """The choice of washers welded over the worn hole."""
    return {
        "kind": "weld_washers",
        "hole": hole,
        "clearance": hole - joint["bolt"],
        "covers": joint["hole_long"],
    }
