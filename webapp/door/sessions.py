"""The session of a person at the desk: begun by signing in, ended by signing out."""

from flask import g, session

from webapp.door.current import the_log
from webapp.shoplog.rows import Row


def start_session(person: Row) -> None:
    """Begin a session of this person, with nothing left over from the one before."""
    session.clear()
    session.permanent = True
    session["person"] = person["id"]
    session["sessions"] = the_log().access_of(person["id"])["sessions"]
    g.pop("person", None)


def end_session() -> None:
    """Sign out: nothing of the session is left."""
    session.clear()
    g.pop("person", None)
