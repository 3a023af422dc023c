"""One process at a time may write in a folder."""

import sys
from pathlib import Path

from webapp.shoplog.errors import LogInUse

LOCK = "shop.lock"

if sys.platform == "win32":
    import msvcrt

    def _hold(number: int) -> None:
        msvcrt.locking(number, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _hold(number: int) -> None:
        fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)


class FolderLock:
    """Holds a folder for this process until released, or until the process ends."""

    def __init__(self, folder: Path) -> None:
        """Take the folder, or raise LogInUse when another log has it."""
        self._file = (folder / LOCK).open("ab")
        try:
            _hold(self._file.fileno())
        except OSError as error:
            self._file.close()
            raise LogInUse(
                f"Axlewright is already running on {folder}. "
                "Close it there first, or use another folder for this one."
            ) from error

    def close(self) -> None:
        """Give the folder back."""
        self._file.close()
