"""Changes: what each needs to be told, and what turns of an adjuster do to a length."""

from ..checks.adjuster import per_turn

# What a change needs to be told: turns of an adjuster, a length, a distance, a part.
CHANGE_ASKS = {
    "bar_turned": ["turns"],
    "link_turned": ["turns"],
    "bar_replaced": ["longer"],
    "bracket_moved": ["moved", "part"],
    "pitman_changed": ["part"],
    "hole_repaired": ["part"],
    "part_replaced": ["part"],
    "link_replaced": ["longer"],
    "springs_changed": ["part"],
    "wheels_changed": ["part"],
    "toe_set": [],
    "arm_moved": ["part"],
    "part_removed": ["part"],
}
WAYS = ["up", "down", "left", "right", "forward", "rearward"]


def length_of_turns(turns: float, adjuster: dict | None) -> float | None:
    """By how much these turns (out positive) lengthen a bar, in mm; None without its thread."""
    advance = per_turn(adjuster or {})
    return None if advance is None else turns * advance
