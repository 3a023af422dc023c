"""Track bars and drag links as a sheet has them: the sample's, one at an angle, any."""

import math

from hypothesis import strategies as st

from kit.worked_sheets import SAMPLE

INCH = 25.4
BAR, LINK = SAMPLE["track_bar"], SAMPLE["drag_link"]
SIDES = st.sampled_from(["left", "right"])


def lying(length, angle_deg, **fields):
    """A bar or a link of this length at this angle, its axle end 500 mm above the floor."""
    rise = length * math.sin(math.radians(angle_deg))
    return {"length": length, "frame_height": 500 + rise, "axle_height": 500, **fields}


def bar_of(length=32 * INCH, angle_deg=0.0, **fields):
    return {**BAR, "fore_aft": 0, "adjuster": None, **lying(length, angle_deg), **fields}


def link_of(length=32 * INCH, angle_deg=0.0, **fields):
    return {**LINK, "fore_aft": 0, "adjuster": None, **lying(length, angle_deg), **fields}


LINKS = st.builds(
    lambda side, long, angle, lead, arm, points: link_of(
        long, angle, frame_end=side, fore_aft=lead, arm=arm, arm_points=points
    ),
    SIDES,
    st.floats(550, 1100),
    st.floats(-15, 15),
    st.floats(-40, 40),
    st.floats(110, 210),
    st.sampled_from(["forward", "rearward"]),
)
BARS = st.builds(
    lambda side, long, angle, lead: bar_of(long, angle, frame_end=side, fore_aft=lead),
    SIDES,
    st.floats(650, 1100),
    st.floats(-15, 15),
    st.floats(-40, 40),
)
