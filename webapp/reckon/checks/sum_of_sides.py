"""The sum of both sides: it does not depend on where the axle sits, and exposes a misread tape.

Letters: S the sum of the sides, S0 the vehicle's own for the same face, u their uncertainties.
"""

import math

from ..typed.length_grammar import INCH
from ..typed.lengths import show_amount

TOLERANCE = 1e-9
SUM_ALLOWANCE = 1.0
# Where a tape is started by mistake, mm.
TAPE_STARTS = {"1 in": INCH, "1 cm": 10.0, "10 cm": 100.0}
# Wheel spacers that are sold, mm: one is forgotten more often than a part is changed.
SPACERS = {
    "1/4 in": 6.35, "5/16 in": 7.9375, "1/2 in": 12.7, "15 mm": 15.0, "20 mm": 20.0, "30 mm": 30.0,
    "1 1/4 in": 31.75, "1 1/2 in": 38.1,
}  # fmt: skip


def sum_check(part: dict, found: dict, unit: str) -> dict:
    """Whether the two sides add up to the vehicle's own sum, and what may be wrong if not."""
    known = part.get("known_sum")
    if known is None:
        return {"sum_state": "unknown", "sum_hint": None}
    known_u = part.get("known_sum_u") or 0.0
    room = 2 * math.sqrt(found["sum_u"] * found["sum_u"] + known_u * known_u) + SUM_ALLOWANCE
    excess = found["sum"] - known
    if abs(excess) <= room + TOLERANCE:
        return {"sum_state": "agrees", "sum_hint": None, "sum_excess": excess}
    return {
        "sum_state": "differs",
        "sum_hint": sum_hint(part, excess, room, unit),
        "sum_excess": excess,
    }


def sum_hint(part: dict, excess: float, room: float, unit: str) -> str:
    """What may make the sum differ, most telling cause first."""
    more = "more" if excess > 0 else "less"
    says = f"The sides add up to {show_amount(abs(excess), unit)} {more} than before. "
    likeliest = None
    for each in causes_of(part, excess):
        miss = abs(abs(excess) - each["amount"])
        if miss <= room and (likeliest is None or miss < likeliest["miss"]):
            likeliest = {"miss": miss, "says": each["says"]}
    if likeliest is None:
        return says + "One side may be misread, or parts were changed. Measure both sides again."
    return says + likeliest["says"]


def causes_of(part: dict, excess: float) -> list:
    """What makes sums differ by a certain amount (mm), as {amount, says}, the commonest first."""
    again = " Measure both sides again."
    causes: list = []
    for name in list(TAPE_STARTS):
        amount = TAPE_STARTS[name]
        if excess > 0:
            one = f"One tape may have been started at the {name} mark."
            both = f"Both tapes may have been started at the {name} mark."
        else:
            one = f"That is {name}: a side may have been read {name} short."
            both = f"Both sides may have been read {name} short."
        causes.append({"amount": amount, "says": one + again})
        causes.append({"amount": 2 * amount, "says": both + again})
    for side in ["left", "right"]:
        extra = abs(part.get(side + "_extra") or 0.0)
        if extra != 0.0:
            says = f"That is the {side} spacer: is it fitted, and taken off only once?"
            causes.append({"amount": extra, "says": says})
    if excess > 0:
        for name in list(SPACERS):
            says = f"A spacer of {name} on one side would do that. Look behind both wheels."
            causes.append({"amount": SPACERS[name], "says": says})
    return causes
