"""Atomic writes: a file gets its name once all of it is on the disk."""

import errno
import hashlib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

PIECE = 1024 * 1024
# What SQLite keeps beside a database, and applies to whatever file has the database's name.
BESIDE = ("-wal", "-shm", "-journal")


@contextmanager
def growing(target: Path) -> Iterator[Path]:
    """Where a file grows: it takes its name as the block ends; when that fails, nothing is left."""
    part = target.with_name(f"{target.name}.part")
    try:
        let_go(part)
        yield part
        put_in_place(part, target)
    except BaseException as error:
        with suppress(OSError):
            let_go(part)
        if isinstance(error, OSError) and error.filename in {None, str(part)}:
            # A write that fails does not say by itself which file it was for.
            error.filename = str(target if os.path.isdir(target.parent) else target.parent)
        raise


def let_go(path: Path) -> None:
    """Take a file away, and what SQLite kept beside it, as far as it is there."""
    for ending in ("", *BESIDE):
        path.with_name(f"{path.name}{ending}").unlink(missing_ok=True)


def put_in_place(part: Path, target: Path) -> None:
    """Flush a finished file to the disk and give it its name."""
    with part.open("r+b") as file:
        os.fsync(file.fileno())
    part.replace(target)
    flush_folder(target.parent)


def flush_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk; Windows does so by itself."""
    if sys.platform != "win32":
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def hash_file(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while piece := file.read(PIECE):
            digest.update(piece)
    return digest.hexdigest()


def copy_whole_file(source: Path, target: Path) -> None:
    """Copy a file. Raises OSError when it does not read back as what was copied."""
    with source.open("rb") as taken:
        put_pieces(iter(lambda: taken.read(PIECE), b""), target)


def put_whole(body: bytes, target: Path) -> None:
    """Write a file in the same way."""
    put_pieces(iter([body]), target)


def put_pieces(pieces: Iterator[bytes], target: Path) -> None:
    """Write a file piece by piece, read it again, and only then give it its name."""
    target.parent.mkdir(parents=True, exist_ok=True)
    digest = hashlib.sha256()
    with growing(target) as part:
        with part.open("wb") as given:
            for piece in pieces:
                digest.update(piece)
                given.write(piece)
        if hash_file(part) != digest.hexdigest():
            raise OSError(errno.EIO, "it does not give back what was written", str(target))
