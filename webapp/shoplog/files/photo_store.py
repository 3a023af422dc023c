"""Photos in the data folder: one file each, under the hash of its content, written once."""

import errno
import hashlib
import os
import uuid
from pathlib import Path

from webapp.shoplog.errors import FULL, LogError, LogFull, NotFound
from webapp.shoplog.files.atomic import put_in_place
from webapp.shoplog.files.jpeg import BadJpeg, size_of
from webapp.shoplog.files.photo_files import HASH, PHOTOS

MAX_BYTES = 3 * 1024 * 1024
MAX_PIXELS = 1600
FULL_CODES = {errno.ENOSPC, errno.EDQUOT}

OTHER = "The photo does not match the hash it was sent with: it was changed on the way."
TOO_LARGE = "The photo is larger than 3 MB. The app makes photos smaller: take it again."
TOO_WIDE = f"The photo is more than {MAX_PIXELS} pixels wide or high: take it again in the app."


class BadPhoto(LogError):
    """The photo cannot be kept; the message says why and what to do."""


class Photos:
    """The photos of one shop."""

    def __init__(self, folder: Path) -> None:
        """Those in this data folder."""
        self.folder = folder / PHOTOS

    def keep(self, name: str, body: bytes) -> None:
        """Keep a photo under its hash; it is on the disk when this returns. BadPhoto or LogFull."""
        must_be_a_photo(name, body)
        target = self.folder / f"{name}.jpg"
        if target.exists() and target.stat().st_size == len(body):
            return
        try:
            self.write(target, body)
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
        path = self.folder / f"{name}.jpg"
        if HASH.fullmatch(name) is None or not path.is_file():
            raise NotFound("This photo is not at the shop yet.")
        return path

    def tidy(self) -> None:
        """Take away what was being written when the service was last cut off."""
        for part in self.folder.glob("*.part"):
            os.unlink(part)


def must_be_a_photo(name: str, body: bytes) -> None:
    """Raise BadPhoto unless this is a small enough JPEG with this hash."""
    if len(body) > MAX_BYTES:
        raise BadPhoto(TOO_LARGE)
    if hashlib.sha256(body).hexdigest() != name:
        raise BadPhoto(OTHER)
    try:
        width, height = size_of(body)
    except BadJpeg as error:
        raise BadPhoto(f"The photo {error}: take it again in the app.") from error
    if max(width, height) > MAX_PIXELS:
        raise BadPhoto(TOO_WIDE)
