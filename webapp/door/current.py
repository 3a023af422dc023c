"""What belongs to the request at hand: the shop's log, the lead at the desk, the phone."""

from flask import current_app, g, session

from webapp.shoplog import NotFound, ShopLog
from webapp.shoplog.rows import Row


def the_log() -> ShopLog:
    """The log of this shop."""
    log: ShopLog = current_app.extensions["shoplog"]
    return log


def the_phone() -> Row:
    """The phone that sent this request; the guard has checked its credential."""
    phone: Row = g.phone
    return phone


def the_person() -> Row | None:
    """Who is signed in at the desk, as the log knows them at this moment; None when signed out."""
    if "person" not in g:
        g.person = _signed_in()
    person: Row | None = g.person
    return person


def current_person() -> Row:
    """Who is signed in at the desk; the guard lets nobody else reach its pages."""
    person = the_person()
    if person is None:
        raise LookupError("Nobody is signed in.")
    return person


def _signed_in() -> Row | None:
    if "person" not in session:
        return None
    log = the_log()
    try:
        person = log.person(session["person"])
    except NotFound:
        return None
    # Signing out everywhere, and a new passphrase, make older sessions count no more.
    counts = session.get("sessions", 0) == log.access_of(person["id"])["sessions"]
    return person if counts else None
