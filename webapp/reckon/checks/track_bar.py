"""The track bar: where it holds the axle, what a change of length does, its arc in travel.

Letters: L eye-to-eye length; rise = frame-end height - axle-end height; run the sideways distance
between the ends, run = sqrt(L² - rise² - fore_aft²); s = +1 with the frame end on the left, -1 on
the right; m a wanted sideways move of the axle and t the travel (bump positive), left and up
positive, mm.
"""

import math

from ..terms import sign_of
from .adjuster import counted_turns, nearest_turns, per_turn, step_of, thread_for
from .uncertainty_budget import combined, shares_of

NEEDED = ["frame_end", "length", "frame_height", "axle_height"]
BAR_FIELDS = ["length", "frame_height", "axle_height", "fore_aft"]
CURVE_STEP = 5.0
LEAST_RUN = 0.1


def missing_of(bar: dict) -> list:
    """What has to be known of the bar and is not, as reasons."""
    return missing_fields(bar, NEEDED, "track_bar")


def missing_fields(part: dict, needed: list, name: str) -> list:
    """The fields that a part of the sheet lacks, as reasons."""
    return [
        {"code": "missing", "part": name, "field": field}
        for field in needed
        if part.get(field) is None
    ]


def rise_of(bar: dict) -> float:
    """How much higher the frame end is than the axle end, in mm."""
    return bar["frame_height"] - bar["axle_height"]


def run_of(bar: dict, rise: float) -> float | None:
    """The sideways distance between the ends at this rise, in mm; None out of the bar's reach."""
    fore_aft = bar.get("fore_aft") or 0.0
    square = bar["length"] * bar["length"] - rise * rise - fore_aft * fore_aft
    return math.sqrt(square) if square > 0 else None


def out_of_reach(bar: dict) -> list:
    """Why the bar cannot lie as entered, as reasons; none when it can."""
    if len(missing_of(bar)) > 0 or (run_of(bar, rise_of(bar)) or 0.0) >= LEAST_RUN:
        return []
    return [{"code": "bar_too_short"}]


def shift_at(bar: dict, travel: float) -> float | None:
    """How far the bar carries the axle sideways in this travel, left positive, in mm."""
    rest = run_of(bar, rise_of(bar))
    run = run_of(bar, rise_of(bar) - travel)
    if rest is None or run is None:
        return None
    return -sign_of(bar["frame_end"]) * (run - rest)


def length_for_move(bar: dict, move: float) -> float | None:
    """The bar length that moves the axle sideways by `move` at ride height, in mm.

    None where that would take the axle end to the other side of the frame end.
    """
    rise = rise_of(bar)
    fore_aft = bar.get("fore_aft") or 0.0
    run = run_of(bar, rise) or 0.0
    wanted = run - sign_of(bar["frame_end"]) * move
    if wanted < LEAST_RUN:
        return None
    return math.sqrt(wanted * wanted + rise * rise + fore_aft * fore_aft)


def move_of_length(bar: dict, change: float) -> float | None:
    """How far a change of length moves the axle at ride height, left positive, in mm."""
    other_bar = dict(bar)
    other_bar["length"] = bar["length"] + change
    rest = run_of(bar, rise_of(bar))
    run = run_of(other_bar, rise_of(bar))
    if rest is None or run is None:
        return None
    return -sign_of(bar["frame_end"]) * (run - rest)


def bar_change(bar: dict, offset: float, offset_u: float = 0.0) -> dict:
    """What centers the axle: the findings `bar_change`, in mm and turns.

    `offset_u` is the standard uncertainty of the offset.
    """
    short = missing_of(bar) + out_of_reach(bar)
    if len(short) > 0:
        state = "incomplete" if len(missing_of(bar)) > 0 else "impossible"
        return {"state": state, "reasons": short}
    change = change_for(bar, offset)
    if change is None:
        return {"state": "impossible", "reasons": [{"code": "no_bar_length"}]}
    found: dict = {
        "state": "known",
        "reasons": [],
        "move": -offset,
        "length_change": change,
        "direction": direction_of(change),
        "turns": None,
        "exact_turns": None,
        "leftover": None,
        "counted_turns": None,
        "counted_leftover": None,
    }
    found.update(change_uncertainty(bar, offset, offset_u))
    adjuster = bar.get("adjuster") or {}
    advance = per_turn(adjuster)
    if adjuster.get("kind") == "fixed":
        found["state"] = "fixed"
    elif advance is None:
        found["reasons"].append({"code": "adjuster_missing"})
    else:
        found.update(turns_of_bar(bar, offset, change, adjuster))
        found.update(thread_for(adjuster, found["counted_turns"] * advance))
    return found


def change_for(bar: dict, offset: float) -> float | None:
    """How much longer the bar must be to center the axle, in mm; None where no length does."""
    if run_of(bar, rise_of(bar)) is None:
        return None
    wanted = length_for_move(bar, -offset)
    return None if wanted is None else wanted - bar["length"]


def change_uncertainty(bar: dict, offset: float, offset_u: float) -> dict:
    """{expanded, improve} of the change of length, in mm."""
    more = change_for(bar, offset + 0.5)
    less = change_for(bar, offset - 0.5)
    u = None if more is None or less is None else abs(more - less) * offset_u
    shares = shares_of(lambda other: change_for(other, offset), bar, BAR_FIELDS, "bar")
    return combined([{"name": "offset", "u": u}] + shares)


def direction_of(change: float) -> str:
    """`longer`, `shorter` or `none`, which is less than rounding can tell."""
    if abs(change) < 1e-9:
        return "none"
    return "longer" if change > 0 else "shorter"


def turns_of_bar(bar: dict, offset: float, change: float, adjuster: dict) -> dict:
    """The turns nearest to a change of length, and the offset that they leave.

    Both also as the turns are counted, which is what people are told.
    """
    advance = per_turn(adjuster) or 0.0
    exact = change / advance
    turns = nearest_turns(exact, step_of(adjuster))
    moved = move_of_length(bar, turns * advance)
    if moved is None:
        # The nearest step would leave the bar too short to reach; the next longer one does reach.
        turns = turns + step_of(adjuster)
        moved = move_of_length(bar, turns * advance)
    counted = counted_turns(turns, step_of(adjuster))
    counted_move = move_of_length(bar, counted * advance)
    if counted_move is None:
        counted = turns
        counted_move = moved
    return {
        "exact_turns": exact,
        "turns": turns,
        "direction": direction_of(turns),
        "leftover": offset + (moved or 0.0),
        "counted_turns": counted,
        "counted_leftover": offset + (counted_move or 0.0),
    }


def bar_arc(bar: dict) -> dict:
    """Where the bar holds the axle and what it does in travel: `bar_arc`."""
    short = missing_of(bar) + out_of_reach(bar)
    if len(short) > 0:
        state = "incomplete" if len(missing_of(bar)) > 0 else "impossible"
        return {"state": state, "reasons": short}
    return arc_of(bar)


def arc_of(bar: dict) -> dict:
    """The arc of a bar that can lie as it is given."""
    rise = rise_of(bar)
    run = run_of(bar, rise) or LEAST_RUN
    found: dict = {
        "state": "known",
        "reasons": [],
        "run": run,
        "rise": rise,
        "angle_deg": math.degrees(math.atan2(rise, run)),
        "roll_center": roll_center(bar, run, rise),
    }
    found.update(travel_of(bar))
    return found


def roll_center(bar: dict, run: float, rise: float) -> float | None:
    """The height at which the bar's line crosses the frame's middle, in mm; None if not known."""
    out = bar.get("frame_end_from_center")
    if out is None:
        return None
    return bar["frame_height"] - out * rise / run


def travel_of(bar: dict) -> dict:
    """The sideways shift over the travel, as far as the bar reaches."""
    if bar.get("bump") is None or bar.get("droop") is None:
        return {"curve": [], "bump_shift": None, "droop_shift": None}
    curve: list = []
    for travel in travels(bar["droop"], bar["bump"]):
        shift = shift_at(bar, travel)
        if shift is not None:
            curve.append([travel, shift])
    found: dict = {
        "curve": curve,
        "bump_shift": shift_at(bar, bar["bump"]),
        "droop_shift": shift_at(bar, -bar["droop"]),
    }
    if found["bump_shift"] is None or found["droop_shift"] is None:
        found["reasons"] = [{"code": "bar_out_of_travel"}]
    return found


def travels(droop: float, bump: float) -> list:
    """Travel points from full droop to full bump in even steps each way, 0 among them, in mm."""
    points: list = []
    down = math.ceil(droop / CURVE_STEP)
    up = math.ceil(bump / CURVE_STEP)
    for index in range(down):
        points.append(-droop * (down - index) / down)
    points.append(0.0)
    for index in range(up):
        points.append(bump * (index + 1) / up)
    return points
