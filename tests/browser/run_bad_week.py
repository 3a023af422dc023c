"""A bad week of any length: python tests/browser/run_bad_week.py --seed 7 --actions 400

Real browsers, the real service, a bad network, and everything that can happen in a week, by
chance; see browser/week.py. It prints what was found, and ends with 1 when anything was lost.
"""

import argparse
import json
import sys
from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent


def main():
    """Live through one bad week; the exit code."""
    parser = argparse.ArgumentParser(description="Live through one bad week.")
    parser.add_argument("--seed", type=int, default=1, help="the same seed, the same choices")
    parser.add_argument("--actions", type=int, default=300, help="how many things happen")
    given = parser.parse_args()
    sys.path[:0] = [str(HERE), str(HERE.parent)]
    from week import bad_week, survived

    with sync_playwright() as driver:
        found = bad_week(given.seed, given.actions, driver)
    print(json.dumps(found, indent=2))
    return 0 if survived(found) else 1


if __name__ == "__main__":
    sys.exit(main())
