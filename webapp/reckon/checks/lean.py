"""Lean: a frame that stands higher over one end of its axle than over the other.

Letters: hL, hR frame-to-axle heights; w the width between the rails; r the height of the rails over
the bar's middle, about which the frame rolls. A frame that leans by φ = (hL - hR) / w carries its
rails sideways over the axle by about φ r, to the low side, which looks like an offset of the axle
to the high side. Where r is not known, the mean of hL and hR stands for it.
"""

from ..numbers import mean

# Between the rails of most frames, mm, where the vehicle's own is not known.
RAIL_WIDTH = 800.0
NARROWEST = 400.0


def lean(heights: dict, limits: dict, bar: dict | None) -> dict | None:
    """The finding `lean`, in mm, left higher positive; None until both sides were measured."""
    left = heights.get("left") or []
    right = heights.get("right") or []
    if len(left) == 0 or len(right) == 0:
        return None
    difference = mean(left) - mean(right)
    known = heights.get("known_lean") or 0.0
    beyond = difference - known
    over_bar = rails_over_bar(bar or {})
    lever = (mean(left) + mean(right)) / 2 if over_bar is None else over_bar
    return {
        "state": "outside" if abs(beyond) > limits["lean"] else "inside",
        "left": mean(left),
        "right": mean(right),
        "difference": difference,
        "known": known,
        "limit": limits["lean"],
        "beyond": beyond,
        "explains": beyond / rail_width(bar) * lever,
        "rough": over_bar is None,
    }


def rails_over_bar(bar: dict) -> float | None:
    """How high the rails lie over the middle of the bar, in mm; None where a height is missing."""
    rail = bar.get("rail_height")
    frame_end = bar.get("frame_height")
    axle_end = bar.get("axle_height")
    if rail is None or frame_end is None or axle_end is None:
        return None
    return rail - (frame_end + axle_end) / 2


def rail_width(bar: dict | None) -> float:
    """How far the rails stand apart, in mm: twice the frame end's way to the middle, or usual."""
    out = (bar or {}).get("frame_end_from_center")
    return 2 * out if out is not None and out >= NARROWEST / 2 else RAIL_WIDTH
