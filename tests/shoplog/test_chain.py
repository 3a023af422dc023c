"""The check of the log finds every line that is not as it was stored."""

import sqlite3

import pytest
from kit.entries import make_entry, stored_ids

from webapp.shoplog import ShopLog, connection
from webapp.shoplog.chain import check_folder

NEVER = ("entries_never_change", "entries_never_go")


@pytest.fixture
def ten_lines(shop, crew):
    """A log of ten lines, stored in batches of different sizes."""
    batch = [make_entry(crew.phone, typed=str(number)) for number in range(10)]
    for first, last in ((0, 1), (1, 4), (4, 10)):
        shop.append(crew.phone, batch[first:last])
    return shop


def tamper(shop, *statements):
    """Do to the database what no entry could do."""
    with shop.writing() as db:
        for trigger in NEVER:
            db.execute(f"DROP TRIGGER {trigger}")
        for statement in statements:
            db.execute(statement)


def test_a_log_as_it_was_stored_has_no_fault(ten_lines):
    assert ten_lines.check() == []
    assert len(stored_ids(ten_lines)) == 10


def test_an_empty_log_has_no_fault(shop):
    assert shop.check() == []


def test_the_chain_goes_on_where_it_was_after_opening_again(log_folder, ten_lines, crew):
    ten_lines.close()
    with ShopLog(log_folder) as shop:
        shop.append(crew.phone, [make_entry(crew.phone)])

        assert shop.check() == []
        assert len(stored_ids(shop)) == 11


@pytest.mark.parametrize(
    "change",
    [
        "typed = 'eleven'",
        "made_at = '2026-11-25T10:42:07.121+01:00'",
        "body = json_set(body, '$.value', 9)",
        "round = 'recheck'",
        "local_no = local_no + 1",
        "build = 'another'",
        "content_hash = zeroblob(32)",
    ],
)
def test_a_changed_line_is_found(ten_lines, change):
    tamper(ten_lines, f"UPDATE entries SET {change} WHERE seq = 8")

    faults = ten_lines.check()

    assert faults[0].startswith("Line 8 was changed after it was stored (entry ")


@pytest.mark.parametrize("change", ["person = hex(randomblob(18))", "received_at = ''"])
def test_a_change_of_what_the_log_added_is_found(ten_lines, change):
    tamper(ten_lines, f"UPDATE entries SET {change} WHERE seq = 8")

    assert ten_lines.check() == ["Line 8 does not follow the line before it (line 7)."]


def test_a_line_whose_hashes_were_made_anew_is_found_at_the_next_line(ten_lines):
    tamper(ten_lines, "UPDATE entries SET chain = zeroblob(32) WHERE seq = 8")

    assert ten_lines.check() == [
        "Line 8 does not follow the line before it (line 7).",
        "Line 9 does not follow the line before it (line 8).",
    ]


def test_a_removed_line_is_found(ten_lines):
    tamper(ten_lines, "DELETE FROM entries WHERE seq = 8")

    assert ten_lines.check() == ["Line 9 does not follow the line before it (line 7)."]


def test_removed_last_lines_are_found(ten_lines):
    tamper(ten_lines, "DELETE FROM entries WHERE seq >= 13")

    assert ten_lines.check() == ["The log ends at line 12, but line 14 was once stored."]


def test_swapped_lines_are_found(ten_lines):
    tamper(
        ten_lines,
        "UPDATE entries SET seq = 99 WHERE seq = 8",
        "UPDATE entries SET seq = 8 WHERE seq = 9",
        "UPDATE entries SET seq = 9 WHERE seq = 99",
        "UPDATE sqlite_sequence SET seq = 14",
    )

    assert ten_lines.check() == [
        "Line 8 does not follow the line before it (line 7).",
        "Line 9 does not follow the line before it (line 8).",
        "Line 10 does not follow the line before it (line 9).",
    ]


def test_a_line_put_in_between_is_found(ten_lines, crew):
    tamper(
        ten_lines,
        "UPDATE entries SET seq = 15 WHERE seq = 14",
        "INSERT INTO entries SELECT 14, 'ffffffff-ffff-4fff-8fff-ffffffffffff', v, phone, person, "
        "local_no, kind, vehicle, job, round, body, typed, made_at, build, received_at, "
        "content_hash, chain FROM entries WHERE seq = 13",
    )

    assert ten_lines.check()[0].startswith("Line 14 was changed after it was stored")


def test_a_damaged_page_is_found(ten_lines, log_folder):
    ten_lines.close()
    path = log_folder / connection.FILE
    with sqlite3.connect(path) as db:
        [page] = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entries'").fetchone()
        [size] = db.execute("PRAGMA page_size").fetchone()
    db.close()
    with path.open("r+b") as file:
        file.seek((page - 1) * size)
        file.write(b"\x00" * size)

    [fault, *_] = check_folder(log_folder)

    assert fault.startswith("SQLite")
