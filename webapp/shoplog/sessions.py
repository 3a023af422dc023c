"""Sessions of people at the desk: storage without decisions.

A session is kept by the hash of a key that its browser alone holds. What a passphrase or a role
ends is ended in the same transaction, the latter by a trigger of the table.
"""

import sqlite3

from webapp.shoplog.own_entries import record_door
from webapp.shoplog.rows import Row
from webapp.shoplog.settings import Settings

ADDED = """INSERT INTO sessions (key_hash, person, way, begun_at, last_used, source, browser)
    VALUES (:key_hash, :person, :way, :begun_at, :last_used, :source, :browser)"""
COUNTS = "begun_at > :begun_after AND last_used > :used_after"
FOUND = f"""SELECT sessions.*, people.name, people.role
    FROM sessions JOIN people ON people.id = sessions.person
    WHERE key_hash = :key_hash AND {COUNTS}"""
OF_PERSON = f"""SELECT * FROM sessions WHERE person = :person AND {COUNTS}
    ORDER BY last_used DESC, begun_at DESC"""
USED = "UPDATE sessions SET last_used = ?, source = ? WHERE key_hash = ?"
BEYOND = """DELETE FROM sessions WHERE key_hash IN (
    SELECT key_hash FROM sessions WHERE person = ? ORDER BY last_used DESC, begun_at DESC
    LIMIT -1 OFFSET ?)"""


class Sessions(Settings):
    """Who is signed in at the desk, and where.

    `since` is {begun_after, used_after}: a session that began or was used before then is over.
    """

    def add_session(self, session: Row, since: Row, most: int) -> None:
        """Keep a new session: {key_hash, person, way, begun_at, last_used, source, browser}.

        Sessions that are over go, and of this person's those beyond `most`, the longest unused.
        """
        self.person(session["person"])
        with self.writing() as db:
            db.execute(f"DELETE FROM sessions WHERE NOT ({COUNTS})", since)
            db.execute(ADDED, session)
            db.execute(BEYOND, [session["person"], most])
            told = {"how": session["way"], "source": session["source"] or "unknown"}
            record_door(db, "signed_in", session["person"], session["person"], **told)

    def session(self, key_hash: str, since: Row) -> Row | None:
        """One session with its person's `name` and `role`; None once it is over."""
        with self.reading() as db:
            row = db.execute(FOUND, {"key_hash": key_hash, **since}).fetchone()
        return None if row is None else dict(row)

    def sessions_of(self, person: str, since: Row) -> list[Row]:
        """The sessions of a person that are not over, the one used last first."""
        with self.reading() as db:
            return [dict(row) for row in db.execute(OF_PERSON, {"person": person, **since})]

    def use_session(self, key_hash: str, at: str, source: str) -> None:
        """Note when a session was used last, and from which address."""
        with self.writing() as db:
            db.execute(USED, [at, source, key_hash])

    def end_session(self, key_hash: str) -> None:
        """End one session, wherever it is."""
        query = "DELETE FROM sessions WHERE key_hash = ? RETURNING person, source"
        with self.writing() as db:
            for person, source in db.execute(query, [key_hash]).fetchall():
                record_door(db, "signed_out", person, person, source=source or "unknown")

    def end_sessions(self, person: str) -> None:
        """End every session of this person."""
        self.person(person)
        with self.writing() as db:
            end_all_of(db, person)
            record_door(db, "signed_out_everywhere", person, person)


def end_all_of(db: sqlite3.Connection, person: str) -> None:
    """End every session of this person, within what is being written."""
    db.execute("DELETE FROM sessions WHERE person = ?", [person])
