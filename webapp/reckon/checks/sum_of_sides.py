"""The sum of both sides: it does not depend on where the axle sits, and exposes a misread tape.

Letters: S the sum of the sides, S0 the vehicle's own for the same face, u their uncertainties.
"""

import math

from ..typed.length_grammar import INCH

TOLERANCE = 1e-9
SUM_ALLOWANCE = 1.0
# A cause explains an excess that it misses by no more than a third of what it makes.
CLOSE = 3
# Where a tape is started by mistake, mm.
TAPE_STARTS = {"1 in": INCH, "1 cm": 10.0, "10 cm": 100.0}
# Wheel spacers that are sold, mm: one is forgotten more often than a part is changed.
SPACERS = {
    "1/4 in": 6.35, "5/16 in": 7.9375, "1/2 in": 12.7, "15 mm": 15.0, "20 mm": 20.0, "30 mm": 30.0,
    "1 1/4 in": 31.75, "1 1/2 in": 38.1,
}  # fmt: skip


def sum_check(part: dict, found: dict) -> dict:
    """Whether the two sides add up to the vehicle's own sum, and what may be wrong if not."""
    known = part.get("known_sum")
    if known is None:
        return {"sum_state": "unknown", "sum_reason": None}
    known_u = part.get("known_sum_u") or 0.0
    room = 2 * math.sqrt(found["sum_u"] * found["sum_u"] + known_u * known_u) + SUM_ALLOWANCE
    excess = found["sum"] - known
    if abs(excess) <= room + TOLERANCE:
        return {"sum_state": "agrees", "sum_reason": None, "sum_excess": excess}
    return {
        "sum_state": "differs",
        "sum_reason": sum_reason(part, excess, room),
        "sum_excess": excess,
    }


def sum_reason(part: dict, excess: float, room: float) -> dict:
    """Why the sum may differ: its excess in mm with the likeliest `cause`, or None for that."""
    likeliest = None
    least = room
    for each in causes_of(part, excess):
        miss = abs(abs(excess) - each["amount"])
        if CLOSE * miss > each["amount"]:
            continue
        if miss < least or (likeliest is None and miss <= room):
            likeliest = each
            least = miss
    return {"code": "sum_differs", "excess": excess, "cause": likeliest}


def causes_of(part: dict, excess: float) -> list:
    """What makes sums differ by a certain `amount` (mm), as causes, the commonest first."""
    causes: list = []
    kind = "tape_start" if excess > 0 else "read_short"
    for name in list(TAPE_STARTS):
        amount = TAPE_STARTS[name]
        causes.append({"kind": kind, "name": name, "tapes": 1, "amount": amount})
        causes.append({"kind": kind, "name": name, "tapes": 2, "amount": 2 * amount})
    for side in ["left", "right"]:
        extra = abs(part.get(f"{side}_extra") or 0.0)
        if extra != 0.0:
            causes.append({"kind": "known_spacer", "side": side, "amount": extra})
    if excess > 0:
        for name in list(SPACERS):
            causes.append({"kind": "forgotten_spacer", "name": name, "amount": SPACERS[name]})
    return causes
