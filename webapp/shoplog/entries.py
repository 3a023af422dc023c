"""One entry: whether it can be kept, its one canonical writing, and its content hash."""

import hashlib
import json
import math
import sqlite3
from contextlib import suppress
from typing import Any, NamedTuple

from webapp.shoplog.rules.kinds import (
    KINDS,
    LARGEST_WHOLE,
    MAX_BODY_BYTES,
    body_faults,
    entry_faults,
)
from webapp.shoplog.rules.own_kinds import OWN_KINDS

Entry = dict[str, Any]

# What the phone makes, and so what the content hash covers.
MADE = (
    "v",
    "id",
    "phone",
    "local_no",
    "kind",
    "vehicle",
    "job",
    "round",
    "body",
    "typed",
    "made_at",
    "build",
)
EVERY_KEY = frozenset(MADE)
HEAD = tuple(key for key in MADE if key != "body")
LEFT_OUT = dict.fromkeys(("vehicle", "job", "round", "typed"))
ADDED = ("seq", "person", "received_at")

DEEPEST = 8
RECORD_AGAIN = "It is still on this phone: record it again, then set this one aside."
NOT_JSON = "It holds something that cannot be kept as text and numbers."


WRITER = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"))


class Refused(Exception):
    """This entry cannot be kept; the message says why and what to do."""


class Checked(NamedTuple):
    """An entry that can be kept, its body's canonical writing, and its content hash."""

    made: Entry
    body: str
    content: bytes


ABOUT_A_VEHICLE = {"vehicle", "tag", "close_item"}
ABOUT_THE_SHOP = {"limit", *OWN_KINDS}
IN_A_ROUND = {"reading", "tick", "pick"}
IN_A_JOB = IN_A_ROUND | {"job", "hand_in", "decision", "change", "pass_over"}
# A value confirmed at the desk belongs to no job.
ANYWHERE = {"strike", "confirm"}


def plain(value: Any, depth: int = 0) -> Any:
    """The value as the log keeps it: only what JSON has, and 3.0 as 3, as every phone writes it."""
    if value is None or isinstance(value, (str, bool)):
        return value
    if isinstance(value, (int, float)):
        return plain_number(value)
    if depth > DEEPEST:
        raise Refused("It is nested too deeply to be kept.")
    if isinstance(value, list):
        return [plain(each, depth + 1) for each in value]
    if isinstance(value, dict) and all(isinstance(key, str) for key in value):
        return {key: plain(each, depth + 1) for key, each in value.items()}
    raise Refused(NOT_JSON)


def plain_number(value: int | float) -> int | float:
    """A finite number, whole ones as integers; Refused for what a phone could not give back."""
    if isinstance(value, int):
        if abs(value) >= LARGEST_WHOLE:
            raise Refused("It holds a whole number too large to be kept exactly.")
        return value
    if not math.isfinite(value):
        raise Refused("It holds a number that is not finite.")
    return int(value) if value.is_integer() and abs(value) < LARGEST_WHOLE else value


def canonical(value: Any) -> str:
    """The one JSON writing of a value: sorted keys, no blanks."""
    return WRITER.encode(value)


def content_hash(made: Entry, body: str) -> bytes:
    """SHA-256 over what the phone made: the values of HEAD as a list, then the body's writing."""
    head = canonical([made[key] for key in HEAD])
    return hashlib.sha256(f"{head}\n{body}".encode()).digest()


def checked(entry: Any, phone: str, own: bool = False) -> Checked:
    """The entry as it will be kept, or Refused with everything that is wrong with it.

    With `own` it may be one that the shop PC wrote itself.
    """
    try:
        return sealed(made_part(entry), phone, own)
    except UnicodeEncodeError as error:
        raise Refused(f"It holds a broken character. {RECORD_AGAIN}") from error
    except Refused as refusal:
        raise Refused(f"{refusal} {RECORD_AGAIN}") from refusal


def made_part(entry: Any) -> Entry:
    """What the phone made of this entry, without what the log adds."""
    if not isinstance(entry, dict):
        raise Refused("This is not an entry.")
    made = {**LEFT_OUT, **entry}
    for key in ADDED:
        made.pop(key, None)
    return made


def sealed(made: Entry, phone: str, own: bool = False) -> Checked:
    """The entry with its body in canonical writing and its hash, or Refused with the reasons."""
    refuse_for(head_faults(made, phone, own) or place_faults(made))
    made["body"] = plain(made["body"])
    refuse_for(body_faults(made["kind"], made["body"]))
    body = canonical(made["body"])
    if len(body.encode()) > MAX_BODY_BYTES:
        raise Refused(f"The {label(made)} is longer than 16 kB: say it shorter.")
    return Checked(made, body, content_hash(made, body))


def refuse_for(faults: list[str]) -> None:
    """Raise Refused when there are faults."""
    if faults:
        raise Refused(" ".join(faults))


def label(made: Entry) -> str:
    """The entry's kind as a sentence names it."""
    return str(made["kind"]).replace("_", " ")


def head_faults(made: Entry, phone: str, own: bool) -> list[str]:
    """What is wrong with the entry before its body is looked at."""
    if not made.keys() >= EVERY_KEY:
        missing = [key for key in MADE if key not in made]
        return [f"The entry has no {key.replace('_', ' ')}." for key in missing]
    if type(made["v"]) is not int or made["v"] != 1 or len(made) > len(MADE):
        return ["This phone's app is newer than the shop PC's: update Axlewright on the shop PC."]
    kind = made["kind"] if isinstance(made["kind"], str) else ""
    if kind in OWN_KINDS and not own:
        return [f"Only the shop PC itself writes an entry of the kind {kind}."]
    if kind not in KINDS and kind not in OWN_KINDS:
        return [f"The shop PC does not know entries of the kind {label(made)[:40]}: update it."]
    faults = entry_faults(made)
    if not faults and made["phone"] != phone:
        faults = ["Another phone made this entry: send it from there."]
    return faults


def place_faults(made: Entry) -> list[str]:
    """Whether the entry names the vehicle, job and round that its kind belongs to, and no more."""
    kind, vehicle, job, name = made["kind"], made["vehicle"], made["job"], label(made)
    faults = []
    if kind in ABOUT_THE_SHOP and (vehicle or job or made["round"]):
        faults.append(f"A {name} is about the whole shop: it names no vehicle, job or round.")
    if kind not in ABOUT_THE_SHOP | ANYWHERE and not vehicle:
        faults.append(f"The {name} does not say which vehicle it is about.")
    if kind in ABOUT_A_VEHICLE and (job or made["round"]):
        faults.append(f"A {name} entry is about the vehicle itself: it names no job or round.")
    if kind in IN_A_JOB and not job:
        faults.append(f"The {name} does not say which job it belongs to.")
    if (kind in IN_A_ROUND or (kind == "confirm" and job)) and not made["round"]:
        faults.append(f"The {name} does not say which round it belongs to.")
    if kind in ANYWHERE and job and not vehicle:
        faults.append(f"The {name} names a job but not its vehicle.")
    return faults


def from_row(row: sqlite3.Row) -> Entry:
    """A stored entry as a pull hands it out: what the phone made, and what the log added."""
    entry = {key: row[key] for key in (*MADE, *ADDED)}
    # A body that is no JSON any more, in a file that was tampered with, stays the text that it is.
    with suppress(ValueError):
        entry["body"] = json.loads(entry["body"])
    return entry
