"""What can go wrong with the log, each with a sentence for the person at the screen.

    LogError
      LogBusy      somebody else is writing; nothing was kept, try again
      LogFull      the disk is full; nothing was kept
      LogInUse     another process has this folder open
      LogTooNew    a later Axlewright wrote this log
      NotFound     there is no such vehicle, job, entry, person, phone or pairing
      OtherPerson  the pairing code is for somebody else; it stays good
      BadBackup    the file is not a whole backup of a log

An entry that cannot be taken is no exception: its answer is `refused`, with the reason.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager


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


class NotFound(LogError):
    """There is no such thing in the log."""


class OtherPerson(LogError):
    """The pairing code is for somebody else, and stays good."""


class BadBackup(LogError):
    """The file is not a whole backup of a log."""


BUSY = "The shop log is busy. Nothing was lost; try again in a few seconds."
FULL = "The shop PC's disk is full. Nothing was stored; free some space and try again."

# A full disk can also show while the WAL's index file is being grown, under a code of its own.
FULL_CODES = {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_SHMSIZE}
BUSY_CODES = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}


@contextmanager
def in_our_words() -> Iterator[None]:
    """SQLite's "busy" and "full" come out as LogBusy and LogFull; other errors as they are."""
    try:
        yield
    except sqlite3.OperationalError as error:
        code = getattr(error, "sqlite_errorcode", 0)
        if code & 0xFF in BUSY_CODES:
            raise LogBusy(BUSY) from error
        if code in FULL_CODES:
            raise LogFull(FULL) from error
        raise
