"""Answers to holds, "measured again: it is right", each valid for one reason and its values."""

from ..numbers import fixed

# What a technician can answer so, and which values of the reason the answer is about. Reading
# again, a repair or another part ends the other holds.
ANSWERABLE: dict = {
    "implausible": ["field", "ask", "value"],
    "differs_from_file": ["link", "field", "now"],
    "sum_differs": ["excess"],
    "one_side_differs": ["side", "by"],
    "wrong_side": ["link", "observed", "expected"],
    "moved_unexplained": ["rest"],
    "height_changed": ["side", "higher"],
    "leans": ["difference"],
    "links_older": ["link", "frame_height", "axle_height"],
}


def key_of(reason: dict) -> str | None:
    """What an answer to this reason is kept under, its code and values; None where none ends it."""
    if reason["code"] not in ANSWERABLE:
        return None
    words: list = [reason["code"]]
    for name in ANSWERABLE[reason["code"]]:
        value = reason.get(name)
        if isinstance(value, str):
            words.append(value)
        elif value is not None:
            words.append(fixed(value, 2))
    return " ".join(words)


def is_confirmed(reason: dict, confirmed: list) -> bool:
    """Whether the technician has answered this reason: its code as a whole, or these values."""
    key = key_of(reason)
    return key is not None and (reason["code"] in confirmed or key in confirmed)
