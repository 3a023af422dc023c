"""The drag link: what a move of the axle steers, and the change of the link that undoes it.

Letters: P the pitman ball, which stays with the frame; K the ball on the steering arm, which goes
with the axle; s = +1 with the frame end on the left, -1 on the right; a the arm from the steering
axis to K, + forward; rise = P's height less K's; lead = how far K lies ahead of P; run the sideways
distance from P to K; d the steer, left positive. Axes as in ISO 8855: x forward, y left, z up.

    K(d) - P = (lead + a (cos d - 1), -s run + shift + a sin d, travel - rise)

|K - P| = link length is x cos d + y sin d = c with x = lead - a, y = shift - s run, so that
d = β ± acos(c / √(x² + y²)) with β = atan2(y, x): two roots, or none where the link cannot reach.
Of these the one nearest zero, measured round the circle, is always sign(β) (|β| - acos(…)).
"""

import math

from ..terms import sign_of
from .track_bar import LEAST_RUN, missing_fields

NEEDED = ["frame_end", "length", "frame_height", "axle_height", "arm", "arm_points"]
FIELDS = ["length", "frame_height", "axle_height", "fore_aft", "arm"]
ROUNDING = 1e-12
DEAD_CENTER_DEG = 15.0


def missing_of_link(link: dict) -> list:
    """What has to be known of the link and is not, as reasons."""
    return missing_fields(link, NEEDED, "drag_link")


def link_rise(link: dict) -> float:
    """How much higher the frame end is than the axle end, in mm."""
    return link["frame_height"] - link["axle_height"]


def link_run(link: dict) -> float | None:
    """The sideways distance between the balls at ride height, in mm; None out of reach."""
    rise = link_rise(link)
    lead = link.get("fore_aft") or 0.0
    square = link["length"] * link["length"] - rise * rise - lead * lead
    return math.sqrt(square) if square > 0 else None


def link_out_of_reach(link: dict) -> list:
    """Why the link cannot lie as entered, as reasons; none when it can."""
    if len(missing_of_link(link)) > 0 or (link_run(link) or 0.0) >= LEAST_RUN:
        return []
    return [{"code": "link_too_short"}]


def arm_of(link: dict) -> float:
    """The arm from the steering axis to the ball, forward positive, in mm."""
    return link["arm"] if link["arm_points"] == "forward" else -link["arm"]


def linkage(link: dict) -> dict | None:
    """The link at ride height as the steer needs it: {x, y, z, arm, square}; None out of reach."""
    run = link_run(link)
    if run is None:
        return None
    arm = arm_of(link)
    return {
        "x": (link.get("fore_aft") or 0.0) - arm,
        "y": -sign_of(link["frame_end"]) * run,
        "z": -link_rise(link),
        "arm": arm,
        "square": link["length"] * link["length"] - arm * arm,
    }


def root_of(at: dict, shift: float, travel: float) -> float | None:
    """The steer in degrees with the ball moved by shift and travel (mm); None out of reach."""
    x = at["x"]
    y = at["y"] + shift
    z = at["z"] + travel
    plan = x * x + y * y
    if plan == 0:
        return None
    cosine = (at["square"] - plan - z * z) / (2 * at["arm"] * math.sqrt(plan))
    if abs(cosine) > 1 + ROUNDING:
        return None
    lean = math.atan2(y, x)
    if abs(cosine) > 1:
        cosine = 1.0 if cosine > 0 else -1.0
    size = abs(lean) - math.acos(cosine)
    return math.degrees(size if lean >= 0 else -size)


def steer_at(link: dict, shift: float, travel: float) -> float | None:
    """The steer (degrees, left positive) in this sideways shift and travel; None out of reach."""
    at = linkage(link)
    return None if at is None else root_of(at, shift, travel)


def link_change_for(link: dict, move: float, steer_deg: float = 0.0) -> float | None:
    """How much longer the link must be for the wheels to steer by so much after a move, in mm.

    A steer of 0 keeps them straight. None where the ball would pass the pitman ball.
    """
    run = link_run(link)
    at = linkage(link)
    if run is None or at is None or run - sign_of(link["frame_end"]) * move < LEAST_RUN:
        return None
    steer = math.radians(steer_deg)
    x = at["x"]
    y = at["y"] + move
    across = x * math.cos(steer) + y * math.sin(steer)
    places = x * x + y * y + at["z"] * at["z"]
    square = at["arm"] * at["arm"] + places + 2 * at["arm"] * across
    return math.sqrt(square) - link["length"] if square > 0 else None


def ratio_of(link: dict) -> float | None:
    """Degrees at the steering wheel for one at the road wheels, or None.

    A box's own ratio is for the pitman arm; the steering arm turns by as much less as it is longer.
    """
    if link.get("ratio") is not None:
        return link["ratio"]
    box = link.get("box_ratio")
    if box is None or link.get("pitman_arm") is None or link.get("arm") is None:
        return None
    return box * link["arm"] / link["pitman_arm"]


def near_dead_center(at: dict) -> list:
    """A reason where arm and link lie almost in line, seen from above; none where they do not.

    The two roots then lie close together: a little move steers a lot, and either way.
    """
    lean = abs(math.degrees(math.atan2(at["y"], at["x"])))
    if lean > DEAD_CENTER_DEG and lean < 180 - DEAD_CENTER_DEG:
        return []
    return [{"code": "near_dead_center"}]
