"""The whole check of a data folder: database, chain, references, what pages show, photos."""

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

from webapp.reckon.numbers import counted
from webapp.shoplog import chain
from webapp.shoplog.connection import look_into
from webapp.shoplog.entries import canonical, content_hash
from webapp.shoplog.errors import LogDamaged
from webapp.shoplog.files.photo_files import photo_faults, photo_files
from webapp.shoplog.log import ShopLog
from webapp.shoplog.views import missing_numbers, own_rows, projections

SHOWN = 100

# Targets of strikes, replacements and decisions may be on their way, so they are not looked at.
# The shop PC itself is neither a phone nor a person.
ORPHANS = """
SELECT seq, id, 'phone' AS what, phone AS named FROM entries
WHERE phone NOT IN (SELECT id FROM phones UNION SELECT value FROM facts WHERE name = 'server_id')
AND kind NOT IN ('person', 'setting', 'door')
UNION ALL
SELECT seq, id, 'person', person FROM entries
WHERE person NOT IN (SELECT id FROM people UNION SELECT value FROM facts WHERE name = 'server_id')
AND kind NOT IN ('person', 'setting', 'door')
ORDER BY seq
"""
# A phone is one person's for good.
OTHER_PERSON = """
SELECT min(seq) AS seq, phones.name FROM entries JOIN phones ON phones.id = entries.phone
WHERE phones.person <> entries.person GROUP BY phones.id ORDER BY 1
"""
BEHIND = """
SELECT name FROM phones
WHERE last_local_no < (SELECT coalesce(max(local_no), 0) FROM entries WHERE phone = phones.id)
"""
ASIDE = "SELECT no, id, phone, content, content_hash FROM quarantine ORDER BY no"
EPOCH = "SELECT value FROM facts WHERE name = 'epoch'"
# What the pages read, and what is compared of it: not where a row happens to lie.
PROJECTIONS = {
    "vehicles": "SELECT * FROM vehicles",
    "tags": "SELECT * FROM tags",
    "merged vehicles": "SELECT * FROM merged",
    "jobs": "SELECT * FROM jobs",
    "the search": "SELECT * FROM words",
    "what is due": "SELECT * FROM due",
}
OTHERWISE = (
    "What the pages show of {what} is not what the entries say ({rows}, such as {first}). Stop the "
    "service and run `axlewright check --rebuild`."
)
PHOTOGRAPHS = "SELECT seq, id, body ->> '$.sha256' AS hash FROM entries WHERE kind = 'photo'"


def check_all(folder: Path) -> list[str]:
    """A sentence for everything that is wrong, the log's first bad line first; or NotFound."""
    found = chain.check_folder(folder)
    with look_into(folder) as db:
        # Where the database itself is damaged, its tables cannot be asked any further.
        if not found:
            found += [*reference_faults(db), *aside_faults(db), *number_faults(db)]
            found += [*projection_faults(db), *own_rows.faults(db)]
    return found + list(photo_faults(folder))


def reference_faults(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each row that names a phone or person the shop does not know."""
    for row in db.execute(ORPHANS):
        yield f"Line {row['seq']} names a {row['what']} that is not on file (entry {row['id']})."
    for row in db.execute("PRAGMA foreign_key_check"):
        yield f"The table {row['table']} names a row of {row['parent']} that is not there."


def aside_faults(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for what was set aside or is known of phones and the shop and cannot be so."""
    for row in db.execute(OTHER_PERSON):
        yield f"Line {row['seq']} was stored for another person than {row['name']} belongs to."
    for row in db.execute(ASIDE):
        made = json.loads(row["content"])
        same = made.get("id") == row["id"]
        if not same or content_hash(made, canonical(made["body"])) != row["content_hash"]:
            yield f"The entry set aside as no. {row['no']} was changed after it was set aside."
    [epoch] = db.execute(EPOCH).fetchone() or [""]
    if not epoch.isdecimal() or int(epoch) < 1:
        yield "The log does not know its epoch: restore a backup, so that phones send again."


def projection_faults(db: sqlite3.Connection) -> list[str]:
    """A sentence for each kind of thing that pages show otherwise than the entries say."""
    # A database of its own, on the disk where it is large, that is gone when it is closed.
    with closing(sqlite3.connect("", isolation_level=None)) as copy:
        db.backup(copy)
        copy.row_factory = sqlite3.Row
        if not projections.is_up_to_date(copy):
            # The next start makes them afresh.
            return []
        found = [
            f"The phone {row['name']} made more than is noted." for row in copy.execute(BEHIND)
        ]
        shown = rows_of(copy)
        try:
            copy.execute(
                "INSERT INTO words_index (words_index, rank) VALUES ('integrity-check', 1)"
            )
        except sqlite3.DatabaseError as error:
            found.append(OTHERWISE.format(what="the search", rows="its index", first=error))
        projections.rebuild(copy)
        for what, rows in rows_of(copy).items():
            if differing := sorted(map(repr, rows ^ shown[what])):
                number = counted(len(differing), "row")
                first = differing[0][:SHOWN]
                found.append(OTHERWISE.format(what=what, rows=number, first=first))
    return found


def rows_of(db: sqlite3.Connection) -> dict[str, set[tuple[Any, ...]]]:
    """Every row of what the pages read, by what it is about."""
    return {what: set(map(tuple, db.execute(query))) for what, query in PROJECTIONS.items()}


def make_afresh(folder: Path) -> None:
    """Make what the pages read afresh from the entries of a sound log.

    Raises LogInUse while the service runs, and LogDamaged where the entries themselves are damaged.
    """
    if found := chain.check_folder(folder):
        raise LogDamaged(f"Nothing was made afresh, as the log itself is damaged: {found[0]}")
    with ShopLog(folder) as log:
        log.rebuild()


def number_faults(db: sqlite3.Connection) -> list[str]:
    """A sentence for each phone whose running numbers are kept otherwise than its entries say."""
    return [
        f"The running numbers kept of phone {phone} are not those of its entries, so what the desk "
        "says is missing may be wrong. Stop the service and run `axlewright check --rebuild`."
        for phone in missing_numbers.wrong(db)
    ]


def awaited_photos(folder: Path) -> list[str]:
    """A sentence for each photo in the log whose file is not there.

    That is no fault by itself: photos come after their entries, when a phone has time for them.
    """
    there = photo_files(folder)
    with look_into(folder) as db:
        return [
            f"The photo of line {row['seq']} is not here yet (entry {row['id']})."
            for row in db.execute(PHOTOGRAPHS)
            if row["hash"] is not None and row["hash"] not in there
        ]
