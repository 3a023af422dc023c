"""Logs of any length: the sample year, then vehicles of it over and over under fresh ids.

The first thousand entries come in through `append`. A copy keeps what an entry says and gets its
own ids, its place in the chain and its rows of the projections, so that a log of a million entries
is made in a minute and still passes every check.
"""

import hashlib
import random
import re
import sqlite3
from collections import Counter
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

from webapp import sample
from webapp.sample.shop import Shop
from webapp.shoplog import ShopLog, chain
from webapp.shoplog.chain import COLUMNS, INSERT
from webapp.shoplog.connection import FILE, open_writer
from webapp.shoplog.entries import content_hash
from webapp.shoplog.views import missing_numbers
from webapp.shoplog.views.projections import MARK_RECENT, RECENT_JOBS

UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}")
NO_OTHERS = "SELECT id FROM jobs WHERE vehicle = ? AND state = 'accepted'"
ENTRIES = f"""
SELECT * FROM entries WHERE vehicle = ? AND (job IS NULL OR job IN ({NO_OTHERS})) ORDER BY seq
"""
COPIED = {
    "vehicles": "SELECT * FROM vehicles WHERE id = ?",
    "jobs": "SELECT * FROM jobs WHERE vehicle = ? AND state = 'accepted'",
    "words": f"SELECT * FROM words WHERE vehicle = ? AND (job IS NULL OR job IN ({NO_OTHERS}))",
    "tags": "SELECT * FROM tags WHERE vehicle = ?",
}
LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
AT_ONCE = 50


def begin(folder: Path, least: int) -> None:
    """Fill an empty log with vehicles of the sample year, pending ones first, and every limit."""
    with ShopLog(folder) as log:
        batches = Shop(sample.register(log)).run()
        chosen = {None, *vehicles_for([e for b in batches for e in b.entries], least)}
        for batch in batches:
            kept = [entry for entry in batch.entries if entry["vehicle"] in chosen]
            log.append(batch.phone, kept, received_at=batch.sent_at)


def vehicles_for(entries: list[dict], least: int) -> list[str]:
    """Vehicles whose entries are about `least` in number, those worked on last first."""
    counts = Counter(entry["vehicle"] for entry in entries if entry["vehicle"])
    last = {entry["vehicle"]: number for number, entry in enumerate(entries)}
    chosen: list[str] = []
    for vehicle in sorted(counts, key=lambda each: -last[each]):
        if sum(counts[each] for each in chosen) < least:
            chosen.append(vehicle)
    return chosen


def extend(folder: Path, total: int) -> int:
    """Copy vehicles until the log holds at least so many entries; how many it holds then."""
    with closing(open_writer(folder / FILE, 5.0)) as db:
        # This is a file to be measured, not a shop's; a power cut may take it.
        for setting in ("synchronous = OFF", "cache_size = -262144"):
            db.execute(f"PRAGMA {setting}")
        copier = Copier(db)
        while copier.seq < total:
            db.execute("BEGIN")
            copier.copy_some(total)
            db.execute("COMMIT")
        db.execute("BEGIN")
        missing_numbers.rebuild(db)
        db.execute("COMMIT")
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return copier.seq


class Copier:
    """Copies the vehicles that the log had at first, one after the other."""

    def __init__(self, db: sqlite3.Connection) -> None:
        self.db = db
        self.seq, self.link = chain.last_link(db)
        self.chance = random.Random(self.seq)
        rows = db.execute("SELECT id FROM vehicles ORDER BY rowid LIMIT 8").fetchall()
        self.units = [Unit(db, row["id"]) for row in rows]
        highest = "SELECT phone, max(local_no) FROM entries GROUP BY phone"
        self.numbers: dict[str, int] = dict(map(tuple, db.execute(highest)))

    def copy_some(self, total: int) -> None:
        """Copy so many vehicles as fit one transaction, or as are wanted."""
        for turn in range(AT_ONCE):
            if self.seq < total:
                self.copy(self.units[turn % len(self.units)])
        said = [(number, phone) for phone, number in self.numbers.items()]
        self.db.executemany("UPDATE phones SET last_local_no = ? WHERE id = ?", said)

    def copy(self, unit: "Unit") -> None:
        """Write one vehicle, its accepted jobs and its rows under fresh ids."""
        fresh = Fresh(unit.own, self.chance)
        seqs: dict[int, int] = {}
        lines = [self.line(dict(row), fresh, seqs) for row in unit.entries]
        self.db.executemany(INSERT, lines)
        for table, rows in unit.rows.items():
            for row in rows:
                self.write(table, {key: fresh.of(value) for key, value in row.items()}, seqs)
        recent = {"vehicle": fresh.of(unit.vehicle), "most": RECENT_JOBS}
        self.db.execute(MARK_RECENT, recent)

    def line(self, made: dict, fresh: "Fresh", seqs: dict[int, int]) -> tuple:
        """The columns of one copied entry, linked to the one before it."""
        for key in ("id", "vehicle", "job", "body"):
            made[key] = fresh.of(made[key])
        self.seq += 1
        seqs[made["seq"]] = made["seq"] = self.seq
        number = self.numbers[made["phone"]] = self.numbers[made["phone"]] + 1
        made["local_no"] = number
        made["content_hash"] = content_hash(made, made["body"])
        heard = (made["person"], made["received_at"])
        self.link = made["chain"] = chain.link(self.link, self.seq, made["content_hash"], *heard)
        return tuple(made[name] for name in COLUMNS)

    def write(self, table: str, row: dict, seqs: dict[int, int]) -> None:
        """Insert a projection's row, its sequence numbers those of the copied entries."""
        moved = {key: seqs.get(row[key], row[key]) for key in row if key.endswith("_seq")}
        values = list({**row, **moved}.values())
        columns = ", ".join(row)
        marks = ", ".join("?" * len(values))
        self.db.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks})", values)


class Unit:
    """What is copied of one vehicle."""

    def __init__(self, db: sqlite3.Connection, vehicle: str) -> None:
        self.vehicle = vehicle
        names = {"vehicle": vehicle}
        self.entries = db.execute(ENTRIES.replace("?", ":vehicle"), names).fetchall()
        self.rows = {
            table: [dict(row) for row in db.execute(query.replace("?", ":vehicle"), names)]
            for table, query in COPIED.items()
        }
        codes = {row["code"] for row in self.rows["tags"]}
        self.own = {vehicle, *codes} | set(ids_in(self.entries))


def ids_in(entries: Iterable[sqlite3.Row]) -> Iterable[str]:
    """The ids of entries and of their jobs."""
    for entry in entries:
        yield entry["id"]
        if entry["job"]:
            yield entry["job"]


class Fresh:
    """Gives each own id or tag code of a vehicle a fresh one, the same wherever it stands."""

    def __init__(self, own: set[str], chance: random.Random) -> None:
        self.names = {each: new_name(each, chance) for each in sorted(own)}
        self.codes = [each for each in self.names if len(each) == 9]

    def of(self, value: object) -> object:
        """A value with the fresh names in it; numbers and empty values as they are."""
        if not isinstance(value, str):
            return value
        named = UUID.sub(lambda found: self.names.get(found[0], found[0]), value)
        for code in self.codes:
            named = named.replace(code, self.names[code]).replace(
                code.casefold(), self.names[code].casefold()
            )
        return named


def new_name(old: str, chance: random.Random) -> str:
    """A tag code for a tag code, a UUID for a UUID."""
    if len(old) == 9:
        code = "".join(chance.choices(LETTERS, k=8))
        return f"{code[:4]}-{code[4:]}"
    text = hashlib.blake2b(chance.randbytes(16), digest_size=16).hexdigest()
    return f"{text[:8]}-{text[8:12]}-4{text[13:16]}-a{text[17:20]}-{text[20:]}"
