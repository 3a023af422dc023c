"""Whether this log is the only one of its shop in use: a copy of its folder would part from it.

Phones say which line of the log they met last, and by its link in the chain a log that is not the
one they know gives itself away. A log also notes where it is used, so that a copy finds another
place noted in it.
"""

import json
import sqlite3
from datetime import datetime, timedelta
from typing import Any

from webapp.shoplog.connection import Store
from webapp.shoplog.people import utc_now, utc_text
from webapp.shoplog.rules.kinds import LARGEST_WHOLE

# How long a notice stays on the Health page after what it is about was last seen.
SHOWN_FOR = timedelta(days=7)
SHOWN_LINK = 16
# A restore goes above every epoch that a phone reported, and its own must stay one that phones can
# tell from the next. No clock and no number of restores comes near half of what they can.
MOST_EPOCH = 2**52
LAST = """
    SELECT seq, lower(hex(chain)) AS chain FROM entries WHERE seq = (SELECT max(seq) FROM entries)
"""
LINK_OF = "SELECT lower(hex(chain)) FROM entries WHERE seq = ?"
FACT = "SELECT value FROM facts WHERE name = ?"
KEEP = "INSERT INTO facts VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"
PLACE, MOVED, PARTED, EPOCH_MET = "place", "moved_from", "parted", "epoch_met"
PARTED_SAYS = (
    "A phone knows lines that this log does not have ({at}). Either a copy of the data folder is "
    "in use on another computer, or an older log was put here by hand, or the disk lost what it "
    "had stored. Phones send everything again by themselves. If a copy is in use, stop it, and "
    "bring its entries here with `axlewright export` and `axlewright import`."
)
MOVED_SAYS = (
    "Until {at} this log was in use in another folder or on another computer. Make sure that no "
    "service runs there any more: entries would go to two logs."
)

Head = tuple[int, str]


def head_of(log: Store) -> Head | None:
    """The last line of the log and the beginning of its link in the chain; None without lines."""
    with log.reading() as db:
        row = db.execute(LAST).fetchone()
    return (row["seq"], row["chain"][:SHOWN_LINK]) if row else None


def notice(log: Store, own_epoch: int, epoch: Any, head: Any) -> bool:
    """Whether a phone that reports this epoch and head knows another log of this shop; noted.

    What makes no sense is let be, as entries count more.
    """
    with log.reading() as db:
        parted = has_parted(db, own_epoch, epoch, head)
    if parted:
        with log.writing() as db:
            db.execute(KEEP, [PARTED, utc_now()])
            met = max(int(epoch), int(fact(db, EPOCH_MET) or 0))
            db.execute(KEEP, [EPOCH_MET, str(met)])
    return parted


def has_parted(db: sqlite3.Connection, own_epoch: int, epoch: Any, head: Any) -> bool:
    """Whether the line that a phone met last is not a line of this log."""
    if type(epoch) is not int or epoch < own_epoch:
        return False
    if epoch > own_epoch:
        return epoch < MOST_EPOCH
    if not isinstance(head, list) or list(map(type, head)) != [int, str]:
        return False
    seq, link = head
    if abs(seq) >= LARGEST_WHOLE:
        return False
    row = db.execute(LINK_OF, [seq]).fetchone()
    return row is None or row[0][:SHOWN_LINK] != link


def settle(log: Store, place: str) -> str | None:
    """Note that the log is used at this place; where it was before, if that was another one."""
    with log.writing() as db:
        before = fact(db, PLACE)
        if before == place:
            return None
        db.execute(KEEP, [PLACE, place])
        if before is None:
            return None
        db.execute(KEEP, [MOVED, json.dumps({"place": before, "at": utc_now()})])
    return before


def says(log: Store, now: datetime) -> str | None:
    """What to tell the lead of other logs of this shop; None where nothing was seen lately."""
    since = utc_text(now - SHOWN_FOR)
    with log.reading() as db:
        parted, moved = fact(db, PARTED), json.loads(fact(db, MOVED) or "{}").get("at")
    told = [(parted, PARTED_SAYS), (moved, MOVED_SAYS)]
    return " ".join(text.format(at=day(at)) for at, text in told if at and at > since) or None


def day(at: str) -> str:
    """A moment to the minute, in the shop PC's own time."""
    return datetime.fromisoformat(at).astimezone().strftime("%Y-%m-%d %H:%M")


def forget(db: sqlite3.Connection) -> None:
    """Let go what is noted in a copy, as its new place is meant."""
    db.execute("DELETE FROM facts WHERE name IN (?, ?, ?)", [PLACE, MOVED, PARTED])


def fact(db: sqlite3.Connection, name: str) -> str | None:
    """A fact of the log, or None."""
    row = db.execute(FACT, [name]).fetchone()
    return None if row is None else str(row[0])
