"""Vehicles, tags and jobs as the pages read them, made from the entries and nothing else.

They are brought up to date in the transaction that stores the entries, so a page never shows a job
that the log does not hold, and never has to read the entries to list jobs or vehicles.
"""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from typing import Any

from webapp.reckon.log import due, fold
from webapp.shoplog.entries import Entry, from_row
from webapp.shoplog.readable import readable
from webapp.shoplog.views import missing_numbers, search_index
from webapp.shoplog.views.merged_vehicles import bears_on_tags, chief_of, family_of, follow_tags

# How many of a vehicle's jobs a phone that starts afresh is given, whatever their state.
RECENT_JOBS = 6
# Nothing else changes what a job is about, its state, its notes, or who did what.
MOVES_A_JOB = ("job", "hand_in", "decision", "strike", "note")
# What the projections hold; a log that was kept by another way of making them is made afresh.
MADE_AS = "6"

JOBS_OF = "SELECT id FROM jobs WHERE vehicle = ?"

SAVE_JOB = """
INSERT INTO jobs VALUES (:id, :vehicle, :axle, :about, :state, :opened_seq, :opened_by, :opened_at,
    :handed_in_seq, :handed_in_by, :handed_in_at, :decided_seq, :decided_by, :decided_at,
    :last_seq, 0, :second_of, :accepted_seq)
ON CONFLICT (id) DO UPDATE SET vehicle = excluded.vehicle, axle = excluded.axle,
    about = excluded.about, state = excluded.state, opened_seq = excluded.opened_seq,
    opened_by = excluded.opened_by, opened_at = excluded.opened_at,
    handed_in_seq = excluded.handed_in_seq, handed_in_by = excluded.handed_in_by,
    handed_in_at = excluded.handed_in_at, decided_seq = excluded.decided_seq,
    decided_by = excluded.decided_by, decided_at = excluded.decided_at,
    last_seq = excluded.last_seq, second_of = excluded.second_of,
    accepted_seq = excluded.accepted_seq
"""

MARK_RECENT = """
UPDATE jobs SET recent = id IN (
    SELECT id FROM jobs WHERE vehicle = :vehicle ORDER BY opened_seq DESC, id LIMIT :most
) WHERE vehicle = :vehicle
"""

SAVE_VEHICLE = """
INSERT INTO vehicles VALUES (:id, :name, :units, :driving_side, :retired, :record)
ON CONFLICT (id) DO UPDATE SET name = excluded.name, units = excluded.units,
    driving_side = excluded.driving_side, retired = excluded.retired, record = excluded.record
"""

SAVE_DUE = """
INSERT INTO due VALUES (:vehicle, :axle, :what, :date, :distance, :unit, :since, :job)
"""


def keep_up(db: sqlite3.Connection, stored: Sequence[Entry]) -> None:
    """Bring the projections up to date with entries that were just stored."""
    missing_numbers.keep_up(db, stored)
    if any(map(bears_on_tags, stored)):
        make_one(db, follow_tags(db))
    vehicles: dict[str, bool] = {}
    jobs: dict[str, bool] = {}
    last: dict[str, int] = {}
    for entry in stored:
        vehicle, job = entry["vehicle"], entry["job"]
        if vehicle:
            vehicles[vehicle] = vehicles.get(vehicle, False) or job is None
        if job:
            jobs[job] = jobs.get(job, False) or entry["kind"] in MOVES_A_JOB
            last[job] = entry["seq"]
    for vehicle, on_file in vehicles.items():
        if on_file or not has(db, "vehicles", chief_of(db, vehicle)):
            save_vehicle(db, vehicle)
    for job, moved in jobs.items():
        if moved or not is_under_way(db, job):
            save_job(db, job)
        else:
            db.execute("UPDATE jobs SET last_seq = ? WHERE id = ?", [last[job], job])


def make_one(db: sqlite3.Connection, vehicles: Iterable[str]) -> None:
    """Keep vehicles that were parted or became one, and their jobs, under the right ids."""
    held = [row for each in vehicles for row in db.execute(JOBS_OF, [each]).fetchall()]
    for vehicle in vehicles:
        save_vehicle(db, vehicle)
    for job in held:
        save_job(db, job["id"])


def rebuild(db: sqlite3.Connection) -> None:
    """Make every projection afresh from the entries, within the caller's transaction."""
    # With an index that is as it should be, taking words out of it cannot fail.
    db.execute("INSERT INTO words_index (words_index) VALUES ('rebuild')")
    for table in ("vehicles", "jobs", "words", "due"):
        db.execute(f"DELETE FROM {table}")
    missing_numbers.rebuild(db)
    follow_tags(db)
    for vehicle in ids(db, "vehicle"):
        save_vehicle(db, vehicle)
    for job in ids(db, "job"):
        save_job(db, job)


def bring_up_to_date(db: sqlite3.Connection) -> None:
    """Make every projection afresh where another version made them, within a transaction."""
    if not is_up_to_date(db):
        rebuild(db)
        db.execute("INSERT OR REPLACE INTO facts VALUES ('projections', ?)", [MADE_AS])


def is_up_to_date(db: sqlite3.Connection) -> bool:
    """Whether the projections were made as this version makes them."""
    made_as = db.execute("SELECT value FROM facts WHERE name = 'projections'").fetchone()
    return made_as is not None and made_as["value"] == MADE_AS


def is_under_way(db: sqlite3.Connection, job: str) -> bool:
    """Whether a job is kept and was never accepted, so that a reading does not change its row."""
    query = "SELECT 1 FROM jobs WHERE id = ? AND accepted_seq IS NULL"
    return db.execute(query, [job]).fetchone() is not None


def has(db: sqlite3.Connection, table: str, key: str) -> bool:
    """Whether a projection has a row for this id."""
    return db.execute(f"SELECT 1 FROM {table} WHERE id = ?", [key]).fetchone() is not None


def ids(db: sqlite3.Connection, column: str) -> list[str]:
    """Every vehicle or job that any entry names."""
    query = f"SELECT DISTINCT {column} FROM entries WHERE {column} IS NOT NULL"
    return [row[0] for row in db.execute(query).fetchall()]


def entries_of_job(db: sqlite3.Connection, job: str) -> list[Entry]:
    """The job's entries in log order."""
    return rows(db, "job = ?", job)


def entries_of_vehicle(db: sqlite3.Connection, vehicle: str) -> list[Entry]:
    """The entries about the vehicle itself, those of its jobs left out, in log order.

    What stands under the ids of vehicles merged into it comes first, so that its own record lies
    over theirs.
    """
    parts = family_of(db, vehicle)
    return [each for part in parts for each in rows(db, "vehicle = ? AND job IS NULL", part)]


def closings_of_vehicle(db: sqlite3.Connection, vehicle: str) -> list[Entry]:
    """The entries about the vehicle by which leads closed items, and strikes, in log order."""
    closing = "kind IN ('close_item', 'strike') AND vehicle = ? AND job IS NULL"
    return [each for part in family_of(db, vehicle) for each in rows(db, closing, part)]


def rows(db: sqlite3.Connection, where: str, *values: str) -> list[Entry]:
    """The entries that fit a condition, in log order, as they can be read."""
    found = db.execute(f"SELECT * FROM entries WHERE {where} ORDER BY seq", values)
    return [readable(from_row(row)) for row in found]


def save_job(db: sqlite3.Connection, job: str) -> None:
    """Fold one job and keep its row."""
    entries = entries_of_job(db, job)
    folded = fold.fold_job(entries)
    vehicle = chief_of(db, folded["vehicle"])
    row = {
        "id": job,
        "vehicle": vehicle,
        **{key: folded[key] for key in ("axle", "about", "state", "second_of")},
        **who_and_when("opened", folded["opened"]),
        **who_and_when("handed_in", folded["hand_in"]),
        **who_and_when("decided", folded["decision"] or folded["accepted"]),
        "accepted_seq": (folded["accepted"] or {}).get("seq"),
        "last_seq": entries[-1]["seq"],
    }
    db.execute(SAVE_JOB, row)
    db.execute(MARK_RECENT, {"vehicle": vehicle, "most": RECENT_JOBS})
    search_index.keep(db, "job", job, vehicle, job, folded["about"])
    search_index.keep_notes(db, entries, vehicle, job)


def who_and_when(step: str, entry: Entry | None) -> dict[str, Any]:
    """The columns of one step of a job: its sequence number, by whom, and by which phone's time."""
    made = entry or {}
    return {
        f"{step}_seq": made.get("seq"),
        f"{step}_by": made.get("person"),
        f"{step}_at": made.get("made_at"),
    }


def save_vehicle(db: sqlite3.Connection, vehicle: str) -> None:
    """Fold the record of one vehicle, or of the one that it is part of, and keep that row alone."""
    chief = chief_of(db, vehicle)
    entries = entries_of_vehicle(db, chief)
    record = {**fold.fold_vehicle(entries), "id": chief}
    db.execute(SAVE_VEHICLE, vehicle_row(record))
    search_index.keep_vehicle(db, record)
    search_index.keep_notes(db, entries, chief, None)
    if chief != vehicle:
        db.execute("DELETE FROM vehicles WHERE id = ?", [vehicle])
        db.execute("DELETE FROM words WHERE key = ?", [vehicle])
    for each in {chief, vehicle}:
        db.execute("DELETE FROM due WHERE vehicle = ?", [each])
    if not record.get("retired"):
        db.executemany(SAVE_DUE, [{**row, "vehicle": chief} for row in due.due_of(entries)])


def vehicle_row(record: Entry) -> dict[str, Any]:
    """The columns of a vehicle, from its folded record."""
    return {
        "id": record["id"],
        "name": record.get("name", ""),
        "units": record.get("units"),
        "driving_side": record.get("driving_side"),
        "retired": int(record.get("retired", False)),
        "record": json.dumps(record, ensure_ascii=False, sort_keys=True),
    }
