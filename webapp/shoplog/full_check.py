"""The whole check of a data folder: database, chain, references, running numbers, photos."""

import sqlite3
from collections.abc import Iterator
from pathlib import Path

from webapp.shoplog import chain
from webapp.shoplog.connection import look_into
from webapp.shoplog.files.photo_files import photo_faults, photo_files
from webapp.shoplog.views import missing_numbers

# Targets of strikes, replacements and decisions may be on their way, so they are not looked at.
ORPHANS = """
SELECT seq, id, 'phone' AS what, phone AS named FROM entries
WHERE phone NOT IN (SELECT id FROM phones)
UNION ALL
SELECT seq, id, 'person', person FROM entries WHERE person NOT IN (SELECT id FROM people)
ORDER BY seq
"""
PHOTOGRAPHS = "SELECT seq, id, body ->> '$.sha256' AS hash FROM entries WHERE kind = 'photo'"


def check_all(folder: Path) -> list[str]:
    """A sentence for everything that is wrong, the log's first bad line first; or NotFound."""
    found = chain.check_folder(folder)
    with look_into(folder) as db:
        # Where the database itself is damaged, its tables cannot be asked any further.
        found += [] if found else [*reference_faults(db), *number_faults(db)]
    return found + list(photo_faults(folder))


def reference_faults(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each row that names a phone or person the shop does not know."""
    for row in db.execute(ORPHANS):
        yield f"Line {row['seq']} names a {row['what']} that is not on file (entry {row['id']})."
    for row in db.execute("PRAGMA foreign_key_check"):
        yield f"The table {row['table']} names a row of {row['parent']} that is not there."


def number_faults(db: sqlite3.Connection) -> list[str]:
    """A sentence for each phone whose running numbers are kept otherwise than its entries say."""
    return [
        f"The running numbers kept of phone {phone} are not those of its entries, so what the desk "
        "says is missing may be wrong. An export, imported into a new folder, has them right."
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
