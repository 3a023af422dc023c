"""Bump steer: how bumps alone turn the front wheels, as the finding `steer`.

Angles of bar and link are both measured in the front view in the bar's sense, positive when the
end on the side of the bar's frame end is the higher one, so that equal angles are parallel lines.
"""

import math

from ..minimum import least_sharply
from ..terms import side_of
from ..typed.length_grammar import INCH
from .drag_link import (
    FIELDS,
    link_out_of_reach,
    link_rise,
    link_run,
    linkage,
    missing_of_link,
    near_dead_center,
    root_of,
)
from .track_bar import (
    BAR_FIELDS,
    missing_of,
    out_of_reach,
    rise_of,
    run_of,
    shift_at,
    travels,
)
from .uncertainty_budget import combined, shares_of

STANDARD_TRAVEL = 25.0


def short_of(bar: dict | None, link: dict) -> list:
    """What is missing for bump steer, as reasons."""
    if bar is None:
        return missing_of_link(link) + [{"code": "no_track_bar"}]
    return missing_of_link(link) + missing_of(bar)


def not_reckoned(bar: dict | None, link: dict) -> dict | None:
    """The finding where bar or link is short or cannot be, or None where both can be reckoned."""
    short = short_of(bar, link)
    if len(short) > 0:
        return {"state": "incomplete", "reasons": short}
    unreachable = link_out_of_reach(link) + out_of_reach(bar or {})
    return {"state": "impossible", "reasons": unreachable} if len(unreachable) > 0 else None


def link_angle(bar: dict, link: dict) -> float:
    """The link's angle in the front view, in the bar's sense, in degrees."""
    angle = math.degrees(math.atan2(link_rise(link), link_run(link) or 0.0))
    return angle if link["frame_end"] == bar["frame_end"] else -angle


def bar_angle(bar: dict) -> float:
    """The bar's angle in the front view, in degrees."""
    return math.degrees(math.atan2(rise_of(bar), run_of(bar, rise_of(bar)) or 0.0))


def bump_steer_found(bar: dict | None, link: dict | None, limit: float | None) -> dict | None:
    """The finding `bump_steer`: the most in 25 mm either way, in degrees, against its limit.

    None where it cannot be reckoned.
    """
    if bar is None or link is None or not_reckoned(bar, link) is not None:
        return None
    at = linkage(link) or {}
    rates = [bump_steer(bar, at, each) for each in [STANDARD_TRAVEL, -STANDARD_TRAVEL]]
    known = [abs(each) for each in rates if each is not None]
    if len(known) == 0:
        return None
    state = "recorded"
    if limit is not None:
        state = "outside" if max(known) > limit else "inside"
    return {"state": state, "most": max(known), "limit": limit}


def steer(bar: dict | None, link: dict, limit: float | None = None) -> dict:
    """The bump steer through the travel, degrees, left positive: the finding `steer`."""
    held = not_reckoned(bar, link)
    if held is not None or bar is None:
        return held or {}
    at = linkage(link) or {}
    angle = link_angle(bar, link)
    found: dict = {
        "state": "known",
        "link_angle_deg": angle,
        "mismatch_deg": bar_angle(bar) - angle,
        "length_ratio": link["length"] / bar["length"],
        "per_25_bump_deg": bump_steer(bar, at, STANDARD_TRAVEL),
        "per_25_droop_deg": bump_steer(bar, at, -STANDARD_TRAVEL),
        "per_inch_bump_deg": bump_steer(bar, at, INCH),
        "per_inch_droop_deg": bump_steer(bar, at, -INCH),
    }
    found["limit"] = limit
    judged = bump_steer_found(bar, link, limit)
    found["limit_state"] = "recorded" if judged is None else judged["state"]
    found["toward_in_bump"] = toward_in_bump(found["per_25_bump_deg"])
    found.update(steer_in_travel(bar, link, at))
    travel_reasons = found.pop("travel_reasons")
    opposite = link["frame_end"] != bar["frame_end"]
    found["reasons"] = (
        bump_reasons(found)
        + near_dead_center(at)
        + ([{"code": "frame_ends_opposite"}] if opposite else [])
        + travel_reasons
    )
    return found


def bump_reasons(found: dict) -> list:
    """Which way the wheels steer in bump and how much at the worst, as reasons."""
    reasons: list = []
    if found["toward_in_bump"] is not None:
        reasons.append(
            {
                "code": "bump_rate",
                "toward": found["toward_in_bump"],
                "per_25_deg": found["per_25_bump_deg"],
                "per_inch_deg": found["per_inch_bump_deg"],
            }
        )
    if found["worst_deg"] is not None:
        worst = {"code": "worst_steer", "steer_deg": found["worst_deg"], "at": found["worst_at"]}
        reasons.append(worst)
    if found.get("improve") is not None:
        known = {"code": "worst_steer_known_to", "expanded": found["expanded"]}
        reasons.append(known)
        reasons.append(found["improve"])
    return reasons


def toward_in_bump(degrees: float | None) -> str | None:
    """`left`, `right` or `neither`: which way the wheels go in bump; None where not known."""
    if degrees is None:
        return None
    return side_of(degrees) if abs(degrees) > 1e-9 else "neither"


def bump_steer(bar: dict, at: dict, travel: float) -> float | None:
    """The steer in degrees in this travel, the bar carrying the axle; None out of reach."""
    shift = shift_at(bar, travel)
    return None if shift is None else root_of(at, shift, travel)


def steer_in_travel(bar: dict, link: dict, at: dict) -> dict:
    """Curve and worst value over the travel; a travel that is not entered leaves them empty."""
    found: dict = {"curve": [], "worst_deg": None, "worst_at": None, "travel_reasons": []}
    if bar.get("bump") is None or bar.get("droop") is None:
        found["travel_reasons"] = [{"code": "no_travel"}]
        return found
    points = travels(bar["droop"], bar["bump"])
    for travel in points:
        steered = bump_steer(bar, at, travel)
        if steered is not None:
            found["curve"].append([travel, steered])
    if len(found["curve"]) < len(points):
        found["travel_reasons"] = [{"code": "out_of_travel"}]
        return found
    found.update(worst_of(bar, at, found["curve"]))
    found.update(steer_uncertainty(bar, link, found["worst_at"]))
    return found


def worst_of(bar: dict, at: dict, curve: list) -> dict:
    """The largest steer of a whole curve, signed, and the travel where it is, refined between."""
    largest = max([abs(point[1]) for point in curve])
    # Ends that only rounding tells apart count as equal: the first of them is taken.
    index = [i for i in range(len(curve)) if abs(curve[i][1]) >= largest - 1e-9][0]
    travel = curve[index][0]
    if index > 0 and index < len(curve) - 1:
        travel = least_sharply(
            lambda there: -abs(bump_steer(bar, at, there) or 0.0),
            curve[index - 1][0],
            curve[index + 1][0],
        )
    return {"worst_deg": bump_steer(bar, at, travel), "worst_at": travel}


def steer_uncertainty(bar: dict, link: dict, travel: float) -> dict:
    """{expanded, improve} of the worst steer, in degrees.

    The travel is held: at a maximum its own move changes nothing to first order.
    """
    with_bar = shares_of(lambda other: steered(other, link, travel), bar, BAR_FIELDS, "bar")
    return combined(
        with_bar + shares_of(lambda other: steered(bar, other, travel), link, FIELDS, "link")
    )


def steered(bar: dict, link: dict, travel: float) -> float | None:
    """The steer in degrees of a bar and a link in this travel; None out of reach."""
    at = linkage(link)
    return None if at is None else bump_steer(bar, at, travel)
