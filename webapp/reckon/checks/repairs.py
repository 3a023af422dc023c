"""Repair choices for a worn hole: what would clean it up, and what that asks for.

Sizes for comparison, none a judgment of strength. The new hole is taken as centered on the worn
one, so that its middle may lie half the oval nearer to the edge than before.
"""

from ..numbers import trimmed
from ..typed.lengths import show_mm
from .hole_sizes import EDGE_SOURCE, EDGES, INCH_HOLES, INCH_SOURCE, METRIC_HOLES, METRIC_SOURCE

HOLES: list = [[METRIC_HOLES, METRIC_SOURCE], [INCH_HOLES, INCH_SOURCE]]
SAME_BOLT = 0.4
WELDER = " A qualified person welds it, by the vehicle maker's steps."


def repairs(joint: dict) -> list:
    """The choices {kind, says, ...} for a worn hole measured with its bolt; else none."""
    bolt = joint.get("bolt")
    worn = joint.get("hole_long")
    if bolt is None or worn is None or worn <= close_hole(bolt):
        return []
    choices: list = []
    for holes, source in HOLES:
        bigger = next_bolt(holes, bolt, worn)
        if bigger is not None:
            choices.append(next_bolt_choice(joint, bigger, source))
    choices.append(washer_choice(joint, close_hole(bolt)))
    choices.append(
        {"kind": "new_bracket", "says": f"Or fit a new bracket with a new bolt.{WELDER}"}
    )
    return choices


def close_hole(bolt: float) -> float:
    """The close-fit hole in mm for a shank of this measure; that of the nearest size in the tables.

    A shank off every size gets its own measure and the allowance of the nearest size.
    """
    nearest = sorted(METRIC_HOLES + INCH_HOLES, key=lambda row: abs(row[1] - bolt))[0]
    if abs(nearest[1] - bolt) <= SAME_BOLT:
        return nearest[2]
    return bolt + nearest[2] - nearest[1]


def next_bolt(holes: list, bolt: float, worn: float) -> list | None:
    """The row of the smallest larger bolt whose close-fit hole takes the wear away, or None."""
    for row in holes:
        if row[2] >= worn and row[1] > bolt + SAME_BOLT:
            return row
    return None


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


def next_bolt_choice(joint: dict, row: list, source: str) -> dict:
    """The choice of reaming for the next standard bolt."""
    left = edge_left(joint)
    needed = edge_needed(row[1])
    choice: dict = {
        "kind": "next_bolt",
        "bolt": row[0],
        "hole": row[2],
        "pitches": row[3],
        "sleeve_bore": row[1],
        "edge_left": left,
        "edge_needed": needed[1] if needed is not None else None,
        "source": source,
        "confidence": row[4],
    }
    choice["says"] = (
        f"Ream to {show_mm(row[2])} for {row[0]} ({source}), with a sleeve of "
        f"{trimmed(row[1], 2)}\u202fmm bore.{edge_words(left, needed)}"
    )
    return choice


def edge_words(left: float | None, needed: list | None) -> str:
    """Whether the bracket has room for the larger hole."""
    if left is None or needed is None:
        return " Measure from the hole's middle to the bracket's edge before you ream."
    room = f"{show_mm(left)} left to the edge, {show_mm(needed[1])} wanted ({EDGE_SOURCE}"
    if left < needed[1]:
        return f" Too little metal: {room})."
    return f" {room.capitalize()})."


def washer_choice(joint: dict, hole: float) -> dict:
    """The choice of washers welded over the worn hole."""
    return {
        "kind": "weld_washers",
        "hole": hole,
        "covers": joint["hole_long"],
        "says": (
            f"Or weld washers with a {show_mm(hole)} hole over both sides, wide enough to "
            f"cover {show_mm(joint['hole_long'])} all round.{WELDER}"
        ),
    }
