"""The drag links that are on file: invented, beside each bar as its shop would have fitted it.

All but one lie nearly parallel to the bar. The beach_b1's bar bracket was raised without a
matching pitman arm, so that its bumps steer.
"""

from typing import Any

SLEEVE = {"kind": "both_ends", "pitch": 1.5, "step": 0}
HEAVY_SLEEVE = {"kind": "both_ends", "pitch": 2.0, "step": 0}
FIXED = {"kind": "fixed"}

# Frame end, length, bolts' heights, fore-aft, arm and where it points, steering ratio, adjuster.
DRAG_LINKS = {
    "plow_p1": ("right", 1004, 748, 621, 10, 176, "forward", 20, HEAVY_SLEEVE),
    "plow_p2": ("right", 1004, 747, 621, 10, 176, "forward", 20, HEAVY_SLEEVE),
    "marina_h3": ("left", 889, 600.1, 490.5, -12.7, 158.8, "forward", 17, SLEEVE),
    "timber_f2": ("left", 939.8, 762, 619.1, -14.3, 171.5, "forward", 19, HEAVY_SLEEVE),
    "beach_b1": ("right", 863.6, 584.2, 508, -9.5, 152.4, "forward", 16, SLEEVE),
    "brush_f7": ("left", 976, 745, 604, 8, 170, "rearward", 19, HEAVY_SLEEVE),
    "ramp_s1": ("left", 1010, 760, 640, 14, 178, "forward", 20, FIXED),
    "culvert_c4": ("left", 905, 590, 474, -6, 155, "forward", 17, SLEEVE),
    "water_w2": ("right", 994, 728, 620, 12, 174, "rearward", 20, HEAVY_SLEEVE),
    "fence_d5": ("left", 858, 655, 505, 9, 152, "forward", 17, SLEEVE),
    "ranger_n1": ("left", 866.8, 601.7, 481, -11.1, 154, "forward", 16, SLEEVE),
}
NAMES = ["frame_end", "length", "frame_height", "axle_height", "fore_aft", "arm", "arm_points"]


def link_on_file(key: str) -> dict[str, Any] | None:
    """The drag link of the vehicle with this key as the log keeps it, or None."""
    figures = DRAG_LINKS.get(key)
    if figures is None:
        return None
    return dict(zip([*NAMES, "ratio", "adjuster"], figures, strict=True))
