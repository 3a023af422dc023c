"""Signing in at the desk with a passkey, for browsers that have one."""

from datetime import UTC, datetime

from flask import jsonify, request
from werkzeug.wrappers import Response

from webapp.door import passkeys
from webapp.door.blueprint import bp, on_to
from webapp.door.current import the_log
from webapp.door.refusals import refuse
from webapp.door.sessions import start_session
from webapp.door.sign_in import again, remember
from webapp.shoplog.people import utc_text

NOT_HERE = (
    "Passkeys work only at an address that is a name, over TLS. This shop's address is not one."
)
NOT_ACCEPTED = "The passkey was not accepted. Sign in with your passphrase."


@bp.post("/door/passkey/begin")
def begin_passkey() -> Response:
    """What the browser is asked, as JSON."""
    if not passkeys.are_possible():
        refuse(400, "no_passkeys", NOT_HERE)
    return jsonify(passkeys.options_to_sign_in())


@bp.post("/door/passkey")
def sign_in_with_passkey() -> Response:
    """Sign in, or show the sign-in page again with the reason."""
    try:
        if not passkeys.are_possible():
            raise passkeys.NotAccepted
        row, count = passkeys.signed_in_by(request.form.get("answer", ""))
    except passkeys.NotAccepted:
        return again("", NOT_ACCEPTED, 400, {})
    person = the_log().person(row["person"])
    the_log().use_passkey(row["id"], count, utc_text(datetime.now(UTC)))
    start_session(person, "passkey")
    return remember(on_to("/desk"), person)
