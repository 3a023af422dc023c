"""What an entry may do, given who made it and what the log already holds."""

import sqlite3

from webapp.shoplog.entries import Entry, Refused

LEADS_ONLY = ("decision", "limit", "pass_over")
REPLACEABLE = ("vehicle", "reading", "tick", "pick", "note", "change", "photo")

KIND_AND_TARGET = """
SELECT kind, json_extract(body, '$.target') AS target FROM entries WHERE id = ?
"""

WORKED_ON = """
SELECT 1 FROM entries WHERE job = ? AND person = ?
AND kind IN ('job', 'reading', 'tick', 'pick', 'change', 'hand_in')
AND json_extract(body, '$.second_of') IS NULL LIMIT 1
"""


def must_be_allowed(db: sqlite3.Connection, entry: Entry, person: str) -> None:
    """Raise Refused when this person may not do what the entry does."""
    must_replace_its_like(db, entry)
    settled = what_it_settles(db, entry)
    if settled in LEADS_ONLY:
        must_be_lead(db, person, settled)
    if settled == "decision":
        must_be_anothers_job(db, entry["job"], person)


def what_it_settles(db: sqlite3.Connection, entry: Entry) -> str:
    """The kind of the entry, or of what a strike crosses out or brings back in the end."""
    kind, target = entry["kind"], entry["body"].get("target")
    seen = {entry["id"]}
    while kind == "strike" and target not in seen:
        seen.add(target)
        row = db.execute(KIND_AND_TARGET, [target]).fetchone()
        if row is None:
            break
        kind, target = row["kind"], row["target"]
    return str(kind)


def must_be_lead(db: sqlite3.Connection, person: str, kind: str) -> None:
    """Raise Refused when this person is no lead."""
    [role] = db.execute("SELECT role FROM people WHERE id = ?", [person]).fetchone()
    if role != "lead":
        named = kind.replace("_", " ")
        raise Refused(f"Only a lead can make or strike a {named}: ask your lead.")


def must_be_anothers_job(db: sqlite3.Connection, job: str, person: str) -> None:
    """Raise Refused when the person worked on this job and somebody else could decide."""
    [alone] = db.execute("SELECT count(*) = 1 FROM people").fetchone()
    if not alone and db.execute(WORKED_ON, [job, person]).fetchone():
        raise Refused(
            "You opened, measured or handed in this job yourself: let another lead decide."
        )


def must_replace_its_like(db: sqlite3.Connection, entry: Entry) -> None:
    """Raise Refused when `replaces` names an entry of another kind, or one that needs a strike."""
    target = entry["body"].get("replaces")
    if target is None:
        return
    row = db.execute("SELECT kind FROM entries WHERE id = ?", [target]).fetchone()
    if entry["kind"] not in REPLACEABLE or (row is not None and row["kind"] != entry["kind"]):
        raise Refused(
            "An entry replaces only one of its own kind: strike the other one, "
            "then record this one without replacing."
        )
