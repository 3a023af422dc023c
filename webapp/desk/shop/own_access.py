"""Your access: where a lead is signed in, and the way out of each of those places."""

from flask import abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.context import current_person
from webapp.door.localhost import is_this_computer
from webapp.door.sessions import LASTS, MAX_IDLE, end_one_session, own_sessions, signed_out
from webapp.shoplog.rows import Row

WAYS = {
    "passphrase": "with the passphrase",
    "passkey": "with a passkey",
    "link": "with a link",
    "demo": "in the demo",
}


@bp.route("/access")
def access() -> str:
    """Where the lead is signed in."""
    return render_template(
        "desk/access.html",
        person=current_person(),
        sessions=[{**row, "place": place_of(row)} for row in own_sessions()],
        ways=WAYS,
        days=LASTS.days,
        hours=MAX_IDLE.seconds // 3600,
    )


@bp.route("/access/end", methods=["POST"])
def end_session_there() -> AnyResponse:
    """End one of the lead's own sessions, perhaps this one."""
    asked = request.form.get("session", "")
    row = next((each for each in own_sessions() if each["key_hash"] == asked), None)
    if row is None:
        abort(404)
    end_one_session(row)
    if row["is_this"]:
        return signed_out(redirect(url_for("door.enter"), 303))
    flash(f"{row['browser']}, {place_of(row)}: signed out.")
    return redirect(url_for("desk.access"), 303)


def place_of(row: Row) -> str:
    """From where a session was used last."""
    source = row["source"]
    return "on the shop PC" if is_this_computer(source) else f"at {source}"
