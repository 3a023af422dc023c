"""Backups by command and on a schedule, restoring, checking, and carrying a log elsewhere."""

import errno
import json
import os
import re
import sqlite3
import sys
import zipfile
from datetime import UTC, datetime, timedelta

import pytest
from kit.entries import SOME_ENTRY, hire, make_entry, new_id, stored_ids
from kit.pictures import jpeg, name_of
from kit.servers import free_port

from webapp.command import main
from webapp.maintenance import backups
from webapp.maintenance.commands import backup_schedule
from webapp.maintenance.rotation import moments_to_keep, stamp_of
from webapp.reckon.photo_bounds import MOST_PIXELS
from webapp.shoplog import BadBackup, LogInUse, LogTooNew, NotFound, ShopLog
from webapp.shoplog.export_import import bring_in, export
from webapp.shoplog.files.atomic import growing
from webapp.shoplog.files.photo_files import hash_bytes
from webapp.shoplog.files.picture_process import redrawn
from webapp.shoplog.full_check import awaited_photos, check_all

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


@pytest.fixture
def filled(shop, crew):
    """The log with 30 entries, still open."""
    shop.append(crew.phone, [make_entry(crew.phone, local_no=number) for number in range(1, 31)])
    return shop


def put_photo(folder, body=b"a picture"):
    """Put a photo's file where the service keeps it."""
    path = folder / "photos" / f"{hash_bytes(body)}.jpg"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(body)
    return path


def run(*arguments):
    return main([str(each) for each in arguments])


def test_f48_a_backup_while_the_service_runs_goes_to_two_folders_photos_and_all(
    filled, log_folder, tmp_path, capsys, monkeypatch
):
    photo = put_photo(log_folder)
    first, second = tmp_path / "disk", tmp_path / "stick"

    on_another_disk(monkeypatch, second)

    code = run("backup", "--data", log_folder, "--to", first, "--also", second)

    [one], [two] = first.glob("*.db"), second.glob("*.db")
    assert code == 0
    assert one.read_bytes() == two.read_bytes()
    assert "34 entries, checked" in capsys.readouterr().out
    assert (second / "photos" / photo.name).read_bytes() == b"a picture"
    assert backups.last(log_folder)["fault"] is None
    assert list(log_folder.glob("*.draft")) == []


def on_another_disk(monkeypatch, folder):
    """Let a folder be on a disk of its own."""
    usual = backups.disk_of
    own = {folder: -1}
    monkeypatch.setattr(backups, "disk_of", lambda each: own.get(each) or usual(each))


def test_f64_a_second_folder_on_the_logs_own_disk_is_refused_and_the_first_is_filled(
    filled, log_folder, tmp_path, capsys
):
    first, second = tmp_path / "to", tmp_path / "stick"

    assert run("backup", "--data", log_folder, "--to", first, "--also", second) == 1

    [made] = first.glob("*.db")
    said = capsys.readouterr().err
    assert "on the disk of the log itself" in said
    assert f"It was made as {made}." in said
    assert not second.exists()
    noted = backups.last(log_folder)
    assert noted["good"] and noted["same_disk"] and "stick" in noted["fault"]


def test_f64_a_folder_on_a_disk_that_is_not_there_is_refused(filled, log_folder, tmp_path, capsys):
    gone = tmp_path / "unplugged" / "axlewright"

    assert run("backup", "--data", log_folder, "--to", gone) == 1

    said = capsys.readouterr().err
    assert f"{gone.parent} is not there: plug that disk in" in said
    assert not gone.parent.exists()
    assert backups.last(log_folder)["good"] is None


def test_f64_a_folder_that_a_cloud_service_takes_away_may_be_on_the_same_disk(
    filled, log_folder, tmp_path
):
    (tmp_path / "OneDrive").mkdir()

    backups.make(log_folder, [tmp_path / "to", tmp_path / "OneDrive" / "axlewright"])

    assert backups.last(log_folder)["same_disk"] is False


def test_f64_what_a_killed_backup_left_is_taken_away_once_it_is_old(filled, log_folder, tmp_path):
    folder = tmp_path / "to"
    name = "axlewright-20261125-104207.db"
    left = [
        log_folder / f"{name}.draft",
        log_folder / f"{name}.draft.part",
        folder / f"{name}.part",
    ]
    left.append(folder / "photos" / "ab.jpg.part")
    (folder / "photos").mkdir(parents=True)
    for path in left:
        path.write_bytes(b"half")
    backups.make(log_folder, [folder], NOW)
    assert all(path.exists() for path in left)
    for path in left:
        os.utime(path, (0, 0))

    backups.make(log_folder, [folder], NOW)

    assert not any(path.exists() for path in left)


def test_f37_restore_takes_the_newest_and_keeps_what_it_replaces(
    filled, crew, log_folder, tmp_path, capsys
):
    photo = put_photo(log_folder)
    backups.make(log_folder, [tmp_path / "to"], NOW)
    filled.append(crew.phone, [make_entry(crew.phone)])
    backups.make(log_folder, [tmp_path / "to"], NOW + timedelta(hours=1))
    filled.append(crew.phone, [make_entry(crew.phone)])
    filled.close()
    photo.unlink()

    assert run("restore", "--data", log_folder, tmp_path / "to") == 0

    out = capsys.readouterr().out
    with ShopLog(log_folder) as restored:
        assert len(stored_ids(restored)) == 31
        assert restored.epoch > 1
    [before] = log_folder.glob("before-*.db")
    assert str(before) in out
    assert photo.read_bytes() == b"a picture"


def test_f37_restore_takes_the_fullest_and_not_the_one_of_a_clock_that_was_ahead(
    filled, crew, log_folder, tmp_path
):
    backups.make(log_folder, [tmp_path / "to"], NOW + timedelta(days=900))
    filled.append(crew.phone, [make_entry(crew.phone)])
    backups.make(log_folder, [tmp_path / "to"], NOW)
    filled.close()

    assert run("restore", "--data", log_folder, tmp_path / "to") == 0

    with ShopLog(log_folder) as restored:
        assert len(stored_ids(restored)) == 31


def test_f37_a_running_service_is_not_restored_over(filled, log_folder, tmp_path, capsys):
    backups.make(log_folder, [tmp_path / "to"])

    assert run("restore", "--data", log_folder, tmp_path / "to") == 1

    assert "already running" in capsys.readouterr().err


def test_a_backup_of_a_later_version_is_refused(filled, log_folder, tmp_path):
    [backup] = backups.make(log_folder, [tmp_path / "to"]).files
    filled.close()
    db = sqlite3.connect(backup)
    db.execute(
        "INSERT INTO _sqlite_migrations (migration_set, name, applied_at)"
        " VALUES ('shoplog', 'from_the_future', '2030-01-01')"
    )
    db.commit()
    db.close()
    with pytest.raises(LogTooNew, match="Nothing was changed"):
        backups.put_back(backup, log_folder)
    with ShopLog(log_folder) as still:
        assert (len(stored_ids(still)), still.epoch) == (30, 1)


def test_f48_a_backup_whose_photo_is_damaged_is_refused(filled, log_folder, tmp_path):
    put_photo(log_folder)
    [backup] = backups.make(log_folder, [tmp_path / "to"]).files
    filled.close()
    put_photo(tmp_path / "to").write_bytes(b"another picture")
    with pytest.raises(BadBackup, match="changed after it was stored"):
        backups.put_back(backup, log_folder)


def test_f48_a_backup_that_fails_leaves_nothing_behind_and_is_told(log_folder, tmp_path):
    log_folder.mkdir()
    with pytest.raises(NotFound, match="no shop log"):
        backups.make(log_folder, [tmp_path / "to"], NOW)

    assert not (tmp_path / "to").exists() or list((tmp_path / "to").iterdir()) == []
    said = backups.last(log_folder)
    assert "no shop log" in said["fault"]
    assert (said["at"], said["good"]) == (NOW.isoformat(), None)


def test_a_folder_without_backups_restores_nothing(log_folder, tmp_path, capsys):
    assert run("restore", "--data", log_folder, tmp_path) == 1

    assert "no backup" in capsys.readouterr().err


def test_two_backups_in_the_same_second_are_two(filled, log_folder, tmp_path):
    for _ in range(2):
        backups.make(log_folder, [tmp_path / "to"], NOW)

    assert len(backups.backups_in(tmp_path / "to")) == 2


def test_backups_thin_out_with_age_and_the_newest_stays():
    hourly = [NOW - timedelta(hours=hour) for hour in range(24 * 500)]

    stays = moments_to_keep(hourly, NOW)

    ages = sorted((NOW - moment).total_seconds() / 86400 for moment in stays)
    assert sum(age <= 1 for age in ages) == 25
    assert sum(1 < age <= 31 for age in ages) in (29, 30, 31)
    assert sum(age > 31 for age in ages) in (10, 11, 12)
    assert ages[-1] <= 366
    assert moments_to_keep([NOW - timedelta(days=4000)], NOW) == {NOW - timedelta(days=4000)}
    assert moments_to_keep([NOW + timedelta(days=9), NOW], NOW) == {NOW + timedelta(days=9), NOW}


@pytest.mark.parametrize(
    "jump", [timedelta(days=800), timedelta(days=-9000)], ids=["ahead", "behind"]
)
def test_f64_a_clock_that_jumps_thins_no_backups(jump):
    hourly = [NOW - timedelta(hours=hours) for hours in range(24 * 500)]
    before = moments_to_keep(hourly, NOW)
    there = set(before)

    for hours in range(48):
        wrong = NOW + jump + timedelta(hours=hours)
        there = moments_to_keep({*there, wrong}, wrong)
        assert wrong in there

    days = {each.date() for each in before if NOW - each < timedelta(days=28)}
    assert days <= {each.date() for each in there}
    months = {(each.year, each.month) for each in before if NOW - each < timedelta(days=300)}
    assert months <= {(each.year, each.month) for each in there}
    right = NOW + timedelta(hours=50)
    assert right in moments_to_keep({*there, right}, right)


def test_f64_backups_of_a_clock_that_was_ahead_for_weeks_push_out_none_of_today():
    ahead = [NOW + timedelta(days=400, hours=-hours) for hours in range(24 * 40)]
    right = [NOW - timedelta(hours=hours) for hours in range(24 * 20)]

    stays = moments_to_keep([*ahead, *right], NOW)

    assert {each.date() for each in right} <= {each.date() for each in stays}


def test_old_backups_go_and_other_files_stay(filled, log_folder, tmp_path):
    folder = tmp_path / "to"
    folder.mkdir()
    old = [NOW - timedelta(days=30 * months) for months in range(40)]
    for moment in old:
        (folder / f"axlewright-{stamp_of(moment)}.db").write_bytes(b"")
    (folder / "notes.db").write_text("mine")
    (folder / "axlewright-notes.db").write_text("mine too")

    backups.rotate(folder, NOW)

    names = {path.name for path in folder.iterdir()}
    stay = {f"axlewright-{stamp_of(moment)}.db" for moment in old[:32]}
    assert names == {*stay, "axlewright-notes.db", "notes.db"}


@pytest.fixture
def at_once(monkeypatch):
    """Schedules that wait for nothing."""
    monkeypatch.setattr(backups, "SHORTEST_PAUSE", timedelta(0))


def test_a_schedule_makes_backups_until_it_is_stopped(filled, log_folder, tmp_path, at_once):
    with backups.Schedule(log_folder, [tmp_path / "to"], timedelta(milliseconds=10)) as schedule:
        while len(backups.backups_in(tmp_path / "to")) < 2:
            assert schedule.thread.is_alive()

    assert not schedule.thread.is_alive()


def test_a_schedule_survives_a_backup_that_fails(filled, log_folder, tmp_path, at_once):
    (tmp_path / "to").write_text("not a folder")
    with backups.Schedule(log_folder, [tmp_path / "to"], timedelta(milliseconds=10)) as schedule:
        while (backups.last(log_folder) or {}).get("fault") is None:
            assert schedule.thread.is_alive()
        (tmp_path / "to").unlink()
        while backups.last(log_folder)["good"] is None:
            assert schedule.thread.is_alive()

    assert len(backups.backups_in(tmp_path / "to")) >= 1


def test_the_service_backs_up_every_so_many_hours_and_never_for_0(log_folder, tmp_path):
    usual = backup_schedule(log_folder, 6.0, None, None)
    other = backup_schedule(log_folder, 1.0, tmp_path, None)
    never = backup_schedule(log_folder, 0.0, None, None)

    assert isinstance(usual, backups.Schedule)
    assert (usual.pause, usual.folders) == (6 * 3600, [log_folder / "backups"])
    assert isinstance(other, backups.Schedule)
    assert (other.pause, other.folders) == (3600, [tmp_path])
    assert not isinstance(never, backups.Schedule)


@pytest.mark.parametrize("hours", ["-1", "often", "nan", "9999"])
def test_odd_hours_are_refused(hours, capsys):
    assert run("serve", f"--backup-every={hours}") == 2

    assert "hours are a number from 0 to 744" in capsys.readouterr().err


def test_a_sound_log_is_called_sound_while_the_service_runs(filled, log_folder, capsys):
    put_photo(log_folder)

    assert run("check", "--data", log_folder) == 0

    assert "sound" in capsys.readouterr().out


def without_trigger(folder, *statements):
    db = sqlite3.connect(folder / "shop.db")
    for statement in ["DROP TRIGGER entries_never_change", *statements]:
        db.execute(statement)
    db.commit()
    db.close()


def test_check_names_the_first_bad_entry(filled, log_folder, capsys):
    ids = stored_ids(filled)
    filled.close()
    without_trigger(log_folder, "UPDATE entries SET typed = 'other' WHERE seq IN (11, 13)")

    assert run("check", "--data", log_folder) == 1

    first = capsys.readouterr().err.splitlines()[0]
    assert first == f"Line 11 was changed after it was stored (entry {ids[6]})."


def test_check_says_only_so_much(filled, log_folder, capsys):
    filled.close()
    without_trigger(log_folder, "UPDATE entries SET typed = 'other'")

    assert run("check", "--data", log_folder) == 1

    lines = capsys.readouterr().err.splitlines()
    assert (len(lines), lines[-1]) == (21, "And 14 more.")


def test_check_names_a_row_that_refers_to_nothing(filled, crew, log_folder):
    filled.close()
    without_trigger(
        log_folder, f"DELETE FROM people WHERE id = '{crew.lead}'", "DELETE FROM phones"
    )

    found = check_all(log_folder)

    assert found[0].startswith("Line 5 names a phone that is not on file (entry ")


def test_a_photo_that_is_still_on_its_way_is_named_and_no_fault(filled, log_folder):
    photo = hash_bytes(b"on its way")
    with filled.writing() as db:
        db.execute("DROP TRIGGER entries_never_change")
        body = json.dumps({"sha256": photo})
        db.execute("UPDATE entries SET kind = 'photo', body = ? WHERE seq = 34", [body])

    assert awaited_photos(log_folder)[0].startswith("The photo of line 34 is not here yet")
    put_photo(log_folder, b"on its way")
    assert awaited_photos(log_folder) == []


def test_check_compares_photos_with_their_hashes(filled, log_folder):
    photo = put_photo(log_folder)
    photo.write_bytes(b"touched up")

    [changed] = check_all(log_folder)

    assert changed == f"The photo {photo.name} was changed after it was stored."


@pytest.fixture
def exported(filled, log_folder, tmp_path):
    """An export of 30 entries and a photo."""
    put_photo(log_folder)
    assert run("export", "--data", log_folder, tmp_path / "shop.zip") == 0
    return tmp_path / "shop.zip"


def content(log):
    """What was made and received, without what is each log's own."""
    rows = log.pull(0, 1000)["entries"]
    return [{key: row[key] for key in row if key != "seq"} for row in rows]


def test_an_export_moves_a_log_with_its_photos(exported, filled, log_folder, tmp_path, capsys):
    assert run("import", "--data", tmp_path / "new", exported) == 0

    assert "Added 34 entries; 0 already there" in capsys.readouterr().out
    with ShopLog(tmp_path / "new") as new:
        assert content(new) == content(filled)
        assert new.people() == filled.people()
        assert new.server_id != filled.server_id
    assert check_all(tmp_path / "new") == []
    assert len(list((tmp_path / "new" / "photos").iterdir())) == 1


def test_a_photo_that_was_drawn_anew_goes_along_in_backups_and_exports(
    filled, log_folder, tmp_path
):
    filled.photos.keep(name_of(jpeg()), jpeg())
    backups.make(log_folder, [tmp_path / "to"])
    export(log_folder, tmp_path / "shop.zip")
    filled.close()

    bring_in(tmp_path / "shop.zip", tmp_path / "new")
    backups.put_back(tmp_path / "to", tmp_path / "back")

    for folder in (tmp_path / "new", tmp_path / "back"):
        assert check_all(folder) == []
        with ShopLog(folder) as log:
            assert log.photos.path(name_of(jpeg())).read_bytes() == redrawn(jpeg(), MOST_PIXELS)


def test_an_import_twice_is_the_same_as_once(exported, tmp_path):
    first = bring_in(exported, tmp_path / "new")
    second = bring_in(exported, tmp_path / "new")

    assert (first["stored"], second["stored"], second["already"]) == (34, 0, 34)


def test_two_logs_are_merged_and_what_clashes_is_set_aside(exported, filled, tmp_path):
    clash = filled.pull(0, 1)["entries"][0]
    with ShopLog(tmp_path / "other") as other:
        crew = hire(other)
        own = [make_entry(crew.phone), make_entry(crew.phone, id=clash["id"])]
        other.append(crew.phone, own)

    said = bring_in(exported, tmp_path / "other")

    assert dict(said) == {"stored": 33, "differs": 1}
    with ShopLog(tmp_path / "other") as other:
        assert stored_ids(other)[:2] == [entry["id"] for entry in own]
        [aside] = other.quarantined()
        assert aside["entry"]["body"] == clash["body"]
        assert len(other.people()) == 4
    assert check_all(tmp_path / "other") == []


def test_what_was_set_aside_goes_along(filled, crew, log_folder, tmp_path):
    same = new_id()
    filled.append(crew.phone, [make_entry(crew.phone, id=same) for _ in range(2)])
    export(log_folder, tmp_path / "shop.zip")
    for _ in range(2):
        bring_in(tmp_path / "shop.zip", tmp_path / "new")

    with ShopLog(tmp_path / "new") as new:
        assert [row["entry"] for row in new.quarantined()] == [
            row["entry"] for row in filled.quarantined()
        ]


def test_nobody_can_sign_in_with_an_export(exported, tmp_path):
    with zipfile.ZipFile(exported) as packed:
        text = packed.read("log.jsonl").decode()
    bring_in(exported, tmp_path / "new")

    assert "hash" not in text
    assert "key" not in text
    with ShopLog(tmp_path / "new") as new:
        assert all(row["revoked_at"] for row in new.phones())


def test_a_lead_whom_an_import_brings_decides_nothing_until_they_can_sign_in(exported, tmp_path):
    with ShopLog(tmp_path / "other") as other:
        uma = other.add_person("Uma", "lead")["id"]
        other.set_passphrase(uma, "a hash")
    bring_in(exported, tmp_path / "other")

    with ShopLog(tmp_path / "other") as other:
        [bram] = [row["id"] for row in other.people() if row["name"] == "Bram"]
        before = other.other_deciders([], uma)
        other.set_passphrase(bram, "another hash")

        assert (before, other.other_deciders([], uma)) == ([], ["Bram"])
    assert check_all(tmp_path / "other") == []


def rewritten(exported, change):
    """The export with its lines changed by `change(lines)`."""
    with zipfile.ZipFile(exported) as packed:
        files = {name: packed.read(name) for name in packed.namelist()}
    lines = files["log.jsonl"].splitlines()
    change(lines)
    files["log.jsonl"] = b"".join(line + b"\n" for line in lines)
    with zipfile.ZipFile(exported, "w") as packed:
        for name, body in files.items():
            packed.writestr(name, body)


def end_early(lines):
    del lines[-3:]


def leave_one_out(lines):
    del lines[-3]


def spoil(lines):
    entry = json.loads(lines[-2])
    entry["entry"]["body"] = {"value": "wide"}
    lines[-2] = json.dumps(entry).encode()


def no_json(lines):
    lines[5] = b"{"


def no_object(lines):
    lines[5] = b"[]"


def no_head(lines):
    del lines[0]


@pytest.mark.parametrize(
    "damage", [end_early, leave_one_out, spoil, no_json, no_object, no_head, None]
)
def test_a_damaged_export_is_refused_before_anything_is_written(exported, tmp_path, damage):
    if damage is None:
        exported.write_bytes(exported.read_bytes()[:-400])
    else:
        rewritten(exported, damage)
    with pytest.raises(BadBackup):
        bring_in(exported, tmp_path / "new")

    assert not (tmp_path / "new").exists()


ODD_LINES = [
    ("phone", "paired_at", "garbage", "The phone's paired at must be a time with its offset"),
    ("phone", "last_local_no", 10**30, "last local no must be a whole number from 0 to 10,000,000"),
    ("phone", "last_local_no", 2**62, "last local no must be a whole number from 0 to 10,000,000"),
    ("phone", "name", "\ud800", "holds a broken character"),
    ("phone", "build", {}, "The phone's build must be a text"),
    ("phone", "person", SOME_ENTRY, "which is not in it"),
    ("person", "name", "\u200b", "each of which is seen"),
    ("person", "role", "admin", "must be one of technician, lead"),
    ("person", "id", 5, "The person's id must be an id"),
    ("aside", "received_at", "garbage", "The aside's received at must be a time with its offset"),
    ("aside", "phone", SOME_ENTRY, "which is not in it"),
    ("aside", "entry", {}, "is not an entry"),
    ("aside", "entry", [], "must be an entry"),
]


@pytest.mark.parametrize(("line", "key", "value", "says"), ODD_LINES)
def test_an_export_with_an_odd_person_phone_or_aside_is_refused_before_anything_is_written(
    filled, crew, log_folder, tmp_path, line, key, value, says
):
    note = make_entry(crew.phone, "note")
    for text in ("one", "another"):
        filled.append(crew.phone, [{**note, "body": {"text": text}}])
    export(log_folder, tmp_path / "shop.zip")

    def spoil_line(lines):
        at = next(n for n, text in enumerate(lines) if line in json.loads(text))
        read = json.loads(lines[at])
        read[line][key] = value
        lines[at] = json.dumps(read).encode()

    rewritten(tmp_path / "shop.zip", spoil_line)
    with pytest.raises(BadBackup, match=re.escape(says)):
        bring_in(tmp_path / "shop.zip", tmp_path / "new")

    assert not (tmp_path / "new").exists()


def test_an_export_with_a_damaged_photo_is_refused(exported, tmp_path):
    with zipfile.ZipFile(exported, "a") as packed:
        packed.writestr(f"photos/{hash_bytes(b'one')}.jpg", b"another")
    with pytest.raises(BadBackup, match="is damaged"):
        bring_in(exported, tmp_path / "new")


def test_an_export_of_a_later_version_is_refused(exported, tmp_path):
    def from_the_future(lines):
        lines[0] = b'{"axlewright": 2}'

    rewritten(exported, from_the_future)
    with pytest.raises(LogTooNew):
        bring_in(exported, tmp_path / "new")


def test_a_damaged_log_is_not_exported(filled, log_folder, tmp_path):
    filled.close()
    without_trigger(log_folder, "UPDATE entries SET typed = 'other'")
    with pytest.raises(BadBackup, match="Nothing was exported"):
        export(log_folder, tmp_path / "shop.zip")

    assert list(tmp_path.glob("shop.zip*")) == []


def test_no_export_no_import(tmp_path, capsys):
    assert run("import", "--data", tmp_path, tmp_path / "none.zip") == 1

    assert "no export" in capsys.readouterr().err


def test_a_running_service_imports_nothing(exported, log_folder):
    with pytest.raises(LogInUse):
        bring_in(exported, log_folder)


def full(*_):
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_f48_a_full_folder_takes_no_backup(filled, log_folder, tmp_path, monkeypatch):
    def full_there(source, target):
        target.parent.mkdir()
        with growing(target) as part:
            part.write_bytes(b"half")
            full()

    monkeypatch.setattr(backups, "copy_whole_file", full_there)
    with pytest.raises(OSError, match="No space"):
        backups.make(log_folder, [tmp_path / "to"])

    assert list((tmp_path / "to").iterdir()) == []
    said = backups.last(log_folder)["fault"]
    assert said == f"The disk with {tmp_path / 'to'} is full: free some space, then try again."


def test_f50_on_a_full_disk_what_became_of_the_last_backup_stays_as_it_was_noted(
    filled, log_folder, tmp_path, monkeypatch
):
    backups.make(log_folder, [tmp_path / "to"], NOW)
    before = backups.last(log_folder)
    monkeypatch.setattr("webapp.shoplog.files.atomic.os.fsync", full)

    assert run("backup", "--data", log_folder, "--to", tmp_path / "to") == 1

    assert backups.last(log_folder) == before
    assert list(log_folder.glob("*.part*")) == []


TROUBLES = {
    "the database": sqlite3.OperationalError("no such table: entries"),
    "the disk": OSError(errno.EIO, "Input/output error"),
    "what nobody foresaw": ValueError("odd"),
}


@pytest.mark.parametrize("trouble", TROUBLES)
@pytest.mark.parametrize("noted", [True, False])
def test_a_schedule_survives_whatever_a_backup_ends_in(
    filled, log_folder, tmp_path, at_once, monkeypatch, caplog, trouble, noted
):
    def troubled(*_):
        raise TROUBLES[trouble]

    with monkeypatch.context() as patch:
        patch.setattr(backups, "back_up_folder", troubled)
        patch.setattr(backups, "growing", growing if noted else full)
        schedule = backups.Schedule(log_folder, [tmp_path / "to"], timedelta(milliseconds=10))
        with schedule:
            while caplog.text.count("No backup was made") < 2:
                assert schedule.thread.is_alive()
            fault = (backups.last(log_folder) or {}).get("fault")
            patch.undo()
            while (backups.last(log_folder) or {}).get("good") is None:
                assert schedule.thread.is_alive()

    assert (fault is not None) is noted


def test_a_schedule_tells_the_desk_of_a_damaged_log(filled, log_folder, tmp_path, at_once):
    filled.close()
    (log_folder / "shop.db").write_bytes(b"no database" * 1000)
    with backups.Schedule(log_folder, [tmp_path / "to"], timedelta(milliseconds=10)) as schedule:
        while (backups.last(log_folder) or {}).get("fault") is None:
            assert schedule.thread.is_alive()

    assert "is damaged" in backups.last(log_folder)["fault"]


@pytest.fixture
def open_umask():
    """A user whose new files may be read by everybody."""
    before = os.umask(0o022)
    yield
    os.umask(before)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such modes.")
def test_what_a_command_writes_is_for_its_owner_only(
    filled, log_folder, tmp_path, open_umask, monkeypatch
):
    put_photo(log_folder)
    made = tmp_path / "made"
    made.mkdir()
    monkeypatch.setattr("webapp.network.demo.serve", lambda *_: None)

    codes = [
        run("backup", "--data", log_folder, "--to", made / "backups"),
        run("restore", "--data", made / "restored", made / "backups"),
        run("restore", "--data", made / "restored", made / "backups"),
        run("export", "--data", log_folder, made / "shop.zip"),
        run("import", "--data", made / "imported", made / "shop.zip"),
        run("demo", "--data", made / "demo", "--port", free_port()),
    ]

    written = list(made.rglob("*"))
    assert codes == [0] * 6
    assert {path.name for path in written} > {"shop.db", "shop.zip", "photos", "backups"}
    assert [path for path in written if path.stat().st_mode & 0o077] == []


def a_full_log(log, crew):
    """A log with everything that pages show: vehicles, tags, jobs, notes, something set aside."""
    kinds = ("vehicle", "tag", "job", "reading", "note", "hand_in")
    entries = [make_entry(crew.phone, kind) for kind in kinds]
    log.append(crew.phone, entries)
    log.append(crew.phone, [{**entries[3], "typed": "another"}])
    due = {"remeasure": {"front": {"date": "2027-01-01"}}}
    log.append(crew.leads_phone, [make_entry(crew.leads_phone, "vehicle", body=due)])


TAMPERINGS = {
    "a vehicle's name": "UPDATE vehicles SET name = 'Another'",
    "a vehicle's record": "UPDATE vehicles SET record = '{}'",
    "a vehicle that is gone": "DELETE FROM vehicles",
    "a tag": "UPDATE tags SET code = 'AAAA-AAAA'",
    "a merged vehicle": f"INSERT INTO merged VALUES ('{new_id()}', '{new_id()}')",
    "a job's state": "UPDATE jobs SET state = 'accepted'",
    "a job's axle": "UPDATE jobs SET axle = 'rear'",
    "what is searched for": "UPDATE words SET text = 'Another'",
    "the search's index": "DELETE FROM words_index_data WHERE id > 10",
    "what is due": "INSERT INTO due VALUES ('v', 'front', 'recheck', NULL, 1, 'km', 's', NULL)",
    "the running numbers": "DELETE FROM held_numbers",
}
NOT_MADE_AFRESH = {
    "what was set aside": "UPDATE quarantine SET content = json_set(content, '$.typed', 'other')",
    "the hash of what was set aside": "UPDATE quarantine SET content_hash = zeroblob(32)",
    "whose phone it is": "UPDATE phones SET person = (SELECT id FROM people WHERE role = 'lead')",
    "how much a phone made": "UPDATE phones SET last_local_no = 0",
    "the epoch": "UPDATE facts SET value = 'first' WHERE name = 'epoch'",
    "no epoch at all": "DELETE FROM facts WHERE name = 'epoch'",
}


def tampered(folder, statement):
    with sqlite3.connect(folder / "shop.db") as db:
        db.execute(statement)
    db.close()


@pytest.mark.parametrize("what", TAMPERINGS)
def test_f62_what_pages_show_otherwise_than_the_entries_is_found_and_made_afresh(
    shop, crew, log_folder, capsys, what
):
    a_full_log(shop, crew)
    shop.close()
    assert check_all(log_folder) == []
    tampered(log_folder, TAMPERINGS[what])

    assert run("check", "--data", log_folder) == 1
    assert "axlewright check --rebuild" in capsys.readouterr().err
    assert run("check", "--data", log_folder, "--rebuild") == 0
    assert check_all(log_folder) == []


@pytest.mark.parametrize("what", NOT_MADE_AFRESH)
def test_f62_what_is_kept_beside_the_entries_is_checked(shop, crew, log_folder, what):
    a_full_log(shop, crew)
    shop.add_person("a name with \N{REPLACEMENT CHARACTER} in it", "technician")
    shop.close()
    assert check_all(log_folder) == []
    tampered(log_folder, NOT_MADE_AFRESH[what])

    [fault, *_] = check_all(log_folder)

    assert fault.endswith(".")


def test_f62_nothing_is_made_afresh_over_damaged_entries_or_a_running_service(
    filled, log_folder, capsys
):
    assert run("check", "--data", log_folder, "--rebuild") == 1
    assert "already running" in capsys.readouterr().err
    filled.close()
    without_trigger(log_folder, "UPDATE entries SET typed = 'other' WHERE seq = 7")

    assert run("check", "--data", log_folder, "--rebuild") == 1
    assert "Nothing was made afresh" in capsys.readouterr().err


NOT_UTF_8 = "CAST(x'63ff61' AS TEXT)"
BAD_BYTES = {
    "entries": f"UPDATE entries SET typed = {NOT_UTF_8} WHERE seq = 3",
    "people": f"UPDATE people SET name = {NOT_UTF_8}",
    "phones": f"UPDATE phones SET name = {NOT_UTF_8}",
    "facts": f"INSERT INTO facts VALUES ('shop_name', {NOT_UTF_8})",
    "quarantine": "UPDATE quarantine SET content = CAST(x'2263ff6122' AS TEXT)",
}


@pytest.mark.parametrize("table", BAD_BYTES)
def test_f62_a_byte_that_is_no_text_is_a_sentence_of_every_command(
    shop, crew, log_folder, tmp_path, capsys, table
):
    a_full_log(shop, crew)
    backups.make(log_folder, [tmp_path / "sound"], NOW)
    shop.close()
    without_trigger(log_folder, BAD_BYTES[table])
    commands = {
        "check": [],
        "backup": ["--to", tmp_path / "to"],
        "export": [tmp_path / "out.zip"],
        "restore": [log_folder / "shop.db"],
    }
    for command, more in commands.items():
        folder = tmp_path / "new" if command == "restore" else log_folder
        assert run(command, "--data", folder, *more) == 1, command
        said = capsys.readouterr().err
        assert "Line 3 was changed" in said or f"The table {table} holds a text" in said

    assert run("restore", "--data", log_folder, tmp_path / "sound") == 0
