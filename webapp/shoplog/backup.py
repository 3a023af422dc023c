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

from webapp.shoplog import chain
from webapp.shoplog.connection import FILE, Store, connect
from webapp.shoplog.errors import BadBackup, in_our_words
from webapp.shoplog.folderlock import FolderLock


def back_up(log: Store, target: Path) -> None:
    """Copy the log into one file, which takes its name only when it is whole and on the disk."""
    part = part_of(target)
    with log.reading() as db:
        copy_whole(db, part)
    put_in_place(part, target)


def restore(backup: Path, folder: Path) -> None:
    """Make a backup the log of a folder, under a new epoch; what was there is kept beside it.

    Raises BadBackup for a file that is no sound log, and LogInUse while the service runs.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with closing(FolderLock(folder)):
        part = part_of(folder / FILE)
        with in_our_words(), closing(open_backup(backup)) as db:
            copy_whole(db, part)
        epoch = start_new_epoch(part)
        set_aside(folder, epoch)
        put_in_place(part, folder / FILE)


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


def copy_whole(db: sqlite3.Connection, part: Path) -> None:
    """Copy an open log into a file of its own, and raise BadBackup unless the copy is sound."""
    with closing(connect(part, "rwc", busy_seconds=5.0)) as copy:
        try:
            db.backup(copy)
            # A single file, complete without a write-ahead log beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
            faults = chain.faults(copy)
        except sqlite3.DatabaseError as error:
            faults = [str(error)]
    if faults:
        part.unlink()
        raise BadBackup(f"This is no sound copy of a shop log: {faults[0]}")


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
