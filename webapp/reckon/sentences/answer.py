"""The answer: what a colleague would say on seeing the findings, first of all in one sentence."""

from ..terms import (
    degrees,
    joined,
    other,
    position,
    side_of,
    toward,
    turns_words,
    way_of,
    wheel_position,
)
from ..typed.lengths import show_amount, show_limit
from .advice_words import headline

THREAD_FIRST = " Measure first how much thread is left."
CENTER_IT_LAST = "center it last, once the axle is centered and toe is right."
SMALL = 0.05
RIM_SEEN = 0.5


def answer(findings: dict, unit: str) -> list:
    """The answer sentence in runs (see terms); empty where nothing was measured."""
    found = findings.get("centering")
    if findings["advice"]["state"] == "hold":
        return headline(findings["advice"])
    if found is None:
        return []
    if found["state"] == "incomplete" or found["state"] == "no_verdict":
        return held_back(found)
    limit = show_limit(found["limit"], unit)
    if found["state"] == "inside":
        inside = [f", inside the limit of {limit}. Leave the track bar as it is."]
        return joined(where_only(found, unit) + inside, wheel_words(findings, unit))
    change = what_to_do(findings.get("bar_change"), found, unit)
    change = joined(change, wheel_words(findings, unit))
    if found["state"] == "too_close":
        # What settles it may be to center it, which an adjuster with coarse steps cannot do.
        too_coarse = (findings.get("bar_change") or {}).get("counted_turns") == 0
        settle = "" if too_coarse else f" {found['settle']}"
        close = [f", too close to the limit of {limit} to call.{settle}"]
        return joined(where_only(found, unit) + close, change)
    return joined(where(found, unit), change)


def held_back(found: dict) -> list:
    """Why there is no verdict, its first reason."""
    why = " ".join(found["why"][:1])
    if found["state"] == "incomplete":
        return [why]
    return ["", "No verdict.", f" {why}"]


def where_only(found: dict, unit: str) -> list:
    """Where the axle sits, without the period."""
    rough = [" going by the tires, which is rough"] if found["rough"] else []
    return ["The axle sits ", toward(found["offset"], unit)] + rough


def where(found: dict, unit: str) -> list:
    """Where the axle sits."""
    return where_only(found, unit) + ["."]


def what_to_do(change: dict | None, found: dict, unit: str) -> list:
    """What to turn and by how much, and where the axle will then sit."""
    if change is None:
        return ["Enter the track bar to find out what to change."]
    if change["state"] == "fixed":
        return fixed_bar(change, found, unit)
    if change["state"] != "known":
        return [" ".join(change["why"])]
    length = longer_words(change["length_change"], unit)
    if change["turns"] is None:
        return ["Make the track bar ", length, f". {' '.join(change['why'])}"]
    if change["counted_turns"] == 0:
        return [
            "The adjuster's smallest step would move it further than that: leave the bar as it is,"
            " and ask the lead."
        ]
    counted = change["counted_turns"]
    turns = f"{turns_words(counted)} {way_of(counted)}"
    left = toward(change["counted_leftover"], unit)
    check = THREAD_FIRST if change["ask_thread"] else ""
    return [
        "Make the track bar ",
        f"{length}: {turns}",
        f".{check} The axle will then sit {left}.",
    ]


def wheel_words(findings: dict, unit: str) -> list:
    """What the steering wheel needs once the axle sits right: the axle, then toe, then the wheel.

    Nothing where it is centered, or will be by the bar change alone.
    """
    steered = findings.get("steering") or {}
    if turned_by_bar(findings) is not None or steered.get("state") != "off":
        return wheel_then(findings, unit)
    centers = CENTER_IT_LAST
    if findings["advice"]["state"] == "leave":
        centers = link_then(steered, unit)
    return ["The steering wheel sits ", wheel_position(steered["wheel_deg"]), f": {centers}"]


def turned_by_bar(findings: dict) -> float | None:
    """Where the steering wheel will sit after the advised bar change, left positive; or None."""
    change = findings.get("bar_change") or {}
    wheel = findings.get("wheel") or {}
    if (findings.get("advice") or {}).get("state") != "adjust" or change.get("state") != "known":
        return None
    then: float | None = wheel.get("then_deg")
    return then


def wheel_then(findings: dict, unit: str) -> list:
    """Where the steering wheel will sit after the bar change, and what centers it, or nothing."""
    then = turned_by_bar(findings)
    if then is None or abs(then) < RIM_SEEN:
        return []
    return [
        "The steering wheel will then sit ",
        f"{degrees(abs(then), 0)} to the {side_of(then)}",
        f": {link_then(findings['wheel'], unit)}",
    ]


def link_then(found: dict, unit: str) -> str:
    """What centers the steering wheel, from what is found of it or of it after the bar change."""
    if found["link_length_change"] is None:
        return "once toe is right, center it at the drag link, before the road."
    if found["fixed"]:
        return f"its drag link cannot be adjusted and {would_have_to_be(found, unit)}"
    counted = found["counted_turns"]
    if counted == 0:
        return "the drag link's adjuster cannot bring it nearer."
    turns = "" if counted is None else f", {turns_words(counted)} {way_of(counted)}"
    length = longer_words(found["link_length_change"], unit)
    check = THREAD_FIRST if found.get("ask_thread") is True else ""
    return f"once toe is right, make the drag link {length}{turns}, before the road.{check}"


def would_have_to_be(found: dict, unit: str) -> str:
    """How long a drag link without an adjuster would have to be."""
    return f"would have to be {longer_words(found['link_length_change'], unit)}. Ask the lead."


def longer_words(change: float, unit: str) -> str:
    """A change of length in words: `5.3 mm longer`."""
    return f"{show_amount(abs(change), unit)} {'longer' if change > 0 else 'shorter'}"


def fixed_bar(change: dict, found: dict, unit: str) -> list:
    """What a bar without an adjuster needs."""
    length = longer_words(change["length_change"], unit)
    move = show_amount(abs(change["move"]), unit)
    return [
        "This bar cannot be adjusted. It would have to be ",
        length,
        ", or its frame-end hole ",
        f"{move} further {other(side_of(found['offset']))}",
        ". Ask the lead before any metal is cut.",
    ]


def before_after(before: dict, after: dict, unit: str) -> list:
    """What changed between two rounds, in runs; empty where one of them has no offset."""
    first = before.get("centering")
    then = after.get("centering")
    if first is None or then is None:
        return []
    if first.get("offset") is None or then.get("offset") is None:
        return []
    moved = then["offset"] - first["offset"]
    if abs(moved) < SMALL:
        return ["The axle did not move between the rounds."]
    start = position(first["offset"], unit)
    return [
        "The axle moved ",
        toward(moved, unit),
        f": from {start} to ",
        position(then["offset"], unit),
        ".",
    ]
