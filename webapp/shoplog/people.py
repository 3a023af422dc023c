"""People, their phones and pairings, and the shop's own facts: storage without decisions.

What a credential is, how it is hashed and who may do what is decided at the door.
"""

import sqlite3
import uuid
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from webapp.shoplog.connection import Store
from webapp.shoplog.errors import NotFound, OtherPerson
from webapp.shoplog.own_entries import person_entries, record, record_door
from webapp.shoplog.rows import Row

NO_PERSON = "There is no such person in this shop."
NO_PHONE = "This shop does not know that phone: pair it again."
HOLDS_OTHERS = (
    "This phone still has entries from another person or shop. Send them, or save them to a file, "
    "first: the code stays valid."
)
NO_PAIRING = "This pairing code was used, has expired or was mistyped: make a new one at the desk."


def utc_now() -> str:
    """This moment as ISO text in UTC, to the millisecond."""
    return utc_text(datetime.now(UTC))


def utc_text(moment: datetime) -> str:
    """A moment that knows its offset as ISO text in UTC, to the millisecond."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds")


def found(db: sqlite3.Connection, query: str, values: list[Any], otherwise: str) -> Row:
    """The one row of a query, or NotFound with this sentence."""
    row = db.execute(query, values).fetchone()
    if row is None:
        raise NotFound(otherwise)
    return dict(row)


class People(Store):
    """Who works in the shop, and with which phones.

    Every change is an entry of the log too, in the same transaction: it names who made it, `by`, or
    the shop PC where that is None.
    """

    def people(self) -> list[Row]:
        """Everybody, by name: {id, name, role}."""
        with self.reading() as db:
            return [dict(row) for row in db.execute("SELECT * FROM people ORDER BY name, id")]

    def person(self, person: str) -> Row:
        """One person, or NotFound."""
        with self.reading() as db:
            return found(db, "SELECT * FROM people WHERE id = ?", [person], NO_PERSON)

    def add_person(self, name: str, role: str, by: str | None = None) -> Row:
        """A new person; `role` is technician or lead. `by` is who adds them, None the shop PC."""
        row = {"id": str(uuid.uuid4()), "name": name, "role": role}
        with self.writing() as db:
            insert_person(db, row, by)
        return row

    def change_person(self, person: str, name: str, role: str, by: str | None = None) -> Row:
        """The person under this name and with this role from here on, or NotFound."""
        query = "UPDATE people SET name = ?, role = ? WHERE id = ? RETURNING *"
        with self.writing() as db:
            before = found(db, "SELECT * FROM people WHERE id = ?", [person], NO_PERSON)
            row = found(db, query, [name, role, person], NO_PERSON)
            if row != before:
                record(db, "person", {"person": person, "name": name, "role": role}, by)
            return row

    def names_over_time(self) -> dict[str, list[tuple[str, str]]]:
        """Each person's names as (since when, in UTC; name), the first one first."""
        names: dict[str, list[tuple[str, str]]] = {}
        with self.reading() as db:
            for entry in person_entries(db):
                named = names.setdefault(entry["body"]["person"], [])
                if not named or named[-1][1] != entry["body"]["name"]:
                    named.append((entry["received_at"], entry["body"]["name"]))
        return names

    def phones(self) -> list[Row]:
        """Every phone and desk, revoked ones too, in the order in which they were paired."""
        query = "SELECT * FROM phones ORDER BY paired_at, rowid"
        with self.reading() as db:
            return [dict(row) for row in db.execute(query)]

    def phone(self, phone: str) -> Row:
        """One phone, or NotFound."""
        with self.reading() as db:
            return found(db, "SELECT * FROM phones WHERE id = ?", [phone], NO_PHONE)

    def phone_by_credential(self, credential_hash: str) -> Row:
        """The phone that holds this credential, revoked or not, or NotFound."""
        query = "SELECT * FROM phones WHERE credential_hash = ?"
        with self.reading() as db:
            return found(db, query, [credential_hash], NO_PHONE)

    def add_phone(
        self, person: str, name: str, credential_hash: str, known_as: str | None = None
    ) -> Row:
        """A new phone of this person, or NotFound; `known_as` is the id that it has already."""
        self.person(person)
        with self.writing() as db:
            phone = insert_phone(db, person, "phone", name, credential_hash, known_as)
            record_paired(db, phone)
            return phone

    def desk_of(self, person: str) -> Row:
        """The desk as this person's phone, made at its first use; NotFound without the person."""
        query = "SELECT * FROM phones WHERE person = ? AND kind = 'desk'"
        with self.reading() as db:
            row = db.execute(query, [person]).fetchone()
        if row:
            return dict(row)
        self.person(person)
        with self.writing() as db:
            row = db.execute(query, [person]).fetchone()
            return dict(row) if row else insert_phone(db, person, "desk", "desk", None)

    def revoke_phone(self, phone: str, by: str | None = None) -> Row:
        """The phone, revoked from the first time this was asked; or NotFound."""
        query = "UPDATE phones SET revoked_at = coalesce(revoked_at, ?) WHERE id = ? RETURNING *"
        with self.writing() as db:
            before = found(db, "SELECT * FROM phones WHERE id = ?", [phone], NO_PHONE)
            if before["revoked_at"] is None:
                told = {"of_phone": phone, "called": before["name"]}
                record_door(db, "phone_revoked", before["person"], by, **told)
            return found(db, query, [utc_now(), phone], NO_PHONE)

    def renew_phone(self, phone: str, credential_hash: str) -> Row:
        """The phone with a new credential in place of the old, no longer revoked; or NotFound."""
        query = """UPDATE phones SET credential_hash = ?, revoked_at = NULL
            WHERE id = ? AND kind = 'phone' RETURNING *"""
        with self.writing() as db:
            row = found(db, query, [credential_hash, phone], NO_PHONE)
            record_paired(db, row)
            return row

    def add_pairing(
        self, code_hash: str, person: str, expires_at: str, by: str | None = None
    ) -> None:
        """Keep a pairing code's hash until `expires_at`, a time as `utc_now` writes it."""
        self.person(person)
        with self.writing() as db:
            db.execute(
                "INSERT INTO pairings VALUES (?, ?, ?, NULL)", [code_hash, person, expires_at]
            )
            record_door(db, "pairing_code_made", person, by)

    def use_pairing(self, code_hash: str, only_for: str | None = None) -> Row:
        """Who this pairing code is for, once and before it expires; otherwise NotFound.

        OtherPerson, and the code stays good, when it is for somebody else than `only_for`.
        """
        query = """UPDATE pairings SET used_at = :now
            WHERE code_hash = :code_hash AND used_at IS NULL AND expires_at > :now
            RETURNING person"""
        with self.writing() as db:
            used = db.execute(query, {"now": utc_now(), "code_hash": code_hash}).fetchone()
            if used is None:
                raise NotFound(NO_PAIRING)
            if only_for not in {None, used["person"]}:
                raise OtherPerson(HOLDS_OTHERS)
            query = "SELECT * FROM people WHERE id = ?"
            return found(db, query, [used["person"]], NO_PERSON)

    def end_pairings(self, person: str) -> None:
        """Make every pairing code of this person that is still good worth nothing."""
        with self.writing() as db:
            db.execute("DELETE FROM pairings WHERE person = ? AND used_at IS NULL", [person])

    def fact(self, name: str) -> str:
        """One of the shop's own facts, such as `server_id`, or NotFound."""
        with self.reading() as db:
            query = "SELECT value FROM facts WHERE name = ?"
            return str(found(db, query, [name], f"The shop has no {name} yet.")["value"])

    def fact_or_make(self, name: str, make: Callable[[], str]) -> str:
        """A fact, made and kept at its first use, such as a secret key."""
        with self.writing() as db:
            db.execute(
                "INSERT INTO facts VALUES (?, ?) ON CONFLICT (name) DO NOTHING", [name, make()]
            )
        return self.fact(name)

    def set_facts(self, facts: dict[str, str]) -> None:
        """Keep these facts, each in place of what it was before, all of them or none."""
        with self.writing() as db:
            keep_facts(db, facts)


def keep_facts(db: sqlite3.Connection, facts: dict[str, str]) -> None:
    """Keep these facts, within a transaction."""
    query = "INSERT INTO facts VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = ?"
    db.executemany(query, [(name, value, value) for name, value in facts.items()])


def insert_person(db: sqlite3.Connection, row: Row, by: str | None) -> bool:
    """Put somebody on file, {id, name, role}, within a transaction; whether they were not yet."""
    query = "INSERT INTO people VALUES (:id, :name, :role) ON CONFLICT (id) DO NOTHING"
    is_new = db.execute(query, row).rowcount > 0
    if is_new:
        record(db, "person", {"person": row["id"], "name": row["name"], "role": row["role"]}, by)
    return is_new


def record_paired(db: sqlite3.Connection, phone: Row) -> None:
    """Record that a phone got its credential by a code; whoever holds it did that."""
    told = {"of_phone": phone["id"], "called": phone["name"]}
    record_door(db, "phone_paired", phone["person"], phone["person"], **told)


def insert_phone(
    db: sqlite3.Connection,
    person: str,
    kind: str,
    name: str,
    credential_hash: str | None,
    known_as: str | None = None,
) -> Row:
    """The row of a new phone or desk."""
    query = """INSERT INTO phones (id, person, kind, name, credential_hash, paired_at)
        VALUES (?, ?, ?, ?, ?, ?) RETURNING *"""
    row = [known_as or str(uuid.uuid4()), person, kind, name, credential_hash, utc_now()]
    return found(db, query, row, NO_PHONE)
