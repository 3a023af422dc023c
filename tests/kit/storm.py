"""A storm of generated entries on a service: every one is answered, and every page after them.

From the root of a checkout in which the tests have run once, the long one:
.venv/bin/python -m tests.kit.storm
"""

import argparse
import json
import logging
import re
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

ROOT = Path(__file__).parents[2]
if __name__ == "__main__":
    sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from kit.entries import add_people  # noqa: E402
from kit.generated import World  # noqa: E402
from kit.passphrases import CHEAP  # noqa: E402
from kit.phones import Phone, asking, code_for  # noqa: E402
from webapp import create_app  # noqa: E402
from webapp.shoplog.readable import UNREADABLE, readable  # noqa: E402

BATCH = 50
LOOK_AFTER = 100
VERDICTS = {"stored", "already", "differs", "refused"}
# Whose phones send, in turn.
SENDERS = ["Dana Reyes", "Orla Bennett", "Frank Delgado"]


class Failures(logging.Handler):
    """What the service logged as gone wrong."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep the message with its traceback."""
        self.said.append(logging.Formatter().format(record))


class Storm:
    """A service with its phones and its lead, and what became of the entries so far."""

    def __init__(self, folder: Path, seed: int) -> None:
        """A new shop in a folder; the same seed makes the same storm."""
        config = {"DATA": folder, "DEMO": True, "WTF_CSRF_ENABLED": False}
        self.app = create_app({**config, **CHEAP})
        self.log = self.app.extensions["shoplog"]
        add_people(self.log)
        self.phones = [
            Phone(asking(self.app.test_client()), code_for(self.log, name)) for name in SENDERS
        ]
        self.lead = self.app.test_client()
        self.lead.post("/door/demo/lead")
        self.random = Random(seed)
        self.world = World(self.random)
        self.verdicts: Counter[str] = Counter()
        self.pages = 0
        self.failures = Failures()
        logging.getLogger().addHandler(self.failures)

    def close(self) -> None:
        """Let the folder go."""
        logging.getLogger().removeHandler(self.failures)
        self.log.close()

    def blow(self, entries: int) -> None:
        """Send so many entries in batches, and look at every page after each hundred."""
        sent = 0
        while sent < entries:
            for _ in range(LOOK_AFTER // BATCH):
                self.send(self.batch())
            sent += LOOK_AFTER
            self.look()

    def batch(self) -> tuple[Phone, list[Any]]:
        """A phone and what it sends: valid entries and broken ones, in any order."""
        phone, made = self.random.choice(self.phones), []
        for _ in range(BATCH):
            phone.last_local_no += 1
            entry = self.world.entry(phone.id, phone.last_local_no)
            made.append(self.world.broken(entry) if self.random.random() < 0.5 else entry)
        self.random.shuffle(made)
        return phone, made

    def send(self, batch: tuple[Phone, list[Any]]) -> None:
        """Push a batch; each of its entries has an answer, a refusal with its reason."""
        phone, made = batch
        reply = phone.push(*made)
        assert reply.status == 200, (reply, made)
        answers = reply.json["answers"]
        assert len(answers) == len(made)
        for answer, entry in zip(answers, made, strict=True):
            assert answer["verdict"] in VERDICTS, answer
            assert answer["verdict"] in ("stored", "already") or answer["reason"], (answer, entry)
            self.verdicts[answer["verdict"]] += 1

    def look(self) -> None:
        """Every page of the desk, every export and everything that phones read."""
        for path in self.paths():
            reply = self.lead.get(path, headers=self.phones[0].headers)
            assert reply.status_code < 500, (path, self.failures.said[-1:])
            assert reply.get_data(), path
            self.pages += 1
        assert not self.failures.said, self.failures.said[0]
        assert not [e for e in self.pulled()[-300:] if readable(e)["kind"] == UNREADABLE]

    def paths(self) -> list[str]:
        """The addresses that can be read, of everything that there is."""
        world, people = self.world, [row["id"] for row in self.log.people()]
        tables = ["entries", "jobs", "vehicles", "limits", "people", "phones", "due", "set_aside"]
        held = {
            "job": [row["id"] for row in self.log.jobs()],
            "vehicle": [row["id"] for row in self.log.vehicles()],
            "person": people,
            "table": tables,
        }
        found = ["/log/pull?since=0", "/log/missing", f"/desk/search?q={world.codes[0]}"]
        for rule in self.app.url_map.iter_rules():
            if "GET" not in (rule.methods or ()) or not rule.rule.startswith("/desk"):
                continue
            names = re.findall(r"<(?:\w+:)?(\w+)>", rule.rule)
            if not names:
                found.append(rule.rule)
            elif names[0] in held:
                found += [re.sub("<[^>]*>", each, rule.rule) for each in held[names[0]]]
        return found

    def pulled(self) -> list[dict[str, Any]]:
        """Every entry of the log as it was made."""
        entries: list[dict[str, Any]] = self.log.pull(0, 10**6)["entries"]
        return entries


def main() -> int:
    """Blow a storm and print what became of it."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--entries", type=int, default=20_000)
    options.add_argument("--seed", type=int, default=1)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        storm = Storm(Path(folder), asked.seed)
        begun = time.monotonic()
        try:
            storm.blow(asked.entries)
        finally:
            storm.close()
        told = {"entries": asked.entries, **storm.verdicts, "pages": storm.pages}
        print(json.dumps({**told, "seconds": round(time.monotonic() - begun)}))
    return 0


if __name__ == "__main__":
    sys.exit(main())
