"""Medians, and the machine that they were taken on."""

import os
import platform
import sqlite3
import statistics
import time
from collections.abc import Callable
from pathlib import Path


def ms(work: Callable[[], object]) -> float:
    """How long the work takes once, in ms."""
    begun = time.perf_counter()
    work()
    return (time.perf_counter() - begun) * 1000


def side_by_side(works: dict[str, Callable[[], object]], runs: int) -> dict[str, float]:
    """The median of each in ms, taken in turns, so that a busy moment falls on all of them."""
    for work in works.values():
        work()
    taken: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(runs):
        for name, work in works.items():
            taken[name].append(ms(work))
    return {name: statistics.median(each) for name, each in taken.items()}


def machine() -> str:
    """Processor, memory, system and versions, in one line; no name of the computer."""
    cores = f"{os.cpu_count()} cores"
    return ", ".join(
        [
            f"{processor()} ({cores})",
            f"{memory_gb():.0f} GB of memory",
            f"{platform.system()} {platform.release().split('-')[0]}",
            f"Python {platform.python_version()}",
            f"SQLite {sqlite3.sqlite_version}",
        ]
    )


def processor() -> str:
    """What the processor calls itself."""
    about = Path("/proc/cpuinfo")
    lines = about.read_text().splitlines() if about.exists() else []
    named = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    return named[0] if named else platform.machine()


def memory_gb() -> float:
    """The memory of the computer, in GB; 0 where the system does not say."""
    about = Path("/proc/meminfo")
    return int(about.read_text().split()[1]) / 1e6 if about.exists() else 0.0


def peak_mb(process: int) -> float:
    """The most memory that a process held, in MB (Linux: VmHWM)."""
    for line in Path(f"/proc/{process}/status").read_text().splitlines():
        if line.startswith("VmHWM"):
            return int(line.split()[1]) / 1000
    return 0.0
