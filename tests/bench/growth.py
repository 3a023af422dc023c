"""Growth curves: the same questions of a log of 10³ to 10⁶ entries, its start-up, backup, check."""

import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from typing import Protocol

import long_log
from figures import ms
from shop_bench import running

from webapp.shoplog.backup import back_up_folder
from webapp.shoplog.full_check import check_all

START_UP = """
import sys, time
from webapp import create_app
begun = time.perf_counter()
create_app({"DATA": sys.argv[1]}).extensions["shoplog"].close()
print((time.perf_counter() - begun) * 1000)
"""

Figures = dict[str, float]


class Plan(Protocol):
    """How long the logs are, and how often a question and a long work are taken."""

    @property
    def sizes(self) -> list[int]: ...

    @property
    def runs(self) -> int: ...

    @property
    def long_runs(self) -> int: ...


def curves(folder: Path, plan: Plan) -> dict[int, Figures]:
    """For each size the median of every question in ms, and `memory` of the service in MB."""
    long_log.begin(folder, min(plan.sizes))
    found = {}
    for size in plan.sizes:
        print(f"  {long_log.extend(folder, size):,} entries", file=sys.stderr, flush=True)
        found[size] = at_this_length(folder, plan.runs, plan.long_runs)
    return found


def at_this_length(folder: Path, runs: int, long_runs: int) -> Figures:
    """Every figure of the log as it stands in the folder, long works taken less often."""
    start = median(start_up(folder) for _ in range(long_runs))
    with running(folder) as shop:
        asked = shop.medians(runs)
        asked["memory"] = shop.memory_mb
    kept = median(ms(lambda: backed_up(folder)) for _ in range(long_runs))
    checked = median(ms(lambda: must_be_sound(folder)) for _ in range(long_runs))
    return {**asked, "start-up": start, "backup": kept, "check": checked}


def backed_up(folder: Path) -> None:
    """Make a backup that goes away again."""
    with tempfile.TemporaryDirectory(dir=folder) as place:
        back_up_folder(folder, Path(place) / "copy.db")


def must_be_sound(folder: Path) -> None:
    """Check the log, and fail where it has a fault."""
    faults = check_all(folder)
    assert not faults, faults[:3]


def start_up(folder: Path) -> float:
    """How long a fresh process takes from nothing opened to a service that could answer, in ms."""
    command = [sys.executable, "-c", START_UP, str(folder)]
    return float(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
