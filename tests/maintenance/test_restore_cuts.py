"""A restore that is cut off: whatever the moment, one log is there, whole, the old or the new."""

import errno
import os
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing, suppress
from pathlib import Path

import pytest
from kit.disk_trace import by_chance, everything, nothing
from kit.entries import hire, make_entry
from kit.folder_trace import CALLS, Folder, Follower

from webapp.shoplog import LogBusy, LogDamaged, ShopLog
from webapp.shoplog.backup import back_up, restore
from webapp.shoplog.connection import FILE

STRACE = shutil.which("strace")
RESTORE = """
import sys
from pathlib import Path
from webapp.shoplog import backup
from webapp.shoplog.files import atomic
{spoiled}
backup.restore(Path(sys.argv[1]), Path(sys.argv[2]))
"""
SPOILED = {
    "the old lines dropped first": "backup.gather = lambda present: None",
    "nothing flushed": "atomic.os.fsync = lambda number: None",
}


class Shop:
    """A folder as a power cut leaves it, with its newest lines in the write-ahead log; a backup."""

    def __init__(self, place):
        self.folder, self.backup = place / "shop", place / "backup.db"
        self.folder.mkdir()
        with ShopLog(place / "live") as log:
            crew = hire(log)
            log.append(crew.phone, [make_entry(crew.phone) for _ in range(10)])
            back_up(log, self.backup)
            self.then = ids_in(log)
            log.append(crew.phone, [make_entry(crew.phone) for _ in range(10)])
            self.now = ids_in(log)
            for name in (FILE, f"{FILE}-wal"):
                shutil.copy(place / "live" / name, self.folder)
        assert (self.folder / f"{FILE}-wal").stat().st_size > 0

    def faults_in(self, folder):
        """(what is wrong with the log that is left in a folder, whether it is the new one).

        Behind a new log the one before has to be whole beside it.
        """
        try:
            with ShopLog(folder) as log:
                held, new, faults = ids_in(log), log.epoch > 1, log.check()
        except LogDamaged as error:
            return [str(error)], False
        if held != (self.then if new else self.now):
            faults.append(f"{len(held)} entries are there")
        if new and ids_beside(folder) != self.now:
            faults.append("the log before is not whole")
        return faults, new


def ids_in(log):
    """The id of every line, the shop PC's own included, but for what tells of the restore."""
    lines = log.pull(0, 1_000_000, own=True)["entries"]
    return [each["id"] for each in lines if each["body"].get("event") != "restored"]


def ids_beside(folder):
    """The ids in the log that was kept beside the one that took its place; None if unreadable."""
    [before] = folder.glob("before-*.db")
    alone = f"{before.as_uri()}?mode=ro&immutable=1"
    with suppress(sqlite3.DatabaseError), closing(sqlite3.connect(alone, uri=True)) as db:
        return [row[0] for row in db.execute("SELECT id FROM entries ORDER BY seq")]


@pytest.fixture
def old(tmp_path):
    """A shop whose PC lost its power, and a backup of it."""
    return Shop(tmp_path)


@pytest.fixture
def left():
    """A folder for what a cut leaves, in memory where there is such a place."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        yield Path(folder) / "left"


def put(files, folder):
    """Make a folder of these files."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, body in files.items():
        (folder / name).write_bytes(body)


def traced(shop, spoiled=""):
    """Restore in a process of its own: how the folder was, and the trace of what was done to it."""
    before = Folder.of(shop.folder)
    trace = shop.folder.with_name("trace")
    strace = [STRACE, "-xx", "-s", "3000000", "-e", f"trace={CALLS}", "-o", str(trace)]
    code = [sys.executable, "-c", RESTORE.format(spoiled=spoiled)]
    subprocess.run([*strace, *code, str(shop.backup), str(shop.folder)], check=True)
    return before, trace.read_text()


def cuts(folder, step, chance):
    """The files that a cut at this moment may leave: the least, names alone, the most, a part."""
    if step != "write":
        yield folder.after_cut(nothing, 0)
        yield folder.after_cut(nothing, len(folder.renamed))
        yield folder.after_cut(everything, len(folder.renamed))
    yield folder.after_cut(by_chance(chance), chance.randint(0, len(folder.renamed)))


def faults_after_cuts(shop, left, spoiled=""):
    """(step, fault, whether the new log is there) of a cut at every step of a restore."""
    folder, trace = traced(shop, spoiled)
    chance = random.Random(1)
    for step in Follower(shop.folder, folder).follow(trace):
        for files in cuts(folder, step, chance):
            put(files, left)
            yield step, *shop.faults_in(left)


@pytest.mark.skipif(STRACE is None, reason="strace is not installed, so no step can be recorded")
def test_f37_a_restore_cut_off_by_the_power_at_any_step_leaves_one_log_whole(old, left):
    found = list(faults_after_cuts(old, left))

    assert {step for step, _, _ in found} == {"open", "write", "cut", "flush", "rename", "unlink"}
    assert {new for _, _, new in found} == {False, True}
    assert [each for each in found if each[1]] == []


@pytest.mark.skipif(STRACE is None, reason="strace is not installed, so no step can be recorded")
@pytest.mark.parametrize("spoiled", SPOILED)
def test_the_cuts_would_find_a_restore_that_is_not_careful(old, left, spoiled):
    assert any(fault for _, fault, _ in faults_after_cuts(old, left, SPOILED[spoiled]))


def failing_after(monkeypatch, steps):
    """Let so many steps on the disk succeed and the next one find it full."""
    done = []
    for name in ("fsync", "replace", "unlink", "mkdir"):
        step = getattr(os, name)

        def counted(*given, step=step, **more):
            done.append(step)
            if len(done) == steps + 1:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return step(*given, **more)

        monkeypatch.setattr(os, name, counted)
    return done


def test_f37_a_restore_that_fails_at_any_step_leaves_one_log_whole(tmp_path):
    steps, failed = 0, True
    while failed:
        (tmp_path / str(steps)).mkdir()
        old = Shop(tmp_path / str(steps))
        with pytest.MonkeyPatch.context() as patch:
            done = failing_after(patch, steps)
            with suppress(OSError):
                restore(old.backup, old.folder)
            failed = len(done) > steps
        assert list(old.folder.glob("*.part*")) == []
        assert old.faults_in(old.folder)[0] == [], f"after step {steps}"
        steps += 1

    assert steps > 10


def test_a_restore_over_a_log_that_cannot_be_read_keeps_it_as_it_is(old):
    body = b"no database" * 1000
    (old.folder / FILE).write_bytes(body)
    (old.folder / f"{FILE}-wal").unlink()
    with pytest.raises(LogDamaged):
        ShopLog(old.folder)

    epoch = restore(old.backup, old.folder)

    with ShopLog(old.folder) as log:
        assert (ids_in(log), log.epoch) == (old.then, epoch)
    assert (old.folder / f"before-{epoch}.db").read_bytes() == body


def test_a_restore_waits_for_nobody_who_reads_the_log_and_changes_nothing(old, monkeypatch):
    monkeypatch.setattr("webapp.shoplog.backup.PATIENCE", 0.05)
    with closing(sqlite3.connect(old.folder / FILE, isolation_level=None)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM entries").fetchone()
        with pytest.raises(LogBusy):
            restore(old.backup, old.folder)

    assert old.faults_in(old.folder) == ([], False)
