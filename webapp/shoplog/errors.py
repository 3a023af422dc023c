"""What can go wrong with the log, each with a sentence for the person at the screen.

    LogError
      LogBusy      somebody else is writing; nothing was kept, try again
      LogFull      the disk is full; nothing was kept
      LogInUse     another process has this folder open
      LogTooNew    a later Axlewright wrote this log
      LogDamaged   the file of the log cannot be read as one
      LogShut      the file of the log cannot be opened, read or written
      NotFound     there is no such vehicle, job, entry, person, phone or pairing
      OtherPerson  the pairing code is for somebody else; it stays good
      BadBackup    the file is not a whole backup of a log

An entry that cannot be taken is no exception: its answer is `refused`, with the reason.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class LogError(Exception):
    """Something about the log, said in one sentence."""


class LogBusy(LogError):
    """The log is being written to by somebody else; nothing was kept."""


class LogFull(LogError):
    """The disk is full; nothing was kept."""


class LogInUse(LogError):
    """Another process has this folder open."""


class LogTooNew(LogError):
    """A later Axlewright wrote this log; nothing was changed."""


class LogDamaged(LogError):
    """The file of the log cannot be read as one."""


class LogShut(LogError):
    """The file of the log cannot be opened, read or written."""


class NotFound(LogError):
    """There is no such thing in the log."""


class OtherPerson(LogError):
    """The pairing code is for somebody else, and stays good."""


class BadBackup(LogError):
    """The file is not a whole backup of a log."""


BUSY = "The shop log is busy. Nothing was lost; try again in a few seconds."
FULL = "The shop PC's disk is full. Nothing was stored; free some space and try again."
FULL_THERE = "The disk with {folder} is full: free some space, then try again."
DAMAGED = (
    "{place} is damaged ({fault}): stop the service, then restore the newest backup with "
    "`axlewright restore FOLDER`."
)
SHUT = (
    "{place} cannot be opened or written ({fault}): start as the owner of its folder, or choose "
    "another folder."
)
FAULTY = "The disk with {place} has read or write errors ({fault}): check that disk."
TOO_NEW = (
    "A newer version of Axlewright wrote this log. Nothing was changed: "
    "install that version or a newer one on this computer, then start again."
)

# A full disk can also show while the WAL's index file is being grown, under a code of its own.
FULL_CODES = {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_SHMSIZE}
BUSY_CODES = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
DAMAGE_CODES = {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_FORMAT}
SHUT_CODES = {sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_READONLY}


@contextmanager
def in_our_words(place: Path | None = None) -> Iterator[None]:
    """What SQLite says of the log's file comes out as a LogError; its other errors as they are.

    The sentence names `place`, the file that is read or written, where one is given.
    """
    try:
        yield
    except sqlite3.DatabaseError as error:
        found = in_a_sentence(error, place)
        if found is None:
            raise
        raise found from error


def in_a_sentence(error: sqlite3.DatabaseError, place: Path | None) -> LogError | None:
    """The LogError for what SQLite says, or None where no disk and no file is to blame."""
    code = getattr(error, "sqlite_errorcode", 0)
    if code in FULL_CODES:
        return LogFull(FULL if place is None else FULL_THERE.format(folder=place.parent))
    about = {"place": place or "The shop log", "fault": error}
    match code & 0xFF:
        case primary if primary in BUSY_CODES:
            return LogBusy(BUSY)
        case primary if primary in DAMAGE_CODES:
            return LogDamaged(DAMAGED.format(**about))
        case primary if primary in SHUT_CODES:
            return LogShut(SHUT.format(**about))
        case sqlite3.SQLITE_IOERR:
            return LogShut(FAULTY.format(**{**about, "place": place or "the shop log"}))
    return None
