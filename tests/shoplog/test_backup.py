"""A backup is a whole log, and a restored one is noticed."""

import shutil
import sqlite3
import threading
from contextlib import closing

import pytest
from kit.entries import hire, make_entry, stored_ids, verdicts

from webapp.shoplog import BadBackup, LogInUse, ShopLog, connection
from webapp.shoplog.backup import back_up, restore


def test_f37_after_a_restore_phones_send_again_and_nothing_is_missing_or_doubled(
    log_folder, tmp_path
):
    backup = tmp_path / "backup.db"
    with ShopLog(log_folder) as shop:
        crew = hire(shop)
        entries = [make_entry(crew.phone) for _ in range(100)]
        shop.append(crew.phone, entries[:50])
        back_up(shop, backup)
        shop.append(crew.phone, entries[50:])
        before = (shop.server_id, shop.epoch)
    restore(backup, log_folder)
    with ShopLog(log_folder) as shop:
        restored = len(stored_ids(shop))
        after = (shop.server_id, shop.epoch)
        answers = shop.append(crew.phone, entries)
        kept = stored_ids(shop)
        faults = shop.check()

    assert restored == 50
    assert after[0] == before[0]
    assert after[1] > before[1]
    assert verdicts(answers) == ["already"] * 50 + ["stored"] * 50
    assert kept == [entry["id"] for entry in entries]
    assert faults == []


@pytest.fixture(params=[0, 1_000_000_000, 4_000_000_000])
def clock(request, monkeypatch):
    """A clock that stands still: long ago, years behind, or decades ahead."""
    monkeypatch.setattr("time.time", lambda: request.param)


def epoch_in(folder):
    with ShopLog(folder) as log:
        return log.epoch


def test_f37_an_epoch_only_rises_and_no_log_that_was_replaced_is_overwritten(
    shop, crew, log_folder, tmp_path, clock
):
    back_up(shop, tmp_path / "backup.db")
    kept, epochs = [], [shop.epoch]
    for number in range(4):
        entry = make_entry(crew.phone)
        with ShopLog(log_folder) if number else shop as log:
            log.append(crew.phone, [entry])
        kept.append(entry["id"])
        epochs.append(restore(tmp_path / "backup.db", log_folder))
        assert epoch_in(log_folder) == epochs[-1]

    assert epochs == sorted(set(epochs))
    beside = []
    for path in log_folder.glob("before-*.db"):
        with closing(sqlite3.connect(path)) as db:
            beside += [
                row[0] for row in db.execute("SELECT id FROM entries WHERE kind = 'reading'")
            ]
    assert sorted(beside) == sorted(kept)


def test_f37_the_same_backup_on_two_computers_is_noticed_twice_whatever_the_clock(
    shop, tmp_path, clock
):
    back_up(shop, tmp_path / "backup.db")
    epochs = [restore(tmp_path / "backup.db", tmp_path / str(number)) for number in range(5)]

    assert len({*epochs, shop.epoch}) == 6


def test_f37_an_epoch_rises_where_the_log_before_cannot_be_read(shop, log_folder, tmp_path, clock):
    back_up(shop, tmp_path / "backup.db")
    shop.close()
    first = restore(tmp_path / "backup.db", log_folder)
    second = restore(tmp_path / "backup.db", log_folder)
    (log_folder / connection.FILE).write_bytes(b"no database" * 1000)

    assert first < second < restore(tmp_path / "backup.db", log_folder)


def test_what_a_restore_replaces_is_kept_beside_it(shop, crew, log_folder, tmp_path):
    back_up(shop, tmp_path / "backup.db")
    shop.append(crew.phone, [make_entry(crew.phone)])
    shop.close()
    restore(tmp_path / "backup.db", log_folder)

    [replaced] = log_folder.glob("before-*.db")
    db = sqlite3.connect(replaced)
    count = db.execute("SELECT count(*) FROM entries WHERE kind = 'reading'").fetchone()
    db.close()
    assert count == (1,)


def test_a_backup_goes_into_an_empty_folder_too(shop, crew, tmp_path):
    shop.append(crew.phone, [make_entry(crew.phone)])
    back_up(shop, tmp_path / "backup.db")
    restore(tmp_path / "backup.db", tmp_path / "new")
    with ShopLog(tmp_path / "new") as restored:
        assert stored_ids(restored) == stored_ids(shop)


def test_f48_a_backup_in_a_storm_of_writing_holds_all_that_was_acknowledged(shop, crew, tmp_path):
    enough = threading.Event()
    done = threading.Event()
    acknowledged = []

    def storm():
        while not done.is_set():
            answers = shop.append(crew.phone, [make_entry(crew.phone)])
            acknowledged.append(answers[0]["id"])
            if len(acknowledged) > 20:
                enough.set()

    thread = threading.Thread(target=storm)
    thread.start()
    assert enough.wait(30)
    before = list(acknowledged)
    back_up(shop, tmp_path / "backup.db")
    done.set()
    thread.join()
    restore(tmp_path / "backup.db", tmp_path / "new")
    with ShopLog(tmp_path / "new") as restored:
        assert set(before) <= set(stored_ids(restored)) <= set(acknowledged)


def shorten(path):
    """Lose the second half of a file."""
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def tamper(path):
    """Change a line of the log."""
    db = sqlite3.connect(path)
    db.execute("DROP TRIGGER entries_never_change")
    db.execute("UPDATE entries SET typed = 'other'")
    db.commit()
    db.close()


def empty(path):
    """Put an empty database in its place."""
    path.unlink()
    db = sqlite3.connect(path)
    db.execute("VACUUM")
    db.close()


@pytest.mark.parametrize("damage", [shorten, tamper, empty, lambda path: path.unlink()])
def test_f48_a_damaged_backup_is_rejected_and_the_log_stays(
    shop, crew, log_folder, tmp_path, damage
):
    backup = tmp_path / "backup.db"
    shop.append(crew.phone, [make_entry(crew.phone) for _ in range(30)])
    back_up(shop, backup)
    shop.close()
    damage(backup)
    with pytest.raises(BadBackup):
        restore(backup, log_folder)
    with ShopLog(log_folder) as still:
        assert (len(stored_ids(still)), still.epoch) == (30, 1)

    assert sorted(path.name for path in log_folder.iterdir()) == [connection.FILE, "shop.lock"]


def test_a_running_log_is_not_replaced(shop, log_folder, tmp_path):
    back_up(shop, tmp_path / "backup.db")
    with pytest.raises(LogInUse):
        restore(tmp_path / "backup.db", log_folder)


def as_a_power_cut_leaves_it(log_folder, place):
    """The files of a log whose newest lines are still in its write-ahead log."""
    place.mkdir()
    for name in (connection.FILE, f"{connection.FILE}-wal"):
        shutil.copy(log_folder / name, place)
    assert (place / f"{connection.FILE}-wal").stat().st_size > 0
    return place / connection.FILE


def test_f48_the_lines_in_the_write_ahead_log_of_a_copied_folder_come_along(
    shop, crew, log_folder, tmp_path
):
    shop.append(crew.phone, [make_entry(crew.phone) for _ in range(200)])
    copied = as_a_power_cut_leaves_it(log_folder, tmp_path / "copied")
    before = {path.name: path.read_bytes() for path in copied.parent.iterdir()}

    restore(copied, tmp_path / "new")

    with ShopLog(tmp_path / "new") as restored:
        assert stored_ids(restored) == stored_ids(shop)
    assert {path.name: path.read_bytes() for path in copied.parent.iterdir()} == before
    assert not list((tmp_path / "new").glob("*.part*"))


def test_f48_a_change_that_was_cut_off_is_taken_back_in_a_restore(shop, crew, tmp_path):
    backup = tmp_path / "half" / "backup.db"
    backup.parent.mkdir()
    shop.append(crew.phone, [make_entry(crew.phone) for _ in range(30)])
    back_up(shop, tmp_path / "whole.db")
    shutil.copy(tmp_path / "whole.db", tmp_path / "changing.db")
    db = sqlite3.connect(tmp_path / "changing.db", isolation_level=None)
    db.execute("PRAGMA cache_size = 2")
    db.execute("BEGIN IMMEDIATE")
    db.execute("DROP TRIGGER entries_never_change")
    db.execute("UPDATE entries SET typed = hex(randomblob(2000))")
    for ending in ("", "-journal"):
        shutil.copy(tmp_path / f"changing.db{ending}", f"{backup}{ending}")
    db.close()
    assert backup.read_bytes() != (tmp_path / "whole.db").read_bytes()

    restore(backup, tmp_path / "new")

    with ShopLog(tmp_path / "new") as restored:
        assert stored_ids(restored) == stored_ids(shop)
        assert restored.check() == []


def test_a_log_that_is_written_to_is_not_copied_by_its_files(shop, crew, log_folder, tmp_path):
    shop.append(crew.phone, [make_entry(crew.phone)])
    with pytest.raises(LogInUse, match="already running"):
        restore(log_folder / connection.FILE, tmp_path / "new")


def test_a_log_that_is_closed_is_one_file_even_while_somebody_reads_it(shop, crew, log_folder):
    shop.append(crew.phone, [make_entry(crew.phone) for _ in range(20)])
    with closing(sqlite3.connect(log_folder / connection.FILE)) as reader:
        reader.execute("SELECT count(*) FROM entries").fetchone()
        shop.close()
        assert (log_folder / f"{connection.FILE}-wal").stat().st_size == 0
