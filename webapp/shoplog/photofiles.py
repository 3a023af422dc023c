"""The files of photos in a data folder: each is named by the SHA-256 of what is in it."""

import hashlib
import os
import re
from collections.abc import Iterator
from pathlib import Path

PHOTOS = "photos"
HASH = re.compile(r"[0-9a-f]{64}")
PIECE = 1024 * 1024


def photo_files(folder: Path) -> dict[str, Path]:
    """Every photo's file under `folder`/photos by its hash, wherever below it lies."""
    found = sorted((folder / PHOTOS).rglob("*"))
    return {path.stem: path for path in found if HASH.fullmatch(path.stem) and path.is_file()}


def hash_of_file(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while piece := file.read(PIECE):
            digest.update(piece)
    return digest.hexdigest()


def photo_faults(folder: Path) -> Iterator[str]:
    """A sentence for each photo whose file is not what was stored."""
    for name, path in photo_files(folder).items():
        if hash_of_file(path) != name:
            yield f"The photo {path.name} was changed after it was stored."


def copy_photos(source: Path, target: Path) -> int:
    """Copy the photos that `target` lacks, each whole or not at all; how many were copied."""
    there = photo_files(target)
    lacking = [path for name, path in photo_files(source).items() if name not in there]
    for path in lacking:
        copy_whole_file(path, target / path.relative_to(source))
    return len(lacking)


def copy_whole_file(source: Path, target: Path) -> None:
    """Copy a file so that it takes its name only when it is whole and on the disk.

    Raises OSError when what was written does not read back as what was copied.
    """
    with source.open("rb") as taken:
        put_pieces(iter(lambda: taken.read(PIECE), b""), target)


def put_whole(body: bytes, target: Path) -> None:
    """Write a file in the same way."""
    put_pieces(iter([body]), target)


def put_pieces(pieces: Iterator[bytes], target: Path) -> None:
    """Write a file piece by piece, read it again, and only then give it its name."""
    target.parent.mkdir(parents=True, exist_ok=True)
    part = target.with_name(f"{target.name}.part")
    digest = hashlib.sha256()
    with part.open("wb") as given:
        for piece in pieces:
            digest.update(piece)
            given.write(piece)
        given.flush()
        os.fsync(given.fileno())
    if hash_of_file(part) != digest.hexdigest():
        part.unlink()
        raise OSError(f"{target.parent} does not give back what was written to it.")
    part.replace(target)


def hash_of(body: bytes) -> str:
    """The SHA-256 of a body in hexadecimal."""
    return hashlib.sha256(body).hexdigest()
