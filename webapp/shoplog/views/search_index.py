"""What can be searched for: vehicles with their tags, what jobs are about, and notes.

`words` and its full-text index follow the entries in the transaction that stores them, and are
made afresh from the entries like every other projection.
"""

import re
import sqlite3
from collections.abc import Iterable

from webapp.reckon.log import fold
from webapp.shoplog.entries import Entry
from webapp.shoplog.rows import Row

KEEP = """
INSERT INTO words (key, kind, vehicle, job, text, folded)
VALUES (:key, :kind, :vehicle, :job, :text, :folded)
ON CONFLICT (key) DO UPDATE SET vehicle = excluded.vehicle, job = excluded.job,
    text = excluded.text, folded = excluded.folded
"""

# The index holds the kind as well, so that a search for vehicles alone stays within it.
FIND = """
SELECT words.kind, words.vehicle, words.job, words.text
FROM words_index JOIN words ON words.rowid = words_index.rowid
WHERE words_index MATCH ? ORDER BY words_index.rowid DESC LIMIT ?
"""

TOKEN = re.compile(r"\w+")


def match_of(search: str, kind: str | None = None) -> str | None:
    """The full-text query for words that begin as those of a search do; None without any."""
    tokens = TOKEN.findall(search.casefold())
    if not tokens:
        return None
    words = " ".join(f'"{token}"*' for token in tokens)
    return f"folded : ({words})" + (f" AND kind : {kind}" if kind else "")


def found(db: sqlite3.Connection, search: str, most: int) -> list[Row]:
    """Up to so many {kind, vehicle, job, text} that hold every word of a search, newest first."""
    match = match_of(search)
    return [] if match is None else [dict(row) for row in db.execute(FIND, [match, most])]


def keep(
    db: sqlite3.Connection, kind: str, key: str, vehicle: str | None, job: str | None, text: str
) -> None:
    """Keep one text under its key, in place of the one before; an empty one not at all."""
    if not text.strip():
        db.execute("DELETE FROM words WHERE key = ?", [key])
        return
    place = {"key": key, "kind": kind, "vehicle": vehicle, "job": job}
    db.execute(KEEP, {**place, "text": text, "folded": text.casefold()})


def keep_vehicle(db: sqlite3.Connection, record: Row) -> None:
    """Keep what a vehicle is called, its note and its tag codes."""
    words = [record.get("name", ""), record.get("note", ""), *record["tags"]]
    keep(db, "vehicle", record["id"], record["id"], None, "\n".join(filter(None, words)))


def keep_notes(
    db: sqlite3.Connection, entries: Iterable[Entry], vehicle: str | None, job: str | None
) -> None:
    """Keep the notes among these entries that stand, and forget those that were crossed out."""
    held = list(entries)
    stands = {entry["id"] for entry in fold.standing(held)}
    for entry in fold.of_kind(held, "note"):
        text = entry["body"]["text"] if entry["id"] in stands else ""
        keep(db, "note", entry["id"], vehicle, job, text)
