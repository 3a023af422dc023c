"""Another process at a shop's log: `python shop_process.py VERB FOLDER [...]`.

Every answer is one line of JSON on standard output.
"""

import json
import os
import signal
import sqlite3
import sys
import time
from pathlib import Path

# Run as a process of its own: what the tests share is found beside this folder.
sys.path.insert(0, str(Path(__file__).parents[1]))

from kit.entries import make_entry
from webapp.shoplog import LogInUse, ShopLog
from webapp.shoplog.chain import check_folder

# Windows has no SIGKILL; there SIGTERM ends a process just as abruptly.
KILL = getattr(signal, "SIGKILL", signal.SIGTERM)


def say(thing):
    """One line for the test that started this process."""
    print(json.dumps(thing), flush=True)


def write_for_ever(folder, phone):
    """Store entry after entry; say the ids that the log acknowledged."""
    log = ShopLog(folder)
    while True:
        answers = log.append(phone, [make_entry(phone) for _ in range(3)])
        say([answer["id"] for answer in answers if answer["verdict"] == "stored"])


def write_batches(folder, phone, batches):
    """Store so many batches of one entry each."""
    log = ShopLog(folder)
    for _ in range(int(batches)):
        say(log.append(phone, [make_entry(phone)]))


def write_over_checkpoints(folder, phone, batches):
    """The same with a write-ahead log so short that it is checkpointed every few batches."""
    log = ShopLog(folder)
    with log.writing() as db:
        db.execute("PRAGMA wal_autocheckpoint = 25")
    for _ in range(int(batches)):
        say(log.append(phone, [make_entry(phone)]))


def commit_and_die(folder, phone):
    """Store the batch on standard input, and end before anybody hears of it."""
    ShopLog(folder).append(phone, json.load(sys.stdin))
    os.kill(os.getpid(), KILL)


def hold(folder):
    """Hold the write lock until a line comes in, then take it again and again for a short time."""
    db = sqlite3.connect(folder / "shop.db", isolation_level=None, timeout=30)
    db.execute("BEGIN IMMEDIATE")
    say("holding")
    sys.stdin.readline()
    db.execute("COMMIT")
    for _ in range(40):
        db.execute("BEGIN IMMEDIATE")
        time.sleep(0.02)
        db.execute("COMMIT")


def read(folder):
    """Answer each query that comes in as a line, through a connection of its own."""
    for query in sys.stdin:
        db = sqlite3.connect(folder / "shop.db")
        say(db.execute(query).fetchall())
        db.close()


def take(folder):
    """Say why the folder cannot be taken, or null."""
    try:
        ShopLog(folder).close()
        say(None)
    except LogInUse as error:
        say(str(error))


def check(folder):
    """Say what a check finds."""
    say(check_folder(folder))


VERBS = {
    verb.__name__: verb
    for verb in (
        write_for_ever,
        write_batches,
        write_over_checkpoints,
        commit_and_die,
        hold,
        read,
        take,
        check,
    )
}

if __name__ == "__main__":
    verb, folder, *more = sys.argv[1:]
    VERBS[verb](Path(folder), *more)
