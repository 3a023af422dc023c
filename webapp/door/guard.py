"""Stands before every request: where it comes from, and who sends it."""

from flask import g, request, session, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.door.address import lead_there
from webapp.door.blueprint import on_to
from webapp.door.credentials import phone_by
from webapp.door.current import the_log
from webapp.door.refusals import refuse
from webapp.door.roles import ANYONE, LEAD, PHONE, who_may
from webapp.door.sessions import KEY, note_use, signed_out, the_person

READ_ONLY = {"GET", "HEAD", "OPTIONS"}
FORMS = {"", "application/x-www-form-urlencoded", "multipart/form-data"}
MAX_DOOR_BYTES = 16 * 1024


def let_in() -> AnyResponse | None:
    """Nothing when the request may go on; otherwise a redirect to the door, or a refusal."""
    if request.endpoint is None:
        return None
    if request.endpoint.startswith("door."):
        request.max_content_length = MAX_DOOR_BYTES
    elsewhere = lead_there()
    if elsewhere is not None:
        return elsewhere
    if not _is_own_site():
        refuse(403, "other_site", "This came from another web site and was refused.")
    if not _is_form_where_one_is_due():
        refuse(415, "not_a_form", "This address accepts only its own form.")
    role = who_may(request.endpoint)
    if role == PHONE:
        g.phone = phone_by(the_log(), request.headers.get("Authorization", ""))
    elif role == LEAD:
        return _let_lead_in()
    elif role != ANYONE:
        refuse(403, "not_allowed", "Nobody may use this address.")
    return None


def _is_own_site() -> bool:
    """Whether no other site's page sent this; reading is left to the browser's own rules."""
    if request.method in READ_ONLY and not request.path.startswith("/log/"):
        return True
    if "Sec-Fetch-Site" in request.headers:
        return request.headers["Sec-Fetch-Site"] in {"same-origin", "none"}
    origin = request.headers.get("Origin")
    return origin is None or origin.lower() == request.host_url.rstrip("/").lower()


def _is_form_where_one_is_due() -> bool:
    """Whether a request that changes something comes as a form, but for what phones send."""
    if request.method in READ_ONLY or request.path.startswith("/log/"):
        return True
    return request.endpoint == "door.pair" or request.mimetype in FORMS


def _let_lead_in() -> AnyResponse | None:
    person = the_person()
    if person is None and request.method in READ_ONLY:
        door = on_to(url_for("door.enter"))
        # A session that ended by itself leaves no more behind than one that was ended.
        return signed_out(door) if session.pop(KEY, None) else door
    if person is None:
        refuse(401, "signed_out", "You are signed out. Nothing was changed: sign in again.")
    if person["role"] != "lead":
        refuse(403, "not_allowed", "This is for the shop lead.")
    note_use()
    return None
