"""Entries that strike or replace one that the log does not have, or lost: what becomes of them.

They are taken, as entries may arrive in any order. Whether their maker may touch the other entry
is asked as soon as that one is here, and where not, the shop PC strikes them with the reason. So
who may strike what does not depend on what a restore lost.
"""

import json
import sqlite3
from collections.abc import Iterable, Mapping
from typing import Any

from webapp.reckon.log.fold import crossed_out_by
from webapp.shoplog.entries import Entry, Refused, from_row
from webapp.shoplog.own_entries import own_id, record
from webapp.shoplog.permissions import is_lead, must_be_allowed, what_it_settles

NOTE = """
INSERT INTO ahead VALUES (:id, :waits_for, :by_lead)
ON CONFLICT (id) DO UPDATE SET waits_for = :waits_for
"""
OF_IDS = "SELECT id, by_lead FROM ahead WHERE id IN (SELECT value FROM json_each(?))"
WAITING = """
SELECT entries.*, by_lead FROM ahead JOIN entries USING (id)
WHERE waits_for IN (SELECT value FROM json_each(?)) ORDER BY seq
"""
UNDONE = """
SELECT 1 FROM entries WHERE phone = ? AND kind = 'strike' AND body ->> '$.target' = ? LIMIT 1
"""


def note_if_ahead(db: sqlite3.Connection, entry: Entry) -> None:
    """Keep of an entry just stored that what it crosses out, at whatever remove, is not here."""
    lacks = what_it_lacks(db, entry)
    if lacks is not None:
        note(db, entry, is_lead(db, entry["person"]), lacks)


def note(db: sqlite3.Connection, entry: Entry, by_lead: bool, waits_for: str) -> None:
    """Keep that it is still open whether this entry counts, until the other one is here.

    `by_lead` is whether its maker was a lead as it came in.
    """
    db.execute(NOTE, {"id": entry["id"], "waits_for": waits_for, "by_lead": by_lead})


def what_it_lacks(db: sqlite3.Connection, entry: Entry) -> str | None:
    """The id of the entry that this one, or a strike that it strikes, crosses out and none has."""
    if crossed_out_by(entry) is None:
        return None
    settled = what_it_settles(db, entry)
    last = crossed_out_by(settled[-1])
    return None if last in {each["id"] for each in settled} else last


def settle(db: sqlite3.Connection, stored: Iterable[Entry]) -> list[Entry]:
    """The shop PC's strikes, just stored, of what may not touch these entries but does."""
    ids = json.dumps([entry["id"] for entry in stored])
    found = [undone(db, row) for row in db.execute(WAITING, [ids]).fetchall()]
    return [entry for entry in found if entry is not None]


def undone(db: sqlite3.Connection, row: sqlite3.Row) -> Entry | None:
    """The shop PC's strike of an entry whose target came, or None where it counts or waits on."""
    entry = from_row(row)
    try:
        lacks = what_it_lacks(db, entry)
        if lacks is not None:
            note(db, entry, bool(row["by_lead"]), lacks)
            return None
        must_be_allowed(db, entry, entry["person"], as_lead=bool(row["by_lead"]))
    except Refused as refusal:
        if db.execute(UNDONE, [own_id(db), entry["id"]]).fetchone() is not None:
            return None
        about = {"vehicle": entry["vehicle"], "job": entry["job"]}
        body = {"target": entry["id"], "reason": str(refusal)}
        return record(db, "strike", body, about=about)
    db.execute("DELETE FROM ahead WHERE id = ?", [entry["id"]])
    return None


def known_ahead(db: sqlite3.Connection, entries: Iterable[Mapping[str, Any]]) -> dict[str, bool]:
    """Of those of these entries that are kept as ahead, by id, whether a lead made them."""
    ids = json.dumps([entry["id"] for entry in entries])
    return {row["id"]: bool(row["by_lead"]) for row in db.execute(OF_IDS, [ids])}
