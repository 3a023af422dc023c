"""What figures are held to: budgets, how far a curve may rise, how far two runs may lie apart."""

import math
import statistics
from typing import Any, NamedTuple

Found = dict[str, Any]

# What needs the whole log grows in step with it; everything else must not notice how long it is.
IN_STEP = ("backup", "check")
# The most that a figure may grow for a log ten times as long: a flat one no more than doubles over
# a thousandfold, one in step with the log may fall a fifth behind it.
FLAT_MOST, IN_STEP_MOST = 1.26, 12.0
# This list shows forty at once, and a shorter log has fewer to show: it is judged where it is full.
FULL_FROM = {"list of vehicles": 10_000}
# What pages are measured against is no page of the shop's.
BASELINE = "an empty Flask view"
# Two runs of one version on one machine lie within this of each other.
NOISE = 1.5


class Budget(NamedTuple):
    """One figure with what it may be at most."""

    what: str
    words: str
    figure: str
    value: float
    met: bool


class Growth(NamedTuple):
    """How one curve rises: for each tenfold length of the log, and what it may at most."""

    name: str
    nature: str
    tenfold: float
    most: float

    @property
    def met(self) -> bool:
        """Whether it rises no more than its nature demands."""
        return self.tenfold <= self.most


def shown(value: float, unit: str) -> str:
    """A figure to three digits; from a second on, times are in seconds."""
    if unit == "ms" and value >= 1000:
        return f"{value / 1000:.3g} s"
    return f"{value:.3g} {unit}"


def budgets(found: Found) -> list[Budget]:
    """Each budget with what was measured of it."""
    phone, push = found["phone"], found["push"]
    sizes = list(found["growth"].values())
    short, long = sizes[0], sizes[-1]
    ratio = push["log"] / push["bare"]
    rows = [
        ("first load, all assets, compressed, without the headers of the answers", "120 kB",
         phone["bytes"] / 1000, 120, "kB"),
        ("reopening offline to a usable screen, processor slowed 4 ×", "500 ms",
         phone["again"]["offline"]["usable"], 500, "ms"),
        ("last digit to answer on screen, processor slowed 4 ×", "50 ms",
         phone["answer"], 50, "ms"),
        ("findings of a full sheet, Python", "5 ms", found["assess"], 5, "ms"),
        ("push of 1,000 entries, beside bare inserts", "4 ×", ratio, 4, "×"),
        *((f"{page}, the longest log beside the shortest", "2 ×", long[page] / short[page], 2, "×")
          for page in ("vehicle page", "pending list")),
        ("memory of the service on the longest log", "200 MB", long["memory"], 200, "MB"),
        *history_rows(found.get("history")),
    ]  # fmt: skip
    return [
        Budget(what, words, shown(value, unit), value, value <= most)
        for what, words, value, most, unit in rows
    ]


def history_rows(history: Found | None) -> list[tuple[str, str, float, float, str]]:
    """What a long history of one vehicle may cost its pages, where that was measured."""
    if history is None:
        return []
    (fewest, few), *_, (most, many) = history.items()
    return [
        (f"{page}, {most} accepted jobs of the vehicle beside {fewest}", "3 ×",
         many[page] / few[page], 3, "×")
        for page in few
    ]  # fmt: skip


def growths(found: Found) -> list[Growth]:
    """How each growth curve rises, by a straight line through it on two logarithmic axes.

    The empty view is left out: it has no log to grow with, and shows how quiet the machine was.
    """
    rises = []
    for name in next(iter(found["growth"].values())):
        if name == BASELINE:
            continue
        curve = [(int(size), at[name]) for size, at in found["growth"].items()]
        nature, most = ("in step", IN_STEP_MOST) if name in IN_STEP else ("flat", FLAT_MOST)
        rises.append(Growth(name, nature, tenfold(curve, FULL_FROM.get(name, 0)), most))
    return rises


def tenfold(curve: list[tuple[int, float]], start: int) -> float:
    """How much a curve rises for each tenfold length; from `start` on where that is enough."""
    full = [point for point in curve if point[0] >= start]
    points = full if len(full) > 1 else curve
    sizes, values = ([math.log10(point[axis]) for point in points] for axis in (0, 1))
    return float(10 ** statistics.linear_regression(sizes, values).slope)


def worse(found: Found, before: Found | None) -> list[str]:
    """A sentence for each figure that lies further above the run before than noise explains.

    Runs on different machines are not compared.
    """
    if before is None or before["machine"] != found["machine"]:
        return []
    then = values_of(before)
    return [
        f"{what}: {value / then[what]:.2f} times the run before."
        for what, value in values_of(found).items()
        if what in then and value > NOISE * then[what]
    ]


def values_of(found: Found) -> dict[str, float]:
    """Each figure that two runs are compared by: the budgets', and the curves' at their ends."""
    size, last = list(found["growth"].items())[-1]
    ends = {
        f"{name}, {int(size):,} entries": value for name, value in last.items() if name != BASELINE
    }
    return {**{each.what: each.value for each in budgets(found)}, **ends}


def state(met: bool) -> str:
    """Whether something is met, as the tables say it."""
    return "met" if met else "**not met**"
