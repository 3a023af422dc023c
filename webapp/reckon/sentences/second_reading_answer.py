"""What a second reading says of the first, in one sentence in runs (see terms)."""

from ..terms import plus_minus, side_of
from ..typed.lengths import show_amount

NOT_COMPARED = "The two cannot be compared yet: both need a verdict on the centering."


def second_reading_answer(found: dict, unit: str) -> list:
    """What the comparison of two readings comes to, in runs."""
    if found["state"] == "unknown":
        return [NOT_COMPARED]
    room = f" (±{show_amount(found['expanded'], unit)}): "
    apart = show_amount(abs(found["difference"]), unit)
    side = side_of(found["difference"])
    lies = "in the same place" if side == "neither" else f"{apart} further to the {side}"
    begin = ["The second reading finds the axle ", lies, room]
    if found["state"] == "differ":
        return begin + [
            "the two do not agree",
            ". One of the two was misread, or something moved in between: measure it together.",
        ]
    size = plus_minus(abs(found["together"]), found["together_expanded"], unit)
    toward = side_of(found["together"])
    both = size if toward == "neither" else f"{size}, {toward}"
    return begin + ["the two agree", ". Taken together: ", both, "."]
