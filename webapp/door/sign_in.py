"""Signing in at the desk with name and passphrase."""

import secrets

from flask import current_app, request
from flask_wtf.csrf import CSRFError
from itsdangerous import BadSignature, URLSafeSerializer
from werkzeug.wrappers import Response

from webapp.door import passphrases
from webapp.door.blueprint import bp, on_to
from webapp.door.current import the_log
from webapp.door.pages import door_page
from webapp.door.refusals import OLD_FORM, SAYS, answer
from webapp.door.sessions import end_sessions, signed_out, start_session
from webapp.door.throttle import Throttle, limits_of_try
from webapp.shoplog.rows import Row

# The same words for a wrong name and a wrong passphrase, so that they do not reveal who works here.
WRONG = "Wrong name or passphrase."
OLD_DOOR = "This form was opened in another session. Type the passphrase again."
KNOWN = "axlewright-known"
KNOWN_LASTS = 365 * 24 * 3600


@bp.post("/door/sign-in")
def sign_in() -> Response:
    """Sign in, or show the sign-in page again with the reason."""
    name, passphrase = request.form.get("name", "").strip(), request.form.get("passphrase", "")
    person = lead_called(name)
    limits = limits_of_try(request.remote_addr or "", name.casefold(), trusted(person))
    wait = throttle().take(limits)
    if wait:
        return again(name, SAYS[429][1], 429, {"Retry-After": str(wait)})
    stored = the_log().passphrase_hash_of(person["id"]) if person else None
    cost = current_app.config["SCRYPT_N"]
    if not passphrases.is_right(passphrase, stored, cost) or person is None or stored is None:
        the_log().count_failed_sign_in(name, request.remote_addr or "")
        return again(name, WRONG, 400, {})
    throttle().succeed(limits)
    if passphrases.is_weaker(stored, cost):
        stronger = passphrases.hash_passphrase(passphrase, cost)
        the_log().strengthen_passphrase(person["id"], stored, stronger)
    start_session(person, "passphrase")
    return remember(on_to("/desk"), person)


@bp.errorhandler(CSRFError)
def old_form(_: CSRFError) -> Response:
    """The sign-in page with the name as typed; for any other form, one sentence."""
    if request.endpoint == "door.sign_in":
        return again(request.form.get("name", "").strip(), OLD_DOOR, 400, {})
    return answer(400, "old_form", OLD_FORM)


@bp.post("/door/sign-out-everywhere")
def sign_out_everywhere() -> Response:
    """Sign out here and at every other desk."""
    end_sessions()
    return signed_out(on_to("/door"))


def lead_called(name: str) -> Row | None:
    """The lead of this name, however it is capitalized, or None.

    An import may have brought another lead of the same name, who has no passphrase here.
    """
    named = [row for row in the_log().people() if row["name"].casefold() == name.casefold()]
    leads = [row for row in named if row["role"] == "lead"]
    with_passphrase = [row for row in leads if the_log().passphrase_hash_of(row["id"])]
    return next(iter(with_passphrase + leads), None)


def throttle() -> Throttle:
    """The counter of tries."""
    found: Throttle = current_app.extensions["throttle"]
    return found


def again(name: str, says: str, status: int, headers: dict[str, str]) -> Response:
    """The sign-in page with a sentence about what went wrong."""
    page = door_page(name=name, says=says)
    return Response(page, status, headers, content_type="text/html; charset=utf-8")


def trusted(person: Row | None) -> str | None:
    """The token of a browser that has signed in as this person before, or None."""
    try:
        found = signer().loads(request.cookies.get(KNOWN, ""))
    except BadSignature:
        return None
    return found["token"] if person is not None and found["person"] == person["id"] else None


def remember(response: Response, person: Row) -> Response:
    """The response with a cookie that identifies this browser next time."""
    token = trusted(person) or secrets.token_urlsafe(12)
    response.set_cookie(
        KNOWN,
        str(signer().dumps({"person": person["id"], "token": token})),
        max_age=KNOWN_LASTS,
        path="/door",
        secure=current_app.config["SESSION_COOKIE_SECURE"],
        httponly=True,
        samesite="Lax",
    )
    return response


def signer() -> URLSafeSerializer:
    """The signer of the cookie, so that nobody can forge it."""
    config = current_app.config
    return URLSafeSerializer([*config["SECRET_KEY_FALLBACKS"], config["SECRET_KEY"]], salt=KNOWN)
