"""Room set aside on the shop PC's disk, to be given up by hand once the disk is full.

On a full disk nothing can be stored, and often nothing can be tidied either. Deleting this one file
lets the shop go on while somebody frees more.
"""

import logging
import os
import shutil
from pathlib import Path

NAME = "delete-me-when-the-disk-is-full"
MEGABYTE = 1024**2
MEGABYTES = 16
# With less than this the disk is called nearly full, and no room is taken from it.
LEAST_FREE = 1024**3

log = logging.getLogger("axlewright")


def set_aside(folder: Path) -> None:
    """Put the reserve into `folder` unless it is there; a disk without much room is left alone."""
    reserve = folder / NAME
    if reserve.exists() or shutil.disk_usage(folder).free < LEAST_FREE:
        return
    part = reserve.with_suffix(".part")
    try:
        with part.open("wb") as file:
            for _ in range(MEGABYTES):
                # Zeros would take no room where the disk compresses.
                file.write(os.urandom(MEGABYTE))
        part.replace(reserve)
    except OSError as error:
        part.unlink(missing_ok=True)
        log.error("No room was set aside in %s: %s", folder, error)


def way_out(folder: Path) -> str | None:
    """What to do at the shop PC once its disk is full; None when the reserve was used already."""
    if not (folder / NAME).exists():
        return None
    return (
        f"Once it is full, delete the file {NAME} in the data folder: that frees {MEGABYTES} MB "
        "right away."
    )
