"""Growth curves: the same questions of a log of 10³ to 10⁶ entries, its start-up, backup, check."""

import subprocess
import sys
import tempfile
from pathlib import Path

import long_log
from figures import ms
from shop_bench import running

from webapp.shoplog.backup import back_up_folder
from webapp.shoplog.checkup import check_all

START_UP = """
import sys, time
from webapp import create_app
begun = time.perf_counter()
create_app({"DATA": sys.argv[1]}).extensions["shoplog"].close()
print((time.perf_counter() - begun) * 1000)
"""

Figures = dict[str, float]


def curves(folder: Path, sizes: list[int], runs: int) -> dict[int, Figures]:
    """For each size the median of every question in ms, and `memory` of the service in MB."""
    long_log.begin(folder, min(sizes))
    found = {}
    for size in sizes:
        print(f"  {long_log.extend(folder, size):,} entries", file=sys.stderr, flush=True)
        found[size] = at_this_length(folder, runs)
    return found


def at_this_length(folder: Path, runs: int) -> Figures:
    """Every figure of the log as it stands in the folder."""
    start = sorted(start_up(folder) for _ in range(3))[1]
    with running(folder) as shop:
        asked = shop.medians(runs)
        asked["memory"] = shop.memory_mb
    with tempfile.TemporaryDirectory(dir=folder) as place:
        kept = ms(lambda: back_up_folder(folder, Path(place) / "copy.db"))
    faults: list[str] = []
    checked = ms(lambda: faults.extend(check_all(folder)))
    assert not faults, faults[:3]
    return {**asked, "start-up": start, "backup": kept, "check": checked}


def start_up(folder: Path) -> float:
    """How long a fresh process takes from nothing opened to a service that could answer, in ms."""
    command = [sys.executable, "-c", START_UP, str(folder)]
    return float(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
