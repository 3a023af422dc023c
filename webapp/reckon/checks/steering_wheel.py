"""The steering wheel: how far from straight it sits, and the drag-link change that centers it.

Letters as for the drag link, d the steer, at ride height:

    |K(d) - P|² = a² + x² + y² + z² + 2a (x cos d + y sin d)

A wheel that sits w to the left while the vehicle runs straight takes the front wheels
w / ratio to the right once it is straight, so the link must be as long as that steer the other way
would make it.
"""

import math

from ..terms import degrees, side_of, turns_words, way_of
from ..typed.lengths import show_amount
from .drag_link import linkage, missing_of_link
from .track_bar import direction_of, nearest_turns, per_turn, step_of

# From about here on the stability control of some vehicles reads the wheel as turned.
CENTERED_DEG = 5.0


def steering(part: dict, link: dict | None, unit: str) -> dict:
    """The finding `steering`: `centered` or `off`, and what centers the wheel; degrees and mm."""
    wheel = part["wheel_deg"]
    found: dict = {
        "state": "centered" if abs(wheel) < CENTERED_DEG else "off",
        "wheel_deg": wheel,
        "link_length_change": None,
        "turns": None,
    }
    change = None if link is None else change_for(link, wheel)
    if link is not None and change is not None:
        found["link_length_change"] = change
        found["turns"] = turns_for(link, change)
    found["answer"] = runs_of(found, unit)
    found["why"] = why_of(found, link)
    return found


def change_for(link: dict, wheel_deg: float) -> float | None:
    """How much longer the link must be to center a wheel that sits so far to the left, in mm."""
    ratio = link.get("ratio")
    at = linkage(link) if len(missing_of_link(link)) == 0 else None
    if at is None or ratio is None:
        return None
    steer = math.radians(wheel_deg / ratio)
    across = at["x"] * math.cos(steer) + at["y"] * math.sin(steer)
    places = at["x"] * at["x"] + at["y"] * at["y"] + at["z"] * at["z"]
    square = at["arm"] * at["arm"] + places + 2 * at["arm"] * across
    return math.sqrt(square) - link["length"] if square > 0 else None


def turns_for(link: dict, change: float) -> float | None:
    """The drag link's turns nearest to a change of length; None where it has no known thread."""
    adjuster = link.get("adjuster") or {}
    advance = per_turn(adjuster)
    return None if advance is None else nearest_turns(change / advance, step_of(adjuster))


def runs_of(found: dict, unit: str) -> list:
    """Where the wheel sits and what centers it, in runs."""
    where = ["The steering wheel sits ", position_words(found["wheel_deg"])]
    change = found["link_length_change"]
    if change is None or found["turns"] == 0 or degrees(abs(found["wheel_deg"]), 0) == "0°":
        return where + ["."]
    longer = f"{show_amount(abs(change), unit)} {direction_of(change)}"
    turns = found["turns"]
    if turns is not None:
        longer = f"{longer}: {turns_words(turns)} {way_of(turns)}"
    return where + [". Make the drag link ", longer, " to center it."]


def position_words(wheel_deg: float) -> str:
    """Where a steering wheel sits: `12° to the left`, or `straight`."""
    if degrees(abs(wheel_deg), 0) == "0°":
        return "straight"
    return f"{degrees(abs(wheel_deg), 0)} to the {side_of(wheel_deg)}"


def sits_words(wheel_deg: float) -> str:
    """Where a steering wheel sits, as a sentence without its full stop."""
    return f"The steering wheel sits {position_words(wheel_deg)}"


def why_of(found: dict, link: dict | None) -> list:
    """What stands behind the finding, and what would make it say more, as sentences."""
    says: list = []
    if found["state"] == "off":
        says.append("A wheel more than 5° off center can set off stability control.")
    if (link or {}).get("ratio") is None:
        says.append("Enter drag link and steering ratio to know what centers the wheel.")
    return says
