"""What is on the disk, whatever else happens: other processes, kills, a full disk."""

import json
import re
import shutil
import sqlite3
import subprocess
import sys
import threading
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest
from kit.entries import hire, make_entry, new_id, stored_ids, verdicts

from webapp.shoplog import LogBusy, LogDamaged, LogFull, LogInUse, NotFound, ShopLog, connection
from webapp.shoplog.chain import check_folder

SCRIPT = Path(__file__).parents[1] / "kit" / "shop_process.py"
STRACE = shutil.which("strace")


def command(verb, folder, *more):
    """The command line of another process at this folder."""
    return [sys.executable, str(SCRIPT), verb, str(folder), *more]


@contextmanager
def another_process(verb, folder, *more):
    """Another process at this folder, killed at the end."""
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
    with subprocess.Popen(command(verb, folder, *more), **pipes) as process:
        try:
            yield process
        finally:
            process.kill()


def answer(process):
    """The next line that the process says."""
    return json.loads(process.stdout.readline())


def ask(verb, folder):
    """What a process says that runs to its end."""
    done = subprocess.run(command(verb, folder), capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def test_f44_writers_wait_for_another_process_and_lose_nothing(log_folder):
    with ShopLog(log_folder, busy_seconds=0.05) as shop:
        crew = hire(shop)
        batches = [[make_entry(crew.phone) for _ in range(3)] for _ in range(40)]
        busy = threading.Event()
        with another_process("hold", log_folder) as holder:
            assert answer(holder) == "holding"
            threads = [
                threading.Thread(
                    target=post_until_stored, args=(shop, crew.phone, batches[no::20], busy)
                )
                for no in range(20)
            ]
            for thread in threads:
                thread.start()
            assert busy.wait(30)
            holder.communicate("go\n")
            for thread in threads:
                thread.join(60)
        stored = stored_ids(shop)

    assert sorted(stored) == sorted(entry["id"] for batch in batches for entry in batch)


def post_until_stored(shop, phone, batches, busy):
    """Send each batch until it is answered, as a phone does; `busy` is set by the first refusal."""
    for batch in batches:
        answers = None
        while answers is None:
            try:
                answers = shop.append(phone, batch)
            except LogBusy:
                busy.set()


def test_f44_a_busy_log_says_so_and_keeps_nothing(log_folder):
    with ShopLog(log_folder, busy_seconds=0.05) as shop:
        crew = hire(shop)
        with another_process("hold", log_folder) as holder:
            assert answer(holder) == "holding"
            with pytest.raises(LogBusy, match="Nothing was lost"):
                shop.append(crew.phone, [make_entry(crew.phone)])

        assert stored_ids(shop) == []


def test_f44_a_write_waits_for_the_lock_instead_of_failing_at_once(log_folder):
    with ShopLog(log_folder, busy_seconds=30) as shop:
        crew = hire(shop)
        refused = []
        with another_process("hold", log_folder) as holder:
            assert answer(holder) == "holding"
            thread = threading.Thread(target=try_to_append, args=(shop, crew.phone, refused))
            thread.start()
            thread.join(0.5)
            waited = thread.is_alive()
            holder.communicate("go\n")
            thread.join(30)

        assert (waited, refused) == (True, [])
        assert len(stored_ids(shop)) == 1


def test_f44_a_writer_waits_its_turn_within_the_process(log_folder):
    with ShopLog(log_folder, busy_seconds=0.05) as shop:
        crew = hire(shop)
        refused = []
        with shop.writing():
            thread = threading.Thread(target=try_to_append, args=(shop, crew.phone, refused))
            thread.start()
            thread.join(30)

    assert refused == ["LogBusy"]


def try_to_append(shop, phone, refused):
    """Append once and note the name of what was raised."""
    try:
        shop.append(phone, [make_entry(phone)])
    except LogBusy as error:
        refused.append(type(error).__name__)


def pragma(db, name):
    """The value of a PRAGMA on this connection."""
    return db.execute(f"PRAGMA {name}").fetchone()[0]


def test_f45_every_connection_flushes_to_the_disk(shop):
    with ExitStack() as stack:
        connections = [stack.enter_context(shop.reading()) for _ in range(3)]
        connections.append(stack.enter_context(shop.writing()))

        assert len({id(db) for db in connections}) == 4
        assert [pragma(db, "synchronous") for db in connections] == [2, 2, 2, 2]
        assert [pragma(db, "journal_mode") for db in connections] == ["wal"] * 4
        assert [pragma(db, "mmap_size") for db in connections] == [0, 0, 0, 0]


def test_f45_a_mac_is_told_to_flush_its_drive_too(shop, monkeypatch):
    monkeypatch.setattr(connection.sys, "platform", "darwin")
    db = connection.open_reader(shop.path)

    flushes = [pragma(db, "fullfsync"), pragma(db, "checkpoint_fullfsync")]

    db.close()
    assert flushes == [1, 1]


@pytest.mark.skipif(STRACE is None, reason="strace is not installed, so no flush can be counted")
def test_f45_every_acknowledged_batch_was_flushed(log_folder, tmp_path):
    with ShopLog(log_folder) as shop:
        crew = hire(shop)
    counts = tmp_path / "counts"
    traced = [STRACE, "-f", "-c", "-e", "trace=fsync,fdatasync", "-o", str(counts)]
    worker = command("write_batches", log_folder, crew.phone, "25")
    subprocess.run([*traced, *worker], check=True, stdout=subprocess.DEVNULL)

    calls = re.findall(r"(\d+)\s+(?:fsync|fdatasync)$", counts.read_text(), re.MULTILINE)

    assert sum(map(int, calls)) >= 25


def test_f45_what_was_acknowledged_is_there_after_every_kill(log_folder):
    with ShopLog(log_folder) as shop:
        crew = hire(shop)
    acknowledged = []
    for patience in range(1, 13):
        with another_process("write_for_ever", log_folder, crew.phone) as writer:
            for _ in range(patience):
                acknowledged += answer(writer)
    with ShopLog(log_folder) as shop:
        stored = stored_ids(shop)
        faults = shop.check()

    assert len(acknowledged) >= 3 * sum(range(1, 13))
    assert set(acknowledged) <= set(stored)
    assert len(stored) == len(set(stored))
    assert faults == []


def test_f26_a_reply_lost_with_the_server_is_made_good_by_sending_again(log_folder):
    with ShopLog(log_folder) as shop:
        crew = hire(shop)
    batch = [make_entry(crew.phone) for _ in range(5)]
    with another_process("commit_and_die", log_folder, crew.phone) as server:
        replied = server.communicate(json.dumps(batch))[0]
    with ShopLog(log_folder) as shop:
        answers = [shop.append(crew.phone, batch) for _ in range(5)]

        assert replied == ""
        assert [verdicts(each) for each in answers] == [["already"] * 5] * 5
        assert stored_ids(shop) == [entry["id"] for entry in batch]


def test_f46_only_the_writer_checkpoints(shop):
    with shop.writing() as db:
        writers = pragma(db, "wal_autocheckpoint")
    with shop.reading() as db:
        readers = pragma(db, "wal_autocheckpoint")
    db = connection.open_reader(shop.path)
    with pytest.raises(sqlite3.OperationalError, match=r"readonly|I/O"):
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
    db.close()

    assert (writers, readers) == (1000, 0)


def test_f46_a_reader_cannot_write(shop):
    with shop.reading() as db, pytest.raises(sqlite3.OperationalError, match="readonly"):
        db.execute("DELETE FROM facts")


@pytest.mark.parametrize(
    ("version", "warns"),
    [((3, 40, 1), True), ((3, 51, 2), True), ((3, 51, 3), False), ((3, 53, 0), False)],
)
def test_f46_an_affected_sqlite_is_named(version, warns):
    warning = connection.sqlite_warning(version)

    assert (warning is not None) is warns
    if warns:
        assert ".".join(map(str, version)) in warning


def test_f46_the_health_of_the_log_shows_its_sqlite(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone)])

    health = shop.health()

    assert health["sqlite"] == sqlite3.sqlite_version
    assert health["warning"] == connection.sqlite_warning()
    assert health["entries"] == shop.high_water()
    assert health["wal_bytes"] > 0
    assert not health["wal_is_stuck"]


def test_f47_the_write_ahead_log_shrinks_again_behind_a_slow_reader(shop, crew, monkeypatch):
    monkeypatch.setattr(connection, "WAL_CAP", 500_000)
    with shop.reading() as slow:
        slow.execute("SELECT count(*) FROM entries").fetchone()
        for _ in range(6):
            shop.append(crew.phone, [make_entry(crew.phone) for _ in range(200)])
        behind = shop.wal_bytes()
    shop.append(crew.phone, [make_entry(crew.phone)])

    assert behind > 500_000
    assert shop.wal_bytes() <= 500_000
    assert len(stored_ids(shop)) == 1201


def test_f50_a_full_disk_acknowledges_nothing_and_takes_all_once_there_is_room(shop, crew):
    batches = [[make_entry(crew.phone) for _ in range(100)] for _ in range(3)]
    shop.append(crew.phone, batches[0])
    with shop.writing() as db:
        roomy = pragma(db, "max_page_count")
        db.execute(f"PRAGMA max_page_count = {pragma(db, 'page_count') + 2}")
    with pytest.raises(LogFull, match="disk is full"):
        shop.append(crew.phone, batches[1])
    kept = stored_ids(shop)
    with shop.writing() as db:
        db.execute(f"PRAGMA max_page_count = {roomy}")
    answers = [shop.append(crew.phone, batch) for batch in batches]

    assert kept == [entry["id"] for entry in batches[0]]
    assert [verdicts(each)[0] for each in answers] == ["already", "stored", "stored"]
    assert stored_ids(shop) == [entry["id"] for batch in batches for entry in batch]
    assert shop.check() == []


WRITES = {
    "append": (
        lambda shop, crew: shop.append(crew.phone, [make_entry(crew.phone)]),
        "SELECT count(*) FROM entries WHERE kind IN ('reading', 'limit')",
        1,
    ),
    "append, projections": (
        lambda shop, crew: shop.append(crew.phone, [make_entry(crew.phone, "job")]),
        "SELECT count(*) FROM jobs JOIN vehicles ON vehicles.id = jobs.vehicle",
        1,
    ),
    "append, differs": (
        lambda shop, crew: [
            shop.append(crew.phone, [make_entry(crew.phone, id=same)]) for same in [new_id()] * 2
        ],
        "SELECT count(*) FROM quarantine",
        1,
    ),
    "append, report": (
        lambda shop, crew: shop.append(crew.phone, [], {"pending_count": 4}),
        "SELECT pending_count FROM phones WHERE last_contact IS NOT NULL",
        4,
    ),
    "write_at_desk": (
        lambda shop, crew: shop.write_at_desk(
            crew.lead, [{"kind": "limit", "body": make_entry(crew.phone, "limit")["body"]}], "cafe"
        ),
        "SELECT count(*) FROM entries WHERE kind IN ('reading', 'limit')",
        1,
    ),
    "add_person": (
        lambda shop, crew: shop.add_person("Ines", "lead"),
        "SELECT count(*) FROM people WHERE name = 'Ines'",
        1,
    ),
    "change_person": (
        lambda shop, crew: shop.change_person(crew.lead, "Bram T", "technician"),
        "SELECT role FROM people WHERE name = 'Bram T'",
        "technician",
    ),
    "add_phone": (
        lambda shop, crew: shop.add_phone(crew.lead, "blue phone", "hash"),
        "SELECT credential_hash FROM phones WHERE name = 'blue phone'",
        "hash",
    ),
    "desk_of": (
        lambda shop, crew: shop.desk_of(crew.lead),
        "SELECT count(*) FROM phones WHERE kind = 'desk'",
        1,
    ),
    "revoke_phone": (
        lambda shop, crew: shop.revoke_phone(crew.phone),
        "SELECT count(*) FROM phones WHERE revoked_at IS NOT NULL",
        1,
    ),
    "add_pairing": (
        lambda shop, crew: shop.add_pairing("hash", crew.lead, "2999-01-01"),
        "SELECT count(*) FROM pairings WHERE used_at IS NULL",
        1,
    ),
    "use_pairing": (
        lambda shop, crew: [shop.add_pairing("h", crew.lead, "2999"), shop.use_pairing("h")],
        "SELECT count(*) FROM pairings WHERE used_at IS NOT NULL",
        1,
    ),
    "fact_or_make": (
        lambda shop, crew: shop.fact_or_make("secret_key", lambda: "s3cret"),
        "SELECT value FROM facts WHERE name = 'secret_key'",
        "s3cret",
    ),
    "rebuild": (
        lambda shop, crew: [damage_projections(shop, crew), shop.rebuild()],
        "SELECT count(*) FROM jobs",
        1,
    ),
}


def damage_projections(shop, crew):
    """A log with one job, whose projection was lost."""
    shop.append(crew.phone, [make_entry(crew.phone, "job")])
    with shop.writing() as db:
        db.execute("DELETE FROM jobs")


@pytest.fixture(scope="module")
def reader(tmp_path_factory):
    """Another process, and the folder that it reads through a new connection per question."""
    folder = tmp_path_factory.mktemp("read")
    with another_process("read", folder) as process:
        yield folder, process


@pytest.mark.parametrize("write", WRITES)
def test_f51_what_a_call_wrote_is_there_for_another_process(reader, write):
    folder, process = reader
    act, query, expected = WRITES[write]
    with ShopLog(folder) as shop:
        act(shop, hire(shop))
        process.stdin.write(query + "\n")
        process.stdin.flush()
        seen = answer(process)
    (folder / connection.FILE).unlink()

    assert seen == [[expected]]


def test_a_folder_is_taken_by_one_process_at_a_time(shop, log_folder):
    reason = ask("take", log_folder)

    assert "already running" in reason
    assert str(log_folder) in reason


def test_a_folder_is_taken_once_within_a_process_too(shop, log_folder):
    with pytest.raises(LogInUse, match="Close it there first"):
        ShopLog(log_folder)


def test_a_folder_is_free_again_after_closing(log_folder):
    ShopLog(log_folder).close()

    assert ask("take", log_folder) is None


def test_a_taken_folder_can_still_be_checked(shop, log_folder):
    assert ask("check", log_folder) == []


def test_a_folder_without_a_log_cannot_be_checked(tmp_path):
    with pytest.raises(NotFound, match="no shop log"):
        check_folder(tmp_path)


def test_a_log_that_cannot_be_opened_gives_its_folder_back(log_folder):
    log_folder.mkdir()
    (log_folder / connection.FILE).write_bytes(b"no database" * 100)
    for _ in range(2):
        with pytest.raises(LogDamaged, match="not a database"):
            ShopLog(log_folder)


def test_a_read_still_open_while_the_log_closes_is_closed_after_it(log_folder):
    shop = ShopLog(log_folder)
    with shop.reading() as db:
        shop.close()
    with pytest.raises(sqlite3.ProgrammingError, match="closed"):
        db.execute("SELECT 1")
