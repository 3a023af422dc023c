"""How the frame stands over its axle, in words."""

from ..terms import side_of
from ..typed.lengths import show_amount, show_limit

SMALL = 0.05


def lean_sentence(found: dict, unit: str) -> str:
    """How much higher one side stands, what is known of that, and the limit."""
    limit = show_limit(found["limit"], unit)
    judged = "inside" if found["state"] == "inside" else "outside"
    known = ""
    if abs(found["known"]) >= SMALL:
        known = f" Known about this vehicle: {higher_words(found['known'], unit)}."
    return (
        f"The frame stands {higher_words(found['difference'], unit)}.{known} That is {judged} the"
        f" lean limit of {limit}."
    )


def higher_words(difference: float, unit: str) -> str:
    """A difference of the ride heights: `6 mm higher on the left`, `level`."""
    if abs(difference) < SMALL:
        return "level"
    return f"{show_amount(abs(difference), unit)} higher on the {side_of(difference)}"
