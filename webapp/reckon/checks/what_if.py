"""What if a mount moved? Plans beside today, and the two raises of the axle end worth knowing.

In every plan the bar is re-lengthened so that the axle stays where it is sideways, and the link so
that the wheels stay straight. More ride height lifts the frame over the axle; the stops stay where
they are, so bump travel grows by as much as droop travel shrinks.
"""

import math

from ..minimum import least_between
from ..terms import sign_of
from .bump_steer import bar_angle, link_angle, not_reckoned, steer_in_travel
from .drag_link import link_run, linkage, root_of
from .track_bar import arc_of, missing_of, out_of_reach, rise_of, run_of

LOWEST = -50.0
HIGHEST = 150.0
COARSE = 10
SAMPLES = 8
UNREACHABLE = 1000.0
NO_BETTER = 1e-9


def what_if(bar: dict, link: dict | None, plans: list) -> dict:
    """The finding `what_if`: {today, plans, reasons}; with a drag link also two raises in mm."""
    found: dict = {"state": "known", "reasons": [], "today": plan_found(bar, link, {})}
    found["plans"] = []
    for plan in plans:
        then = plan_found(bar, link, plan)
        then["name"] = plan.get("name")
        found["plans"].append(then)
    found.update({"parallel_raise": None, "least_steer_raise": None, "least_steer_deg": None})
    if link is None:
        found["reasons"].append({"code": "no_drag_link"})
        return found
    found["parallel_raise"] = parallel_raise(bar, link)
    found.update(least_steer(bar, link))
    if bar.get("bump") is not None and bar.get("droop") is not None:
        found["reasons"].append(raises(found))
    return found


def what_if_held(bar: dict, link: dict | None) -> dict | None:
    """The finding where the bar or the link is short or cannot be, or None."""
    if link is not None:
        return not_reckoned(bar, link)
    short = missing_of(bar)
    if len(short) > 0:
        return {"state": "incomplete", "reasons": short}
    unreachable = out_of_reach(bar)
    return {"state": "impossible", "reasons": unreachable} if len(unreachable) > 0 else None


def moved_by_plan(bar: dict, plan: dict) -> dict:
    """The bar with its mounts where the plan puts them, as long as keeps the axle in its place."""
    higher = plan.get("height_change") or 0.0
    run = run_of(bar, rise_of(bar)) or 0.0
    then = dict(bar)
    then["axle_height"] = bar["axle_height"] + (plan.get("axle_end_up") or 0.0)
    then["frame_height"] = bar["frame_height"] - (plan.get("frame_end_down") or 0.0) + higher
    if bar.get("rail_height") is not None:
        then["rail_height"] = bar["rail_height"] + higher
    if bar.get("bump") is not None and bar.get("droop") is not None:
        then["bump"] = max(0.0, bar["bump"] + higher)
        then["droop"] = max(0.0, bar["droop"] - higher)
    then["length"] = long_enough(run, rise_of(then), bar.get("fore_aft") or 0.0)
    return then


def link_moved_by_plan(link: dict, plan: dict) -> dict:
    """The link with its ends where the plan puts them, as long as keeps the wheels straight."""
    higher = plan.get("height_change") or 0.0
    then = dict(link)
    then["axle_height"] = link["axle_height"] + (plan.get("link_axle_end_up") or 0.0)
    then["frame_height"] = link["frame_height"] - (plan.get("pitman_down") or 0.0) + higher
    rise = then["frame_height"] - then["axle_height"]
    then["length"] = long_enough(link_run(link) or 0.0, rise, link.get("fore_aft") or 0.0)
    return then


def long_enough(run: float, rise: float, lead: float) -> float:
    """The length of a link that lies this far across, up and ahead, in mm."""
    return math.sqrt(run * run + rise * rise + lead * lead)


def plan_found(bar: dict, link: dict | None, plan: dict) -> dict:
    """What a plan gives: lengths, angles, travel, roll center, lever arms, steering."""
    then = moved_by_plan(bar, plan)
    arc = arc_of(then)
    found: dict = {
        "name": plan.get("name") or "Today",
        "bar_length": then["length"],
        "bar_length_change": then["length"] - bar["length"],
        "angle_deg": arc["angle_deg"],
        "roll_center": arc["roll_center"],
        "bump_shift": arc["bump_shift"],
        "droop_shift": arc["droop_shift"],
        "sideways": sideways_of(arc["curve"]),
        "shift_curve": arc["curve"],
        "axle_lever": lever(then, "axle_height", "axle_tube_height"),
        "frame_lever": lever(then, "frame_height", "rail_height"),
        "reasons": list(arc["reasons"]),
    }
    found["axle_lever_ratio"] = ratio_of(
        found["axle_lever"], lever(bar, "axle_height", "axle_tube_height")
    )
    found["frame_lever_ratio"] = ratio_of(
        found["frame_lever"], lever(bar, "frame_height", "rail_height")
    )
    if link is not None:
        found.update(plan_steering(then, link, plan))
    return found


def plan_steering(then: dict, link: dict, plan: dict) -> dict:
    """What a plan gives for the drag link and the bump steer, degrees and mm."""
    new_link = link_moved_by_plan(link, plan)
    angle = link_angle(then, new_link)
    over = steer_in_travel(then, new_link, linkage(new_link) or {})
    return {
        "link_length": new_link["length"],
        "link_length_change": new_link["length"] - link["length"],
        "link_angle_deg": angle,
        "mismatch_deg": bar_angle(then) - angle,
        "worst_deg": over["worst_deg"],
        "worst_at": over["worst_at"],
        "curve": over["curve"],
    }


def sideways_of(curve: list) -> float | None:
    """How far the axle wanders sideways over the travel in all, in mm; None without a curve."""
    if len(curve) == 0:
        return None
    shifts = [point[1] for point in curve]
    return max(shifts) - min(shifts)


def lever(bar: dict, end: str, mount: str) -> float | None:
    """The bracket's lever arm, from the bolt to what carries the bracket, in mm."""
    if bar.get(mount) is None:
        return None
    return abs(bar[end] - bar[mount])


def ratio_of(lever_then: float | None, today: float | None) -> float | None:
    """The lever arm of a plan to that of today; None where one is not known or today's is none."""
    if lever_then is None or today is None or today == 0:
        return None
    return lever_then / today


def parallel_raise(bar: dict, link: dict) -> float:
    """The raise of the bar's axle end that makes bar and link parallel in the front view, in mm."""
    run = run_of(bar, rise_of(bar)) or 0.0
    return rise_of(bar) - run * math.tan(math.radians(link_angle(bar, link)))


def least_steer(bar: dict, link: dict) -> dict:
    """The raise from -50 to 150 mm that makes the worst steer over the travel least, in mm.

    The worst is the largest of many smooth curves, so it has edges but, in between, valleys only:
    a coarse walk finds the deepest, golden section narrows it down.
    """
    if bar.get("bump") is None or bar.get("droop") is None:
        return {}
    at = linkage(link) or {}
    run = run_of(bar, rise_of(bar)) or 0.0
    points = even_points(-bar["droop"], bar["bump"])

    def worst(lift: float) -> float:
        return worst_for(run, rise_of(bar) - lift, sign_of(bar["frame_end"]), at, points)

    step = (HIGHEST - LOWEST) / COARSE
    lifts = [LOWEST + step * index for index in range(COARSE + 1)]
    near = sorted(lifts, key=lambda lift: worst(lift))[0]
    best = least_between(
        lambda lift: worst(lift), max(LOWEST, near - step), min(HIGHEST, near + step)
    )
    if worst(best) >= UNREACHABLE:
        return {}
    if worst(0.0) <= worst(best) + NO_BETTER:
        best = 0.0
    there = plan_found(bar, link, {"axle_end_up": best})
    least = abs(there["worst_deg"]) if there["worst_deg"] is not None else None
    return {"least_steer_raise": best, "least_steer_deg": least}


def even_points(low: float, high: float) -> list:
    """Travels from low to high in even steps."""
    return [low + (high - low) * index / SAMPLES for index in range(SAMPLES + 1)]


def worst_for(run: float, rise: float, side: int, at: dict, points: list) -> float:
    """The largest steer in size over the travel points and the vertices between, in degrees."""
    curve: list = []
    for travel in points:
        steered = steer_of_rise(run, rise, side, at, travel)
        if steered is None:
            return UNREACHABLE
        curve.append(steered)
    largest = 0.0
    for index, steered in enumerate(curve):
        largest = max(largest, abs(steered))
        if index > 1:
            largest = max(largest, abs(vertex_of(curve[index - 2], curve[index - 1], steered)))
    return largest


def steer_of_rise(run: float, rise: float, side: int, at: dict, travel: float) -> float | None:
    """The steer in degrees of a bar that lies this far across and up at ride height."""
    square = run * run + 2 * rise * travel - travel * travel
    if square <= 0:
        return None
    return root_of(at, -side * (math.sqrt(square) - run), travel)


def vertex_of(before: float, middle: float, after: float) -> float:
    """The height of the parabola's vertex through three even points, or the middle one's without.

    Only a vertex inside the span counts; where the ends lie further out, they are samples too.
    """
    bend = before - 2 * middle + after
    lean = after - before
    if abs(lean) >= 2 * abs(bend):
        return middle
    return middle - lean * lean / (8 * bend)


def raises(found: dict) -> dict:
    """The raises that lie parallel and steer least, as a reason with the ends of the search."""
    least = found["least_steer_raise"]
    return {
        "code": "raises",
        "parallel": found["parallel_raise"],
        "least": least,
        "at_the_end": least is not None and (least <= LOWEST or least >= HIGHEST),
        "lowest": LOWEST,
        "highest": HIGHEST,
    }
