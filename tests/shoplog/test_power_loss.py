"""A shop PC that loses its power, as far as a machine can show it to itself."""

import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from kit.disk_trace import CALLS, Disk, Step, by_chance, everything, nothing, steps_of
from kit.entries import hire

from webapp.shoplog import ShopLog
from webapp.shoplog.connection import FILE

KIT = Path(__file__).parents[1] / "kit"
STRACE = shutil.which("strace")
ENTRIES, KILLS = 10_000, 200
BATCHES = 40
CUTS = 500
NAMES = (FILE, f"{FILE}-wal", f"{FILE}-journal")


def ids_in(log):
    """The ids of every entry, page by page."""
    found, page = [], {"next": 0, "more": True}
    while page["more"]:
        page = log.pull(page["next"], 5000)
        found += [entry["id"] for entry in page["entries"]]
    return found


@pytest.mark.skipif(not hasattr(os, "fork"), reason="Windows has no fork.")
def test_f45_ten_thousand_acknowledged_entries_survive_two_hundred_kills(log_folder):
    with ShopLog(log_folder) as shop:
        crew = hire(shop)
    loop = [sys.executable, str(KIT / "crash_loop.py"), str(log_folder), crew.phone]
    done = subprocess.run(
        [*loop, "1", str(ENTRIES), str(KILLS)], capture_output=True, text=True, check=True
    )
    told = json.loads(done.stdout)
    with ShopLog(log_folder) as shop:
        stored = ids_in(shop)
        faults = shop.check()

    assert told["kills"] >= KILLS
    assert len(set(told["acknowledged"])) >= ENTRIES
    assert set(told["acknowledged"]) - set(stored) == set()
    assert len(stored) == len(set(stored))
    assert set(stored) <= set(told["made"])
    assert faults == []


@pytest.fixture(scope="module")
def traced(tmp_path_factory):
    """A log as it was, and every step of a process that then stored batch after batch."""
    if STRACE is None:
        pytest.skip("strace is not installed, so no write can be recorded")
    folder = tmp_path_factory.mktemp("traced") / "shop"
    with ShopLog(folder) as shop:
        crew = hire(shop)
    before = {name: bytearray((folder / name).read_bytes()) for name in [FILE]}
    trace = folder.parent / "trace"
    strace = [STRACE, "-xx", "-s", "70000", "-e", f"trace={CALLS}", "-o", str(trace)]
    worker = [sys.executable, str(KIT / "shop_process.py"), "write_over_checkpoints"]
    subprocess.run(
        [*strace, *worker, str(folder), crew.phone, str(BATCHES)],
        check=True,
        stdout=subprocess.DEVNULL,
    )
    return before, list(steps_of(trace.read_text(), NAMES))


def acknowledged(step):
    """The ids that the process called stored."""
    try:
        answers = json.loads(step.body)
    except ValueError:
        return []
    return [answer["id"] for answer in answers if answer["verdict"] == "stored"]


def survives(folder, files, promised):
    """What is wrong with the log that is left, if anything."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, body in files.items():
        (folder / name).write_bytes(body)
    with ShopLog(folder) as shop:
        stored = ids_in(shop)
        lost = set(promised) - set(stored)
        return [*shop.check(), *(f"{each} is lost" for each in lost)]


def test_f45_the_trace_shows_a_flush_before_each_acknowledgment(traced):
    _, steps = traced
    flushed = False
    for step in steps:
        if step.what == "flush":
            flushed = True
        elif step.what == "said":
            assert flushed, "something was called stored that was not flushed"
            flushed = False

    assert sum(len(acknowledged(step)) for step in steps if step.what == "said") == BATCHES


def test_f45_the_trace_covers_checkpoints_and_a_write_ahead_log_begun_again(traced):
    _, steps = traced
    begun = [step for step in steps if (step.what, step.file, step.at) == ("write", NAMES[1], 0)]

    assert sum(step.file == FILE and step.what == "flush" for step in steps) > 3
    assert len(begun) > 3


@pytest.fixture
def left(tmp_path):
    """A folder for what a cut leaves, in memory where there is such a place."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else tmp_path) as folder:
        yield Path(folder) / "left"


def test_f45_every_acknowledged_entry_survives_a_cut_at_any_moment(traced, left):
    before, steps = traced
    chance = random.Random(1)
    often = CUTS / len(steps)
    disk = Disk({name: bytearray(body) for name, body in before.items()})
    promised, wrong, cuts = [], {}, 0
    for number, step in enumerate(steps):
        disk.take(step)
        promised += acknowledged(step) if step.what == "said" else []
        # Around a flush and what follows it is where a fault would be.
        outcomes = [nothing, everything, by_chance(chance)]
        kept = outcomes if step.what == "said" else [by_chance(chance)]
        for keeps in kept if step.what != "write" or chance.random() < often else []:
            cuts += 1
            found = survives(left, disk.after_cut(keeps), promised)
            if found:
                wrong[number] = found

    assert cuts > CUTS / 2
    assert wrong == {}


def test_the_cut_would_find_a_log_that_does_not_flush(traced, left):
    before, steps = traced
    disk = Disk({name: bytearray(body) for name, body in before.items()})
    promised = []
    for step in steps:
        if step != Step("flush", step.file):
            disk.take(step)
        promised += acknowledged(step) if step.what == "said" else []

    assert survives(left, disk.after_cut(nothing), promised) != []
