"""The whole log as one file to carry: JSON Lines and photos in a zip.

`log.jsonl` has one object a line: first {"axlewright": 1, ...}, then {"person": ...},
{"phone": ...}, {"entry": ...} in log order and {"aside": ...} for what was set aside. Credentials
and passphrases are left out: whoever is handed the file cannot come in with it.
"""

import json
import sqlite3
import zipfile
import zlib
from collections import Counter
from collections.abc import Container, Iterator
from contextlib import contextmanager
from itertools import islice
from pathlib import Path
from typing import Any

from webapp.shoplog import chain
from webapp.shoplog.connection import look_into
from webapp.shoplog.entries import Refused, canonical, checked, from_row
from webapp.shoplog.errors import BadBackup, LogFull, LogTooNew, NotFound
from webapp.shoplog.files.atomic import growing, put_whole
from webapp.shoplog.files.photo_files import PHOTOS, hash_bytes, photo_files, sent_and_kept
from webapp.shoplog.log import SET_ASIDE, ShopLog
from webapp.shoplog.people import insert_person, utc_now
from webapp.shoplog.returned_entries import bring_over
from webapp.shoplog.rules.carried import CARRIED, line_faults
from webapp.shoplog.views import own_rows

VERSION = 1
LINES = "log.jsonl"
BATCH = 500
NEWER = (
    "A newer version of Axlewright wrote this export: install that version here, then try again."
)

HALF_FULL = (
    "The disk with {folder} is full: free some space, then import the same file again. Nothing is "
    "added twice."
)
# What reading a zip, or a line of it, ends in when it is not as it was written.
TORN = (
    *(zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError),
    *(KeyError, TypeError, ValueError, Refused, sqlite3.IntegrityError, sqlite3.ProgrammingError),
)

PEOPLE = "SELECT id, name, role FROM people ORDER BY rowid"
PHONES = "SELECT id, person, name, paired_at, build, last_local_no FROM phones ORDER BY rowid"
ASIDE = "SELECT phone, content, content_hash, received_at, id FROM quarantine ORDER BY no"
# A lead who cannot sign in here decides nothing, and keeps nobody from deciding.
NO_WAY_IN = "INSERT INTO access (person, passphrase_hash) VALUES (?, NULL)"
ADD_PHONE = """
INSERT INTO phones (id, person, kind, name, paired_at, revoked_at, build, last_local_no)
VALUES (:id, :person, 'phone', :name, :paired_at, :now, :build, :last_local_no)
ON CONFLICT (id) DO UPDATE SET last_local_no = max(last_local_no, excluded.last_local_no)
"""

Line = dict[str, Any]


def export(folder: Path, target: Path) -> int:
    """Write the log of a folder and its photos into one zip; how many entries it holds.

    The service may run meanwhile. Raises NotFound without a log, and BadBackup for a damaged one.
    """
    faults = chain.check_folder(folder)
    if faults:
        raise BadBackup(f"Nothing was exported, as the log is damaged: {faults[0]}")
    with growing(target) as part, zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as packed:
        with packed.open(LINES, "w", force_zip64=True) as file, look_into(folder) as db:
            entries = write_lines(db, file)
        for path in photo_files(folder).values():
            packed.write(path, f"{PHOTOS}/{path.name}", zipfile.ZIP_STORED)
    return entries


def write_lines(db: sqlite3.Connection, file: Any) -> int:
    """Write everything that is carried, a line each; how many entries there were."""
    entries = 0
    for line in carried(db):
        entries += "entry" in line
        file.write(canonical(line).encode() + b"\n")
    file.write(canonical({"end": {"entries": entries}}).encode() + b"\n")
    return entries


def carried(db: sqlite3.Connection) -> Iterator[Line]:
    """Everything that is carried, in the order in which it is read again."""
    facts = dict(map(tuple, db.execute("SELECT name, value FROM facts")))
    head = {"server_id": facts["server_id"], "epoch": int(facts["epoch"]), "made_at": utc_now()}
    yield {"axlewright": VERSION, **head}
    for name, query in (("person", PEOPLE), ("phone", PHONES)):
        yield from ({name: dict(row)} for row in db.execute(query).fetchall())
    for row in chain.lines(db, chain.last_handed_out(db)):
        yield {"entry": from_row(row)}
    for row in db.execute(ASIDE).fetchall():
        aside = {"phone": row["phone"], "received_at": row["received_at"]}
        yield {"aside": {**aside, "entry": json.loads(row["content"])}}


def bring_in(source: Path, folder: Path) -> Counter[str]:
    """Add an export to the log of a folder; how many of its entries were stored, already, ...

    The same file twice adds nothing more. Raises BadBackup or LogTooNew before anything is
    written, and LogInUse while the service runs.
    """
    if not source.exists():
        raise NotFound(f"There is no export at {source}.")
    with refusing_what_is_torn(source), zipfile.ZipFile(source) as packed:
        names = must_be_whole(packed)
        try:
            with ShopLog(folder) as log:
                return bring_in_lines(log, packed, names)
        except LogFull as error:
            raise LogFull(HALF_FULL.format(folder=folder)) from error


@contextmanager
def refusing_what_is_torn(source: Path) -> Iterator[None]:
    """What a file that is not as it was written ends in comes out as BadBackup."""
    try:
        yield
    except (*TORN, OSError) as error:
        # The system names the file that it refuses; a place that no file has comes from a torn one.
        if isinstance(error, OSError) and error.filename is not None:
            raise
        raise BadBackup(f"{source} is not a complete export ({error}): make it again.") from error


def lines_of(packed: zipfile.ZipFile) -> Iterator[tuple[int, Line]]:
    """Each line with its number; BadBackup for one that is none."""
    with packed.open(LINES) as file:
        for number, text in enumerate(file, 1):
            try:
                line = json.loads(text)
            except ValueError as error:
                raise BadBackup(f"Line {number} of the export is not JSON.") from error
            if not isinstance(line, dict):
                raise BadBackup(f"Line {number} of the export is not an object.")
            yield number, line


def must_be_whole(packed: zipfile.ZipFile) -> dict[str, str]:
    """The names of people by id, once every line and photo has been looked at."""
    names: dict[str, str] = {}
    phones: set[str] = set()
    entries, end = 0, None
    for number, line in lines_of(packed):
        if number == 1:
            must_be_ours(line)
        must_be_as_carried(number, line, names, phones)
        if "entry" in line:
            entries += 1
            must_be_an_entry(number, line["entry"])
        end = line.get("end")
    if end != {"entries": entries}:
        raise BadBackup("The export ends too early: it was not copied completely.")
    for info in photos_in(packed):
        if hash_bytes(packed.read(info)) != hashes_of(info)[1]:
            raise BadBackup(f"The photo {info.filename} of the export is damaged.")
    return names


def must_be_ours(line: Line) -> None:
    """Raise BadBackup or LogTooNew unless this is the first line of an export."""
    version = line.get("axlewright")
    if not isinstance(version, int):
        raise BadBackup("This is not an export of a shop log.")
    if version > VERSION:
        raise LogTooNew(NEWER)


def must_be_an_entry(number: int, entry: Any, own: bool = True) -> None:
    """Raise BadBackup unless the log could keep this; with `own` the shop PC may have made it."""
    try:
        checked(entry, entry["phone"], own)
    except (Refused, KeyError, TypeError) as error:
        raise BadBackup(f"Line {number} of the export is not an entry: {error}") from error


def must_be_as_carried(number: int, line: Line, names: dict[str, str], phones: set[str]) -> None:
    """Raise BadBackup unless the log could keep this person, phone or what was set aside.

    Who and what comes in by it is added to the names of people by id and the ids of phones.
    """
    for name in CARRIED.keys() & line.keys():
        faults = line_faults(name, line[name])
        if faults:
            raise BadBackup(f"Line {number} of the export cannot be kept: {' '.join(faults)}")
    if "person" in line:
        names[line["person"]["id"]] = line["person"]["name"]
    if "phone" in line:
        must_be_here(number, line["phone"]["person"], names)
        phones.add(line["phone"]["id"])
    if "aside" in line:
        must_be_here(number, line["aside"]["phone"], phones)
        must_be_an_entry(number, line["aside"]["entry"], own=False)


def must_be_here(number: int, known_as: str, here: Container[str]) -> None:
    """Raise BadBackup unless a line before this one brought whoever it names."""
    if known_as not in here:
        raise BadBackup(f"Line {number} of the export names {known_as}, which is not in it.")


def photos_in(packed: zipfile.ZipFile) -> list[zipfile.ZipInfo]:
    """The photos of an export; other files in it are let be."""
    found = packed.infolist()
    return [info for info in found if sent_and_kept(Path(info.filename).stem)]


def hashes_of(photo: zipfile.ZipInfo) -> tuple[str, str]:
    """The hashes of what was sent and of what is kept of a photo in an export."""
    return sent_and_kept(Path(photo.filename).stem) or ("", "")


def bring_in_lines(log: ShopLog, packed: zipfile.ZipFile, names: dict[str, str]) -> Counter[str]:
    """Add people, phones, entries, what was set aside, and photos."""
    said: Counter[str] = Counter()
    add_makers(log, [line for _, line in lines_of(packed) if line.keys() & {"person", "phone"}])
    entries = (line["entry"] for _, line in lines_of(packed) if "entry" in line)
    while batch := list(islice(entries, BATCH)):
        said.update(answer["verdict"] for answer in bring_over(log, batch, names))
    with log.writing() as db:
        own_rows.tell_what_is_kept(db)
    aside = [line["aside"] for _, line in lines_of(packed) if "aside" in line]
    set_aside(log, aside)
    there = photo_files(log.folder)
    for info in photos_in(packed):
        name = Path(info.filename).name
        if hashes_of(info)[0] not in there:
            put_whole(packed.read(info), log.folder / PHOTOS / name)
    return said


def add_makers(log: ShopLog, lines: list[Line]) -> None:
    """Put people and phones on file that are not; none of them can come in by that."""
    with log.writing() as db:
        for line in lines:
            if "person" in line and insert_person(db, line["person"], None):
                db.execute(NO_WAY_IN, [line["person"]["id"]])
        phones = [{**line["phone"], "now": utc_now()} for line in lines if "phone" in line]
        db.executemany(ADD_PHONE, phones)


def set_aside(log: ShopLog, aside: list[Line]) -> None:
    """Keep what the other log had set aside."""
    with log.writing() as db:
        for row in aside:
            kept = checked(row["entry"], row["entry"]["phone"])
            made = kept.made
            given = [made["id"], row["phone"], canonical(made), kept.content, row["received_at"]]
            db.execute(SET_ASIDE, given)
