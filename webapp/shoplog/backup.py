"""Whole copies of the log, and putting one back.

A copy goes through SQLite, never file by file: the newest lines are still in the write-ahead log.
"""

import os
import shutil
import sqlite3
import sys
import time
from contextlib import closing
from pathlib import Path

from sqlite_utils import Database

from webapp.shoplog import chain
from webapp.shoplog.connection import FILE, Store, connect, open_reader
from webapp.shoplog.errors import BadBackup, LogTooNew, NotFound, in_our_words
from webapp.shoplog.folderlock import FolderLock
from webapp.shoplog.schema import migrations

NEWER = (
    "A later version of Axlewright made this backup. Nothing was changed: "
    "install that version or a later one on this computer, then restore again."
)


def back_up(log: Store, target: Path) -> None:
    """Copy an open log into one file; it takes its name only when it is whole and on the disk."""
    part = part_of(target)
    with log.reading() as db:
        lines = copy_whole(db, part)
    must_be_sound(part, lines)
    put_in_place(part, target)


def back_up_folder(folder: Path, target: Path) -> int:
    """The same for the log in a folder, also while the service runs; how many entries it holds."""
    if not (folder / FILE).exists():
        raise NotFound(f"There is no shop log in {folder}.")
    part = part_of(target)
    with in_our_words(), closing(open_reader(folder / FILE)) as db:
        lines = copy_whole(db, part)
    must_be_sound(part, lines)
    put_in_place(part, target)
    return lines


def restore(backup: Path, folder: Path) -> int:
    """Make a backup the log of a folder, under a new epoch, which is returned.

    What was there is kept beside it. Raises BadBackup for a file that is no sound log, LogTooNew
    for one that this version cannot read, and LogInUse while the service runs.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with closing(FolderLock(folder)):
        part = part_of(folder / FILE)
        with in_our_words(), closing(open_backup(backup)) as db:
            lines = copy_whole(db, part)
        must_be_sound(part, lines)
        epoch = start_new_epoch(part)
        set_aside(folder, epoch)
        put_in_place(part, folder / FILE)
    return epoch


def part_of(target: Path) -> Path:
    """Where a copy grows until it is whole."""
    part = target.with_name(f"{target.name}.part")
    part.unlink(missing_ok=True)
    return part


def open_backup(backup: Path) -> sqlite3.Connection:
    """A backup, opened so that nothing is written beside it; or BadBackup."""
    if not backup.is_file():
        raise BadBackup(f"There is no backup at {backup}.")
    return sqlite3.connect(f"{backup.resolve().as_uri()}?immutable=1", uri=True)


def copy_whole(db: sqlite3.Connection, part: Path) -> int:
    """Copy an open log into a file of its own; how many entries the log held at that moment."""
    with closing(connect(part, "rwc", busy_seconds=5.0)) as copy:
        try:
            [lines] = db.execute("SELECT count(*) FROM entries").fetchone()
            db.backup(copy)
            # A single file, complete without a write-ahead log beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
            return int(lines)
        except sqlite3.DatabaseError as error:
            fault = str(error)
    raise refused(part, fault)


def must_be_sound(part: Path, lines: int) -> None:
    """Raise BadBackup or LogTooNew, and take the copy away, unless it is whole and readable."""
    with closing(connect(part, "rw", busy_seconds=5.0)) as copy:
        try:
            newer = is_newer(copy)
            faults = [] if newer else chain.faults(copy)
            [copied] = copy.execute("SELECT count(*) FROM entries").fetchone()
        except sqlite3.DatabaseError as error:
            newer, faults, copied = False, [str(error)], lines
    if newer:
        part.unlink()
        raise LogTooNew(NEWER)
    if faults or copied != lines:
        raise refused(part, faults[0] if faults else f"{copied} of {lines} entries were copied.")


def is_newer(db: sqlite3.Connection) -> bool:
    """Whether the log knows migrations that this version does not."""
    empty = Database(memory=True, execute_plugins=False)
    known = {migration.name for migration in migrations.pending(empty)}
    empty.close()
    log = Database(db, execute_plugins=False, recursive_triggers=False)
    return not {migration.name for migration in migrations.applied(log)} <= known


def refused(part: Path, fault: str) -> BadBackup:
    """The reason why a copy is no backup, once the copy is gone."""
    part.unlink()
    return BadBackup(f"This is no sound copy of a shop log: {fault}")


def start_new_epoch(part: Path) -> int:
    """Give a copy an epoch that no log of this shop ever had, and return it.

    It is the time in seconds, so the same backup put back twice is noticed both times.
    """
    with closing(connect(part, "rw", busy_seconds=5.0)) as copy:
        [before] = copy.execute("SELECT value FROM facts WHERE name = 'epoch'").fetchone()
        epoch = max(int(time.time()), int(before) + 1)
        copy.execute("UPDATE facts SET value = ? WHERE name = 'epoch'", [str(epoch)])
    return epoch


def set_aside(folder: Path, epoch: int) -> None:
    """Copy the present log to `before-<epoch>.db`, and take its write-ahead log away."""
    for ending in ("", "-wal", "-shm"):
        present = folder / f"{FILE}{ending}"
        if present.exists():
            shutil.copyfile(present, folder / f"before-{epoch}.db{ending}")
    for ending in ("-wal", "-shm"):
        (folder / f"{FILE}{ending}").unlink(missing_ok=True)


def put_in_place(part: Path, target: Path) -> None:
    """Flush a finished copy to the disk and give it its name."""
    with part.open("r+b") as file:
        os.fsync(file.fileno())
    part.replace(target)
    if sys.platform != "win32":
        folder = os.open(target.parent, os.O_RDONLY)
        os.fsync(folder)
        os.close(folder)
