"""What `append` costs beside bare SQLite inserts of the same rows with the same durability."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

from figures import side_by_side
from kit.entries import hire, make_entry

from webapp.shoplog import ShopLog
from webapp.shoplog.chain import COLUMNS
from webapp.shoplog.connection import FILE, durability

MARKS = ", ".join("?" * len(COLUMNS))
BARE = f"INSERT INTO entries ({', '.join(COLUMNS)}) VALUES ({MARKS})"
SCHEMA = (
    "SELECT sql FROM sqlite_master WHERE tbl_name = 'entries' AND type <> 'trigger' AND sql <> ''"
)
A_BATCH = 100

Batches = list[list[dict]]


def compare(folder: Path, entries: int, runs: int) -> dict[str, float]:
    """Medians in ms of storing so many entries: {log, bare}.

    `log` is `append` with all it does: checks, hashes, chain, answers, projections. `bare` inserts
    rows into a table of the same columns, checks and indexes. Both commit each 100 entries, with
    the write-ahead log and synchronous=FULL.
    """
    with ShopLog(folder) as log, closing(bare_copy(folder)) as db:
        crew = hire(log)
        log.append(crew.phone, [make_entry(crew.phone, "job")])
        made = [batches(crew.phone, entries) for _ in range(runs + 1)]
        rows = [[as_rows(batch) for batch in each] for each in made]
        return side_by_side(
            {
                "log": lambda: [log.append(crew.phone, batch) for batch in made.pop()],
                "bare": lambda: insert(db, rows.pop()),
            },
            runs,
        )


def bare_copy(folder: Path) -> sqlite3.Connection:
    """A database of its own with the log's table of entries and nothing else in it."""
    db = sqlite3.connect(folder / "bare.db", isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    for setting in durability():
        db.execute(f"PRAGMA {setting}")
    with closing(sqlite3.connect(folder / FILE)) as log:
        for (sql,) in log.execute(SCHEMA):
            db.execute(sql)
    return db


def batches(phone: str, entries: int) -> Batches:
    """Readings of one job in batches as a phone sends them."""
    sizes = [min(A_BATCH, entries - at) for at in range(0, entries, A_BATCH)]
    return [[make_entry(phone) for _ in range(size)] for size in sizes]


def as_rows(batch: list[dict]) -> list[tuple]:
    """The columns of entries as they are stored; sequence numbers come by themselves."""
    added = {
        "seq": None,
        "person": batch[0]["phone"],
        "received_at": batch[0]["made_at"],
        "content_hash": bytes(32),
        "chain": bytes(32),
    }
    return [
        tuple({**entry, **added, "body": json.dumps(entry["body"])}[name] for name in COLUMNS)
        for entry in batch
    ]


def insert(db: sqlite3.Connection, groups: list[list[tuple]]) -> None:
    """Insert each group of rows in one transaction."""
    for rows in groups:
        db.execute("BEGIN IMMEDIATE")
        db.executemany(BARE, rows)
        db.execute("COMMIT")
