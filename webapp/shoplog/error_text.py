"""What went wrong with the log or its disk, as one sentence that says what to do."""

import errno
import sqlite3
from pathlib import Path

from webapp.shoplog.connection import FILE
from webapp.shoplog.errors import DAMAGED, FULL_THERE, LogError, LogFull
from webapp.shoplog.files import disk_reserve

# What a log and its disk can fail with.
FAILURES = (LogError, OSError, sqlite3.DatabaseError)
NO_RIGHT = {errno.EACCES, errno.EPERM, errno.EROFS}
NO_ROOM = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
RIGHTS = "No permission to read or write {place}: start as its owner, or choose another folder."
SAYS = {
    **dict.fromkeys(NO_RIGHT, RIGHTS),
    errno.ENOENT: "{place} does not exist: create it first, or choose another.",
    errno.ENOTDIR: "{place} leads through a file: choose another folder, or move the file away.",
    errno.EEXIST: "{place} is not a folder: choose another, or move away what is there.",
    errno.EISDIR: "{place} is a folder where a file is needed: choose another, or move it away.",
}
OTHERWISE = "{place} cannot be read or written ({fault}): choose another, or check its disk."


def plainly(error: Exception, folder: Path) -> str:
    """The sentence; `folder` is the data folder, named where the error names no place itself."""
    if isinstance(error, LogFull):
        return with_way_out(str(error), folder)
    if isinstance(error, LogError):
        return str(error)
    if isinstance(error, sqlite3.DatabaseError):
        return DAMAGED.format(place=folder / FILE, fault=error)
    if not isinstance(error, OSError):
        return f"Something unexpected went wrong ({error!r}): try again."
    place = Path(error.filename) if isinstance(error.filename, str) else folder
    if error.errno in NO_ROOM:
        full = folder if place == folder else place.parent
        return with_way_out(FULL_THERE.format(folder=full), folder)
    said = SAYS.get(error.errno or 0, OTHERWISE)
    return said.format(place=place, fault=error.strerror or error)


def with_way_out(full: str, folder: Path) -> str:
    """The full-disk sentence, with the quickest way to free space on the data folder's disk."""
    way_out = disk_reserve.way_out(folder) if str(folder) in full else None
    return " ".join(filter(None, [full, way_out]))
