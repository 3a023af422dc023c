"""The steering wheel: how far from straight it sits, and the drag-link change that centers it.

Letters as for the drag link, d the steer, at ride height:

    |K(d) - P|² = a² + x² + y² + z² + 2a (x cos d + y sin d)

A wheel that sits w to the left while the vehicle runs straight takes the front wheels
w / ratio to the right once it is straight, so the link must be as long as that steer the other way
would make it.
"""

from ..numbers import mean
from .adjuster import counted_turns, nearest_turns, per_turn, step_of, thread_for
from .drag_link import link_change_for, missing_of_link, ratio_of

# From about here on the stability control of some vehicles reads the wheel as turned.
CENTERED_DEG = 5.0
# How far apart a steering wheel may come to rest after bumps, degrees, and not be said to wander.
WANDERS_DEG = 5.0


def wheel_angle_of(part: dict) -> float | None:
    """Where the wheel sits, degrees to the left: as said, or the middle of places that agree.

    None where nothing was said, or the wheel does not come back to one place.
    """
    if part.get("wheel_deg") is not None:
        return part["wheel_deg"]
    places = part.get("after_bumps") or []
    if len(places) == 0 or max(places) - min(places) > WANDERS_DEG:
        return None
    return mean(places)


def steering(part: dict, link: dict | None) -> dict:
    """The finding `steering`: `centered` or `off`, and what centers the wheel; degrees and mm."""
    wheel = wheel_angle_of(part) or 0.0
    found: dict = {
        "state": "centered" if abs(wheel) < CENTERED_DEG else "off",
        "wheel_deg": wheel,
        "link_length_change": None,
        "turns": None,
        "counted_turns": None,
        "fixed": ((link or {}).get("adjuster") or {}).get("kind") == "fixed",
    }
    change = None if link is None else change_for(link, wheel)
    if link is not None and change is not None:
        found["link_length_change"] = change
        found["turns"] = turns_of_link(link, change)
        if found["turns"] is not None:
            adjuster = link["adjuster"]
            counted = counted_turns(found["turns"], step_of(adjuster))
            found["counted_turns"] = counted
            found.update(thread_for(adjuster, counted * (per_turn(adjuster) or 0.0)))
    found["reasons"] = reasons_of(found, link)
    return found


def change_for(link: dict, wheel_deg: float) -> float | None:
    """How much longer the link must be to center a wheel that sits so far to the left, in mm."""
    ratio = ratio_of(link)
    if ratio is None or len(missing_of_link(link)) > 0:
        return None
    return link_change_for(link, 0.0, wheel_deg / ratio)


def against_link(part: dict, link: dict | None) -> dict | None:
    """{observed, expected} in degrees where the wheel went against a change of the link, or None.

    Only what is more than the room within which a wheel counts as centered tells.
    """
    if link is None or part.get("before_deg") is None or part.get("wheel_deg") is None:
        return None
    per_degree = change_for(link, 1.0)
    if per_degree is None or per_degree == 0:
        return None
    expected = -(part.get("link_longer") or 0.0) / per_degree
    observed = part["wheel_deg"] - part["before_deg"]
    if observed * expected >= 0:
        return None
    if abs(observed) <= CENTERED_DEG or abs(expected) <= CENTERED_DEG:
        return None
    return {"observed": observed, "expected": expected}


def turns_of_link(link: dict, change: float) -> float | None:
    """The drag link's turns nearest to a change of length; None where it has no known thread."""
    adjuster = link.get("adjuster") or {}
    advance = per_turn(adjuster)
    return None if advance is None else nearest_turns(change / advance, step_of(adjuster))


def reasons_of(found: dict, link: dict | None) -> list:
    """What stands behind the finding, and what would make it say more, as reasons."""
    reasons: list = []
    if found["state"] == "off":
        reasons.append({"code": "wheel_off_center"})
    if ratio_of(link or {}) is None:
        reasons.append({"code": "no_link_and_ratio"})
    return reasons
