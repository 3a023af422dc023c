"""A round's play, clearance and torque as the tables of a job's page and its print."""

from typing import Any

from webapp.desk.jobs.job_view import JobView, Round
from webapp.reckon.checks.clearance import places_of
from webapp.reckon.joint_terms import (
    ENDS,
    LOCK_NAMES,
    LOCKS,
    LOOSE_NAMES,
    PLAY_NAMES,
    STATE_NAMES,
    THREADS,
    joint_title,
    pair_words,
    recheck_words,
    show_torque,
)
from webapp.reckon.log.fold import of_kind, standing
from webapp.reckon.sentences import joint_answers
from webapp.reckon.typed.dial import show_dial, show_fine
from webapp.reckon.typed.lengths import show_length
from webapp.shoplog.rows import Row

Cells = dict[tuple[str, ...], Row]

MARKS = {"touches": "touches", "witness mark": "witness mark"}


def walked(look: JobView, this: Round) -> Row:
    """The tables of the round: `play`, `clearance` and `torque`, each None where it has none."""
    found = this.findings
    read = [
        entry["body"]
        for entry in of_kind(standing(look.entries), "reading")
        if entry["round"] == this.name
    ]
    return {
        "play": play_table(this, read, look.unit) if found.get("play") else None,
        "clearance": clearance_tables(found["clearance"], read, look.unit)
        if found.get("clearance")
        else None,
        "torque": torque_table(this, read, look.unit) if found.get("torque") else None,
    }


def latest(read: list[Row], step: str, *keys: str) -> Cells:
    """The last reading of a step by these parts of its body."""
    return {tuple(key_of(body[key]) for key in keys): body for body in read if body["step"] == step}


def key_of(value: Any) -> str:
    """A part of a body as one text; a pair of parts is the same in either order."""
    return " and ".join(sorted(value)) if isinstance(value, list) else str(value)


def play_table(this: Round, read: list[Row], unit: str) -> Row:
    """The joints with their readings in words, and what they come to."""
    found = this.findings["play"]
    by_field = latest(read, "play", "joint", "field")
    sheet = {each["joint"]: each for each in this.sheet["play"]}
    return {
        "says": joint_answers.play_told(found, unit),
        "rows": [joint_row(each, by_field, sheet[each["joint"]], unit) for each in found["joints"]],
    }


def joint_row(found: Row, by_field: Cells, joint: Row, unit: str) -> Row:
    """One joint: its name, how it was rocked, what was read, its limits and how it stands."""
    read = {
        field: gauge_text(by_field[found["joint"], field])
        for field in PLAY_NAMES
        if (found["joint"], field) in by_field
    }
    loose = LOOSE_NAMES.get(joint.get("loose") or "")
    return {
        "name": joint_title(found["joint"]),
        "how": joint.get("rocked") or "",
        "along": read.pop("along", ""),
        "sizes": [f"{PLAY_NAMES[field].lower()} {text}" for field, text in read.items()],
        "limits": limit_words(joint, unit),
        "state": found["state"],
        "oval": show_fine(found["oval"], unit) if found["oval"] else "",
        "loose": f"loose: {loose.lower()}" if loose else "",
    }


def gauge_text(body: Row) -> str:
    """A reading of a gauge; one both ways with both of them."""
    text = show_dial(body["value"], body["unit"])
    pair = body.get("pair")
    if pair is None:
        return str(text)
    ways = " + ".join(show_dial(way, body["unit"]) for way in pair)
    return f"{text} ({ways})"


def limit_words(joint: Row, unit: str) -> list[str]:
    """The maker's limit with its source and the house's, each by itself."""
    words = []
    if joint.get("maker_limit") is not None:
        source = joint.get("maker_source", "source not given")
        words.append(f"maker {show_fine(joint['maker_limit'], unit)}, {source}")
    if joint.get("house_limit") is not None:
        words.append(f"house {show_fine(joint['house_limit'], unit)}")
    return words


def clearance_tables(found: Row, read: list[Row], unit: str) -> Row:
    """A grid of travel states and locks for each pair, and what they come to."""
    cells = latest(read, "clearance", "between", "state", "lock")
    return {
        "says": joint_answers.clearance_told(found, unit),
        "locks": list(LOCK_NAMES.values()),
        "pairs": [grid(each, cells) for each in found["pairs"]],
    }


def grid(pair: Row, cells: Cells) -> Row:
    """One pair: its name, a row of gaps for each travel state, and how many places were checked."""
    name = key_of(pair["between"])
    return {
        "name": joint_answers.capital(pair_words(pair["between"])),
        "state": pair["state"],
        "checked": checked_words(pair),
        "rows": [
            {
                "state": words,
                "gaps": [gap_words(cells.get((name, state, lock))) for lock in LOCKS],
            }
            for state, words in STATE_NAMES.items()
        ],
    }


def checked_words(pair: Row) -> str:
    """At how many of its places a pair was looked at."""
    places = places_of(pair["between"])
    return f"{places - len(pair['unchecked'])} of {places} checked"


def gap_words(body: Row | None) -> Row:
    """What was found at one place: a gap, a mark, or that nobody looked."""
    if body is None:
        return {"shows": "not checked", "kind": "open"}
    if body.get("mark"):
        return {"shows": MARKS[body["mark"]], "kind": "contact"}
    return {"shows": show_length(body["value"], body.get("unit") or "mm"), "kind": "gap"}


def torque_table(this: Round, read: list[Row], unit: str) -> Row:
    """The fasteners with everything that was said of them, and when they are checked again."""
    bodies = latest(read, "torque", "fastener")
    found = this.findings["torque"]
    due = this.sheet.get("recheck")
    return {
        "says": joint_answers.torque_told(found),
        "rows": [
            fastener_row(each, bodies.get((each["fastener"],), {}), unit)
            for each in found["fasteners"]
        ],
        "due": recheck_words(due) if due else "",
    }


def fastener_row(found: Row, body: Row, unit: str) -> Row:
    """One fastener in words."""
    rubber = "rubber bushing, weight on the springs" if body.get("on_springs") else ""
    how = [ENDS.get(body.get("end") or ""), THREADS.get(body.get("thread") or ""), rubber]
    return {
        "name": joint_answers.capital(found["fastener"]),
        "figure": body.get("figure") or "",
        "shows": show_torque(found["nm"], unit) if found["nm"] is not None else "",
        "also": body.get("also_figure") or "",
        "how": ", ".join(each for each in how if each),
        "source": body.get("source") or "",
        "tool": body.get("tool") or "",
        "moved": moved_words(found),
        "why": [joint_answers.capital(says) for says in found["why"]],
    }


def moved_words(found: Row) -> str:
    """Whether the fastener moved when it was checked again."""
    if found["due"]:
        return "not checked again yet"
    if found["moved_before"]:
        return "moved, and torqued again"
    return {True: "moved", False: "did not move"}.get(found["moved"], "")
