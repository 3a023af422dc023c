"""The builds of the app that phones may still have open: this one, and the one before it.

A page goes on fetching files of the build under which it was opened, also after the service was
updated and started again. So each build's files are kept in the data folder, the last two of them.
"""

import logging
import zipfile
from functools import cache
from pathlib import Path

from webapp.phone.shell_files import Asset, Shell, asset

KEPT = 2

log = logging.getLogger("axlewright.phone")


class Builds:
    """The builds kept in one folder, as files `000002-<build>.zip`, the newest last."""

    def __init__(self, folder: Path) -> None:
        """Look after the builds in `folder`, which need not be there yet."""
        self.folder = folder

    def keep(self, shell: Shell) -> None:
        """Keep this shell as the newest build, and let go of all but the one before it.

        A disk that is full is no reason for the service not to start.
        """
        found = self.files()
        if found and build_of(found[-1]) == shell.build:
            return
        number = int(found[-1].name.partition("-")[0]) + 1 if found else 1
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            write(self.folder / f"{number:06}-{shell.build}.zip", shell.files)
            others = [path for path in self.files() if build_of(path) != shell.build]
            for path in others[: -(KEPT - 1)]:
                path.unlink()
        except OSError as error:
            log.error("This build of the app is not kept for later: %s", error)

    def files(self) -> list[Path]:
        """The builds' files, the oldest first."""
        return sorted(self.folder.glob("[0-9]*-*.zip"))

    def assets(self, build: str) -> dict[str, Asset]:
        """The files of a build that is kept, by name; none when it is not."""
        kept = [path for path in self.files() if build_of(path) == build]
        return read(kept[-1]) if kept else {}


def build_of(path: Path) -> str:
    """The build whose files a kept file holds."""
    return path.stem.partition("-")[2]


def write(target: Path, files: dict[str, bytes]) -> None:
    """Write a build's files, which take their name only when all are there."""
    part = target.with_suffix(".part")
    with zipfile.ZipFile(part, "w") as packed:
        for name, body in files.items():
            packed.writestr(zipfile.ZipInfo(name), body)
    part.replace(target)


@cache
def read(path: Path) -> dict[str, Asset]:
    """The files of a kept build, ready to be sent; what is damaged is not there."""
    try:
        with zipfile.ZipFile(path) as packed:
            return {name: asset(name, packed.read(name)) for name in packed.namelist()}
    except (OSError, zipfile.BadZipFile):
        return {}
