"""The running numbers that the log holds follow the entries, in whatever order they come."""

import sqlite3

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.entries import hire, make_entry
from sqlite_utils import Database

from webapp.shoplog import ShopLog
from webapp.shoplog.backup import back_up, restore
from webapp.shoplog.full_check import check_all
from webapp.shoplog.migrations import migrations
from webapp.shoplog.returned_entries import bring_over
from webapp.shoplog.views.missing_numbers import MAX_RANGES, made_and_here


@pytest.fixture(scope="module")
def long_log(tmp_path_factory):
    """One log for the many examples of a law, each with a phone of its own."""
    with ShopLog(tmp_path_factory.mktemp("shop")) as opened:
        yield opened


def runs(log):
    """The runs of numbers that the log keeps."""
    with log.reading() as db:
        return [
            tuple(row)
            for row in db.execute("""SELECT * FROM held_numbers
            WHERE phone IN (SELECT id FROM phones) ORDER BY 1, 2""")
        ]


def counted(log, phone):
    """{made, here, missing, ranges} of one phone, from every entry of the log and nothing else."""
    entries = log.pull(0, 1_000_000)["entries"]
    held = {entry["local_no"] for entry in entries if entry["phone"] == phone}
    made = log.phone(phone)["last_local_no"]
    gone = [number for number in range(1, made + 1) if number not in held]
    first = [number for number in gone if number - 1 not in gone]
    last = [number for number in gone if number + 1 not in gone]
    ranges = [list(gap) for gap in zip(first, last, strict=True)][:MAX_RANGES]
    return {"made": made, "here": made - len(gone), "missing": len(gone), "ranges": ranges}


def told(log, phone):
    """The same as the log answers it."""
    [row] = [row for row in made_and_here(log) if row["id"] == phone]
    return {key: row[key] for key in ("made", "here", "missing", "ranges")}


BATCH = st.tuples(st.booleans(), st.lists(st.integers(1, 40), max_size=12), st.integers(0, 50))


@given(batches=st.lists(BATCH, max_size=8))
def test_f12_any_order_of_arrival_names_the_gaps_that_the_whole_log_has(long_log, batches):
    person = long_log.add_person("Orla", "technician")["id"]
    phone = long_log.add_phone(person, "a phone", f"hash {person}")["id"]
    for carried, numbers, last in batches:
        made = [make_entry(phone, local_no=number) for number in numbers]
        if carried:
            heard = {"person": person, "received_at": "2026-11-25T09:00:00.000+00:00"}
            bring_over(long_log, [{**entry, **heard} for entry in made], {})
        else:
            long_log.append(phone, made, {"last_local_no": last})

    assert told(long_log, phone) == counted(long_log, phone)
    kept_up = runs(long_log)
    long_log.rebuild()
    assert runs(long_log) == kept_up


def test_f12_a_phone_without_a_gap_is_one_run_however_long(shop, crew):
    for first in (1, 101, 201):
        numbers = range(first, first + 100)
        shop.append(crew.phone, [make_entry(crew.phone, local_no=number) for number in numbers])

    assert runs(shop) == [(crew.phone, 1, 300)]


def test_f12_only_so_many_gaps_are_named_and_all_are_counted(shop, crew):
    shop.append(
        crew.phone, [make_entry(crew.phone, local_no=2 * number) for number in range(1, 80)]
    )

    row = told(shop, crew.phone)

    assert (row["missing"], len(row["ranges"])) == (79, MAX_RANGES)


def test_a_batch_that_was_not_kept_leaves_the_numbers_as_they_were(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone, local_no=1)])
    with shop.writing() as db:
        db.execute(
            "CREATE TRIGGER full BEFORE UPDATE ON phones BEGIN SELECT RAISE(ABORT, 'full'); END"
        )

    with pytest.raises(sqlite3.IntegrityError):
        shop.append(crew.phone, [make_entry(crew.phone, local_no=2)], {"last_local_no": 2})

    assert runs(shop) == [(crew.phone, 1, 1)]


def test_f37_a_restored_log_counts_what_it_holds_and_what_comes_back(
    shop, crew, log_folder, tmp_path
):
    made = [make_entry(crew.phone, local_no=number) for number in range(1, 10)]
    shop.append(crew.phone, made[:3])
    back_up(shop, tmp_path / "backup.db")
    shop.append(crew.phone, made[3:])
    shop.close()
    restore(tmp_path / "backup.db", log_folder)
    with ShopLog(log_folder) as restored:
        assert runs(restored) == [(crew.phone, 1, 3)]
        restored.append(crew.phone, [made[8], made[5], made[0]], {"last_local_no": 9})

        assert told(restored, crew.phone)["ranges"] == [[4, 5], [7, 8]]
    assert check_all(log_folder) == []


def test_a_log_of_an_earlier_version_is_counted_once(tmp_path):
    with ShopLog(tmp_path / "now") as log:
        crew = hire(log)
        numbers = [5, 1, 2, 2, 9]
        log.append(crew.phone, [make_entry(crew.phone, local_no=number) for number in numbers])
        entries = log.pull(0, 100)["entries"]
    early = Database(sqlite3.connect(tmp_path / "early.db"), execute_plugins=False)
    migrations.apply(early, stop_before="keep_numbers")
    early.execute("ATTACH ? AS now", [str(tmp_path / "now" / "shop.db")])
    early.execute("INSERT INTO entries SELECT * FROM now.entries")
    early.conn.commit()

    migrations.apply(early)

    held = early.execute("SELECT first, last FROM held_numbers WHERE phone = ?", [crew.phone])
    assert len(entries) == 5
    assert held.fetchall() == [(1, 2), (5, 5), (9, 9)]
    early.close()


@pytest.mark.parametrize(
    "damage",
    [
        "DELETE FROM held_numbers WHERE phone = ?",
        "UPDATE held_numbers SET last = last + 1 WHERE phone = ?",
        "INSERT INTO held_numbers VALUES (?, 50, 60)",
    ],
)
def test_check_compares_the_numbers_with_the_log(shop, crew, log_folder, damage):
    shop.append(crew.phone, [make_entry(crew.phone, local_no=number) for number in (1, 2)])
    assert check_all(log_folder) == []
    with shop.writing() as db:
        db.execute(damage, [crew.phone])

    [fault] = check_all(log_folder)

    assert fault.startswith(f"The running numbers kept of phone {crew.phone} are not those of its")
    shop.rebuild()
    assert check_all(log_folder) == []


def test_a_log_that_has_no_numbers_yet_is_checked_without_them(shop, log_folder):
    with shop.writing() as db:
        db.execute("DROP VIEW numbers_in_log")
        db.execute("DROP TABLE held_numbers")
        db.execute("DELETE FROM facts WHERE name = 'projections'")

    assert check_all(log_folder) == []
