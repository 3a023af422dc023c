"""What is made of a picture from a phone: it is decoded in another process (`picture_process`)."""

import logging
import subprocess
import sys
from pathlib import Path

from webapp.shoplog.files.jpeg_header import START_OF_SCAN

PATIENCE = 30.0
# An app's picture is one scan, or some few where it grows sharp by degrees.
MAX_SCANS = 20
PROGRAM = Path(__file__).with_name("picture_process.py")

log = logging.getLogger("axlewright")


class NoPicture(Exception):
    """It is no JPEG that can be decoded, or larger than it may be."""


def from_picture(task: str, body: bytes, most_pixels: int, patience: float | None = None) -> bytes:
    """What a task of `picture_process` makes of a JPEG at most so many pixels wide and high.

    `patience` is how many seconds it may take, where that is not PATIENCE. Raises NoPicture.
    """
    # Each scan goes over the whole picture: thousands of them are there to take time.
    if body.count(START_OF_SCAN) > MAX_SCANS:
        raise NoPicture
    command = [sys.executable, "-I", str(PROGRAM), task, str(most_pixels)]
    try:
        done = subprocess.run(
            command, input=body, capture_output=True, timeout=patience or PATIENCE
        )
    except subprocess.TimeoutExpired as error:
        raise NoPicture from error
    if done.returncode != 0:
        if done.stderr:
            log.error("A picture was not decoded: %s", done.stderr.decode("utf-8", "replace"))
        raise NoPicture
    return done.stdout
