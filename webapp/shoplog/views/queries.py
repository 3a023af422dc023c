"""Reading the log: pulls for phones, and rows for the pages."""

import json
import sqlite3
from typing import Any

from webapp.shoplog.connection import WAL_ALARM, Store, sqlite_warning
from webapp.shoplog.entries import Entry, from_row
from webapp.shoplog.errors import NotFound
from webapp.shoplog.rows import Row
from webapp.shoplog.rules.values import is_when
from webapp.shoplog.views import projections, search_index
from webapp.shoplog.views.merged_vehicles import chief_of

# How many lines one pull looks at, so that leaving old jobs out never makes it slow.
MAX_LOOKED_AT = 20_000

PULL = """
SELECT entries.* FROM entries LEFT JOIN jobs ON jobs.id = entries.job
WHERE entries.seq > :since AND entries.seq <= :until
AND (entries.seq > :recent_until OR entries.job IS NULL OR jobs.state <> 'accepted' OR jobs.recent)
AND (:own OR entries.kind NOT IN ('person', 'setting', 'door'))
ORDER BY entries.seq LIMIT :most
"""

TAGS = "SELECT vehicle, code FROM tags"
TAGS_OF = f"{TAGS} WHERE vehicle IN (SELECT value FROM json_each(?)) ORDER BY rowid"
JOB_FILTERS = ("state", "vehicle", "axle", "opened_by")
MATCHING = """SELECT words.vehicle FROM words_index JOIN words ON words.rowid = words_index.rowid
    WHERE words_index MATCH :match"""


class Records(Store):
    """The log as phones and pages read it."""

    def pull(self, since: int, most: int, recent_until: int = 0, own: bool = False) -> Row:
        """Up to `most` entries after `since`: {entries, next, more, high_water}.

        What the shop PC wrote itself is no phone's business, and comes only with `own`.

        Up to `recent_until`, jobs that are accepted and not among the last six of their vehicle
        are left out. Ask again from `next` while `more`, even when a page holds no entries.
        """
        with self.reading() as db:
            high_water = high_water_of(db)
            until = min(high_water, since + MAX_LOOKED_AT) if since < recent_until else high_water
            asked = {"since": since, "until": until, "most": most, "recent_until": recent_until}
            asked["own"] = own
            entries = [from_row(row) for row in db.execute(PULL, asked)]
        reached = entries[-1]["seq"] if len(entries) == most else max(since, until)
        return {
            "entries": entries,
            "next": reached,
            "more": reached < high_water,
            "high_water": high_water,
        }

    def high_water(self) -> int:
        """The highest sequence number in the log, 0 when it is empty."""
        with self.reading() as db:
            return high_water_of(db)

    def last_received(self, most: int) -> list[str]:
        """When the last lines of the log were received, the last one first.

        What the shop PC wrote itself does not tell of its clock.
        """
        query = """
            SELECT received_at FROM entries WHERE seq > (SELECT max(seq) FROM entries) - ?
            AND kind NOT IN ('person', 'setting', 'door') ORDER BY seq DESC
        """
        with self.reading() as db:
            return [row[0] for row in db.execute(query, [most]) if is_when(row[0])]

    def entry(self, entry: str) -> Entry:
        """One entry, or NotFound."""
        with self.reading() as db:
            found = projections.rows(db, "id = ?", entry)
        return dict(first(found, "There is no such entry."))

    def entries_of_job(self, job: str) -> list[Entry]:
        """The job's entries in log order."""
        with self.reading() as db:
            return projections.entries_of_job(db, job)

    def entries_of_vehicle(self, vehicle: str) -> list[Entry]:
        """The entries about the vehicle itself, those of its jobs left out, in log order."""
        with self.reading() as db:
            return projections.entries_of_vehicle(db, vehicle)

    def closings_of_vehicle(self, vehicle: str) -> list[Entry]:
        """The entries about the vehicle by which leads closed items, and strikes, in log order."""
        with self.reading() as db:
            return projections.closings_of_vehicle(db, vehicle)

    def limit_entries(self) -> list[Entry]:
        """The house limits and what crosses them out, in log order."""
        with self.reading() as db:
            where = "vehicle IS NULL AND job IS NULL AND kind IN ('limit', 'strike')"
            return projections.rows(db, where)

    def jobs(self, start: int = 0, most: int = -1, **fits: str | None) -> list[Row]:
        """Jobs, the last opened first; pending ones in the order in which they were handed in.

        `fits` are any of state, vehicle, axle, opened_by. `start` jobs are left out, then come at
        most `most`, or all where that is below 0.
        """
        asked = {column: fits[column] for column in JOB_FILTERS if fits.get(column) is not None}
        order = "handed_in_seq" if fits.get("state") == "pending" else "opened_seq DESC, id"
        where = " AND ".join(f"{column} = :{column}" for column in asked) or "true"
        query = f"SELECT * FROM jobs WHERE {where} ORDER BY {order}"
        page = {"most": most, "start": start}
        with self.reading() as db:
            found = db.execute(f"{query} LIMIT :most OFFSET :start", {**asked, **page})
            return [dict(row) for row in found]

    def job(self, job: str) -> Row:
        """One job's row, or NotFound."""
        with self.reading() as db:
            found = db.execute("SELECT * FROM jobs WHERE id = ?", [job]).fetchall()
        return dict(first(found, "There is no such job in the log."))

    def jobs_beside(self, job: Row) -> list[Row]:
        """The jobs of the same axle that were under review when this one was opened.

        With them those that were accepted since. Those that were sent back are left out.
        """
        query = """SELECT * FROM jobs WHERE vehicle = :vehicle AND axle = :axle AND id <> :id
            AND ((accepted_seq IS NULL AND state = 'pending' AND handed_in_seq < :opened_seq)
            OR accepted_seq > :opened_seq)"""
        with self.reading() as db:
            return [dict(row) for row in db.execute(query, job)]

    def jobs_before(self, job: Row, most: int) -> list[Row]:
        """The jobs of its vehicle that were opened before this one, the last of them at the end."""
        query = """SELECT * FROM jobs WHERE vehicle = :vehicle AND opened_seq < :opened_seq
            ORDER BY opened_seq DESC LIMIT :most"""
        with self.reading() as db:
            found = [dict(row) for row in db.execute(query, {**job, "most": most})]
        return found[::-1]

    def seconds(self, first: str | None = None, most: int = -1) -> list[Row]:
        """The jobs that are second readings, of one job or the latest of all, last opened first."""
        of_which = "second_of IS NOT NULL" if first is None else "second_of = :first"
        query = f"SELECT * FROM jobs WHERE {of_which} ORDER BY opened_seq DESC, id LIMIT :most"
        with self.reading() as db:
            return [dict(row) for row in db.execute(query, {"first": first, "most": most})]

    def job_counts(self) -> dict[str, int]:
        """How many jobs there are that are not accepted yet, by state."""
        query = """SELECT state, count(*) FROM jobs
            WHERE state IN ('open', 'pending', 'sent_back') GROUP BY state"""
        with self.reading() as db:
            return dict(map(tuple, db.execute(query)))

    def vehicles(
        self, search: str = "", retired: bool | None = None, start: int = 0, most: int = -1
    ) -> list[Row]:
        """Vehicles by name, retired ones last; `search` finds words of name, note and tag code."""
        asked: Row = {"retired": retired, "most": most, "start": start}
        fits = ["true"] if retired is None else ["retired = :retired"]
        match = None
        if search.strip():
            match = search_index.match_of(search, "vehicle")
            fits.append(f"id IN ({MATCHING})")
        query = f"""SELECT * FROM vehicles WHERE {" AND ".join(fits)}
            ORDER BY retired, name, id LIMIT :most OFFSET :start"""
        if search.strip() and match is None:
            return []
        with self.reading() as db:
            found = db.execute(query, {**asked, "match": match}).fetchall()
            tags = tags_of(db, [row["id"] for row in found])
        return [vehicle_from(row, tags.get(row["id"], [])) for row in found]

    def vehicles_named(self, ids: list[str]) -> list[Row]:
        """{id, name} of these vehicles."""
        query = "SELECT id, name FROM vehicles WHERE id IN (SELECT value FROM json_each(?))"
        with self.reading() as db:
            return [dict(row) for row in db.execute(query, [json.dumps(ids)])]

    def find(self, search: str, most: int) -> list[Row]:
        """Vehicles, jobs and notes with these words: {kind, vehicle, job, text}, newest first."""
        with self.reading() as db:
            return search_index.found(db, search, most)

    def due(self, start: int = 0, most: int = -1) -> list[Row]:
        """What is to be checked again, by its day, those that have a distance alone at the end."""
        query = """SELECT * FROM due ORDER BY day IS NULL, day, since
            LIMIT ? OFFSET ?"""
        with self.reading() as db:
            return [dict(row) for row in db.execute(query, [most, start])]

    def vehicle(self, vehicle: str) -> Row:
        """One vehicle's row with its folded `record` and the tags that lead to it, or NotFound.

        A vehicle that is part of another is found as that other.
        """
        with self.reading() as db:
            chief = chief_of(db, vehicle)
            found = db.execute("SELECT * FROM vehicles WHERE id = ?", [chief]).fetchall()
            tagged = db.execute(f"{TAGS} WHERE vehicle = ? ORDER BY rowid", [chief])
            tags = [code for _, code in tagged]
        return vehicle_from(first(found, "There is no such vehicle in the log."), tags)

    def vehicle_by_tag(self, code: str) -> Row:
        """The vehicle that this tag code leads to, or NotFound."""
        with self.reading() as db:
            found = db.execute(f"{TAGS} WHERE code = ?", [code.strip().upper()]).fetchall()
        return self.vehicle(first(found, f"No vehicle carries the tag {code} yet.")["vehicle"])

    def health(self) -> Row:
        """What the health page shows: SQLite's version, its warning if any, sizes in bytes."""
        return {
            "sqlite": sqlite3.sqlite_version,
            "warning": sqlite_warning(),
            "wal_bytes": self.wal_bytes(),
            "wal_is_stuck": self.wal_bytes() > WAL_ALARM,
            "entries": self.high_water(),
        }

    def quarantined(self) -> list[Row]:
        """Entries that came with the id of a stored one but other content, oldest first."""
        with self.reading() as db:
            found = db.execute("SELECT * FROM quarantine ORDER BY no").fetchall()
        return [
            {
                "no": row["no"],
                "phone": row["phone"],
                "received_at": row["received_at"],
                "entry": json.loads(row["content"]),
            }
            for row in found
        ]


def high_water_of(db: sqlite3.Connection) -> int:
    """The highest sequence number that the log holds, 0 when it is empty."""
    return int(db.execute("SELECT coalesce(max(seq), 0) FROM entries").fetchone()[0])


def tags_of(db: sqlite3.Connection, vehicles: list[str]) -> dict[str, list[str]]:
    """The tag codes that lead to each of these vehicles, in the order in which they were put on."""
    found: dict[str, list[str]] = {}
    for vehicle, code in db.execute(TAGS_OF, [json.dumps(vehicles)]):
        found.setdefault(vehicle, []).append(code)
    return found


def vehicle_from(row: sqlite3.Row, tags: list[str]) -> Row:
    """A vehicle's row as plain values."""
    record = {**json.loads(row["record"]), "tags": tags}
    return {**dict(row), "retired": bool(row["retired"]), "tags": tags, "record": record}


def first(found: list[Any], otherwise: str) -> Any:
    """The first of these, or NotFound with this sentence."""
    if not found:
        raise NotFound(otherwise)
    return found[0]
