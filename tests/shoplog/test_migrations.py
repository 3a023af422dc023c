"""The tables as the migrations make them."""

import sqlite3

import pytest
from kit.entries import JOB, VEHICLE, make_entry, new_id, stored_ids
from sqlite_utils import Database

from webapp.shoplog import LogTooNew, NotFound, ShopLog
from webapp.shoplog.backup import restore
from webapp.shoplog.migrations import migrations

OURS = {
    "entries",
    "quarantine",
    "people",
    "phones",
    "pairings",
    "facts",
    "vehicles",
    "tags",
    "jobs",
    "access",
    "words",
    "due",
    "held_numbers",
}


@pytest.fixture
def tables(shop):
    """The log's tables as sqlite-utils sees them, by name."""
    with shop.reading() as db:
        yield {table.name: table for table in Database(db, execute_plugins=False).tables}


def test_every_table_is_strict(tables):
    assert set(tables) >= OURS
    assert [name for name in OURS if not tables[name].strict] == []


def test_a_log_of_a_later_version_is_left_alone(log_folder):
    ShopLog(log_folder).close()
    with sqlite3.connect(log_folder / "shop.db") as db:
        db.execute(
            "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES (?, ?, ?)",
            ["shoplog", "make_something_later", ""],
        )
    db.close()

    with pytest.raises(LogTooNew, match="newer version"):
        ShopLog(log_folder)


def test_f36_sequence_numbers_are_autoincrement(tables):
    assert "seq INTEGER PRIMARY KEY AUTOINCREMENT" in tables["entries"].schema


def test_f36_autoincrement_and_every_entry_survive_a_later_migration(log_folder, tmp_path):
    db = Database(sqlite3.connect(tmp_path / "early.db"), execute_plugins=False)
    migrations.apply(db, stop_before="make_projections")
    row = {"v": 1, "local_no": 1, "kind": "note", "body": "{}", "made_at": "", "build": "a"}
    ids = dict.fromkeys(("id", "phone", "person"), "x" * 36)
    links = {"content_hash": bytes(32), "chain": bytes(32)}
    db.table("entries").insert({**row, **ids, **links, "received_at": ""})
    before = list(db.table("entries").rows)
    migrations.apply(db)
    entries = db.table("entries")

    assert list(entries.rows) == before
    assert "AUTOINCREMENT" in entries.schema
    assert entries.strict
    db.close()


def test_f64_a_log_is_copied_once_before_a_newer_version_changes_its_tables(log_folder):
    log_folder.mkdir()
    early = sqlite3.connect(log_folder / "shop.db")
    migrations.apply(Database(early, execute_plugins=False), stop_before="keep_numbers")
    early.execute("INSERT INTO people VALUES (?, 'Orla', 'lead')", [new_id()])
    early.commit()
    early.close()
    for _ in range(2):
        ShopLog(log_folder).close()

    [kept] = (log_folder / "backups").iterdir()
    copy = sqlite3.connect(kept)
    tables = {row[0] for row in copy.execute("SELECT name FROM sqlite_master")}
    assert copy.execute("SELECT name FROM people").fetchall() == [("Orla",)]
    assert "held_numbers" not in tables
    copy.close()
    restore(kept, log_folder.parent / "back")


def test_a_log_opened_again_is_the_same_shop(log_folder):
    with ShopLog(log_folder) as shop:
        first = (shop.server_id, shop.epoch)
    with ShopLog(log_folder) as shop:
        again = (shop.server_id, shop.epoch)

    assert again == first
    assert first[1] == 1


def test_two_shops_are_two(shop, tmp_path):
    with ShopLog(tmp_path / "other") as other:
        assert other.server_id != shop.server_id


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entries SET typed = '9'",
        "DELETE FROM entries",
        "INSERT OR REPLACE INTO entries SELECT * FROM entries",
    ],
)
def test_f35_entries_are_never_changed_removed_or_renumbered(shop, crew, statement):
    entry = make_entry(crew.phone)
    shop.append(crew.phone, [entry])
    with pytest.raises(sqlite3.IntegrityError, match="entries are never"), shop.writing() as db:
        db.execute(statement)

    assert stored_ids(shop) == [entry["id"]]
    assert shop.check() == []


ROW = {
    "id": "x" * 36,
    "v": 1,
    "phone": "x" * 36,
    "person": "x" * 36,
    "local_no": 1,
    "kind": "note",
    "body": "{}",
    "made_at": "",
    "build": "",
    "received_at": "",
    "content_hash": bytes(32),
    "chain": bytes(32),
}


@pytest.mark.parametrize(
    "wrong",
    [
        {"id": None},
        {"id": "short"},
        {"v": 2},
        {"local_no": 0},
        {"local_no": "many"},
        {"local_no": 2**53},
        {"kind": ""},
        {"vehicle": "short"},
        {"round": "second"},
        {"body": "{"},
        {"body": None},
        {"content_hash": b"short"},
        {"chain": "text" * 8},
    ],
)
def test_f35_the_table_itself_refuses_what_no_entry_may_be(shop, wrong):
    row = {**ROW, **wrong}
    columns = ", ".join(row)
    places = ", ".join(f":{key}" for key in row)
    query = f"INSERT INTO entries ({columns}) VALUES ({places}) ON CONFLICT (id) DO NOTHING"
    with pytest.raises(sqlite3.IntegrityError), shop.writing() as db:
        db.execute(query, row)


def test_f35_what_only_the_table_refuses_is_answered_as_refused(shop, crew):
    with shop.writing() as db:
        db.execute(
            "CREATE TRIGGER no_notes BEFORE INSERT ON entries WHEN new.kind = 'note' "
            "BEGIN SELECT RAISE(ABORT, 'no notes today'); END"
        )

    answers = shop.append(crew.phone, [make_entry(crew.phone, "note"), make_entry(crew.phone)])

    assert [answer["verdict"] for answer in answers] == ["refused", "stored"]
    assert "no notes today" in answers[0]["reason"]
    assert shop.check() == []


PAGES = {
    "pull": lambda shop, vehicle, job: shop.pull(0, 10),
    "pull of what is recent": lambda shop, vehicle, job: shop.pull(0, 10, recent_until=3),
    "entry": lambda shop, vehicle, job: shop.entry(shop.entries_of_job(job)[0]["id"]),
    "entries_of_job": lambda shop, vehicle, job: shop.entries_of_job(job),
    "entries_of_vehicle": lambda shop, vehicle, job: shop.entries_of_vehicle(vehicle),
    "limit_entries": lambda shop, vehicle, job: shop.limit_entries(),
    "jobs": lambda shop, vehicle, job: shop.jobs(state="pending"),
    "jobs of a vehicle": lambda shop, vehicle, job: shop.jobs(vehicle=vehicle),
    "job": lambda shop, vehicle, job: shop.job(job),
    "vehicles": lambda shop, vehicle, job: shop.vehicles("gray"),
    "vehicle": lambda shop, vehicle, job: shop.vehicle(vehicle),
    "jobs that wait, counted": lambda shop, vehicle, job: shop.job_counts(),
    "jobs that are second readings": lambda shop, vehicle, job: shop.seconds(job),
    "find": lambda shop, vehicle, job: shop.find("gray", 20),
    "due": lambda shop, vehicle, job: shop.due(),
    "vehicle_by_tag": lambda shop, vehicle, job: shop.vehicle_by_tag("K7RM-4TQX"),
}


@pytest.mark.parametrize("page", PAGES)
def test_no_page_scans_the_entries(shop, crew, page):
    shop.append(crew.phone, [make_entry(crew.phone, kind) for kind in ("vehicle", "tag", "job")])
    queries = []
    # With one thread reading there is one reader, handed out again and again.
    with shop.reading() as db:
        db.set_trace_callback(queries.append)
    PAGES[page](shop, VEHICLE, JOB)
    with shop.reading() as db:
        db.set_trace_callback(None)
        selects = [query for query in queries if query.lstrip().startswith("SELECT")]
        steps = [
            row["detail"] for query in selects for row in db.execute(f"EXPLAIN QUERY PLAN {query}")
        ]

    assert steps
    assert [step for step in steps if step.startswith("SCAN entries")] == []
    if "jobs" in page:
        assert [step for step in steps if step.startswith("SCAN jobs")] == []


@pytest.mark.parametrize(
    "left",
    [
        f"photos/{'ab' * 32}.jpg",
        "certificates/authority.crt",
        "backups/axlewright-20261125-104207.db",
        "before-1800000000.db",
        "shop.db-wal",
    ],
)
def test_f59_no_empty_log_is_begun_where_a_shop_lost_its_own(log_folder, left):
    (log_folder / left).parent.mkdir(parents=True, exist_ok=True)
    (log_folder / left).write_bytes(b"of a shop")

    with pytest.raises(NotFound, match=r"its log shop\.db is gone: put that file back, or"):
        ShopLog(log_folder)

    assert not (log_folder / "shop.db").exists()
    assert (log_folder / left).read_bytes() == b"of a shop"
    with ShopLog(log_folder.parent / "new") as log:
        assert stored_ids(log) == []
