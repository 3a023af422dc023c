"""Tags and merged vehicles as the pages read them, made from the entries that say so alone."""

import sqlite3

from webapp.reckon.log import tags
from webapp.shoplog.entries import Entry, from_row
from webapp.shoplog.readable import readable

# What decides where tags lead; an index of the log holds just these lines.
TAG_LINES = """
SELECT * FROM entries WHERE kind = 'tag' OR (kind = 'strike' AND job IS NULL)
OR (kind = 'vehicle' AND json_extract(body, '$.merged_into') IS NOT NULL) ORDER BY seq
"""


def bears_on_tags(entry: Entry) -> bool:
    """Whether an entry can change where a tag leads, or which vehicles are one."""
    struck = entry["kind"] == "strike" and entry["job"] is None
    return entry["kind"] == "tag" or struck or "merged_into" in entry["body"]


def follow_tags(db: sqlite3.Connection) -> set[str]:
    """Bring tags and merged vehicles up to date; the vehicles that were parted or became one."""
    before = merged_vehicles(db)
    found = tags.follow([readable(from_row(row)) for row in db.execute(TAG_LINES)])
    db.execute("DELETE FROM tags")
    db.execute("DELETE FROM merged")
    db.executemany("INSERT INTO tags VALUES (?, ?)", found["leads"].items())
    db.executemany("INSERT INTO merged VALUES (?, ?)", found["merged"].items())
    changed = before.items() ^ found["merged"].items()
    return {vehicle for pair in changed for vehicle in pair}


def merged_vehicles(db: sqlite3.Connection) -> dict[str, str]:
    """Each vehicle that is part of another, with that other."""
    return dict(map(tuple, db.execute("SELECT vehicle, chief FROM merged ORDER BY rowid")))


def chief_of(db: sqlite3.Connection, vehicle: str) -> str:
    """The vehicle that this one is part of; itself when it is part of none."""
    row = db.execute("SELECT chief FROM merged WHERE vehicle = ?", [vehicle]).fetchone()
    return str(row["chief"]) if row else vehicle


def family_of(db: sqlite3.Connection, vehicle: str) -> list[str]:
    """The ids under which the log holds entries of a vehicle, its own last."""
    chief = chief_of(db, vehicle)
    parts = db.execute("SELECT vehicle FROM merged WHERE chief = ? ORDER BY rowid", [chief])
    return [*(row["vehicle"] for row in parts), chief]
