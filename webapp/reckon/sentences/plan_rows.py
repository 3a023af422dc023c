"""A plan beside today: what moving a mount would change, row by row."""

from ..numbers import THIN, fixed, signed
from ..terms import MOVES, degrees, side_of
from ..typed.lengths import show_amount, show_inches, show_limit

# Key, title and how the values are shown, in the order of the screen.
PLAN_ROWS: list = [
    ["bar_length_change", "Bar length to stay centered", "change"],
    ["angle_deg", "Bar angle", "angle"],
    ["link_angle_deg", "Link angle", "angle"],
    ["mismatch_deg", "Bar angle minus link angle", "angle"],
    ["worst_deg", "Worst steer over the travel", "steer"],
    ["sideways", "Sideways over the travel", "length"],
    ["link_length_change", "Drag link to keep straight", "change"],
    ["roll_center", "Roll center", "height"],
    ["axle_lever_ratio", "Axle bracket's lever", "ratio"],
    ["frame_lever_ratio", "Frame bracket's lever", "ratio"],
]


def plan_rows(today: dict, then: dict, unit: str, advised: str) -> list:
    """Rows {name, today, then} of what both know; lever arms are ratios to today's, no strength.

    Where the advice (its state is `advised`) is held, no row names a length to change.
    """
    rows: list = []
    for key, title, kind in PLAN_ROWS:
        held = advised == "hold" and kind == "change"
        if then.get(key) is not None and not held:
            rows.append(
                {
                    "name": title,
                    "today": plan_value(today.get(key), kind, unit),
                    "then": plan_value(then[key], kind, unit),
                }
            )
    return rows


def plan_value(value: float | None, kind: str, unit: str) -> str:
    """One value of a plan as its kind is shown."""
    if value is None:
        return "not known"
    if kind == "change":
        return length_change_words(value, unit)
    if kind == "angle":
        return degrees(value, 1)
    if kind == "steer":
        side = side_of(value)
        return degrees(abs(value), 2) + ("" if side == "neither" else f" {side}")
    if kind == "ratio":
        return f"× {fixed(value, 2)}"
    if kind == "height":
        return height_words(value, unit)
    return show_amount(value, unit)


def height_words(value: float, unit: str) -> str:
    """A height above the floor, to the millimeter or the nearest 1/32 in."""
    metric = f"{fixed(value, 0)}{THIN}mm"
    return f"{show_inches(value)} ({metric})" if unit == "in" else metric


def length_change_words(value: float, unit: str) -> str:
    """A change of length: with its sign, in inches in words."""
    if fixed(value, 1) == "0.0":
        return "as it is"
    if unit == "in":
        return show_amount(abs(value), unit) + (" longer" if value > 0 else " shorter")
    return f"{signed(value, 1)}{THIN}mm"


def size_words(mm: float, unit: str) -> str:
    """A size as it is set on a slider, without its sign: in the unit in use alone."""
    return set_words(abs(mm), unit)


def set_words(mm: float, unit: str) -> str:
    """The same with a minus sign where it is below zero."""
    return show_inches(mm) if unit == "in" else show_limit(mm, unit)


def plan_words(plan: dict, unit: str) -> str:
    """Which mounts a plan moves, and how far."""
    moved: list = []
    for move in list(MOVES):
        by = plan.get(move) or 0.0
        if by != 0:
            moved.append(f"{MOVES[move]} {set_words(by, unit)}")
    return ", ".join(moved)
