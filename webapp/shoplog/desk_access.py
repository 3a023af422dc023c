"""What lets people in at the desk: storage without decisions."""

from typing import TypedDict

from webapp.shoplog.settings import Settings

ENDED = """INSERT INTO access (person, sessions) VALUES (?, 1)
    ON CONFLICT (person) DO UPDATE SET sessions = sessions + 1"""
WHO_LEADS = """SELECT 1 FROM access JOIN people ON people.id = access.person
    WHERE people.role = 'lead' AND passphrase_hash IS NOT NULL"""
CHANGED = """INSERT INTO access (person, passphrase_hash, sessions) VALUES (:person, :hash, 1)
    ON CONFLICT (person) DO UPDATE SET passphrase_hash = :hash, sessions = sessions + 1"""


class Entitled(TypedDict):
    """How a person gets in: the hash of the passphrase, or None, and which sessions count."""

    passphrase_hash: str | None
    sessions: int


class DeskAccess(Settings):
    """Passphrases and sessions of people."""

    def access_of(self, person: str) -> Entitled:
        """How this person gets in at the desk; nobody has a passphrase to begin with."""
        with self.reading() as db:
            query = "SELECT passphrase_hash, sessions FROM access WHERE person = ?"
            row = db.execute(query, [person]).fetchone()
        passphrase_hash, sessions = row or (None, 0)
        return {"passphrase_hash": passphrase_hash, "sessions": sessions}

    def has_lead(self) -> bool:
        """Whether a lead can come in at the desk: the shop is set up then."""
        with self.reading() as db:
            return db.execute(WHO_LEADS).fetchone() is not None

    def set_passphrase(self, person: str, passphrase_hash: str | None) -> None:
        """Keep the hash of a new passphrase, or None for no way in; ends sessions before it."""
        self.person(person)
        with self.writing() as db:
            db.execute(CHANGED, {"person": person, "hash": passphrase_hash})

    def end_sessions(self, person: str) -> None:
        """End every session of this person that there is."""
        self.person(person)
        with self.writing() as db:
            db.execute(ENDED, [person])
