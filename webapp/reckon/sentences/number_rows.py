"""The numbers behind the answer, as rows of a name and what it shows."""

from ..numbers import THIN, fixed, signed, trimmed
from ..terms import degrees, move_words, plus_minus, side_of, toward, turns_words, way_of
from ..typed.dial import show_fine
from ..typed.lengths import show_amount
from .plan_rows import height_words, length_change_words

# Key, title and kind of each row of a part, in the order of the screen.
PARTS: dict = {
    "steer": [
        ["link_angle_deg", "Link angle", "angle"],
        ["mismatch_deg", "Bar angle minus link angle", "angle"],
        ["per_25_bump_deg", "Steer in 25 mm of bump", "side"],
        ["per_25_droop_deg", "Steer in 25 mm of droop", "side"],
        ["per_inch_bump_deg", "Steer in an inch of bump", "side"],
        ["per_inch_droop_deg", "Steer in an inch of droop", "side"],
        ["worst_deg", "Worst over the travel", "decided"],
    ],
    "wheel": [
        ["steer_deg", "Steer from the bar change", "decided"],
        ["then_deg", "Steering wheel then", "whole"],
        ["link_length_change", "Drag link length", "change"],
        ["left_deg", "Steering wheel once set", "whole"],
    ],
    "what_if": [
        ["parallel_raise", "Raise for parallel", "raise"],
        ["least_steer_raise", "Raise for least steer", "raise"],
        ["least_steer_deg", "Worst steer then", "size_deg"],
    ],
    "play": [
        ["axle_movement", "Axle movement in play", "size"],
        ["steer_deg", "Free steer from it", "size_deg"],
        ["rim_deg", "Free at the steering wheel", "size_deg"],
    ],
    "toe": [["total_deg", "Total toe, in positive", "angle_2"]],
    "square": [["yaw_deg", "Off square", "size_deg"]],
}
# The rows of a travel in the unit that is not in use.
OTHER_UNIT = {"in": "per_25", "mm": "per_inch"}


def numbers(findings: dict, unit: str) -> list:
    """The numbers behind the answer, as {name, shows} rows."""
    rows: list = []
    found = findings.get("centering")
    if found is not None and found.get("offset") is not None:
        rows.extend(centering_rows(found, unit))
    change = findings.get("bar_change")
    state = findings["advice"]["state"]
    if change is not None and state == "adjust" and change.get("length_change") is not None:
        rows.extend(change_rows(change, unit))
    arc = findings.get("bar_arc")
    if arc is not None and arc["state"] == "known":
        rows.extend(arc_rows(arc, unit))
    for name in list(PARTS):
        part = findings.get(name)
        if part is not None and is_shown(name, part, state):
            rows.extend(part_rows(name, part, unit))
    return rows


def is_shown(name: str, part: dict, state: str) -> bool:
    """Whether the advice lets the rows of a part be shown: some tell people to set something."""
    if name == "wheel" and state != "adjust":
        return False
    if name == "what_if" and state == "hold":
        return False
    return part.get("state", "known") == "known"


def part_rows(name: str, part: dict, unit: str) -> list:
    """The rows of one of the parts behind drag link, play, toe and wheelbase."""
    rows: list = []
    for key, title, kind in PARTS[name]:
        value = part.get(key)
        if value is not None and not key.startswith(OTHER_UNIT[unit]):
            rows.append(row(title, shown(value, kind, part.get("expanded"), unit)))
    return rows


def shown(value: float, kind: str, expanded: float | None, unit: str) -> str:
    """A value as its kind is shown; `decided` ones with their expanded uncertainty."""
    if kind == "change":
        return length_change_words(value, unit)
    if kind == "raise":
        return show_amount(value, unit) if unit == "in" else f"{signed(value, 1)}{THIN}mm"
    if kind == "size":
        return show_fine(value, unit, places=1)
    if kind == "angle":
        return degrees(value, 1)
    if kind == "angle_2":
        return degrees(value, 2)
    places = 0 if kind == "whole" else 2
    size = degrees(abs(value), places)
    room = "" if expanded is None or kind != "decided" else f" ± {degrees(expanded, 2)}"
    if kind == "size_deg" or size == degrees(0.0, places):
        return size + room
    return sided(size + room, value)


def row(name: str, shows: str) -> dict:
    """One line of the numbers."""
    return {"name": name, "shows": shows}


def sided(text: str, value: float) -> str:
    """A number with its side behind it, where it has one."""
    side = side_of(value)
    return text if side == "neither" else f"{text}, {side}"


def centering_rows(found: dict, unit: str) -> list:
    """Difference, offset and sum."""
    sum_words = {"agrees": "agrees", "differs": "differs", "unknown": "none known yet"}
    offset = plus_minus(abs(found["offset"]), found["expanded"], unit)
    return [
        row(
            "Sides differ by",
            sided(show_amount(abs(found["difference"]), unit), found["difference"]),
        ),
        row("Offset", sided(offset, found["offset"])),
        row(
            "Sum of the sides",
            f"{show_amount(found['sum'], unit)}, {sum_words[found['sum_state']]}",
        ),
    ]


def change_rows(change: dict, unit: str) -> list:
    """The change of the bar's length, turns and what is left."""
    rows = [row("Bar length change", length_words(change, unit))]
    counted = change["counted_turns"]
    if counted is not None and counted != 0:
        turns = turns_words(counted)
        exact = trimmed(abs(change["exact_turns"]), 2)
        rows.append(row("Turns", f"{turns} {way_of(counted)} (exactly {exact})"))
        rows.append(row("Offset then", toward(change["counted_leftover"], unit)))
    if len(change.get("thread_then") or []) > 0:
        rows.append(row("Thread left then", ends_words(change["thread_then"], unit)))
    return rows


def ends_words(ends: list, unit: str) -> str:
    """The thread left at each end, the frame end first."""
    return " and ".join([show_amount(max(end, 0.0), unit) for end in ends])


def length_words(change: dict, unit: str) -> str:
    """The change of the bar's length, with its expanded uncertainty where that is known."""
    by = change["length_change"]
    if change["expanded"] is None:
        return length_change_words(by, unit)
    if unit == "in":
        way = "longer" if by > 0 else "shorter"
        return f"{plus_minus(abs(by), change['expanded'], unit)} {way}"
    return f"{signed(by, 1)} ± {fixed(change['expanded'], 1)}{THIN}mm"


def arc_rows(arc: dict, unit: str) -> list:
    """The bar's angle, its arc and the roll center."""
    rows = [row("Bar angle", degrees(arc["angle_deg"], 1))]
    if arc["bump_shift"] is not None:
        rows.append(row("Shift at full bump", move_words(arc["bump_shift"], unit)))
    if arc["droop_shift"] is not None:
        rows.append(row("Shift at full droop", move_words(arc["droop_shift"], unit)))
    if arc["roll_center"] is not None:
        rows.append(row("Roll center above floor", height_words(arc["roll_center"], unit)))
    return rows
