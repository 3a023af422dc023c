"""An entry changed in the file itself, column by column: shown as not readable, never an error."""

import sqlite3
from contextlib import closing

import pytest
from kit.desk_pages import VEHICLE, Job

NOT_A_TIME = ["", "yesterday", "2026-11-25T10:42:07", "9999-99-99T99:99:99+00:00", "0000"]
NOT_AN_ID = ["x", "Z" * 36, "<b>" * 12]
# What each column is changed to, whatever SQLite holds it to.
CHANGED: dict[str, list[object]] = {
    "made_at": NOT_A_TIME,
    "received_at": NOT_A_TIME,
    "kind": ["", "reading", "decision", "unheard", "person"],
    "body": ["not JSON", "null", "[]", "3", '"text"', "{}", '{"target": 3}', '{"value": 1e999}'],
    "round": [None, "as_left", "later"],
    "person": NOT_AN_ID,
    "phone": NOT_AN_ID,
    "id": NOT_AN_ID,
    "vehicle": [None, *NOT_AN_ID],
    "job": [None, *NOT_AN_ID],
    "typed": [None, "", "<b>" * 2000, "\u202e\u0000x"],
    "local_no": [0, -1, 2**62],
    "build": ["", "<b>"],
    "v": [0, 2],
    "content_hash": [b"", b"x" * 32],
    "chain": [b"", b"x" * 32],
}
KINDS = {
    *("vehicle", "tag", "limit", "job", "reading", "tick", "pick", "note", "strike"),
    *("hand_in", "decision", "change", "photo", "plan", "close_item", "pass_over", "confirm"),
    *("person", "setting", "door"),
}


@pytest.fixture
def whole(log, phone, leads_phone):
    """A job with an entry of every kind."""
    log.set_settings({"shop_name": "Yard 3"})
    job = Job(phone)
    job.file_vehicle()
    phone.push(phone.entry("tag", {"code": "K7RM-4TQX"}, vehicle=VEHICLE))
    shop = {"vehicle": None}
    limit = {"name": "offset", "value": 2.5, "reason": "long trailers"}
    leads_phone.push(leads_phone.entry("limit", limit, **shop))
    job.open()
    job.measure()
    job.write("note", {"text": "grease"})
    job.write("change", {"what": "bar_turned", "turns": 2})
    size = {"width": 9, "height": 9, "bytes": 99}
    job.write("photo", {"sha256": "ab" * 32, "of": "weld", **size})
    job.write("plan", {"name": "Higher bracket", "axle_end_up": 40})
    says = {"code": "leans", "key": "leans 41.00", "says": "The frame leans."}
    job.in_round("confirm", says)
    struck = job.read("centering", "left", 999)
    job.write("strike", {"target": struck["id"], "reason": "misread"})
    handed = job.hand_in()
    job.send()
    place = {"vehicle": VEHICLE, "job": job.id}
    decided = {"hand_in": handed["id"], "verdict": "accepted", "reason": None}
    leads_phone.push(
        leads_phone.entry("pass_over", {"hold_point": "road", "reason": "yard"}, **place),
        leads_phone.entry("decision", decided, **place),
        leads_phone.entry(
            "close_item", {"axle": "front", "says": "Worn.", "reason": "seen"}, vehicle=VEHICLE
        ),
    )
    return job


def pages_of(job):
    """What reads entries at the desk, and what phones read."""
    return [
        *("/desk", f"/desk/vehicles/{VEHICLE}", f"/desk/jobs/{job.id}", "/desk/limits"),
        *("/desk/door-log", "/desk/missing", "/desk/repeatability", "/log/pull?since=0"),
        *(f"/desk/jobs/{job.id}/export.json", "/desk/export/limits.csv"),
        "/desk/export/entries.csv",
    ]


def near(job):
    """The pages on which an entry of a job or vehicle stands."""
    return [f"/desk/vehicles/{VEHICLE}", f"/desk/jobs/{job.id}", "/log/pull?since=0"]


NEAREST = {
    "limit": lambda _: ["/desk/limits", "/desk"],
    **dict.fromkeys(("person", "setting", "door"), lambda _: ["/desk/door-log", "/desk"]),
}


def tampering(log):
    """A connection that SQLite lets write anything."""
    db = sqlite3.connect(log.folder / "shop.db", isolation_level=None)
    for trigger in ("entries_never_change", "entries_never_go"):
        db.execute(f"DROP TRIGGER {trigger}")
    db.execute("PRAGMA ignore_check_constraints = ON")
    db.execute("PRAGMA foreign_keys = OFF")
    return db


@pytest.mark.parametrize("column", list(CHANGED))
def test_f68_a_column_that_was_changed_in_the_file_breaks_no_page(
    log, lead, leads_phone, whole, column
):
    with closing(tampering(log)) as db:
        found = db.execute(f"SELECT min(seq), kind, {column} FROM entries GROUP BY kind").fetchall()
        assert {kind for _, kind, _ in found} == KINDS
        for seq, kind, was in found:
            if is_changed(db, column, CHANGED[column][0], seq):
                must_answer(lead, leads_phone, NEAREST.get(kind, near)(whole), (kind, column))
                is_changed(db, column, was, seq)
        for value in CHANGED[column]:
            for seq, *_ in found:
                is_changed(db, column, value, seq)
            must_answer(lead, leads_phone, pages_of(whole), (column, value))


def is_changed(db, column, value, seq):
    """Change a column in the file; False where an index of SQLite refuses even that."""
    try:
        db.execute(f"UPDATE entries SET {column} = ? WHERE seq = ?", [value, seq])
    except sqlite3.Error:
        return False
    return True


def must_answer(lead, phone, paths, what):
    """Every page answers, with something."""
    for path in paths:
        reply = lead.get(path, headers=phone.headers)
        assert reply.status_code < 500, (what, path)
        assert reply.get_data(), path


def test_f68_a_time_that_was_changed_in_the_file_is_told_as_not_readable(log, lead, whole):
    with closing(tampering(log)) as db:
        db.execute("UPDATE entries SET made_at = 'yesterday' WHERE kind = 'note'")

    page = lead.get(f"/desk/jobs/{whole.id}").text

    assert "Not readable: note" in page
    assert "This entry cannot be read: The entry&#39;s made at must be a time" in page
