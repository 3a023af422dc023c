"""A storm of kills: the shop PC dies, is restored from backups, and its clock jumps.

From the root of a checkout in which the tests have run once, the long one:
.venv/bin/python -m tests.kit.kill_storm

A phone sends entries to a service that is killed at random moments. Each time it starts again its
clock may be years ahead or behind. In between, backups are made, and old ones are put back: then
the phone offers everything once more, as a phone does that meets a new epoch. At the end each
entry that was ever acknowledged must be in the log once, as it was made.
"""

import argparse
import json
import sys
import tempfile
import time
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path

ROOT = Path(__file__).parents[2]
if __name__ == "__main__":
    sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from kit.crash_loop import Mortal, Sender  # noqa: E402
from kit.entries import hire, make_entry  # noqa: E402
from webapp.maintenance import backups  # noqa: E402
from webapp.shoplog import ShopLog  # noqa: E402
from webapp.shoplog.entries import MADE  # noqa: E402
from webapp.shoplog.full_check import check_all  # noqa: E402

# As many as a phone sends at once.
BATCH = 100
CLOCKS = [timedelta(0)] * 3 + [
    timedelta(seconds=1),
    timedelta(days=1000),
    timedelta(days=-1),
    timedelta(days=-9000),
]
BACKUP_EVERY = 5
RESTORE_EVERY = 12


def serve_at(ahead):
    """A service whose clock is so far ahead."""

    def serve(folder, phone, questions, answers):
        log = ShopLog(folder)
        for line in questions:
            found = log.append(phone, json.loads(line), received_at=datetime.now(UTC) + ahead)
            stored = [each["id"] for each in found if each["verdict"] in ("stored", "already")]
            answers.write(json.dumps(stored) + "\n")
            answers.flush()

    return serve


class OneWithMemory(Sender):
    """A phone that keeps all that it made, to offer it again to a shop that was restored."""

    def __init__(self, phone, seed):
        super().__init__(phone, seed)
        self.entries = {}

    def send(self, mortal):
        """Send a batch of what it is unsure of, or of something new."""
        if not self.unsure:
            fresh = [make_entry(self.phone) for _ in range(self.chance.randint(1, BATCH))]
            self.entries.update({entry["id"]: entry for entry in fresh})
            self.unsure = fresh
        mortal.send(self.unsure[:BATCH])

    def offer_all_again(self):
        """Hold nothing for stored any more."""
        self.unsure = list(self.entries.values())


class KillStorm:
    """The shop in a folder, its backups beside it, and its phone."""

    def __init__(self, folder, seed):
        self.data, self.copies = folder / "shop", [folder / "copies"]
        with ShopLog(self.data) as log:
            self.phone = OneWithMemory(hire(log).phone, seed)
            self.epochs = [log.epoch]
        self.chance = self.phone.chance
        self.done = Counter()

    def blow(self, entries, kills):
        """So many kills, and until so many entries are acknowledged."""
        while self.done["kills"] < kills or len(self.phone.acknowledged) < entries:
            self.done["kills"] += 1
            share = entries * min(self.done["kills"], kills) / kills
            ahead = self.chance.choice(CLOCKS)
            self.done["lives with a wrong clock"] += ahead != timedelta(0)
            self.phone.outlive(Mortal(self.data, self.phone.phone, serve_at(ahead)), share)
            if self.done["kills"] % BACKUP_EVERY == 0:
                backups.make(self.data, self.copies, datetime.now(UTC) + ahead)
                self.done["backups"] += 1
            if self.done["kills"] % RESTORE_EVERY == 0:
                self.restore()

    def restore(self):
        """Put back any backup, old or new."""
        made = list(backups.backups_in(self.copies[0]).values())
        self.epochs.append(backups.put_back(self.chance.choice(made), self.data))
        self.done["restores"] += 1
        self.phone.offer_all_again()

    def calm(self):
        """What the storm leaves: counts, and what is lost, doubled or changed of the entries."""
        while self.phone.unsure:
            last = Mortal(self.data, self.phone.phone, serve_at(timedelta(0)))
            while self.phone.unsure:
                self.phone.send(last)
                self.phone.hear(last.answered(60))
            last.kill()
        with ShopLog(self.data) as log:
            kept = [{key: each[key] for key in MADE} for each in log.pull(0, 10**6)["entries"]]
        there = Counter(each["id"] for each in kept)
        return {
            "acknowledged": len(self.phone.acknowledged),
            **self.done,
            "lost": len(self.phone.acknowledged.keys() - there.keys()),
            "doubled": sum(count > 1 for count in there.values()),
            "changed": sum(self.phone.entries[each["id"]] != each for each in kept),
            "epochs that did not rise": sum(
                later <= earlier
                for earlier, later in zip(self.epochs, self.epochs[1:], strict=False)
            ),
            "found by the check": check_all(self.data),
        }


def main():
    """Blow a storm and print what it leaves; 1 when anything was lost, doubled or changed."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--entries", type=int, default=10_000)
    options.add_argument("--kills", type=int, default=200)
    options.add_argument("--seed", type=int, default=1)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        begun = time.monotonic()
        storm = KillStorm(Path(folder), asked.seed)
        storm.blow(asked.entries, asked.kills)
        left = storm.calm()
    print(json.dumps({**left, "seconds": round(time.monotonic() - begun)}, indent=1))
    wrong = ("lost", "doubled", "changed", "epochs that did not rise", "found by the check")
    return int(any(left[each] for each in wrong))


if __name__ == "__main__":
    sys.exit(main())
