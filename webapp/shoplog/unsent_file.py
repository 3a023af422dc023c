"""The entries that a phone saved to a file, as it could not send them: one a line.

Each names the phone that made it, and is taken by the rules by which that phone could have sent
it: the shop must know the phone, and its person may do what the entry does. Sent by the phone
later on, it is there already.
"""

import json
from pathlib import Path
from typing import Any

from webapp.shoplog.errors import BadBackup, NotFound
from webapp.shoplog.log import Answer, Batch, ShopLog

NOT_HEARD = """
UPDATE phones SET last_local_no = max(last_local_no, ?) WHERE id = ?
"""


def bring_in_unsent(source: Path, folder: Path) -> list[Answer]:
    """Add what a phone saved to the log of a folder; one answer an entry.

    Raises BadBackup for a file that is no such thing, NotFound where it or one of its phones is
    not known, and LogInUse while the service runs; then nothing was added.
    """
    made: dict[str, list[Any]] = {}
    for entry in entries_of(source):
        made.setdefault(entry["phone"], []).append(entry)
    with ShopLog(folder) as log, log.writing() as db:
        answers = []
        for phone, entries in made.items():
            batch = Batch(db, phone)
            answers += batch.take(entries)
            # The phone itself was not heard: only its numbers are known to go on.
            last = max((entry["local_no"] for entry in batch.stored), default=0)
            db.execute(NOT_HEARD, [last, phone])
        return answers


def entries_of(source: Path) -> list[Any]:
    """The lines of a file, each of which must be an object that names its phone."""
    try:
        lines = [line for line in source.read_bytes().split(b"\n") if line.strip()]
    except FileNotFoundError as error:
        raise NotFound(f"There is no file at {source}.") from error
    found = []
    for number, line in enumerate(lines, 1):
        try:
            entry = json.loads(line)
        except ValueError as error:
            raise BadBackup(f"Line {number} of {source} is not JSON.") from error
        if not isinstance(entry, dict) or not isinstance(entry.get("phone"), str):
            raise BadBackup(f"Line {number} of {source} is not an entry from a phone.")
        found.append(entry)
    return found
