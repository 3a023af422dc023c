"""What the shop PC writes into the chained log by itself: people, settings, and the door.

These entries bear the shop's own id as their phone, and are made in the transaction that changes
what they tell of: neither is ever without the other.
"""

import sqlite3
import uuid
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any

from webapp.shoplog import chain
from webapp.shoplog.entries import LEFT_OUT, Entry, checked, from_row
from webapp.shoplog.readable import UNREADABLE, readable
from webapp.shoplog.views import missing_numbers

BUILD = "shop PC"
# By which name it made what it wrote.
SHOP_PC = "the shop PC"
# The epoch that a restore began, until the log's first start after it.
RESTORED = "restored"
# Written as it is, so that SQLite knows the index of these lines by it.
OWN = "kind IN ('person', 'setting', 'door')"
LAST_NO = "SELECT coalesce(max(local_no), 0) FROM entries WHERE phone = ?"


def record(
    db: sqlite3.Connection,
    kind: str,
    body: Mapping[str, Any],
    by: str | None = None,
    about: Mapping[str, str | None] = LEFT_OUT,
) -> Entry:
    """Store an entry of the shop PC's own, within the caller's transaction.

    `by` is the person who did it; None is the shop PC itself, or somebody whom nobody knows.
    `about` names a vehicle and a job.
    """
    own = own_id(db)
    [last] = db.execute(LAST_NO, [own]).fetchone()
    here = {"v": 1, "id": str(uuid.uuid4()), "phone": own, "local_no": last + 1}
    now = datetime.now(UTC)
    made_at = now.astimezone().isoformat(timespec="milliseconds")
    said = {"kind": kind, "body": dict(body), "made_at": made_at, "build": BUILD}
    kept = checked({**LEFT_OUT, **about, **here, **said}, own, own=True)
    received_at = now.isoformat(timespec="milliseconds")
    stored, _ = chain.add(db, kept, chain.last_link(db), by or own, received_at)
    missing_numbers.keep_up(db, [stored])
    return stored


def record_door(
    db: sqlite3.Connection, event: str, about: str | None = None, by: str | None = None, **more: Any
) -> None:
    """Store what happened at the door, within the caller's transaction."""
    record(db, "door", {"event": event, "about": about, **more}, by)


def own_id(db: sqlite3.Connection) -> str:
    """The id of this shop, by which it signs what it writes itself."""
    return str(db.execute("SELECT value FROM facts WHERE name = 'server_id'").fetchone()[0])


def own_entries(db: sqlite3.Connection, *kinds: str) -> list[Entry]:
    """What this shop's PC wrote of these kinds, in log order.

    What an import brought of another shop's people and settings tells nothing of those here.
    """
    marks = ", ".join("?" * len(kinds))
    query = f"SELECT * FROM entries WHERE {OWN} AND kind IN ({marks}) AND phone = ? ORDER BY seq"
    return readable_ones(db.execute(query, [*kinds, own_id(db)]))


def person_entries(db: sqlite3.Connection) -> list[Entry]:
    """What the shop PC wrote of people alone, by an index of its own, in log order."""
    query = "SELECT * FROM entries WHERE kind = 'person' ORDER BY seq"
    return readable_ones(db.execute(query))


def readable_ones(rows: Iterable[sqlite3.Row]) -> list[Entry]:
    """The entries of these rows, without those that nothing here can read."""
    entries = [readable(from_row(row)) for row in rows]
    return [entry for entry in entries if entry["kind"] != UNREADABLE]


def is_begun(db: sqlite3.Connection) -> bool:
    """Whether the shop PC wrote any entry of its own; a log of an older version holds none."""
    return db.execute(f"SELECT 1 FROM entries WHERE {OWN} LIMIT 1").fetchone() is not None


def record_restore(db: sqlite3.Connection) -> None:
    """Record that this log is a backup that was put back, at its first start, in a transaction."""
    for [epoch] in db.execute("SELECT value FROM facts WHERE name = ?", [RESTORED]).fetchall():
        record_door(db, "restored", epoch=int(epoch))
        db.execute("DELETE FROM facts WHERE name = ?", [RESTORED])
