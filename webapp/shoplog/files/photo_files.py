"""The files of photos in a data folder.

A file is named by the SHA-256 of what the phone sent, which entries name the photo by, and by that
of what is kept, `<sent>.<kept>.jpg`. One from before photos were drawn anew is `<sent>.jpg`.
"""

import hashlib
import re
from collections.abc import Iterator
from pathlib import Path

from webapp.shoplog.files.atomic import copy_whole_file, hash_file

PHOTOS = "photos"
HASH = re.compile(r"[0-9a-f]{64}")
STEM = re.compile(r"([0-9a-f]{64})(?:\.([0-9a-f]{64}))?")


def photo_files(folder: Path) -> dict[str, Path]:
    """Every photo's file under `folder`/photos by the hash it was sent under, wherever it lies."""
    found = sorted((folder / PHOTOS).rglob("*"))
    named = ((STEM.fullmatch(path.stem), path) for path in found)
    return {name[1]: path for name, path in named if name and path.is_file()}


def sent_and_kept(stem: str) -> tuple[str, str] | None:
    """The hashes of what was sent and of what is kept, from the stem of a file; None for others."""
    found = STEM.fullmatch(stem)
    return None if found is None else (found[1], found[2] or found[1])


def is_whole(path: Path) -> bool:
    """Whether a photo's file holds what its name says."""
    named = sent_and_kept(path.stem)
    return named is not None and hash_file(path) == named[1]


def photo_faults(folder: Path) -> Iterator[str]:
    """A sentence for each photo whose file is not what was stored."""
    for path in photo_files(folder).values():
        if not is_whole(path):
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
