"""Room set aside for the day on which the shop PC's disk is full."""

import json
import os
import subprocess
import sys

import pytest
from kit.small_disk import SMALL_DISK, TESTS, small_disks

from webapp.door import health
from webapp.shoplog.files import disk_reserve

MOUNT = 'mount -t tmpfs -o size=24m small "$DISK"; exec "$PYTHON" -c "$CODE" "$DISK"'
FILL_AND_FREE = """
import json, sys
from pathlib import Path
from kit.entries import make_entry
from webapp.shoplog import LogFull, ShopLog
from webapp.shoplog.files import disk_reserve
folder = Path(sys.argv[1])
disk_reserve.LEAST_FREE = 0
made, answers = [], []
with ShopLog(folder) as log:
    person = log.add_person("Dana Reyes", "technician")
    phone = log.add_phone(person["id"], "phone", "hash")["id"]
    disk_reserve.set_aside(folder)
    hired = log.high_water()
    def append(batch):
        answers.extend(each["verdict"] for each in log.append(phone, batch))
    try:
        for _ in range(1000):
            made.append([make_entry(phone, "note", body={"text": "x" * 1000}) for _ in range(50)])
            append(made[-1])
    except LogFull as error:
        full = str(error)
    acknowledged = list(answers)
    here = log.high_water() - hired
    (folder / disk_reserve.NAME).unlink()
    append(made[-1])
    faults = log.check()
print(json.dumps([full, acknowledged, here, answers, sum(map(len, made)), faults]))
"""


def test_room_is_set_aside_once_and_only_where_there_is_plenty(tmp_path, monkeypatch):
    monkeypatch.setattr(disk_reserve, "LEAST_FREE", 2**62)
    disk_reserve.set_aside(tmp_path)
    without = list(tmp_path.iterdir())
    monkeypatch.setattr(disk_reserve, "LEAST_FREE", 0)
    disk_reserve.set_aside(tmp_path)
    made = (tmp_path / disk_reserve.NAME).stat()
    disk_reserve.set_aside(tmp_path)

    assert without == []
    assert [path.name for path in tmp_path.iterdir()] == [disk_reserve.NAME]
    assert made.st_size == disk_reserve.MEGABYTES * 1024**2
    assert (tmp_path / disk_reserve.NAME).stat().st_mtime_ns == made.st_mtime_ns


def test_a_disk_that_fills_up_meanwhile_does_not_stop_the_service(tmp_path, monkeypatch, caplog):
    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(disk_reserve, "LEAST_FREE", 0)
    monkeypatch.setattr(disk_reserve.os, "urandom", full)

    disk_reserve.set_aside(tmp_path)

    assert list(tmp_path.iterdir()) == []
    assert "No space left on device" in caplog.text


def test_what_to_delete_is_said_as_long_as_it_is_there(tmp_path, monkeypatch):
    monkeypatch.setattr(disk_reserve, "LEAST_FREE", 0)
    disk_reserve.set_aside(tmp_path)

    there = health.disk_check(5 * 1024**2, disk_reserve.way_out(tmp_path))["says"]
    (tmp_path / disk_reserve.NAME).unlink()
    gone = health.disk_check(5 * 1024**2, disk_reserve.way_out(tmp_path))["says"]

    assert "5 MB are free." in there and f"delete the file {disk_reserve.NAME}" in there
    assert gone.endswith("5 MB are free.")


@pytest.mark.skipif(not small_disks(), reason="No disk of its own for a process here.")
def test_f50_on_a_disk_that_is_really_full_the_reserve_lets_the_shop_go_on(tmp_path):
    given = {"DISK": str(tmp_path), "PYTHON": sys.executable, "CODE": FILL_AND_FREE}
    paths = os.pathsep.join([str(TESTS), str(TESTS.parent)])
    done = subprocess.run(
        [*SMALL_DISK, MOUNT],
        capture_output=True,
        text=True,
        env={**os.environ, **given, "PYTHONPATH": paths},
    )

    assert done.returncode == 0, done.stderr
    full, acknowledged, here, answers, made, faults = json.loads(done.stdout)
    assert "disk is full" in full
    assert acknowledged == ["stored"] * here
    assert answers == ["stored"] * made
    assert made == here + 50
    assert faults == []
