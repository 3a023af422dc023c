"""The quick look over the database as a service starts."""

import json
import sqlite3
import time
import urllib.error
import urllib.request

import pytest
from kit.entries import make_entry
from kit.servers import PATIENCE

from webapp.door import health
from webapp.shoplog import connection
from webapp.shoplog.quick_check import QuickCheck


def spoil(path):
    """Overwrite a page of the entries' index, which opening a log does not read."""
    with sqlite3.connect(path) as db:
        query = "SELECT rootpage FROM sqlite_master WHERE name = 'sqlite_autoindex_entries_1'"
        [page] = db.execute(query).fetchone()
        [size] = db.execute("PRAGMA page_size").fetchone()
    db.close()
    with path.open("r+b") as file:
        file.seek((page - 1) * size)
        file.write(b"\x00" * size)


@pytest.fixture
def path(shop, crew, log_folder):
    """The file of a closed log with some entries."""
    shop.append(crew.phone, [make_entry(crew.phone) for _ in range(300)])
    shop.close()
    return log_folder / connection.FILE


def looked(path, **more):
    look = QuickCheck(path, **more)
    look.run()
    return look.state, look.says


def test_a_sound_log_is_said_to_be_so(path):
    assert looked(path) == ("intact at the last start", None)


def test_f52_a_damaged_log_is_said_and_what_to_do(path):
    spoil(path)

    state, says = looked(path)

    assert state == "damaged"
    assert "run `axlewright check`, and restore the newest backup" in says


def test_a_file_that_is_no_database_any_more_is_damaged(path):
    path.write_bytes(b"no database at all" * 1000)

    assert looked(path)[0] == "damaged"


def test_a_look_that_takes_too_long_is_given_up_and_is_no_alarm(path, monkeypatch):
    monkeypatch.setattr("webapp.shoplog.quick_check.STEPS", 10)

    state, says = looked(path, patience=-1.0)

    assert state == "not checked completely (interrupted)"
    assert says is None


def test_a_look_holds_no_writer_up_and_leaves_no_read_open(shop, crew, monkeypatch):
    shop.append(crew.phone, [make_entry(crew.phone) for _ in range(50)])

    assert looked(shop.path)[0] == "intact at the last start"

    monkeypatch.setattr(connection, "WAL_CAP", 0)
    shop.append(crew.phone, [make_entry(crew.phone)])
    assert shop.wal_bytes() == 0


def test_damage_asks_for_somebody(app, client, monkeypatch):
    monkeypatch.setattr(health, "LEAST_FREE", 0)
    assert client.get("/health").status_code == 200

    app.extensions["quick_check"].says = "The database of the log is damaged."

    assert client.get("/health").status_code == 503


def test_f52_a_service_that_starts_on_a_damaged_log_tells_so(real_server):
    server, phone = real_server
    phone.push(*(phone.entry() for _ in range(100)))
    server.stop()
    spoil(server.folder / connection.FILE)
    server.start()

    until = time.monotonic() + PATIENCE
    while (found := database(server))["state"] == "not checked yet":
        assert time.monotonic() < until, "nobody looked"
        time.sleep(0.05)

    assert found["state"] == "damaged"
    assert "restore the newest backup" in found["says"]


def database(server):
    """What the health of a real service says of its database."""
    try:
        with urllib.request.urlopen(f"{server.url}/health", timeout=PATIENCE) as response:
            return json.load(response)["checks"]["database"]
    except urllib.error.HTTPError as error:
        return json.load(error)["checks"]["database"]
