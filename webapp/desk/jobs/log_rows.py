"""The log of a job, line by line, as the lead reads it."""

from collections.abc import Callable
from typing import Any

from webapp.desk.context import people, phones
from webapp.desk.formats import adjuster_words
from webapp.reckon.log import fold
from webapp.reckon.numbers import trimmed
from webapp.reckon.sentences import joint_entries
from webapp.reckon.sentences.change_words import CHANGE_NAMES, amounts_words
from webapp.reckon.sentences.plan_rows import plan_words
from webapp.reckon.terms import (
    FACES,
    METHODS,
    PHOTO_WORDS,
    ROUND_WORDS,
    STANDINGS,
    TICK_WORDS,
    wheel_position,
)
from webapp.reckon.typed.lengths import show_length
from webapp.reckon.walk.hold_points import FIT_UP_TICKS, TITLES
from webapp.reckon.walk.link_steps import STEP_NAMES as LINK_NAMES
from webapp.reckon.walk.steps import BAR_NAMES, STEPS
from webapp.shoplog.rows import Row

STEP_TITLES = {each["step"]: each["title"] for each in STEPS}
FIELD_WORDS = {
    "left_extra": "spacer left",
    "right_extra": "spacer right",
    "rail_point_height": "height of the rail's point",
    "face_point_height": "height of the face's point",
    "tilt_deg": "tilt of the floor",
    "high_side": "high side",
    "frame_end": "frame end",
    "carried": "values on file confirmed",
}
VALUE_WORDS = {**FACES, **METHODS, **STANDINGS}
ALL_TICKS = {**TICK_WORDS, **FIT_UP_TICKS}


def log_rows(entries: list[Row], unit: str) -> list[Row]:
    """Every entry with what it says, who made it on which phone, and what crossed it out.

    `unit` is the one in use on the vehicle.
    """
    stands = {entry["id"] for entry in fold.standing(entries)}
    names, called = people(), phones()
    crossers = crossers_of(entries, stands)
    numbers = {entry["id"]: entry["local_no"] for entry in entries}
    return [
        {
            **entry,
            "what": what_it_is(entry, numbers),
            "value": value_of(entry, unit),
            "who": names[entry["person"]],
            "where": called.get(entry["phone"], "an unknown phone"),
            "stands": entry["id"] in stands,
            "crossed": crossed_words(crossers.get(entry["id"]), names),
        }
        for entry in entries
    ]


def crossers_of(entries: list[Row], stands: set[str]) -> dict[str, Row]:
    """Which standing entry crossed out which other."""
    found = {}
    for entry in entries:
        target = fold.crossed_out_by(entry)
        if target is not None and entry["id"] in stands:
            found[target] = entry
    return found


def crossed_words(crosser: Row | None, names: dict[str, str]) -> str | None:
    """By whom an entry was struck and why, or what replaced it; None where nothing did."""
    if crosser is None:
        return None
    who = names[crosser["person"]]
    if crosser["kind"] == "strike":
        return f"Struck by {who}: {crosser['body']['reason']}"
    return f"Replaced by {who} with no. {crosser['local_no']}"


def what_it_is(entry: Row, numbers: dict[str, int]) -> str:
    """What the entry is about, in words."""
    body = entry["body"]
    words = WHAT[entry["kind"]](body)
    if entry["kind"] == "strike":
        return f"{words} no. {numbers.get(body['target'], 'unknown')}"
    named = ROUND_WORDS.get(entry["round"] or "")
    return f"{words}, {named}" if named and entry["kind"] in ("job", "change") else words


def step_and_field(body: Row) -> str:
    """Step and field of a reading or a pick."""
    if joint_entries.is_logged_here(body):
        return str(joint_entries.what(body))
    field = body["field"]
    known = LINK_NAMES if body["step"] == "drag_link" else BAR_NAMES
    words = known.get(field, FIELD_WORDS.get(field, field.replace("_", " ")))
    return f"{STEP_TITLES.get(body['step'], body['step'])}: {words[0].lower()}{words[1:]}"


WHAT: dict[str, Callable[[Row], str]] = {
    "job": lambda _: "Job opened",
    "reading": step_and_field,
    "pick": step_and_field,
    "tick": lambda body: str(ALL_TICKS[body["field"]]),
    "note": lambda _: "Note",
    "strike": lambda _: "Strike of",
    "hand_in": lambda _: "Handed in",
    "decision": lambda b: "Accepted" if b["verdict"] == "accepted" else "Sent back",
    "change": lambda body: "Change: " + change_words(body),
    "pass_over": lambda body: f"{TITLES[body['hold_point']]}: passed over",
    "confirm": lambda _: "Measured again, it is so",
    "photo": lambda body: f"Photo of {PHOTO_WORDS.get(body['of'], body['of'])}",
    "plan": lambda body: f"Plan: {body['name']}",
}


def change_words(body: Row) -> str:
    """What was changed."""
    what = str(body.get("what", "not said"))
    return CHANGE_NAMES.get(what, what.replace("_", " ")).lower()


def value_of(entry: Row, unit: str) -> str:
    """What the entry holds, in words; what was reckoned in the unit in use."""
    body = entry["body"]
    match entry["kind"]:
        case "reading" | "pick" if joint_entries.is_logged_here(body):
            return str(joint_entries.value(body))
        case "reading":
            sign = "−" if body["value"] < 0 else ""
            return sign + show_length(abs(body["value"]), body["unit"])
        case "tick":
            return "yes" if body["value"] else "no"
        case "pick":
            if body["field"] == "wheel_deg":
                return str(wheel_position(body["value"]))
            return pick_words(body["value"])
        case "change":
            return str(amounts_words(body, unit))
        case "plan":
            return str(plan_words(body, unit))
        case "hand_in":
            return " ".join([*body["missing"], body["reason"] or ""]).strip()
    words = [body.get(name) for name in ("text", "reason", "about", "says")]
    return next((str(each) for each in words if each), "")


def pick_words(value: Any) -> str:
    """A choice in words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return adjuster_words(value)
    if isinstance(value, int | float):
        return trimmed(value, 2)
    return str(VALUE_WORDS.get(value, value if value is not None else "none"))
