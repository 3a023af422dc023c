"""Measures every budget and the growth curves, and writes them into docs/performance.md.

From the root of a checkout in which the tests have run once:
.venv/bin/python tests/bench/run.py
With --quick on small logs, to see that everything runs; then nothing is written. It ends with 1
where a budget is not met, a curve rises more than its nature demands, or a figure is further above
the run before than noise explains.
"""

import argparse
import json
import sys
import tempfile
from datetime import date
from pathlib import Path
from statistics import median
from typing import Any, NamedTuple

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(HERE)]

import bench_assess  # noqa: E402
import growth  # noqa: E402
import history  # noqa: E402
import phone_bench  # noqa: E402
import push_bench  # noqa: E402
from figures import machine  # noqa: E402
from judged import (  # noqa: E402
    BASELINE,
    FLAT_MOST,
    IN_STEP_MOST,
    NOISE,
    budgets,
    growths,
    shown,
    state,
    worse,
)
from plot import plot  # noqa: E402
from shop_bench import running  # noqa: E402

PAGE = ROOT / "docs" / "performance.md"
PICTURES = ROOT / "docs" / "pictures"
KEPT = HERE / "figures.json"
BEGIN, END = "[//]: # (measured: begin)", "[//]: # (measured: end)"
PHONES = 20
OLD = "none yet"


class Plan(NamedTuple):
    """How much is measured."""

    sizes: list[int]
    jobs: list[int]
    runs: int
    long_runs: int
    pushed: int
    outstanding: int


WHOLE = Plan([1_000, 10_000, 100_000, 1_000_000], [10, 50, 200], 9, 3, 1_000, 5_000)
QUICK = Plan([1_000, 2_000], [10, 12], 1, 1, 100, 200)


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
    return 0 if quick or is_well(found, before) else 1


def is_well(found: dict[str, Any], before: dict[str, Any] | None) -> bool:
    """Whether every bound is kept, that on what is slower than in the run before included."""
    kept = all(each.met for each in budgets(found)) and all(rise.met for rise in growths(found))
    return kept and not worse(found, before)


def measured(plan: Plan) -> dict[str, Any]:
    """Every figure: times in ms, memory in MB, bytes of the first load."""
    with tempfile.TemporaryDirectory(prefix="axlewright-bench-") as place:
        folder = Path(place)
        say("findings of a full sheet")
        sheet = bench_assess.full_sheet()
        found: dict[str, Any] = {
            "day": date.today().isoformat(),
            "machine": machine(),
            "runs": plan.runs,
            "long runs": plan.long_runs,
            "assess": bench_assess.median_ms(lambda: bench_assess.assess(sheet)),
            "loop": bench_assess.median_ms(bench_assess.loop),
        }
        say("pushes beside bare inserts")
        found["push"] = push_bench.compare(made(folder / "push"), plan.pushed, plan.runs)
        say("the phone in Chromium")
        found["phone"] = phone_bench.measure(made(folder / "phone"), plan.runs)
        say("growth")
        grown = made(folder / "grown")
        found["growth"] = {
            str(size): figures for size, figures in growth.curves(grown, plan).items()
        }
        say("one vehicle that comes again and again")
        again = history.curves(made(folder / "again"), plan.jobs, plan.runs)
        found["history"] = {str(jobs): figures for jobs, figures in again.items()}
        say("many phones, and one with much to send")
        with running(grown, PHONES) as shop:
            crowds = [shop.push_at_once(2) for _ in range(plan.long_runs)]
            found["at once"] = {name: median(each[name] for each in crowds) for name in crowds[0]}
            found["outstanding"] = median(
                shop.push_outstanding(plan.outstanding) for _ in range(plan.long_runs)
            )
    return found


def made(folder: Path) -> Path:
    """The folder, made."""
    folder.mkdir()
    return folder


def say(what: str) -> None:
    """Tell whoever waits what is measured."""
    print(f"{what} ...", file=sys.stderr, flush=True)


def section(found: dict[str, Any], before: dict[str, Any] | None) -> str:
    """The measured part of the page."""
    return "\n".join(
        [
            f"Measured on {found['day']}: {found['machine']}.",
            "",
            how_taken(found),
            "",
            *budget_table(found, before),
            "",
            *apart(found, before),
            *baselines(found),
            "",
            *phone_table(found["phone"]),
            "",
            *growth_table(found),
            "",
            *history_table(found["history"]),
            "",
            "![Times by the number of entries stored, both axes logarithmic](pictures/growth.svg)",
            "",
            *crowd(found),
        ]
    )


def how_taken(found: dict[str, Any]) -> str:
    """How often each kind of figure was taken."""
    runs, few = found["runs"], found["long runs"]
    return (
        f"Times of pages, pushes, pulls and of the phone are medians of {runs} runs, taken in turns"
        f" where several things are compared; start-up, backup, check and the pushes of many phones"
        f" and of one with much to send are medians of {few}; findings and the plain loop are"
        f" medians of {bench_assess.ROUNDS} by the processor's clock. Memory is the most that the"
        " process held in its one run, and bytes are counted once, as they are the same every time."
    )


def budget_table(found: dict[str, Any], before: dict[str, Any] | None) -> list[str]:
    """Every budget with its measured figure and the one of the run before."""
    earlier = {each.what: each.figure for each in budgets(before)} if before else {}
    lines = ["| what | budget | measured | the run before | |", "|---|---|---|---|---|"]
    for what, words, figure, _, met in budgets(found):
        old = earlier.get(what, OLD)
        lines.append(f"| {what} | {words} | {figure} | {old} | {state(met)} |")
    return lines


def apart(found: dict[str, Any], before: dict[str, Any] | None) -> list[str]:
    """How far two runs may lie apart, and which figures lie further above the run before."""
    slower = " ".join(worse(found, before)) or "none is."
    return [f"Over {NOISE:g} × the run before on the same machine is more than noise: {slower}", ""]


def baselines(found: dict[str, Any]) -> list[str]:
    """The same figures against what a plain program does on this machine."""
    push = found["push"]
    empty = list(found["growth"].values())[-1][BASELINE]
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
        "| phone, processor slowed 4 × | first paint | usable | longest task"
        " | over the network, headers too |",
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


def growth_table(found: dict[str, Any]) -> list[str]:
    """Each question by the number of entries stored, and how it rises."""
    grown = found["growth"]
    head = " | ".join(f"{int(size):,}" for size in grown)
    lines = [
        f"| entries stored | {head} | for ten times the log | at most | |",
        "|---|" + "---|" * (len(grown) + 3),
    ]
    empty = " | ".join(shown(at[BASELINE], "ms") for at in grown.values())
    lines.append(f"| {BASELINE} | {empty} | | not ours | |")
    for rise in growths(found):
        unit = "MB" if rise.name == "memory" else "ms"
        cells = " | ".join(shown(at[rise.name], unit) for at in grown.values())
        bound = f"{rise.most:g} × ({rise.nature})"
        lines.append(
            f"| {rise.name} | {cells} | {rise.tenfold:.2f} × | {bound} | {state(rise.met)} |"
        )
    flat = f"Flat: no more than doubled over a thousandfold, {FLAT_MOST:g} × for each tenfold."
    return [*lines, "", f"{flat} In step with the log: {IN_STEP_MOST:g} × for each tenfold."]


def history_table(history: dict[str, dict[str, float]]) -> list[str]:
    """The pages of one vehicle by the number of its accepted jobs."""
    head = " | ".join(history)
    lines = [f"| accepted jobs of one vehicle | {head} |", "|---|" + "---|" * len(history)]
    for page in next(iter(history.values())):
        cells = " | ".join(shown(at[page], "ms") for at in history.values())
        lines.append(f"| {page} | {cells} |")
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
        if name != BASELINE
    }
    picture = plot(curves, "entries stored", "ms")
    (PICTURES / "growth.svg").write_text(picture, "utf-8")
    KEPT.write_text(json.dumps(found, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    sys.exit(main())
