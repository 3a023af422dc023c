"""How long the findings of a full sheet take, beside a plain loop on the same computer.

Run it by itself: `python tests/bench/bench_assess.py`. The budget is 5 ms on a shop PC, where
the loop (100,000 additions) takes about 5 ms; so the ratio may be at most 1.
"""

import json
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from webapp.reckon.assess import assess

DATA = Path(__file__).parents[1] / "data"
ROUNDS = 15
BUDGET = 1.0


def full_sheet() -> dict:
    """The sample sheet with plans, torque figures and an earlier round beside it."""
    sheet = json.loads((DATA / "sample_sheet.json").read_text("utf-8"))
    sheet["plans"] = [{"name": "taller bracket", "axle_end_up": 50, "height_change": 20}]
    sheet["torque"] = [{"fastener": "frame end", "value": 90, "also": 66, "also_unit": "lb-ft"}]
    sheet["before"] = {"offset": 1.0, "expanded": 0.8, "heights": {"left": [241], "right": [239]}}
    return sheet


def loop() -> float:
    """The sum of a hundred thousand numbers, added one by one."""
    found = 0.0
    for index in range(100_000):
        found += index * 0.5
    return found


def median_ms(work: Callable[[], object]) -> float:
    """The median of the processor time that the work takes in many rounds, in ms."""
    taken = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken) * 1000


def main() -> int:
    """Print both times and their ratio; 1 where the ratio is over the budget."""
    sheet = full_sheet()
    findings, baseline = median_ms(lambda: assess(sheet)), median_ms(loop)
    ratio = findings / baseline
    print(f"findings {findings:.2f} ms, loop {baseline:.2f} ms, ratio {ratio:.2f} of {BUDGET}")
    return 0 if ratio <= BUDGET else 1


if __name__ == "__main__":
    sys.exit(main())
