"""The words of the trade as the screens use them, and how a sentence marks its numbers.

A sentence with marked numbers is a list of runs: plain text and strong text in turn, beginning
and ending with plain text.
"""

import math

from .numbers import THIN, counted, fixed, near_half_up, trimmed
from .typed.length_grammar import INCH
from .typed.lengths import show_amount, show_mm
from .typed.turns import FLATS, QUARTERS

AXLES = ["front", "rear"]
FACES = {
    "hub": "hub face",
    "rotor": "rotor face",
    "knuckle": "knuckle face",
    "tire": "tire sidewall",
}
METHODS = {"square_to_rail": "tape square to the rail", "plumb_bob": "plumb bob and floor"}
STANDINGS = {
    "on_wheels": "on its wheels",
    "on_stands_loaded": "on stands under the axle, springs loaded",
    "hanging": "axle hanging",
}
TICK_WORDS = {
    "level": "Floor level",
    "tires": "Tires the same size and at pressure",
    "load": "Usual load on board",
    "settled": "Settled: rolled or bounced",
    "straight": "Wheels straight ahead",
}
# What has to be ticked before a round is measured, in the order of the screen.
TICKS = list(TICK_WORDS)
MOVES = {
    "axle_end_up": "track bar's axle end up",
    "frame_end_down": "track bar's frame end down",
    "pitman_down": "pitman ball down",
    "link_axle_end_up": "drag link's axle end up",
    "height_change": "more ride height",
}
DUE_WORDS = {
    "recheck": "Check the torque of the bolts again",
    "remeasure": "Measure the axle again",
}
PHOTO_WORDS = {
    "joint": "a joint",
    "contact": "parts that touch",
    "weld": "a weld",
    "other": "something else",
}
ROUND_WORDS = {
    "as_found": "as found",
    "fit_up": "fit-up",
    "as_left": "as left",
    "recheck": "recheck",
}
VERDICTS = {
    "inside": "inside",
    "outside": "outside",
    "too_close": "too close to call",
    "incomplete": "incomplete",
    "no_verdict": "no verdict",
}
# What stands behind a verdict on which nobody is to act yet.
ON_HOLD = ", on hold"
JOB_STATES = {
    "open": "open",
    "pending": "pending review",
    "accepted": "accepted",
    "sent_back": "sent back",
}
# A steer below this is shown as none.
SEEN_DEG = 0.005


def verdict_said(state: str, held: bool | None = None) -> str:
    """The verdict in words, with the hold that stands over it."""
    return VERDICTS[state] + (ON_HOLD if held is True else "")


def verdict_color(state: str, held: bool | None = None) -> str:
    """What a verdict is colored by: one that nobody is to act on yet never looks inside."""
    return "held" if held is True else state


def sign_of(side: str) -> int:
    """+1 for left, -1 for right (y points left, ISO 8855)."""
    return 1 if side == "left" else -1


def side_of(value: float) -> str:
    """`left` for what is above zero, `right` for what is below, `neither` for nothing."""
    if value > 0:
        return "left"
    return "right" if value < 0 else "neither"


def other(side: str) -> str:
    """The opposite side."""
    return "right" if side == "left" else "left"


def toward(value: float, unit: str) -> str:
    """A sideways amount in words: `5.4 mm to the left`, or `in the middle`."""
    amount = abs(value)
    if fixed(amount, 1) == "0.0":
        return "in the middle"
    return f"{show_amount(amount, unit)} to the {side_of(value)}"


def move_words(value: float, unit: str) -> str:
    """A move in words: `5.4 mm to the left`, or `nothing` where there is none to see."""
    return "nothing" if fixed(abs(value), 1) == "0.0" else toward(value, unit)


def position(value: float, unit: str) -> str:
    """Where the axle sits: `5.4 mm left of center`, or `center`."""
    if fixed(abs(value), 1) == "0.0":
        return "center"
    return f"{show_amount(abs(value), unit)} {side_of(value)} of center"


def steer_words(value: float | None) -> str:
    """A steer with its side: `0.31° to the left`, or `nothing`."""
    if value is None or abs(value) < SEEN_DEG:
        return "nothing"
    return f"{degrees(abs(value), 2)} to the {side_of(value)}"


def wheel_position(wheel_deg) -> str:  # type: ignore[no-untyped-def]
    """Where a steering wheel sits: `12° to the left`, or `straight`; several places in a row."""
    if isinstance(wheel_deg, list):
        return ", then ".join([wheel_position(each) for each in wheel_deg])
    if degrees(abs(wheel_deg), 0) == "0°":
        return "straight"
    return f"{degrees(abs(wheel_deg), 0)} to the {side_of(wheel_deg)}"


def wheel_sits(wheel_deg: float) -> str:
    """Where a steering wheel sits, as a sentence without its period."""
    return f"The steering wheel sits {wheel_position(wheel_deg)}"


def known_to(expanded: float, unit: str) -> str:
    """An expanded uncertainty as a length: `±0.5 mm`, in inches with the millimeters behind it."""
    if unit == "in":
        return f"±{fixed(expanded / INCH, 2)}{THIN}in ({show_mm(expanded)})"
    return f"±{show_mm(expanded)}"


def said(runs: list) -> str:
    """The sentence as plain text."""
    return "".join(runs)


def joined(first: list, then: list) -> list:
    """Two sentences in runs as one, with a blank between."""
    if len(first) == 0:
        return then
    if len(then) == 0:
        return first
    last = len(first) - 1
    return first[:last] + [f"{first[last]} {then[0]}"] + then[1:]


# Parts of a turn, by how many quarters there are.
QUARTER_WORDS = ["", "1/4", "1/2", "3/4"]


def turns_words(turns: float) -> str:
    """Turns without their sign: `1 turn`, `3 1/4 turns`, `1 turn and 2 flats`, `2.02 turns`."""
    size = abs(turns)
    whole = math.floor(size + 1e-9)
    part = size - whole
    turned = counted(whole, "turn")
    if part < 1e-9:
        return turned
    quarters = near_half_up(part * QUARTERS)
    if abs(part * QUARTERS - quarters) < 1e-9:
        return (
            f"{whole} {QUARTER_WORDS[quarters]} turns"
            if whole > 0
            else f"{QUARTER_WORDS[quarters]} turn"
        )
    flats = near_half_up(part * FLATS)
    if abs(part * FLATS - flats) > 1e-9:
        return f"{trimmed(size, 2)} turns"
    return (f"{turned} and " if whole > 0 else "") + counted(flats, "flat")


def way_of(turns: float) -> str:
    """Which way a bar is turned: out makes it longer."""
    return "out" if turns > 0 else "in"


def degrees(value: float, places: int) -> str:
    """An angle as it stands on a screen."""
    return f"{fixed(value, places)}°"


def plus_minus(value: float, expanded: float, unit: str) -> str:
    """A decided length of zero or more with its expanded uncertainty."""
    metric = f"{fixed(value, 1)} ± {fixed(expanded, 1)}{THIN}mm"
    if unit != "in":
        return metric
    inches = show_amount(value, "in").partition(" (")[0]
    return f"{inches} ± {fixed(expanded / INCH, 2)}{THIN}in ({metric})"
