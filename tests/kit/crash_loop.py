"""A shop PC that is killed again and again: `python crash_loop.py FOLDER PHONE SEED ENTRIES KILLS`.

This process stands for the phone: it numbers entries, sends batches down a pipe, and counts as
acknowledged what came back. The service is a child that opens the log, stores and answers, and
is killed without warning at a random moment: while it opens, stores, answers or waits. What was
not answered is sent again to the next one. At the end one line of JSON tells how it went.
"""

import json
import os
import random
import select
import signal
import sys
import time
from pathlib import Path

# Run as a process of its own: what the tests share is found beside this folder.
sys.path.insert(0, str(Path(__file__).parents[1]))

from kit.entries import make_entry
from webapp.shoplog import ShopLog

LONGEST_WAIT = 20.0


def serve(folder, phone, questions, answers):
    """Be the service until killed: a batch a line in, the ids that are stored a line out."""
    log = ShopLog(folder)
    for line in questions:
        batch = json.loads(line)
        stored = [
            answer["id"]
            for answer in log.append(phone, batch)
            if answer["verdict"] in ("stored", "already")
        ]
        answers.write(json.dumps(stored) + "\n")
        answers.flush()


class Mortal:
    """The service in a process of its own, and the two ends of its pipes."""

    def __init__(self, folder, phone, serve=serve):
        """Start it."""
        down, up = os.pipe(), os.pipe()
        self.pid = os.fork()
        if self.pid == 0:
            os.close(down[1])
            os.close(up[0])
            serve(folder, phone, os.fdopen(down[0]), os.fdopen(up[1], "w"))
            os._exit(0)
        os.close(down[0])
        os.close(up[1])
        self.questions, self.answers = down[1], os.fdopen(up[0])

    def send(self, batch):
        """Give it a batch."""
        os.write(self.questions, json.dumps(batch).encode() + b"\n")

    def answered(self, seconds):
        """The ids that it stored, or None when it did not say so in this time."""
        ready, _, _ = select.select([self.answers], [], [], max(seconds, 0))
        line = self.answers.readline() if ready else ""
        return json.loads(line) if line.endswith("\n") else None

    def kill(self):
        """End it at once; what it had said by then still counts, as it had left the machine."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.questions)
        rest = [line for line in self.answers if line.endswith("\n")]
        self.answers.close()
        return [name for line in rest for name in json.loads(line)]


class Sender:
    """The phone: what it made, what it knows to be stored, and what it is unsure of."""

    def __init__(self, phone, seed):
        """A phone whose chances all come from this seed."""
        self.phone = phone
        self.chance = random.Random(seed)
        self.made, self.unsure = [], []
        # Each once, also where it was sent and answered again.
        self.acknowledged = {}

    def send(self, mortal):
        """Send what it is unsure of, or else something new."""
        if not self.unsure:
            self.unsure = [make_entry(self.phone) for _ in range(self.chance.randint(1, 12))]
            self.made += [entry["id"] for entry in self.unsure]
        mortal.send(self.unsure)

    def hear(self, ids):
        """Count as stored what was answered."""
        self.acknowledged |= dict.fromkeys(ids)
        heard = set(ids)
        self.unsure = [entry for entry in self.unsure if entry["id"] not in heard]

    def outlive(self, mortal, goal):
        """Send and listen until so many are acknowledged, or a moment comes; then kill it."""
        chance = self.chance
        patience = chance.uniform(0, 0.03) if chance.random() < 0.3 else LONGEST_WAIT
        until = time.monotonic() + patience
        while len(self.acknowledged) < goal and time.monotonic() < until:
            self.send(mortal)
            ids = mortal.answered(until - time.monotonic())
            if ids is None:
                break
            self.hear(ids)
        if chance.random() < 0.5:
            # One more batch is under way as it dies.
            self.send(mortal)
            time.sleep(chance.uniform(0, 0.006))
        self.hear(mortal.kill())


def run(folder, phone, seed, wanted, kills):
    """A phone that had so many entries acknowledged over so many kills, or more of either."""
    sender = Sender(phone, seed)
    done = 0
    while done < kills or len(sender.acknowledged) < wanted:
        done += 1
        sender.outlive(Mortal(folder, phone), wanted * min(done, kills) / kills)
    return sender, done


if __name__ == "__main__":
    folder, phone, seed, wanted, kills = sys.argv[1:]
    began = time.monotonic()
    sender, done = run(Path(folder), phone, int(seed), int(wanted), int(kills))
    told = {"acknowledged": list(sender.acknowledged), "made": sender.made, "kills": done}
    print(json.dumps({**told, "seconds": round(time.monotonic() - began, 1)}))
