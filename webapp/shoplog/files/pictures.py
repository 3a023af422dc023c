"""What is made of a picture from a phone: it is decoded in another process (`picture_process`)."""

import logging
import subprocess
import sys
from pathlib import Path

PATIENCE = 30.0
PROGRAM = Path(__file__).with_name("picture_process.py")

log = logging.getLogger("axlewright")


class NoPicture(Exception):
    """It is no JPEG that can be decoded, or larger than it may be."""


def from_picture(task: str, body: bytes, most_pixels: int) -> bytes:
    """What a task of `picture_process` makes of a JPEG at most so many pixels wide and high.

    Raises NoPicture.
    """
    command = [sys.executable, "-I", str(PROGRAM), task, str(most_pixels)]
    try:
        done = subprocess.run(command, input=body, capture_output=True, timeout=PATIENCE)
    except subprocess.TimeoutExpired as error:
        raise NoPicture from error
    if done.returncode != 0:
        if done.stderr:
            log.error("A picture was not decoded: %s", done.stderr.decode("utf-8", "replace"))
        raise NoPicture
    return done.stdout
