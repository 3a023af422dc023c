"""The access log: who came in and how, and who changed that, as entries in the chained log.

`record_at_door` is the one way in. Failed sign-ins are counted, and a whole window of them becomes
one entry, so that nobody can make the log grow from outside.
"""

import json
import sqlite3
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

from webapp.shoplog.connection import Store
from webapp.shoplog.entries import Entry, from_row
from webapp.shoplog.own_entries import OWN, person_entries, record_door
from webapp.shoplog.people import utc_now
from webapp.shoplog.readable import readable
from webapp.shoplog.rows import Row
from webapp.shoplog.rules.own_kinds import MOST_COUNTED, MOST_NAMED

WINDOW = timedelta(minutes=15)
FAILED = "failed_sign_ins"
UNKNOWN_NAME = "an unknown name"
# Above the number of every line, and one that SQLite can hold.
BEYOND = 2**62
FACT = "SELECT value FROM facts WHERE name = ?"
KEEP = "INSERT INTO facts VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"
FORGET = "DELETE FROM facts WHERE name = ?"
ABOUT = """(person = :person OR body ->> '$.about' = :person OR body ->> '$.person' = :person)"""


class DoorLog(Store):
    """What happened at the door, as it is recorded and read."""

    def record_at_door(
        self, event: str, about: str | None = None, by: str | None = None, **more: Any
    ) -> None:
        """Put something that happened at the door into the chained log.

        `event` is one of `own_kinds.EVENTS`, `about` whose way in it is, `by` who did it (None is
        the shop PC itself). `more` are fields of `own_kinds.Door`, such as `how` and `source`.
        """
        with self.writing() as db:
            record_door(db, event, about, by, **more)

    def count_failed_sign_in(self, name: str, source: str) -> None:
        """Count a sign-in that failed; the window that is over becomes an entry.

        A name that nobody here has is kept nowhere: it may be a passphrase in the wrong field.
        """
        now = utc_now()
        with self.writing() as db:
            close_window(db, now)
            counted = failed_so_far(db) or {"count": 0, "since": now, "names": [], "sources": []}
            counted["count"] = min(counted["count"] + 1, MOST_COUNTED)
            tried = called_so(db, name) or UNKNOWN_NAME
            for field, value in (("names", tried), ("sources", printable(source)[:64])):
                if value not in counted[field] and len(counted[field]) < MOST_NAMED:
                    counted[field].append(value)
            db.execute(KEEP, [FAILED, json.dumps(counted)])

    def failed_sign_ins(self) -> Row | None:
        """What failed in the window that is still open: {count, since, names, sources}, or None.

        A window that is over becomes its entry first.
        """
        with self.writing() as db:
            close_window(db, utc_now())
            return failed_so_far(db)

    def own_before(self) -> Callable[[Entry], Row | None]:
        """Asks for what a person was before an entry about them; None where it added them."""
        with self.reading() as db:
            return people_before(person_entries(db))

    def door_entries(
        self,
        person: str | None = None,
        since: str = "",
        until: str = "9",
        before: int | None = None,
        most: int = 100,
    ) -> list[Entry]:
        """The access log, the last first: what this person did or what was about them.

        `since` and `until` are days, as in 2026-11-25, of the shop PC's clock; `before` is the
        number of the line below which to go on.
        """
        asked = {"person": person, "since": since, "until": f"{until}T99", "most": most}
        query = f"""{OWN} AND (:person IS NULL OR {ABOUT}) AND seq < :before
            AND made_at >= :since AND made_at <= :until ORDER BY seq DESC LIMIT :most"""
        with self.reading() as db:
            found = db.execute(
                f"SELECT * FROM entries WHERE {query}",
                {**asked, "before": min(before or BEYOND, BEYOND)},
            )
            return [readable(entry) for entry in map(from_row, found)]


def people_before(entries: list[Entry]) -> Callable[[Entry], Row | None]:
    """Asks for what a person was before an entry about them; None where it added them."""
    told: dict[str, Row | None] = {}
    last: dict[str, Row] = {}
    for entry in entries:
        told[entry["id"]] = last.get(entry["body"]["person"])
        last[entry["body"]["person"]] = entry["body"]
    return lambda entry: told.get(entry["id"])


def close_window(db: sqlite3.Connection, now: str) -> None:
    """Make an entry of the failed sign-ins whose window is over."""
    counted = failed_so_far(db)
    if counted is None:
        return
    gone = datetime.fromisoformat(now) - datetime.fromisoformat(counted["since"])
    # A clock that was set back must not keep a window open.
    if timedelta() <= gone < WINDOW:
        return
    record_door(db, "sign_in_failed", **counted)
    db.execute(FORGET, [FAILED])


def failed_so_far(db: sqlite3.Connection) -> Row | None:
    """What is counted of the window that is open."""
    row = db.execute(FACT, [FAILED]).fetchone()
    return None if row is None else dict(json.loads(row[0]))


def called_so(db: sqlite3.Connection, name: str) -> str | None:
    """The name of somebody here as it is on file, however this one is capitalized, or None."""
    names = [row["name"] for row in db.execute("SELECT name FROM people ORDER BY name")]
    return next((each for each in names if each.casefold() == name.casefold()), None)


def printable(text: str) -> str:
    """A text of a stranger as it can be stored."""
    return text.encode("utf-8", "replace").decode("utf-8")
