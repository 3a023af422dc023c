"""The session of a person at the desk: begun by signing in, kept on the server, ended there.

The browser's cookie holds a random key, and the log its hash and whose it is: a cookie that was
copied is worth nothing once the session was ended, wherever that was done.
"""

import secrets
from contextlib import suppress
from datetime import UTC, datetime, timedelta

from flask import g, request, session
from werkzeug.wrappers import Response

from webapp.door.browsers import browser_called
from webapp.door.credentials import hash_secret
from webapp.door.current import the_log
from webapp.shoplog import LogError
from webapp.shoplog.people import utc_text
from webapp.shoplog.rows import Row

KEY = "key"
# That the next page tells what others changed of this person's ways in.
TELL = "tell"
# Signed in on Monday, out on the next; and nobody finds the desk open in the morning.
LASTS = timedelta(days=7)
MAX_IDLE = timedelta(hours=12)
# When a session was used last is kept this coarsely, so that a page that is read writes nothing.
COARSE = timedelta(minutes=5)
MAX_OF_PERSON = 20
# What an open page asks for by itself is no sign that somebody is there.
BY_ITSELF = {"desk.pending_list"}
# Of the app's own files there is a copy elsewhere, and what phones hold is never touched.
FORGET_PAGES = '"cache"'


def start_session(person: Row, way: str) -> None:
    """Begin a session of this person, with nothing left over from the one before.

    `way` is how they came in: passphrase, passkey, link or demo.
    """
    end_session()
    key, now = secrets.token_urlsafe(32), datetime.now(UTC)
    row = {
        "key_hash": hash_secret(key),
        "person": person["id"],
        "way": way,
        "begun_at": utc_text(now),
        "last_used": utc_text(now),
        "source": request.remote_addr or "",
        "browser": browser_called(request.headers.get("User-Agent", "")),
    }
    the_log().add_session(row, counting_since(now), MAX_OF_PERSON)
    session.permanent = True
    session[KEY] = key
    session[TELL] = True


def end_session() -> None:
    """Sign out: the session is over here and in the log."""
    if KEY in session:
        the_log().end_session(hash_secret(session[KEY]))
    session.clear()
    g.pop("session_row", None)


def end_sessions() -> None:
    """Sign out here and at every other desk."""
    the_log().end_sessions(current_person()["id"])
    end_session()


def end_one_session(row: Row) -> None:
    """End one session of whoever is signed in, as `own_sessions` gives it; perhaps this one."""
    if row["is_this"]:
        end_session()
    else:
        the_log().end_session(row["key_hash"])


def signed_out(response: Response) -> Response:
    """The response, which lets a browser that others use forget the pages it showed."""
    response.headers["Clear-Site-Data"] = FORGET_PAGES
    return response


def the_person() -> Row | None:
    """Who is signed in at the desk, as the log knows them at this moment; None when signed out."""
    row = the_session()
    return row and {"id": row["person"], "name": row["name"], "role": row["role"]}


def current_person() -> Row:
    """Who is signed in at the desk; the guard lets nobody else reach its pages."""
    person = the_person()
    if person is None:
        raise LookupError("Nobody is signed in.")
    return person


def own_sessions() -> list[Row]:
    """Every session of whoever is signed in, the one used last first; `is_this` marks this one."""
    current = the_session() or {}
    found = the_log().sessions_of(current_person()["id"], counting_since(datetime.now(UTC)))
    return [{**row, "is_this": row["key_hash"] == current["key_hash"]} for row in found]


def the_session() -> Row | None:
    """The session that this request belongs to, as in the log; None for one that is over."""
    if "session_row" not in g:
        g.session_row = _found()
    row: Row | None = g.session_row
    return row


def note_use() -> None:
    """Note now and then that the session was used; where the log is full, nothing is noted."""
    row, now = the_session(), datetime.now(UTC)
    if row is None or request.endpoint in BY_ITSELF:
        return
    source = request.remote_addr or ""
    if source != row["source"] or row["last_used"] < utc_text(now - COARSE):
        with suppress(LogError):
            the_log().use_session(row["key_hash"], utc_text(now), source)


def counting_since(now: datetime) -> Row:
    """Since when a session must have begun and been used to count."""
    return {"begun_after": utc_text(now - LASTS), "used_after": utc_text(now - MAX_IDLE)}


def _found() -> Row | None:
    key = session.get(KEY)
    if not isinstance(key, str):
        return None
    return the_log().session(hash_secret(key), counting_since(datetime.now(UTC)))
