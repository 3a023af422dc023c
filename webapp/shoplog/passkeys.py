"""Passkeys of people: storage without decisions. Only public keys are kept."""

from webapp.shoplog.own_entries import record_door
from webapp.shoplog.people import found
from webapp.shoplog.rows import Row
from webapp.shoplog.sessions import Sessions
from webapp.shoplog.views.own_rows import print_of

NO_PASSKEY = "There is no such passkey any more."
ADDED = """INSERT INTO passkeys (id, person, name, credential, sign_count, added_at)
    VALUES (:id, :person, :name, :credential, :sign_count, :added_at)"""
REMOVED = "DELETE FROM passkeys WHERE id = ? AND person = ? RETURNING *"


class Passkeys(Sessions):
    """With which passkeys people can sign in, beside their passphrase."""

    def add_passkey(self, row: Row) -> None:
        """Keep a passkey: {id, person, name, credential, sign_count, added_at}."""
        self.person(row["person"])
        with self.writing() as db:
            db.execute(ADDED, row)
            person, told = row["person"], {"called": row["name"], "of_passkey": print_of(row)}
            record_door(db, "passkey_added", person, person, **told)

    def passkey(self, passkey: str) -> Row:
        """One passkey, or NotFound."""
        with self.reading() as db:
            return found(db, "SELECT * FROM passkeys WHERE id = ?", [passkey], NO_PASSKEY)

    def passkeys_of(self, person: str) -> list[Row]:
        """The passkeys of a person, in the order in which they were added."""
        query = "SELECT * FROM passkeys WHERE person = ? ORDER BY added_at, id"
        with self.reading() as db:
            return [dict(row) for row in db.execute(query, [person])]

    def has_passkeys(self) -> bool:
        """Whether anybody can sign in with a passkey."""
        with self.reading() as db:
            return db.execute("SELECT 1 FROM passkeys LIMIT 1").fetchone() is not None

    def use_passkey(self, passkey: str, sign_count: int, at: str) -> None:
        """Note when a passkey was used last, and how often by its own count."""
        query = "UPDATE passkeys SET sign_count = ?, last_used = ? WHERE id = ?"
        with self.writing() as db:
            db.execute(query, [sign_count, at, passkey])

    def remove_passkey(self, passkey: str, person: str) -> Row:
        """The passkey of this person, which signs nobody in from here on; or NotFound."""
        with self.writing() as db:
            row = found(db, REMOVED, [passkey, person], NO_PASSKEY)
            told = {"called": row["name"], "of_passkey": print_of(row)}
            record_door(db, "passkey_removed", person, person, **told)
            return row
