"""The adjuster of a link, track bar or drag link: what a turn does, and the thread that is left."""

from ..numbers import near_half_up
from ..typed.turns import FLATS, QUARTERS

# A link that gets longer by more than this, mm, asks how much thread it has for that: some
# adjusters have no more left.
SOME_THREAD = 10.0


def per_turn(adjuster: dict) -> float | None:
    """How much longer one turn makes the link, in mm; None for a fixed or unknown adjuster."""
    pitch = adjuster.get("pitch")
    if pitch is None or adjuster.get("kind") == "fixed":
        return None
    return 2 * pitch if adjuster.get("kind") == "both_ends" else pitch


def step_of(adjuster: dict) -> float:
    """The smallest part of a turn that the adjuster can be set to; 0.0 for any."""
    if adjuster.get("step") is not None:
        return adjuster["step"]
    return 0.0 if adjuster.get("kind") == "both_ends" else 0.5


def nearest_turns(exact: float, step: float) -> float:
    """The settable number of turns nearest to the exact one."""
    return exact if step == 0 else near_half_up(exact / step) * step


def counted_turns(turns: float, step: float) -> float:
    """The turns as shops count them: in steps, or where any will do in quarters or flats.

    Of the two the nearer, and a quarter where both are as near: it is told without the hex.
    """
    if step != 0:
        return turns
    quarters = near_half_up(turns * QUARTERS) / QUARTERS
    flats = near_half_up(turns * FLATS) / FLATS
    return flats if abs(turns - flats) < abs(turns - quarters) - 1e-9 else quarters


def thread_ends(adjuster: dict) -> list:
    """What may still come out of each threaded end that was measured, in mm; often nothing.

    Of two ends the first is the frame end.
    """
    left = adjuster.get("thread_left")
    if left is None or adjuster.get("kind") == "fixed":
        return []
    return list(left) if isinstance(left, list) else [left]


def thread_after(adjuster: dict, change: float) -> list:
    """The same once the link was made longer by so much, in mm; below zero where it runs out."""
    each = change / 2 if adjuster.get("kind") == "both_ends" else change
    return [end - each for end in thread_ends(adjuster)]


def past_thread(adjuster: dict, change: float) -> bool:
    """Whether making a link longer by so much (mm) takes more thread than is left at an end."""
    return change > 0 and len([end for end in thread_after(adjuster, change) if end < -1e-9]) > 0


def thread_for(adjuster: dict, change: float) -> dict:
    """{thread_left, thread_then, past_thread, ask_thread} of a change of length, mm at each end.

    `ask_thread` is whether somebody has to measure first how much thread is left.
    """
    return {
        "thread_left": thread_ends(adjuster),
        "thread_then": thread_after(adjuster, change),
        "past_thread": past_thread(adjuster, change),
        "ask_thread": change > SOME_THREAD and len(thread_ends(adjuster)) == 0,
    }
