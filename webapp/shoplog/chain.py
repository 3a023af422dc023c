"""The hash chain over the log, and the check that every line is there and as it was stored.

Each entry's link is SHA-256 over the link before it, its sequence number, its content hash, and
what the log added, so a changed, removed, inserted or moved line breaks the chain where it is.
"""

import hashlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from webapp.shoplog.connection import look_into
from webapp.shoplog.entries import ADDED, HEAD, Checked, Entry, Refused, content_hash

START = bytes(32)
PAGE = 2000
COLUMNS = (*HEAD, "body", *ADDED, "content_hash", "chain")
INSERT = f"""
INSERT INTO entries ({", ".join(COLUMNS)}) VALUES ({", ".join("?" * len(COLUMNS))})
ON CONFLICT (id) DO NOTHING
"""
# The highest sequence number ever handed out, and the link to continue from.
End = tuple[int, bytes]
# What the log keeps beside its entries and could not make afresh from them.
BESIDE_ENTRIES = {
    *("people", "phones", "pairings", "facts", "quarantine"),
    *("access", "sessions", "passkeys"),
}


def link(before: bytes, seq: int, content: bytes, person: str, received_at: str) -> bytes:
    """The link of one entry, 32 bytes, given the one before it."""
    added = f"{seq}\n{person}\n{received_at}".encode()
    return hashlib.sha256(before + content + added).digest()


def add(
    db: sqlite3.Connection, kept: Checked, end: End, person: str, received_at: str
) -> tuple[Entry, End]:
    """Store an entry behind the end of the log: the entry as it is stored, and the new end."""
    seq = end[0] + 1
    here = link(end[1], seq, kept.content, person, received_at)
    made = {**kept.made, "seq": seq, "person": person, "received_at": received_at}
    head, added = (made[key] for key in HEAD), (made[key] for key in ADDED)
    try:
        db.execute(INSERT, (*head, kept.body, *added, kept.content, here))
    except sqlite3.IntegrityError as error:
        raise Refused(f"The log cannot store this entry ({error}). Record it again.") from error
    return made, (seq, here)


def last_link(db: sqlite3.Connection) -> End:
    """Where the log ends."""
    row = db.execute("SELECT chain FROM entries ORDER BY seq DESC LIMIT 1").fetchone()
    return last_handed_out(db), row["chain"] if row else START


def last_handed_out(db: sqlite3.Connection) -> int:
    """The highest sequence number ever handed out, 0 for a new log."""
    row = db.execute("SELECT seq FROM sqlite_sequence WHERE name = 'entries'").fetchone()
    return row["seq"] if row else 0


def check_folder(folder: Path) -> list[str]:
    """Check a log without taking it: a sentence per fault, none when it is sound; or NotFound."""
    with look_into(folder) as db:
        return faults(db)


def faults(db: sqlite3.Connection) -> list[str]:
    """A sentence for everything that is wrong with the database or its chain of entries."""
    strict, db.text_factory = db.text_factory, in_any_case
    try:
        sound = [row[0] for row in db.execute("PRAGMA integrity_check")]
        broken = [f"SQLite finds the database damaged: {each}." for each in sound if each != "ok"]
        return broken + list(chain_faults(db)) + list(text_faults(db))
    except sqlite3.DatabaseError as error:
        if isinstance(error, sqlite3.OperationalError):
            raise
        return [f"SQLite cannot read the database: {error}."]
    finally:
        db.text_factory = strict


def in_any_case(text: bytes) -> str:
    """A text of the database, with a mark in place of every byte that is not UTF-8."""
    return text.decode("utf-8", "replace")


def text_faults(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each table beside the entries that holds a text that cannot be read."""
    there = {row[0] for row in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    # In place of each text comes whether it can be read.
    db.text_factory = is_readable
    for table in sorted(there & BESIDE_ENTRIES):
        for number, row in enumerate(db.execute(f"SELECT * FROM {table}").fetchall(), 1):
            if any(value is False for value in row):
                yield f"The table {table} holds a text that is not UTF-8, in its row {number}."


def is_readable(text: bytes) -> bool:
    """Whether a text of the database is UTF-8."""
    try:
        text.decode()
    except UnicodeDecodeError:
        return False
    return True


def chain_faults(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each line that is not as it was stored, or not where it was."""
    end = last_handed_out(db)
    before, seen = START, 0
    for row in lines(db, end):
        if content_hash(dict(row), row["body"]) != row["content_hash"]:
            yield f"Line {row['seq']} was changed after it was stored (entry {row['id']})."
        kept = (row["seq"], row["content_hash"], row["person"], row["received_at"])
        if link(before, *kept) != row["chain"]:
            yield f"Line {row['seq']} does not follow the line before it (line {seen})."
        before, seen = row["chain"], row["seq"]
    if seen != end:
        yield f"The log ends at line {seen}, but line {end} was once stored."


def lines(db: sqlite3.Connection, end: int) -> Iterator[sqlite3.Row]:
    """Every stored line up to `end`, a page at a time so that no read lasts long."""
    query = "SELECT * FROM entries WHERE seq > ? AND seq <= ? ORDER BY seq LIMIT ?"
    page = db.execute(query, [0, end, PAGE]).fetchall()
    while page:
        yield from page
        page = db.execute(query, [page[-1]["seq"], end, PAGE]).fetchall()
