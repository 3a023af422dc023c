"""What lets people in at the desk: storage without decisions."""

from pathlib import Path

from webapp.shoplog.connection import look_into
from webapp.shoplog.own_entries import record_door
from webapp.shoplog.passkeys import Passkeys
from webapp.shoplog.sessions import end_all_of

WHO_LEADS = """SELECT 1 FROM access JOIN people ON people.id = access.person
    WHERE people.role = 'lead' AND passphrase_hash IS NOT NULL"""
CHANGED = """INSERT INTO access (person, passphrase_hash) VALUES (:person, :hash)
    ON CONFLICT (person) DO UPDATE SET passphrase_hash = :hash"""
STRENGTHENED = "UPDATE access SET passphrase_hash = ? WHERE person = ? AND passphrase_hash = ?"


class DeskAccess(Passkeys):
    """Passphrases of people, beside their passkeys and sessions."""

    def passphrase_hash_of(self, person: str) -> str | None:
        """The hash of this person's passphrase; None for nobody's, and for no way in."""
        with self.reading() as db:
            query = "SELECT passphrase_hash FROM access WHERE person = ?"
            row = db.execute(query, [person]).fetchone()
        return None if row is None else row["passphrase_hash"]

    def has_lead(self) -> bool:
        """Whether a lead can come in at the desk: the shop is set up then."""
        with self.reading() as db:
            return db.execute(WHO_LEADS).fetchone() is not None

    @staticmethod
    def is_set_up(folder: Path) -> bool:
        """The same of a log that another process may have open, or NotFound."""
        with look_into(folder) as db:
            return db.execute(WHO_LEADS).fetchone() is not None

    def set_passphrase(
        self, person: str, passphrase_hash: str | None, by: str | None = None
    ) -> None:
        """Keep the hash of a new passphrase, or None for no way in.

        It ends every session and passkey before it: whoever had the old one may have made them.
        """
        self.person(person)
        event = "passphrase_removed" if passphrase_hash is None else "passphrase_set"
        with self.writing() as db:
            db.execute(CHANGED, {"person": person, "hash": passphrase_hash})
            end_all_of(db, person)
            db.execute("DELETE FROM passkeys WHERE person = ?", [person])
            record_door(db, event, person, by)

    def strengthen_passphrase(self, person: str, before: str, after: str) -> None:
        """Keep another hash of the same passphrase, unless it was changed meanwhile."""
        with self.writing() as db:
            db.execute(STRENGTHENED, [after, person, before])
