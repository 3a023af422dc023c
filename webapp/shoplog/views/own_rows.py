"""People, settings, phones, passphrases and passkeys as the shop PC's own entries tell of them.

They are kept in tables of their own, as secrets stand beside them that no entry may hold. What the
tables hold is held against the log, and can be put back to what it says.
"""

import hashlib
import sqlite3
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from webapp.shoplog.connection import tables_of
from webapp.shoplog.own_entries import own_entries, record, record_door

OWN_KINDS = ("person", "setting", "door")
PEOPLE = "SELECT id, name, role FROM people"
SETTINGS = "SELECT name, value FROM facts WHERE substr(name, 1, 5) = 'shop_'"
PHONES = "SELECT id, person, name, revoked_at FROM phones WHERE kind = 'phone'"
PASSKEYS = "SELECT * FROM passkeys"
PASSPHRASES = "SELECT person FROM access WHERE passphrase_hash IS NOT NULL"

SAVE_SETTING = "INSERT INTO facts VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = ?"
SAVE_PERSON = """
INSERT INTO people VALUES (:id, :name, :role)
ON CONFLICT (id) DO UPDATE SET name = :name, role = :role
"""
SAVE_PASSKEY = "UPDATE passkeys SET person = :person, name = :name WHERE id = :id"
SAVE_PHONE = """
INSERT INTO phones (id, person, kind, name, paired_at, revoked_at)
VALUES (:id, :person, 'phone', :name, :now, :now)
ON CONFLICT (id) DO UPDATE SET person = :person, revoked_at = iif(:in_use, NULL, :now)
"""

# Of each thing that is kept, by its id or name, its values; those that are not there are left out.
Rows = dict[tuple[str, str], dict[str, Any]]

OTHERWISE = (
    "The {thing} {name} is kept as {kept}, and the log says {logged}. Stop the service and run "
    "`axlewright check --rebuild` for what the log says."
)


def faults(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each person, setting, phone or passphrase that is not as the log says."""
    kept, logged = rows_kept(db), rows_logged(db)
    if not logged:
        # A log of an older version: the next start writes into it what is there.
        return
    for key in differing(kept, logged):
        here, there = in_words(kept.get(key)), in_words(logged.get(key))
        yield OTHERWISE.format(thing=key[0], name=key[1], kept=here, logged=there)


def tell_what_is_kept(db: sqlite3.Connection) -> None:
    """Write into the log, within a transaction, what it does not say of what is kept.

    Where entries of another log were brought in, what is on file here counts.
    """
    kept, logged = rows_kept(db), rows_logged(db)
    for thing, name in differing(kept, logged):
        tell(db, thing, name, kept.get((thing, name)), logged.get((thing, name), {}))


def tell(
    db: sqlite3.Connection, thing: str, name: str, kept: dict[str, Any] | None, was: dict[str, Any]
) -> None:
    """Write into the log how one thing is kept."""
    if thing == "person" and kept:
        record(db, "person", {"person": name, **kept})
    elif thing == "setting" and kept:
        record(db, "setting", {"name": name, **kept})
    elif thing == "phone":
        event = "phone_paired" if kept and kept["in_use"] else "phone_revoked"
        record_door(db, event, (kept or was)["person"], of_phone=name)
    elif thing == "passkey":
        event, row = "passkey_added" if kept else "passkey_removed", kept or was
        record_door(db, event, row["person"], of_passkey=name, called=row["name"])
    elif thing == "passphrase":
        record_door(db, "passphrase_set" if kept else "passphrase_removed", name)


def put_back(db: sqlite3.Connection) -> None:
    """Make people, settings, phones and passphrases what the log says, within a transaction.

    Somebody whom the log does not know is a technician from here on; a secret that is gone is
    told as gone.
    """
    kept, logged = rows_kept(db), rows_logged(db)
    if not logged:
        return
    now = datetime.now(UTC).isoformat(timespec="milliseconds")
    for thing, name in differing(kept, logged):
        right, here = logged.get((thing, name)), kept.get((thing, name), {})
        if thing == "person":
            row = {"id": name, "name": here.get("name"), "role": "technician", **(right or {})}
            db.execute(SAVE_PERSON, row)
        elif thing == "setting" and right:
            db.execute(SAVE_SETTING, [name, right["value"], right["value"]])
        elif thing == "setting":
            db.execute("DELETE FROM facts WHERE name = ?", [name])
        elif thing == "phone":
            row = {**(right or {**here, "in_use": False}), "id": name, "now": now}
            db.execute(SAVE_PHONE, {"name": "a phone", **row})
        elif thing == "passkey":
            put_passkey_back(db, name, right)
        elif right is None:
            db.execute("UPDATE access SET passphrase_hash = NULL WHERE person = ?", [name])
    tell_what_is_kept(db)


def put_passkey_back(db: sqlite3.Connection, known_by: str, right: dict[str, Any] | None) -> None:
    """Take away a passkey that the log does not know, or say again whose it is."""
    for row in db.execute(PASSKEYS).fetchall():
        if print_of(row) != known_by:
            continue
        if right is None:
            db.execute("DELETE FROM passkeys WHERE id = ?", [row["id"]])
        else:
            db.execute(SAVE_PASSKEY, {**right, "id": row["id"]})


def print_of(passkey: Mapping[str, Any] | sqlite3.Row) -> str:
    """By what the log knows a passkey: the SHA-256 of its id and public key, in hexadecimal."""
    return hashlib.sha256(passkey["id"].encode() + b"\n" + passkey["credential"]).hexdigest()


def differing(kept: Rows, logged: Rows) -> list[tuple[str, str]]:
    """What is kept otherwise than the log says; people come before their phones."""
    found = [key for key in kept.keys() | logged.keys() if kept.get(key) != logged.get(key)]
    # A phone that was put on file for entries of another log, or of a lost one, is in nobody's use.
    used = [key for key in found if key[0] != "phone" or in_use(kept, key) or in_use(logged, key)]
    return sorted(used)


def in_use(rows: Rows, key: tuple[str, str]) -> bool:
    """Whether a phone may come in."""
    return bool(rows.get(key, {}).get("in_use"))


def in_words(values: dict[str, Any] | None) -> str:
    """The values of one thing in a sentence."""
    if values is None:
        return "not there"
    return ", ".join(f"{name} {value}" for name, value in values.items()) or "set"


def rows_kept(db: sqlite3.Connection) -> Rows:
    """What the tables hold."""
    rows: Rows = {}
    for person in db.execute(PEOPLE):
        rows["person", person["id"]] = {"name": person["name"], "role": person["role"]}
    for setting in db.execute(SETTINGS):
        rows["setting", setting["name"]] = {"value": setting["value"]}
    for phone in db.execute(PHONES):
        in_use = phone["revoked_at"] is None
        rows["phone", phone["id"]] = {"person": phone["person"], "in_use": in_use}
    for access in db.execute(PASSPHRASES):
        rows["passphrase", access["person"]] = {}
    # A log of an older version, which is only looked into, has none.
    if "passkeys" in tables_of(db):
        for passkey in db.execute(PASSKEYS):
            values = {"person": passkey["person"], "name": passkey["name"]}
            rows["passkey", print_of(passkey)] = values
    return rows


def rows_logged(db: sqlite3.Connection) -> Rows:
    """What the shop PC's own entries say; the last one about a thing counts."""
    rows: Rows = {}
    for entry in own_entries(db, *OWN_KINDS):
        kind, body = entry["kind"], entry["body"]
        event, about = body.get("event"), body.get("about")
        if kind == "person":
            was = rows.get(("person", body["person"])) or body
            if was["role"] != body["role"]:
                without_passkeys(rows, body["person"])
            rows["person", body["person"]] = {"name": body["name"], "role": body["role"]}
        elif kind == "setting":
            rows["setting", body["name"]] = {"value": body["value"]}
        elif event in ("phone_paired", "phone_revoked"):
            in_use = event == "phone_paired"
            rows["phone", body["of_phone"]] = {"person": about, "in_use": in_use}
        elif event == "passkey_added" and "of_passkey" in body:
            rows["passkey", body["of_passkey"]] = {"person": about, "name": body["called"]}
        elif event == "passkey_removed":
            rows.pop(("passkey", body.get("of_passkey", "")), None)
        elif event in ("passphrase_set", "passphrase_removed"):
            without_passkeys(rows, about)
            rows.pop(("passphrase", about), None)
            if event == "passphrase_set":
                rows["passphrase", about] = {}
    return rows


def without_passkeys(rows: Rows, person: str) -> None:
    """Leave out the passkeys of somebody, which another role or passphrase ends."""
    ended = [key for key in rows if key[0] == "passkey" and rows[key]["person"] == person]
    for key in ended:
        del rows[key]
