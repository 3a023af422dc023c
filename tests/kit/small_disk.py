"""A disk of its own for one process, so small that it fills up at once."""

import shutil
import subprocess
from pathlib import Path

TESTS = Path(__file__).parents[1]
# A disk of its own for one process and whoever it starts, gone with them.
SMALL_DISK = ["unshare", "--user", "--map-root-user", "--mount", "sh", "-euc"]


def small_disks() -> bool:
    """Whether this machine lets a test have a small disk of its own."""
    if shutil.which("unshare") is None:
        return False
    tried = subprocess.run([*SMALL_DISK, "mount -t tmpfs small /mnt"], capture_output=True)
    return tried.returncode == 0
