"""Measures every budget and the growth curves, and writes them into docs/performance.md.

From the root of a checkout in which the tests have run once:
.venv/bin/python tests/bench/run.py
With --quick on small logs, to see that everything runs; then nothing is written.
"""

import argparse
import json
import sys
import tempfile
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(HERE)]

import bench_assess  # noqa: E402
import growth  # noqa: E402
import phone_bench  # noqa: E402
import push_bench  # noqa: E402
from figures import machine  # noqa: E402
from plot import plot  # noqa: E402
from shop_bench import running  # noqa: E402

PAGE = ROOT / "docs" / "performance.md"
PICTURES = ROOT / "docs" / "pictures"
KEPT = HERE / "figures.json"
BEGIN, END = "[//]: # (measured: begin)", "[//]: # (measured: end)"
PHONES = 20


class Plan(NamedTuple):
    """How much is measured."""

    sizes: list[int]
    runs: int
    pushed: int
    outstanding: int


WHOLE = Plan([1_000, 10_000, 100_000, 1_000_000], runs=9, pushed=1_000, outstanding=5_000)
QUICK = Plan([1_000, 2_000], runs=1, pushed=100, outstanding=200)


def main() -> int:
    """Measure, print, and write unless it was the quick run; 1 where a budget is not met."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="small logs, nothing written")
    quick = parser.parse_args().quick
    found = measured(QUICK if quick else WHOLE)
    before = json.loads(KEPT.read_text("utf-8")) if KEPT.exists() else None
    text = section(found, before)
    print(text)
    if not quick:
        write(found, text)
    return 0 if quick or all(met for *_, met in budgets(found)) else 1


def measured(plan: Plan) -> dict[str, Any]:
    """Every figure: times in ms, memory in MB, bytes of the first load."""
    with tempfile.TemporaryDirectory(prefix="axlewright-bench-") as place:
        folder = Path(place)
        say("findings of a full sheet")
        sheet = bench_assess.full_sheet()
        found: dict[str, Any] = {
            "day": date.today().isoformat(),
            "machine": machine(),
            "assess": bench_assess.least_ms(lambda: bench_assess.assess(sheet)),
            "loop": bench_assess.least_ms(bench_assess.loop),
        }
        say("pushes beside bare inserts")
        found["push"] = push_bench.compare(made(folder / "push"), plan.pushed, plan.runs)
        say("the phone in Chromium")
        found["phone"] = phone_bench.measure(made(folder / "phone"), plan.runs)
        say("growth")
        grown = made(folder / "grown")
        found["growth"] = {
            str(size): figures
            for size, figures in growth.curves(grown, plan.sizes, plan.runs).items()
        }
        say("many phones, and one with much to send")
        with running(grown, PHONES) as shop:
            found["at once"] = shop.push_at_once(2)
            found["outstanding"] = shop.push_outstanding(plan.outstanding)
    return found


def made(folder: Path) -> Path:
    """The folder, made."""
    folder.mkdir()
    return folder


def say(what: str) -> None:
    """Tell whoever waits what is measured."""
    print(f"{what} ...", file=sys.stderr, flush=True)


def budgets(found: dict[str, Any]) -> list[tuple[str, str, str, float, bool]]:
    """Each budget: what, the budget in words, what was measured, its number, whether it is met."""
    phone, push = found["phone"], found["push"]
    sizes = list(found["growth"].values())
    short, long = sizes[0], sizes[-1]
    ratio = push["log"] / push["bare"]
    rows = [
        ("first load, all assets, compressed", "120 kB", phone["bytes"] / 1000, 120, "kB"),
        ("reopening offline to a usable screen, processor slowed 4 ×", "500 ms",
         phone["again"]["offline"]["usable"], 500, "ms"),
        ("last digit to answer on screen, processor slowed 4 ×", "50 ms",
         phone["answer"], 50, "ms"),
        ("findings of a full sheet, Python", "5 ms", found["assess"], 5, "ms"),
        ("push of 1,000 entries, beside bare inserts", "4 ×", ratio, 4, "×"),
        *((f"{page}, the longest log beside the shortest", "2 ×", long[page] / short[page], 2, "×")
          for page in ("vehicle page", "pending list")),
        ("memory of the service on the longest log", "200 MB", long["memory"], 200, "MB"),
    ]  # fmt: skip
    return [
        (what, words, shown(value, unit), value, value <= most)
        for what, words, value, most, unit in rows
    ]


def shown(value: float, unit: str) -> str:
    """A figure to three digits; from a second on, times are in seconds."""
    if unit == "ms" and value >= 1000:
        return f"{value / 1000:.3g} s"
    return f"{value:.3g} {unit}"


def section(found: dict[str, Any], before: dict[str, Any] | None) -> str:
    """The measured part of the page."""
    return "\n".join(
        [
            f"Measured on {found['day']}: {found['machine']}.",
            "",
            *budget_table(found, before),
            "",
            *baselines(found),
            "",
            *phone_table(found["phone"]),
            "",
            *growth_table(found["growth"]),
            "",
            "![Times by the number of entries stored, both axes logarithmic](pictures/growth.svg)",
            "",
            *crowd(found),
        ]
    )


def budget_table(found: dict[str, Any], before: dict[str, Any] | None) -> list[str]:
    """Every budget with its measured figure and the one of the run before."""
    earlier = [row[2] for row in budgets(before)] if before else ["none yet"] * 8
    lines = ["| what | budget | measured | the run before | |", "|---|---|---|---|---|"]
    for (what, words, figure, _, met), old in zip(budgets(found), earlier, strict=True):
        state = "met" if met else "**not met**"
        lines.append(f"| {what} | {words} | {figure} | {old} | {state} |")
    return lines


def baselines(found: dict[str, Any]) -> list[str]:
    """The same figures against what a plain program does on this machine."""
    push = found["push"]
    empty = list(found["growth"].values())[-1]["an empty Flask view"]
    return [
        f"- Findings of a full sheet: {found['assess']:.2f} ms; a plain loop of 100,000 additions"
        f" takes {found['loop']:.2f} ms here, so {found['assess'] / found['loop']:.2f} of it.",
        f"- A push of 1,000 entries through the log: {push['log']:.0f} ms; bare inserts of the same"
        f" rows with the same durability: {push['bare']:.0f} ms.",
        f"- An empty Flask view on the same server answers in {empty:.2f} ms.",
    ]


def phone_table(phone: dict[str, Any]) -> list[str]:
    """What the phone does, by network."""
    lines = [
        "| phone, processor slowed 4 × | first paint | usable | longest task | over the network |",
        "|---|---|---|---|---|",
    ]
    for kind, title in (("first", "first load"), ("again", "opened again")):
        for network, at in phone[kind].items():
            lines.append(
                f"| {title}, {network} | {at['paint']:.0f} ms | {at['usable']:.0f} ms"
                f" | {at['longest']:.0f} ms | {at['kb']:.0f} kB |"
            )
    last = f"From the last touch to the painted answer {phone['answer']:.0f} ms"
    return [*lines, "", f"{last}; memory of the app's scripts {phone['heap']:.1f} MB."]


def growth_table(grown: dict[str, dict[str, float]]) -> list[str]:
    """Each question by the number of entries stored."""
    sizes = list(grown)
    head = " | ".join(f"{int(size):,}" for size in sizes)
    lines = [f"| entries stored | {head} |", "|---|" + "---|" * len(sizes)]
    for name in grown[sizes[0]]:
        unit = "MB" if name == "memory" else "ms"
        cells = " | ".join(shown(grown[size][name], unit) for size in sizes)
        lines.append(f"| {name} | {cells} |")
    return lines


def crowd(found: dict[str, Any]) -> list[str]:
    """Twenty phones at once, and one that was away for long."""
    once = found["at once"]
    rate = once["entries"] / once["total"] * 1000
    return [
        f"- {PHONES} phones push {once['entries']:,.0f} entries at once:"
        f" {once['total'] / 1000:.1f} s in all, {rate:,.0f} entries a second; the longest wait"
        f" for one batch of 100 was {once['longest']:.0f} ms.",
        f"- One phone with {WHOLE.outstanding:,} entries outstanding hands them in within"
        f" {found['outstanding'] / 1000:.1f} s.",
    ]


def write(found: dict[str, Any], text: str) -> None:
    """Put the figures into the page, draw the curves, and keep the numbers for the next run."""
    page = PAGE.read_text("utf-8")
    head, _, rest = page.partition(BEGIN)
    tail = rest.partition(END)[2]
    PAGE.write_text(f"{head}{BEGIN}\n\n{text}\n\n{END}{tail}", "utf-8")
    names = [name for name in next(iter(found["growth"].values())) if name != "memory"]
    curves = {
        name: [(float(size), at[name]) for size, at in found["growth"].items()]
        for name in names
        if name != "an empty Flask view"
    }
    picture = plot(curves, "entries stored", "ms")
    (PICTURES / "growth.svg").write_text(picture, "utf-8")
    KEPT.write_text(json.dumps(found, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    sys.exit(main())
