"""Links that open once, made on the shop PC: to set the shop up, to choose a new passphrase.

A link is a file in the data folder, so whoever may write there, and nobody else, can make one,
beside a service that runs. Only the hash of its key is in it.
"""

import json
import os
import secrets
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, TypedDict

from webapp.door.credentials import hash_secret

SET_UP = "set_up"
PASSPHRASE = "passphrase"
# The first lead sets the shop up at once, and walks to another computer at most.
LASTS = {SET_UP: timedelta(hours=1), PASSPHRASE: timedelta(minutes=30)}


class Link(TypedDict):
    """What a link is for; `person` is the id of whose passphrase it changes.

    `made_by` is the id of the lead who made it; None where that was done on the shop PC.
    """

    purpose: str
    person: str | None
    until: str
    made_by: str | None


def make(folder: Path, purpose: str, person: str | None = None, made_by: str | None = None) -> str:
    """The key of a new link, in place of every other one for the same purpose and person."""
    place = folder / "links"
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    forget(folder, purpose, person)
    key = secrets.token_urlsafe(24)
    until = (datetime.now(UTC) + LASTS[purpose]).isoformat()
    text = json.dumps(Link(purpose=purpose, person=person, until=until, made_by=made_by))
    with open(
        place / f"{hash_secret(key)}.json",
        "x",
        opener=lambda name, flags: os.open(name, flags, 0o600),
    ) as file:
        file.write(text)
    return key


def forget(folder: Path, purpose: str, person: str | None = None) -> None:
    """Delete every link for this purpose and person."""
    for path, link in _all(folder):
        if (link["purpose"], link["person"]) == (purpose, person):
            path.unlink(missing_ok=True)


def find(folder: Path, key: str) -> Link | None:
    """The link that this key opens, or None if it was never made, was used, or expired."""
    link = _read(folder / "links" / f"{hash_secret(key)}.json")
    if link is None:
        return None
    return None if datetime.now(UTC) > datetime.fromisoformat(link["until"]) else link


def use_up(folder: Path, key: str) -> bool:
    """Delete the link; True if it was still there."""
    try:
        (folder / "links" / f"{hash_secret(key)}.json").unlink()
    except FileNotFoundError:
        return False
    return True


def _all(folder: Path) -> list[tuple[Path, Link]]:
    paths = (folder / "links").glob("*.json")
    return [(path, link) for path in paths if (link := _read(path)) is not None]


def _read(path: Path) -> Link | None:
    try:
        found: Any = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return None
    try:
        return Link(
            purpose=found["purpose"],
            person=found["person"],
            until=found["until"],
            made_by=found["made_by"],
        )
    except (TypeError, KeyError):
        return None
