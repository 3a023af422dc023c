"""Connections to the database: one that writes, and short reads beside it.

Only the writer checkpoints the write-ahead log (two checkpointing connections can corrupt it in
SQLite before 3.51.3), and it does so with every commit flushed to the disk.
"""

import queue
import sqlite3
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Self

from sqlite_utils import Database

from webapp.shoplog.errors import (
    BUSY,
    TOO_NEW,
    LogBusy,
    LogDamaged,
    LogError,
    LogTooNew,
    NotFound,
    in_a_sentence,
    in_our_words,
)
from webapp.shoplog.files.atomic import growing, let_go
from webapp.shoplog.files.folder_lock import FolderLock
from webapp.shoplog.migrations import migrations

FILE = "shop.db"
# Where backups go unless a folder is named.
BACKUPS = "backups"
WAL_CAP = 16 * 1024 * 1024
WAL_ALARM = 64 * 1024 * 1024
SOUND_SINCE = (3, 51, 3)
VERSION = sqlite3.sqlite_version
# What every log has had since its first version.
TABLES = {"_sqlite_migrations", "entries", "facts", "people", "phones", "quarantine"}
FOLD_IN = "PRAGMA wal_checkpoint(TRUNCATE)"
APPLIED = "SELECT name FROM _sqlite_migrations WHERE migration_set = 'shoplog'"
NO_LOG = (
    "{place} holds no shop log: put the newest backup back with `axlewright restore FOLDER`; "
    "where there never was a log, delete that file."
)
# What a shop keeps beside its log once it has one.
LEFT_BY_A_SHOP = (
    *("photos/*.jpg", "certificates/authority.crt", "backups/*.db", "before-*.db"),
    f"{FILE}-wal",
)
LOG_GONE = (
    "{folder} was a shop's data folder ({what}), but its log {file} is gone: put that file back, "
    "or the newest backup with `axlewright restore FOLDER`. A new shop needs an empty folder: "
    "choose one with --data."
)


def connect(
    path: Path, mode: str, busy_seconds: float, settings: Sequence[str] = ()
) -> sqlite3.Connection:
    """A connection with the durability every one of them must have, and further PRAGMAs.

    `mode` is ro, rw or rwc.
    """
    with in_our_words(path):
        db = sqlite3.connect(
            f"{path.resolve().as_uri()}?mode={mode}",
            uri=True,
            timeout=busy_seconds,
            isolation_level=None,
            check_same_thread=False,
        )
    db.row_factory = sqlite3.Row
    try:
        with in_our_words(path):
            for setting in [*durability(), *settings]:
                db.execute(f"PRAGMA {setting}")
    except BaseException:
        db.close()
        raise
    return db


def durability() -> list[str]:
    """The PRAGMAs that make a commit last through a power cut; a Mac's drive needs its own."""
    mac = ["fullfsync = ON", "checkpoint_fullfsync = ON"] if sys.platform == "darwin" else []
    return ["synchronous = FULL", *mac]


def open_reader(path: Path, busy_seconds: float = 5.0) -> sqlite3.Connection:
    """A connection that can neither write nor checkpoint."""
    return connect(path, "ro", busy_seconds, ["query_only = ON", "wal_autocheckpoint = 0"])


@contextmanager
def look_into(folder: Path) -> Iterator[sqlite3.Connection]:
    """Read a log that another process may hold; a LogError where there is none to be read."""
    path = folder / FILE
    if not path.exists():
        raise NotFound(f"There is no shop log in {folder}.")
    with in_our_words(path), closing(open_reader(path)) as db:
        must_be_ours(db, path)
        yield db


def must_be_ours(db: sqlite3.Connection, place: Path) -> None:
    """Raise LogDamaged or LogTooNew unless this is a shop log that this version can read."""
    if not tables_of(db) >= TABLES:
        raise LogDamaged(NO_LOG.format(place=place))
    must_not_be_newer(db)


def must_not_be_newer(db: sqlite3.Connection) -> None:
    """Raise LogTooNew where a log knows migrations that this version does not."""
    empty = Database(memory=True, execute_plugins=False)
    known = {migration.name for migration in migrations.pending(empty)}
    empty.close()
    if not {row[0] for row in db.execute(APPLIED)} <= known:
        raise LogTooNew(TOO_NEW)


def tables_of(db: sqlite3.Connection) -> set[str]:
    """The names of the tables of a database."""
    return {row[0] for row in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}


def open_writer(path: Path, busy_seconds: float) -> sqlite3.Connection:
    """The connection that writes and checkpoints, with the tables brought up to date."""
    new = not path.exists()
    if new:
        must_be_a_first_start(path)
    try:
        return open_and_bring_up_to_date(path, busy_seconds, new)
    except BaseException:
        if new:
            # A log that could not be begun would pass for one that lost everything.
            let_go(path)
        raise


def must_be_a_first_start(path: Path) -> None:
    """Raise NotFound where a log was in this folder: an empty one in its place would hide that."""
    folder = path.parent
    found = [each.relative_to(folder) for left in LEFT_BY_A_SHOP for each in folder.glob(left)]
    if found:
        what = ", ".join(sorted({each.parts[0] for each in found}))
        raise NotFound(LOG_GONE.format(file=FILE, folder=folder, what=what))


def open_and_bring_up_to_date(path: Path, busy_seconds: float, new: bool) -> sqlite3.Connection:
    """The same, of a log that is begun just now or was there."""
    settings = [
        "journal_mode = WAL",
        "wal_autocheckpoint = 1000",
        f"journal_size_limit = {WAL_CAP}",
        # Without this an INSERT OR REPLACE would slip past the triggers that keep entries.
        "recursive_triggers = ON",
    ]
    db = connect(path, "rwc", busy_seconds)
    try:
        with in_our_words(path):
            # A database without any table was a log once: a new one over it would hide the loss.
            if not new and not tables_of(db):
                raise LogDamaged(NO_LOG.format(place=path))
            for setting in settings:
                db.execute(f"PRAGMA {setting}")
            bring_up_to_date(db, path)
    except BaseException:
        db.close()
        raise
    return db


def bring_up_to_date(db: sqlite3.Connection, path: Path) -> None:
    """Apply the migrations that this log lacks; a LogError where it is none of ours."""
    if "_sqlite_migrations" in tables_of(db):
        must_not_be_newer(db)
        if migrations.pending(Database(db, execute_plugins=False, recursive_triggers=False)):
            keep_before_update(db, path.parent)
    try:
        migrations.apply(Database(db, execute_plugins=False, recursive_triggers=False))
    except sqlite3.OperationalError as error:
        # Tables of these names are there that no migration of ours has made.
        raise in_a_sentence(error, path) or LogDamaged(NO_LOG.format(place=path)) from error


def keep_before_update(db: sqlite3.Connection, folder: Path) -> None:
    """Copy a log beside the backups as it was before this version changes its tables."""
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
    target = folder / BACKUPS / f"before-update-{stamp}.db"
    target.parent.mkdir(exist_ok=True)
    with (
        growing(target) as part,
        in_our_words(target),
        closing(connect(part, "rwc", busy_seconds=5.0)) as copy,
    ):
        db.backup(copy)
        # A single file, complete without a write-ahead log beside it.
        copy.execute("PRAGMA journal_mode = DELETE")


def fold_in(folder: Path) -> None:
    """Bring a log's newest lines into its one file, once the service that wrote it has stopped.

    Nothing where there is no log, or another process has it.
    """
    if not (folder / FILE).exists():
        return
    with (
        suppress(LogError, OSError),
        closing(FolderLock(folder)),
        in_our_words(),
        closing(connect(folder / FILE, "rw", 5.0)) as db,
    ):
        db.execute(FOLD_IN)


def sqlite_warning(version: tuple[int, ...] = sqlite3.sqlite_version_info) -> str | None:
    """What to tell the lead about this SQLite, or None. Source: sqlite.org/wal.html, WAL-reset."""
    if version >= SOUND_SINCE:
        return None
    return (
        f"SQLite {'.'.join(map(str, version))} has a rare fault that several writers can set off. "
        "Axlewright keeps to one writer; update Python or SQLite to 3.51.3 or later when you can."
    )


class Store:
    """The folder of one shop, held by this process: one writer, and readers as needed."""

    def __init__(self, folder: Path, busy_seconds: float = 5.0) -> None:
        """Open or create the log in `folder`; raises LogInUse or another LogError."""
        folder.mkdir(parents=True, exist_ok=True)
        self.folder = folder
        self.path = folder / FILE
        self.busy_seconds = busy_seconds
        self._lock = FolderLock(folder)
        self._turn = threading.Lock()
        self._closed = False
        self._idle: queue.SimpleQueue[sqlite3.Connection] = queue.SimpleQueue()
        try:
            self._writer = open_writer(self.path, busy_seconds)
        except BaseException:
            self._lock.close()
            raise

    def __enter__(self) -> Self:
        """The log itself, closed at the end of the block."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close it."""
        self.close()

    def close(self) -> None:
        """Close every idle connection, the writer last, so that it does the last checkpoint."""
        with self._turn:
            while not self._idle.empty():
                self._idle.get_nowait().close()
            self._closed = True
            # Whoever copies the one file has every line then, also where a backup still reads.
            with suppress(sqlite3.DatabaseError):
                self._writer.execute(FOLD_IN)
            self._writer.close()
            self._lock.close()

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A read of one moment of the log. Keep it short: the write-ahead log grows behind it."""
        with in_our_words():
            db = self._reader()
            db.execute("BEGIN")
            try:
                yield db
            finally:
                db.execute("ROLLBACK")
                self._give_back(db)

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction that is on the disk when the block ends, or was never there."""
        if not self._turn.acquire(timeout=self.busy_seconds):
            raise LogBusy(BUSY)
        try:
            with in_our_words():
                # Taking the write lock at once is what makes SQLite wait instead of failing.
                self._writer.execute("BEGIN IMMEDIATE")
                with self._all_or_nothing():
                    yield self._writer
                self._trim_wal()
        finally:
            self._turn.release()

    def wal_bytes(self) -> int:
        """The size of the write-ahead log; above 64 MB a read is stuck."""
        wal = self.path.with_name(f"{FILE}-wal")
        return wal.stat().st_size if wal.exists() else 0

    def _reader(self) -> sqlite3.Connection:
        try:
            return self._idle.get_nowait()
        except queue.Empty:
            return open_reader(self.path, self.busy_seconds)

    def _give_back(self, db: sqlite3.Connection) -> None:
        if self._closed:
            db.close()
        else:
            self._idle.put(db)

    @contextmanager
    def _all_or_nothing(self) -> Iterator[None]:
        try:
            yield
            self._writer.execute("COMMIT")
        except BaseException:
            # A full disk has already rolled back by itself.
            if self._writer.in_transaction:
                self._writer.execute("ROLLBACK")
            raise

    def _trim_wal(self) -> None:
        if self.wal_bytes() > WAL_CAP:
            # Not waiting: what a reader still holds is trimmed after a later write.
            self._writer.execute("PRAGMA busy_timeout = 0")
            self._writer.execute(FOLD_IN)
            self._writer.execute(f"PRAGMA busy_timeout = {round(self.busy_seconds * 1000)}")
