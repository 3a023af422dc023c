"""Every command, and what may stand in its way: one sentence that says what to do, and exit 1."""

import codecs
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from kit.shop_place import COMMANDS, Place
from kit.small_disk import SMALL_DISK, TESTS, small_disks

from webapp.command import main

NOBODY = 65534


@pytest.fixture
def place(tmp_path, monkeypatch):
    """Such a place; nothing is served, however far a command gets."""
    monkeypatch.setattr("webapp.network.shop_service.serve", lambda *_, **__: None)
    monkeypatch.setattr("webapp.network.demo.serve", lambda *_: None)
    return Place(tmp_path)


def a_folder(file):
    file.unlink()
    file.mkdir()


def a_spoiled_head(file):
    file.write_bytes(b"no database at all " + file.read_bytes()[19:])


def spoiled_pages(file):
    body = file.read_bytes()
    file.write_bytes(body[:4096] + b"\xff" * (len(body) - 4096))


def an_empty_file(file):
    file.write_bytes(b"")


def a_head_alone(file):
    file.unlink()
    with closing(sqlite3.connect(file)) as db:
        db.execute("VACUUM")


def other_tables(file):
    a_head_alone(file)
    with closing(sqlite3.connect(file)) as db:
        db.execute("CREATE TABLE _sqlite_migrations (migration_set, name, applied_at)")
        db.execute("CREATE TABLE entries (other)")


def a_later_version(file):
    with closing(sqlite3.connect(file)) as db, db:
        db.execute(
            "INSERT INTO _sqlite_migrations (migration_set, name, applied_at)"
            " VALUES ('shoplog', 'from_the_future', '2030-01-01')"
        )


def half_of_it(file):
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])


DAMAGES = [
    *(a_folder, a_spoiled_head, spoiled_pages, an_empty_file, a_head_alone, other_tables),
    *(a_later_version, half_of_it),
]
# A log that cannot be read is what a restore is for.
MENDED = {("restore", damage) for damage in DAMAGES if damage is not a_folder}


def must_be_plain(code, said, command):
    """Whether a command failed in a sentence; `check` has one for everything that it found."""
    assert code == 1, said
    for word in ("Errno", "Traceback", "sqlite3.", "Error("):
        assert word not in said
    lines = said.splitlines()
    assert len(lines) == 1 or command == "check", said
    assert lines[0].endswith("."), said


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda damage: damage.__name__)
@pytest.mark.parametrize("command", COMMANDS)
def test_a_log_that_cannot_be_read_is_a_sentence(place, capsys, command, damage):
    damage(place.file)
    before = place.file.is_file() and place.file.read_bytes()

    code = main(place.asked(command))

    said = capsys.readouterr().err
    if (command, damage) in MENDED:
        assert (code, said) == (0, "")
        assert main(place.asked("check")) == 0
    else:
        must_be_plain(code, said, command)
        assert damage is not a_later_version or "newer version" in said
        if damage is not other_tables:
            assert (place.file.is_file() and place.file.read_bytes()) == before
    assert list(place.root.rglob("*.part*")) == list(place.root.rglob("*.draft")) == []


@contextmanager
def nobody():
    """Run as somebody whom the permissions of files bind, which they do not an administrator."""
    if os.geteuid() != 0:
        yield
        return
    # Reading a zip needs this codec, and Python's own files may be the administrator's alone.
    codecs.lookup("cp437")
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def owned(monkeypatch):
    """A place that belongs to such a somebody."""
    monkeypatch.setattr("webapp.network.shop_service.serve", lambda *_, **__: None)
    monkeypatch.setattr("webapp.network.demo.serve", lambda *_: None)
    root = Path(tempfile.mkdtemp())
    made = Place(root)
    if os.geteuid() == 0:
        for each in [root, *root.rglob("*")]:
            os.chown(each, NOBODY, NOBODY)
    yield made
    made.data.chmod(0o700)
    shutil.rmtree(root)


def unreadable(place):
    place.file.chmod(0)


def a_shut_folder(place):
    place.data.chmod(0)


def read_only(place):
    place.file.chmod(0o400)
    (place.data / "shop.lock").chmod(0o400)
    place.data.chmod(0o500)


# Who only looks needs No permission to write.
ONLY_LOOK = {("check", read_only), ("export", read_only)}


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="Windows has no such permissions.")
@pytest.mark.parametrize("shut", [unreadable, a_shut_folder, read_only])
@pytest.mark.parametrize("command", COMMANDS)
def test_a_log_without_the_right_to_it_is_a_sentence(owned, capsys, command, shut):
    shut(owned)

    with nobody():
        code = main(owned.asked(command))

    said = capsys.readouterr().err
    if (command, shut) in ONLY_LOOK:
        assert (code, said) == (0, "")
    else:
        must_be_plain(code, said, command)
        assert "owner" in said


def a_source_without_the_right(place):
    place.zip.chmod(0)
    place.backup.chmod(0)
    return ["restore", "import"]


def a_target_without_the_right(place):
    place.root.chmod(0o500)
    return ["backup", "export"]


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="Windows has no such permissions.")
@pytest.mark.parametrize("shut", [a_source_without_the_right, a_target_without_the_right])
def test_what_goes_in_or_out_without_the_right_to_it_is_a_sentence(owned, capsys, shut):
    for command in shut(owned):
        with nobody():
            code = main(owned.asked(command))

        said = capsys.readouterr().err
        must_be_plain(code, said, command)
        assert "No permission" in said or "cannot be opened" in said
        assert "owner" in said


@pytest.mark.parametrize("command", COMMANDS)
def test_a_data_folder_that_is_a_file_is_a_sentence(place, capsys, command):
    shutil.rmtree(place.data)
    place.data.write_text("not a folder")

    code = main(place.asked(command))

    must_be_plain(code, capsys.readouterr().err, command)


@pytest.mark.parametrize("command", ["setup-link", "passphrase", "backup", "check", "export"])
def test_a_data_folder_without_a_log_is_a_sentence_and_stays_so(place, capsys, command):
    place.file.unlink()

    code = main(place.asked(command))

    must_be_plain(code, capsys.readouterr().err, command)
    assert not place.file.exists()


def test_a_target_in_whose_way_something_stands_is_a_sentence(place, capsys):
    (place.root / "to").write_text("not a folder")
    (place.root / "out.zip").mkdir()
    nowhere = ["export", "--data", str(place.data), str(place.root / "none" / "out.zip")]
    asked = [place.asked("backup"), place.asked("export"), nowhere]
    for arguments in asked:
        code = main(arguments)
        said = capsys.readouterr().err
        must_be_plain(code, said, arguments[0])
        assert str(place.root) in said and ".part" not in said

    assert list(place.root.rglob("*.part*")) == []


@pytest.mark.parametrize("damage", [a_folder, an_empty_file, half_of_it, a_head_alone])
def test_what_is_no_export_or_backup_is_a_sentence(place, capsys, damage):
    for command, file in (("restore", place.backup), ("import", place.zip)):
        damage(file)
        code = main(place.asked(command))
        must_be_plain(code, capsys.readouterr().err, command)

    assert main(place.asked("check")) == 0


FULL = """
import contextlib, io, json, os, sys
from pathlib import Path
from kit.shop_place import COMMANDS, Place
from webapp.command import main
from webapp.network import demo, shop_service
shop_service.serve = demo.serve = lambda *_, **__: None
place = Place(Path(sys.argv[1]))
(place.data / "photos").mkdir()
with (place.root / "fill").open("wb", buffering=0) as fill, contextlib.suppress(OSError):
    while True:
        fill.write(os.urandom(4096))
told = {}
for command in COMMANDS:
    arguments = place.asked(command)
    if command in {"serve", "demo", "restore", "import"}:
        arguments[2] = str(place.root / f"new-{command}")
    said = io.StringIO()
    with contextlib.redirect_stderr(said):
        code = main(arguments)
    told[command] = [code, said.getvalue()]
left = [str(path) for path in place.root.rglob("*") if path.name.endswith((".part", ".draft"))]
print("told:" + json.dumps([told, left]))
"""
ROOM = 'mount -t tmpfs -o size=8m small "$DISK"; exec "$PYTHON" -c "$CODE" "$DISK"'


@pytest.mark.skipif(not small_disks(), reason="No disk of its own for a process here.")
def test_f50_every_command_says_of_a_disk_that_is_really_full_that_it_is(tmp_path):
    path = os.pathsep.join([str(TESTS), *sys.path])
    given = {"DISK": str(tmp_path), "PYTHON": sys.executable, "CODE": FULL, "PYTHONPATH": path}
    done = subprocess.run(
        [*SMALL_DISK, ROOM], env={**os.environ, **given}, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    told, left = json.loads(done.stdout.rpartition("told:")[2])

    for command in set(COMMANDS) - {"check", "passphrase", "setup-link"}:
        code, said = told[command]
        must_be_plain(code, said, command)
        assert "is full" in said
    for command in ("passphrase", "setup-link"):
        code, said = told[command]
        must_be_plain(code, said, command)
    assert told["check"] == [0, ""]
    assert left == []
