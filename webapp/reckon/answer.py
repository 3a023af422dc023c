"""The answer: what a colleague would say on seeing the findings, first of all in one sentence."""

from .lengths import show_amount, show_limit
from .numbers import THIN, fixed, signed, trimmed
from .words import (
    degrees,
    joined,
    other,
    plus_minus,
    side_of,
    toward,
    turns_words,
    way_of,
)

SMALL = 0.05


def answer(findings: dict, unit: str) -> list:
    """The answer sentence in runs (see words); empty where nothing was measured."""
    found = findings.get("centring")
    if found is None:
        return []
    if found["state"] == "incomplete" or found["state"] == "no_verdict":
        return held_back(found)
    if found["sum_state"] == "differs":
        return joined(where(found, unit), ["Do not turn anything yet. " + found["sum_hint"]])
    limit = show_limit(found["limit"], unit)
    if found["state"] == "inside":
        inside = [", inside the limit of " + limit + ". Leave the track bar as it is."]
        return where_only(found, unit) + inside
    change = what_to_do(findings.get("bar_change"), found, unit)
    if found["state"] == "too_close":
        close = [", too close to the limit of " + limit + " to call. " + found["settle"]]
        return joined(where_only(found, unit) + close, change)
    return joined(where(found, unit), change)


def held_back(found: dict) -> list:
    """Why there is no verdict, its first reason."""
    why = " ".join(found["why"][:1])
    if found["state"] == "incomplete":
        return [why]
    return ["", "No verdict.", " " + why]


def where_only(found: dict, unit: str) -> list:
    """Where the axle sits, without the full stop."""
    return ["The axle sits ", toward(found["offset"], unit)]


def where(found: dict, unit: str) -> list:
    """Where the axle sits."""
    return where_only(found, unit) + ["."]


def what_to_do(change: dict | None, found: dict, unit: str) -> list:
    """What to turn and by how much, and where the axle will then sit."""
    if change is None:
        return ["Enter the track bar to know what to change."]
    if change["state"] == "fixed":
        return fixed_bar(change, found, unit)
    if change["state"] != "known":
        return [" ".join(change["why"])]
    length = show_amount(abs(change["length_change"]), unit)
    way = "longer" if change["length_change"] > 0 else "shorter"
    if change["turns"] is None:
        return ["Make the track bar ", length + " " + way, ". " + " ".join(change["why"])]
    if change["turns"] == 0:
        return ["The adjuster's smallest step would move it further than that: leave the bar."]
    turns = turns_words(change["turns"]) + " " + way_of(change["turns"])
    left = toward(change["leftover"], unit)
    return [
        "Make the track bar ",
        length + " " + way + ": " + turns,
        ". The axle will then sit " + left + ".",
    ]


def fixed_bar(change: dict, found: dict, unit: str) -> list:
    """What a bar without an adjuster needs."""
    length = show_amount(abs(change["length_change"]), unit)
    way = "longer" if change["length_change"] > 0 else "shorter"
    move = show_amount(abs(change["move"]), unit)
    return [
        "This bar cannot be adjusted. It would have to be ", length + " " + way,
        ", or its frame-end hole ", move + " further " + other(side_of(found["offset"])),
        ". Ask the lead before any metal is cut.",
    ]  # fmt: skip


def numbers(findings: dict, unit: str) -> list:
    """The numbers behind the answer, as {name, shows} rows."""
    rows: list = []
    found = findings.get("centring")
    if found is not None and found.get("offset") is not None:
        rows.extend(centring_rows(found, unit))
    change = findings.get("bar_change")
    if change is not None and change.get("length_change") is not None:
        rows.extend(change_rows(change, unit))
    arc = findings.get("bar_arc")
    if arc is not None and arc["state"] == "known":
        rows.extend(arc_rows(arc))
    return rows


def row(name: str, shows: str) -> dict:
    """One line of the numbers."""
    return {"name": name, "shows": shows}


def sided(text: str, value: float) -> str:
    """A number with its side behind it, where it has one."""
    side = side_of(value)
    return text if side == "neither" else text + ", " + side


def centring_rows(found: dict, unit: str) -> list:
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
            fixed(found["sum"], 1) + THIN + "mm, " + sum_words[found["sum_state"]],
        ),
    ]


def change_rows(change: dict, unit: str) -> list:
    """Bar length, turns and what is left."""
    rows = [row("Bar length", signed(change["length_change"], 1) + THIN + "mm")]
    if change["exact_turns"] is not None:
        turns = turns_words(change["turns"])
        exact = trimmed(abs(change["exact_turns"]), 2)
        rows.append(
            row("Turns", turns + " " + way_of(change["turns"]) + " (exactly " + exact + ")")
        )
        rows.append(row("Offset then", toward(change["leftover"], unit)))
    return rows


def arc_rows(arc: dict) -> list:
    """The bar's angle, its arc and the roll centre."""
    rows = [row("Bar angle", degrees(arc["angle_deg"], 1))]
    if arc["bump_shift"] is not None:
        rows.append(row("Shift at full bump", toward(arc["bump_shift"], "mm")))
    if arc["droop_shift"] is not None:
        rows.append(row("Shift at full droop", toward(arc["droop_shift"], "mm")))
    if arc["roll_centre"] is not None:
        rows.append(row("Roll centre above floor", fixed(arc["roll_centre"], 0) + THIN + "mm"))
    return rows


def before_after(before: dict, after: dict, unit: str) -> list:
    """What changed between two rounds, in runs; empty where one of them has no offset."""
    first = before.get("centring")
    then = after.get("centring")
    if first is None or then is None:
        return []
    if first.get("offset") is None or then.get("offset") is None:
        return []
    moved = then["offset"] - first["offset"]
    if abs(moved) < SMALL:
        return ["The axle did not move between the rounds."]
    start = toward(first["offset"], unit)
    return [
        "The axle moved ",
        toward(moved, unit),
        ": from " + start + " to ",
        toward(then["offset"], unit),
        ".",
    ]
