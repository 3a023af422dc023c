"""Which entries phones made that the log does not hold, by their running numbers.

`held_numbers` has the running numbers of each phone that the log holds, as runs without a gap. A
phone with nothing missing has one run, so that nobody has to count its entries; the runs are the
same whatever order the numbers came in.
"""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence

from webapp.shoplog.connection import Store
from webapp.shoplog.entries import Entry
from webapp.shoplog.rows import Row

MADE = """
SELECT phones.id, phones.name, phones.kind, phones.person, people.name AS who, phones.build,
    phones.revoked_at, phones.last_contact, phones.last_local_no AS made,
    phones.pending_count, phones.oldest_pending_at
FROM phones JOIN people ON people.id = phones.person
WHERE :person IS NULL OR phones.person = :person
ORDER BY phones.paired_at, phones.rowid
"""
RUNS = """
SELECT first, min(last, :made) AS last FROM held_numbers
WHERE phone = :phone AND first <= :made ORDER BY first
"""
# Runs never touch, so of those that begin before the new one only the last can reach it.
TOUCHED = """
SELECT first, last FROM held_numbers WHERE phone = :phone AND last >= :first - 1
AND first BETWEEN ifnull(
    (SELECT max(first) FROM held_numbers WHERE phone = :phone AND first <= :first), :first
) AND :last + 1
"""
FORGET = "DELETE FROM held_numbers WHERE phone = ? AND first = ?"
KEEP = "INSERT INTO held_numbers VALUES (?, ?, ?)"
HELD, IN_LOG = "SELECT * FROM held_numbers", "SELECT * FROM numbers_in_log"
MAX_RANGES = 50


def made_and_here(log: Store, person: str | None = None) -> list[Row]:
    """Each phone and desk with how many entries it made and how many of them are here.

    Rows are {id, name, kind, person, who, build, revoked_at, last_contact, made, here, missing,
    pending_count, oldest_pending_at, ranges}; `ranges` are [first, last] numbers that are not
    here. With `person` only that person's.
    """
    with log.reading() as db:
        rows = [dict(row) for row in db.execute(MADE, {"person": person})]
        for row in rows:
            runs = db.execute(RUNS, {"phone": row["id"], "made": row["made"]}).fetchall()
            row["here"] = sum(last - first + 1 for first, last in runs)
            row["missing"] = row["made"] - row["here"]
            row["ranges"] = gaps(runs, row["made"])[:MAX_RANGES]
    return rows


def gaps(runs: Iterable[Sequence[int]], made: int) -> list[list[int]]:
    """The [first, last] numbers up to `made` that lie between these runs."""
    found, due = [], 1
    for first, last in [*runs, (made + 1, made + 1)]:
        if first > due:
            found.append([due, first - 1])
        due = last + 1
    return found


def keep_up(db: sqlite3.Connection, stored: Sequence[Entry]) -> None:
    """Add the running numbers of entries that were just stored."""
    made: dict[str, set[int]] = {}
    for entry in stored:
        made.setdefault(entry["phone"], set()).add(entry["local_no"])
    for phone, numbers in made.items():
        for first, last in runs_of(sorted(numbers)):
            add(db, phone, first, last)


def runs_of(numbers: list[int]) -> Iterator[tuple[int, int]]:
    """Sorted numbers as (first, last) of each run without a gap."""
    first = numbers[0]
    for number, following in zip(numbers, [*numbers[1:], None], strict=True):
        if following != number + 1:
            yield first, number
            first = following or number


def add(db: sqlite3.Connection, phone: str, first: int, last: int) -> None:
    """Keep one more run of a phone, as one with those that it touches."""
    touched = db.execute(TOUCHED, {"phone": phone, "first": first, "last": last}).fetchall()
    db.executemany(FORGET, [(phone, run["first"]) for run in touched])
    reached = [(first, last), *map(tuple, touched)]
    db.execute(KEEP, [phone, min(run[0] for run in reached), max(run[1] for run in reached)])


def rebuild(db: sqlite3.Connection) -> None:
    """Make the runs afresh from the entries, within the caller's transaction."""
    db.execute("DELETE FROM held_numbers")
    db.execute(f"INSERT INTO held_numbers {IN_LOG}")


def wrong(db: sqlite3.Connection) -> list[str]:
    """The phones whose runs are not those of their entries; none in a log without such runs yet."""
    there = "SELECT 1 FROM sqlite_master WHERE name = 'held_numbers'"
    if db.execute(there).fetchone() is None:
        return []
    held, in_log = ({tuple(row) for row in db.execute(query)} for query in (HELD, IN_LOG))
    return sorted({phone for phone, *_ in held ^ in_log})
