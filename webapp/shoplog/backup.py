"""Whole copies of the log, and putting one back.

A copy goes through SQLite, never file by file: the newest lines are still in the write-ahead log.
"""

import math
import os
import secrets
import shutil
import sqlite3
import time
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, closing, contextmanager, suppress
from pathlib import Path

from webapp.shoplog import chain, forked_log
from webapp.shoplog.connection import (
    FILE,
    Store,
    connect,
    look_into,
    must_be_ours,
    tables_of,
)
from webapp.shoplog.errors import BadBackup, LogDamaged, LogError, LogTooNew, in_our_words
from webapp.shoplog.files.atomic import BESIDE, copy_whole_file, flush_folder, growing
from webapp.shoplog.files.folder_lock import LOCK, FolderLock
from webapp.shoplog.files.photo_files import copy_photos
from webapp.shoplog.own_entries import RESTORED

# The key that seals what phones hand back, and the epoch in which it was changed last.
SEAL_KEY, KEY_SINCE = "seal_key", "seal_key_since"
KEY_FACTS = f"""
SELECT name, value FROM facts WHERE name IN ('server_id', '{SEAL_KEY}', '{KEY_SINCE}')
"""
EPOCHS = "SELECT value FROM facts WHERE name IN ('epoch', 'epoch_met')"
# The name of a log that a restore replaced: this, and the epoch of the one that took its place.
BEFORE = "before-"
MAX_STEP = 1_000_000
# What SQLite keeps beside a log and needs to read it as it was last stored.
LINES_BESIDE = ("-wal", "-journal")
# How many seconds to wait for somebody else who has the file open.
PATIENCE = 5.0
NEWER = (
    "A newer version of Axlewright made this backup. Nothing was changed: "
    "install that version or a newer one on this computer, then restore again."
)
NOT_COPIED = (
    "No backup was made, as the log is damaged: {fault} Stop the service, then restore the newest "
    "backup with `axlewright restore FOLDER`."
)
NOT_PUT_BACK = (
    "{backup} is not an intact copy of a shop log: {fault} Nothing was changed: use another backup."
)


class Unsound(Exception):
    """What is wrong with a log that was copied, as a sentence."""


def back_up(log: Store, target: Path) -> None:
    """Copy an open log into one file; it takes its name only when it is whole and on the disk."""
    with growing(target) as part:
        try:
            with log.reading() as db:
                copy_whole(db, part)
        except Unsound as error:
            raise BadBackup(NOT_COPIED.format(fault=error)) from error


def back_up_folder(folder: Path, target: Path) -> int:
    """The same for the log in a folder, also while the service runs; how many entries it holds."""
    with growing(target) as part:
        try:
            with look_into(folder) as db:
                return copy_whole(db, part)
        except Unsound as error:
            raise BadBackup(NOT_COPIED.format(fault=error)) from error


def restore(backup: Path, folder: Path) -> int:
    """Make a backup the log of a folder, under a new epoch, which is returned.

    Photos beside the backup come along, and what was there is kept beside it. A cut at any moment
    leaves the log before or the new one, whole. Raises BadBackup for a file that is no sound log,
    LogTooNew for one that this version cannot read, and LogInUse while the service runs.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with closing(FolderLock(folder)), growing(folder / FILE) as part:
        take_from(backup, part)
        epoch = start_new_epoch(part, folder)
        copy_photos(backup.parent, folder)
        set_aside(folder, epoch)
    return epoch


def take_from(backup: Path, part: Path) -> None:
    """Copy a backup; BadBackup or LogTooNew unless it is a sound log that this version can read."""
    if not backup.is_file():
        raise BadBackup(f"There is no backup at {backup}.")
    try:
        with in_our_words(backup), opened(backup, part) as db:
            must_be_ours(db, backup)
            copy_whole(db, part)
    except LogTooNew as error:
        raise LogTooNew(NEWER) from error
    except (LogDamaged, Unsound) as error:
        fault = error if isinstance(error, Unsound) else f"{error.__cause__ or 'it holds none'}."
        raise BadBackup(NOT_PUT_BACK.format(backup=backup, fault=fault)) from error


@contextmanager
def opened(backup: Path, part: Path) -> Iterator[sqlite3.Connection]:
    """A backup to be read, with whatever SQLite still kept beside it; nothing is written there.

    Where it is more than one file it is read from a copy, for which there is room beside `part`.
    LogInUse where a service still writes to it.
    """
    besides = [backup.with_name(f"{backup.name}{ending}") for ending in LINES_BESIDE]
    lying = [path for path in besides if path.is_file() and path.stat().st_size]
    if not lying:
        # Where it lies, perhaps nothing can be written.
        read_only = f"{backup.resolve().as_uri()}?mode=ro&immutable=1"
        with closing(sqlite3.connect(read_only, uri=True)) as db:
            yield db
        return
    with nobody_writes(backup.parent, part.parent), scratch_beside(part) as scratch:
        for path in [backup, *lying]:
            copy_whole_file(path, scratch / path.name)
        with closing(connect(scratch / backup.name, "rw", PATIENCE)) as db:
            yield db


@contextmanager
def scratch_beside(part: Path) -> Iterator[Path]:
    """A folder that is gone when the block ends, and so is one that an earlier cut left."""
    scratch = part.with_name(f"{part.name}.copied")
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir()
    try:
        yield scratch
    finally:
        shutil.rmtree(scratch, ignore_errors=True)


@contextmanager
def nobody_writes(place: Path, held: Path) -> Iterator[None]:
    """Keep a service away from a folder while its log is copied file by file.

    `held` is the folder that this process has already. Raises LogInUse where a service runs.
    """
    mark = place / LOCK
    with ExitStack() as stack:
        if mark.exists() and os.access(mark, os.W_OK) and not place.samefile(held):
            stack.enter_context(closing(FolderLock(place)))
        yield


def copy_whole(db: sqlite3.Connection, part: Path) -> int:
    """Copy an open log into a file of its own; how many entries it holds. Unsound if damaged."""
    try:
        [lines] = db.execute("SELECT count(*) FROM entries").fetchone()
        with in_our_words(part), closing(connect(part, "rwc", busy_seconds=PATIENCE)) as copy:
            db.backup(copy)
            # A single file, complete without a write-ahead log beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
            faults = chain.faults(copy)
            [copied] = copy.execute("SELECT count(*) FROM entries").fetchone()
    except LogDamaged as error:
        raise Unsound(f"{error.__cause__}.") from error
    if faults or copied != lines:
        raise Unsound(faults[0] if faults else f"{copied} of {lines} entries were copied.")
    return int(lines)


def start_new_epoch(part: Path, folder: Path) -> int:
    """Give a copy an epoch above every one that can be known of, and return it.

    Most steps up are large and no two alike, so that a backup put back twice, on two computers and
    with a clock that stands, is noticed both times.
    """
    with in_our_words(part), closing(connect(part, "rw", busy_seconds=PATIENCE)) as copy:
        epoch = epoch_above([*epochs_in(copy), *epochs_of_present(folder)], folder)
        keep_newer_key(copy, folder)
        copy.execute("UPDATE facts SET value = ? WHERE name = 'epoch'", [str(epoch)])
        copy.execute("INSERT OR REPLACE INTO facts VALUES (?, ?)", [RESTORED, str(epoch)])
        forked_log.forget(copy)
        end_sessions(copy)
    return epoch


def epoch_above(known: Iterable[int], folder: Path) -> int:
    """An epoch above these, the clock, and every log that was kept in a folder; no two alike."""
    before = [int(path.stem.removeprefix(BEFORE)) for path in kept_before(folder)]
    return max(int(time.time()), *known, *before) + 1 + secrets.randbelow(MAX_STEP)


def keep_newer_key(copy: sqlite3.Connection, folder: Path) -> None:
    """Seal on with the key of the log that is there now, where that was changed since the copy."""
    with suppress(LogError), look_into(folder) as db:
        now, then = key_facts(db), key_facts(copy)
        changed = int(now.get(KEY_SINCE, 0)) > int(then.get(KEY_SINCE, 0))
        if changed and now["server_id"] == then["server_id"]:
            rows = [(name, now[name]) for name in (SEAL_KEY, KEY_SINCE)]
            copy.executemany("INSERT OR REPLACE INTO facts VALUES (?, ?)", rows)


def key_facts(db: sqlite3.Connection) -> dict[str, str]:
    """Whose log this is, the key that it seals with, and since which epoch."""
    return dict(map(tuple, db.execute(KEY_FACTS)))


def end_sessions(db: sqlite3.Connection) -> None:
    """End every session in a copy: since it was made, people may have signed out of some."""
    if "sessions" in tables_of(db):
        db.execute("DELETE FROM sessions")


def epochs_in(db: sqlite3.Connection) -> list[int]:
    """The epochs that a log knows of: its own, and any later one that a phone reported."""
    return [int(row[0]) for row in db.execute(EPOCHS)]


def epochs_of_present(folder: Path) -> list[int]:
    """The same of the log that is there now; none where it cannot be read, or there is none."""
    try:
        with look_into(folder) as db:
            return epochs_in(db)
    except LogError:
        return []


def extent(backup: Path) -> tuple[float, float]:
    """How far a backup goes: its epoch and its number of lines.

    One that cannot be read goes furthest, so that whoever takes the fullest is told of it.
    """
    read_only = f"{backup.resolve().as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(read_only, uri=True)) as db:
            [lines] = db.execute("SELECT count(*) FROM entries").fetchone()
            return max(epochs_in(db)), lines
    except sqlite3.Error:
        return math.inf, math.inf


def kept_before(folder: Path) -> list[Path]:
    """The logs that earlier restores kept beside the one in use."""
    found = folder.glob(f"{BEFORE}*.db")
    return [path for path in found if path.stem.removeprefix(BEFORE).isdecimal()]


def set_aside(folder: Path, epoch: int) -> None:
    """Copy the present log to `before-<epoch>.db`, a name not taken, and leave nothing beside it.

    A write-ahead log that stayed would be applied to the log that takes its place.
    """
    if (folder / FILE).exists():
        gather(folder / FILE)
    for ending in ("", *BESIDE):
        present = folder / f"{FILE}{ending}"
        if present.exists():
            copy_whole_file(present, folder / f"{BEFORE}{epoch}.db{ending}")
    # Of a log that could be read there is nothing left beside its one file.
    for ending in BESIDE:
        (folder / f"{FILE}{ending}").unlink(missing_ok=True)
    flush_folder(folder)


def gather(present: Path) -> None:
    """Bring the write-ahead log of a log into its one file; a damaged log stays as it is."""
    with (
        suppress(LogDamaged),
        in_our_words(present),
        closing(connect(present, "rw", busy_seconds=PATIENCE)) as db,
    ):
        db.execute("PRAGMA journal_mode = DELETE")
