"""The steering wheel after the track bar is set: where it ends up, and what centers it again."""

from .adjuster import counted_turns, nearest_turns, per_turn, step_of, thread_for
from .drag_link import (
    FIELDS,
    link_change_for,
    link_out_of_reach,
    linkage,
    missing_of_link,
    ratio_of,
    root_of,
    steer_at,
)
from .steering_wheel import CENTERED_DEG
from .track_bar import direction_of
from .uncertainty_budget import combined, shares_of


def wheel(change: dict, link: dict, offset_u: float, wheel_deg: float = 0.0) -> dict:
    """What the move in `bar_change` does to the steering: the finding `wheel`, degrees and mm.

    The change of the link centers the wheel from where it sits now, `wheel_deg` to the left.
    """
    short = missing_of_link(link)
    if len(short) > 0:
        return {"state": "incomplete", "reasons": short}
    move = change["move"]
    turned = steer_at(link, move, 0.0)
    ratio = ratio_of(link)
    now = 0.0 if ratio is None else wheel_deg / ratio
    longer = link_change_for(link, move, now)
    if turned is None or longer is None:
        unreachable = link_out_of_reach(link) + [{"code": "link_cannot_follow"}]
        return {"state": "impossible", "reasons": unreachable[:1]}
    rim = None if ratio is None else turned * ratio
    found: dict = {
        "state": "known",
        "fixed": (link.get("adjuster") or {}).get("kind") == "fixed",
        "steer_deg": turned,
        "rim_deg": rim,
        # The driver steers back what the bar change steers, so the wheel goes the other way.
        "then_deg": None if rim is None else wheel_deg - rim,
        "link_length_change": longer,
        "direction": direction_of(longer),
        "turns": None,
        "exact_turns": None,
        "leftover_deg": None,
        "counted_turns": None,
        "left_deg": None,
    }
    found.update(link_turns(link, move, longer, now))
    if ratio is not None and found["counted_turns"] is not None:
        steered = steer_after(link, found["counted_turns"], move)
        found["left_deg"] = None if steered is None else (now - steered) * ratio
    found.update(wheel_uncertainty(link, move, offset_u))
    missing = [{"code": "ratio_missing"}] if ratio is None else []
    found["reasons"] = missing + wheel_reasons(found, 0.0 if ratio is None else wheel_deg)
    return found


def wheel_reasons(found: dict, wheel_deg: float) -> list:
    """What the move does to the steering and what brings it back from `wheel_deg`, as reasons."""
    reasons: list = []
    if found["direction"] == "none":
        return reasons
    reasons.append(
        {
            "code": "bar_change_steers",
            "steer_deg": found["steer_deg"],
            "link_length_change": found["link_length_change"],
            "fixed": found["fixed"],
            "turns": found["counted_turns"],
            "from_deg": wheel_deg,
        }
    )
    if found["then_deg"] is not None and abs(found["then_deg"]) > CENTERED_DEG:
        reasons.append({"code": "wheel_off_center"})
    if found["improve"] is not None:
        reasons.append({"code": "steer_known_to", "expanded": found["expanded"]})
    return reasons


def link_turns(link: dict, move: float, longer: float, now: float) -> dict:
    """The drag link's turns nearest to its change, and the steer that they leave, in degrees.

    `now` is the steer by which the wheels are off while the steering wheel sits straight.
    """
    adjuster = link.get("adjuster") or {}
    advance = per_turn(adjuster)
    if advance is None:
        return {}
    turns = nearest_turns(longer / advance, step_of(adjuster))
    counted = counted_turns(turns, step_of(adjuster))
    left = steer_after(link, turns, move)
    found = {
        "exact_turns": longer / advance,
        "turns": turns,
        "leftover_deg": None if left is None else left - now,
        "counted_turns": counted,
    }
    found.update(thread_for(adjuster, counted * advance))
    return found


def steer_after(link: dict, turns: float, move: float) -> float | None:
    """The steer in degrees left after a move once the link's adjuster was turned so far."""
    at = dict(linkage(link) or {})
    arm = at["arm"]
    length = link["length"] + turns * (per_turn(link["adjuster"]) or 0.0)
    at["square"] = length * length - arm * arm
    return root_of(at, move, 0.0)


def wheel_uncertainty(link: dict, move: float, offset_u: float) -> dict:
    """{expanded, improve} of the steer that the move causes, in degrees."""
    more = steer_at(link, move + 0.5, 0.0)
    less = steer_at(link, move - 0.5, 0.0)
    u = None if more is None or less is None else abs(more - less) * offset_u
    shares = shares_of(lambda other: steer_at(other, move, 0.0), link, FIELDS, "link")
    return combined([{"name": "offset", "u": u}] + shares)
