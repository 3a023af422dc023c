"""A quick look over the database as a service starts, beside its work: `axlewright check` is whole.

SQLite goes through every page and row (sqlite.org/pragma.html, quick_check) on a connection of its
own. It holds nobody up, and is given up after a minute, as the write-ahead log grows behind a read.
"""

import sqlite3
import time
from contextlib import closing
from pathlib import Path

from webapp.shoplog.connection import open_reader
from webapp.shoplog.errors import LogDamaged, LogError

PATIENCE = 60.0
# So many steps of SQLite's machine between two looks at the clock.
STEPS = 100_000
DAMAGED = (
    "The database of the log is damaged ({fault}). Stop the service, run `axlewright check`, and "
    "restore the newest backup."
)


class QuickCheck:
    """What the look over one database found: `state` in words, and what is to be done, or None."""

    def __init__(self, path: Path, patience: float = PATIENCE) -> None:
        """Nothing is looked at before `run`; `patience` is in seconds."""
        self.path = path
        self.patience = patience
        self.state = "not checked yet"
        self.says: str | None = None

    def run(self) -> None:
        """Look, and keep what was found."""
        until = time.monotonic() + self.patience
        try:
            with closing(open_reader(self.path)) as db:
                db.set_progress_handler(lambda: time.monotonic() > until, STEPS)
                [fault, *_] = (row[0] for row in db.execute("PRAGMA quick_check(1)"))
        except LogDamaged as error:
            self._damaged(str(error.__cause__))
        except (LogError, sqlite3.OperationalError) as error:
            self.state = f"not checked completely ({error})"
        except sqlite3.DatabaseError as error:
            self._damaged(str(error))
        else:
            self.state = "intact at the last start"
            if fault != "ok":
                self._damaged(str(fault))

    def _damaged(self, fault: str) -> None:
        self.state = "damaged"
        self.says = DAMAGED.format(fault=" ".join(fault.split()))
