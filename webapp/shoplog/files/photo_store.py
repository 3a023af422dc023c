"""Photos in the data folder: one file each, under the hash of what was sent, drawn anew.

What a phone sends is decoded and written anew before it is kept, in a process of its own: nothing
that hides in the file comes along, and a picture that harms its decoder harms nobody else.
"""

import errno
import hashlib
import os
import threading
import uuid
from pathlib import Path

from webapp.reckon.photo_bounds import MOST_BYTES, MOST_PIXELS
from webapp.shoplog.errors import FULL, LogError, LogFull, NotFound
from webapp.shoplog.files.atomic import put_in_place
from webapp.shoplog.files.jpeg_header import BadJpeg, size_of
from webapp.shoplog.files.photo_files import HASH, PHOTOS, hash_bytes, is_whole
from webapp.shoplog.files.pictures import NoPicture, from_picture

DRAWN_AT_ONCE = 2
FULL_CODES = {errno.ENOSPC, errno.EDQUOT}

OTHER = "The photo does not match the hash it was sent with: it was changed on the way."
TOO_LARGE = "The photo is larger than 3 MB. The app makes photos smaller: take it again."
TOO_WIDE = f"The photo is more than {MOST_PIXELS} pixels wide or high: take it again in the app."
NO_PICTURE = "The photo is damaged, or is no picture: take it again in the app."


class BadPhoto(LogError):
    """The photo cannot be kept; the message says why and what to do."""


class Photos:
    """The photos of one shop."""

    def __init__(self, folder: Path) -> None:
        """Those in this data folder."""
        self.folder = folder / PHOTOS
        self.turn = threading.BoundedSemaphore(DRAWN_AT_ONCE)

    def keep(self, name: str, body: bytes) -> None:
        """Keep a photo under its hash; it is on the disk when this returns. BadPhoto or LogFull."""
        must_be_a_photo(name, body)
        there = self.files(name)
        if any(map(is_whole, there)):
            return
        with self.turn:
            drawn = draw_anew(body)
        try:
            self.write(self.folder / f"{name}.{hash_bytes(drawn)}.jpg", drawn)
        except OSError as error:
            if error.errno in FULL_CODES:
                raise LogFull(FULL) from error
            raise

    def write(self, target: Path, body: bytes) -> None:
        """Write the file whole or not at all; two phones may send the same photo at once."""
        self.folder.mkdir(exist_ok=True)
        part = target.with_suffix(f".{uuid.uuid4().hex}.part")
        try:
            part.write_bytes(body)
            put_in_place(part, target)
        finally:
            part.unlink(missing_ok=True)

    def path(self, name: str) -> Path:
        """The file of a photo, or NotFound."""
        found = self.files(name) if HASH.fullmatch(name) else []
        if not found:
            raise NotFound("This photo is not at the shop yet.")
        return found[-1]

    def files(self, name: str) -> list[Path]:
        """The files of a photo: one, unless one that is not whole lies beside it."""
        found = [self.folder / f"{name}.jpg", *sorted(self.folder.glob(f"{name}.*.jpg"))]
        return [path for path in found if path.is_file()]

    def tidy(self) -> None:
        """Take away what was being written when the service was last cut off."""
        for part in self.folder.glob("*.part"):
            os.unlink(part)


def draw_anew(body: bytes) -> bytes:
    """The picture in a new file. Raises BadPhoto where it cannot be decoded."""
    try:
        return from_picture("redraw", body, MOST_PIXELS)
    except NoPicture as error:
        raise BadPhoto(NO_PICTURE) from error


def must_be_a_photo(name: str, body: bytes) -> None:
    """Raise BadPhoto unless this is a small enough JPEG with this hash."""
    if len(body) > MOST_BYTES:
        raise BadPhoto(TOO_LARGE)
    if hashlib.sha256(body).hexdigest() != name:
        raise BadPhoto(OTHER)
    try:
        width, height = size_of(body)
    except BadJpeg as error:
        raise BadPhoto(f"The photo {error}: take it again in the app.") from error
    if max(width, height) > MOST_PIXELS:
        raise BadPhoto(TOO_WIDE)
