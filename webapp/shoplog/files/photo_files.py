"""The files of photos in a data folder: each is named by the SHA-256 of what is in it."""

import hashlib
import re
from collections.abc import Iterator
from pathlib import Path

from webapp.shoplog.files.atomic import copy_whole_file, hash_file

PHOTOS = "photos"
HASH = re.compile(r"[0-9a-f]{64}")


def photo_files(folder: Path) -> dict[str, Path]:
    """Every photo's file under `folder`/photos by its hash, wherever below it lies."""
    found = sorted((folder / PHOTOS).rglob("*"))
    return {path.stem: path for path in found if HASH.fullmatch(path.stem) and path.is_file()}


def photo_faults(folder: Path) -> Iterator[str]:
    """A sentence for each photo whose file is not what was stored."""
    for name, path in photo_files(folder).items():
        if hash_file(path) != name:
            yield f"The photo {path.name} was changed after it was stored."


def copy_photos(source: Path, target: Path) -> int:
    """Copy the photos that `target` lacks, each whole or not at all; how many were copied."""
    there = photo_files(target)
    lacking = [path for name, path in photo_files(source).items() if name not in there]
    for path in lacking:
        copy_whole_file(path, target / path.relative_to(source))
    return len(lacking)


def hash_bytes(body: bytes) -> str:
    """The SHA-256 of a body in hexadecimal."""
    return hashlib.sha256(body).hexdigest()
