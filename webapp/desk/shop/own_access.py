"""Your access: where a lead is signed in, with which passkeys, and how each of them ends."""

from datetime import UTC, datetime

from flask import abort, flash, jsonify, make_response, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response as AnyResponse
from wtforms import HiddenField, StringField
from wtforms.validators import DataRequired, Length

from webapp.desk.blueprint import bp
from webapp.desk.context import current_person, the_log
from webapp.desk.forms import all_seen, stripped
from webapp.door import passkeys
from webapp.door.localhost import is_this_computer
from webapp.door.sessions import LASTS, MAX_IDLE, end_one_session, own_sessions, signed_out
from webapp.shoplog.people import utc_text
from webapp.shoplog.rows import Row

WAYS = {
    "passphrase": "with the passphrase",
    "passkey": "with a passkey",
    "link": "with a link",
    "demo": "in the demo",
}


NOT_MADE = "The passkey could not be checked, so it was not kept. Try once more."
TOO_MANY = f"You have {passkeys.MAX_OF_PERSON} passkeys already: remove one first."


class PasskeyForm(FlaskForm):
    """What a new passkey is called; its browser adds the answer."""

    name = StringField(
        "Name of this device",
        filters=[stripped],
        validators=[
            DataRequired("Enter a name, such as office PC: you will know the passkey by it."),
            Length(max=60, message="Keep the name under 60 characters."),
            all_seen,
        ],
    )
    answer = HiddenField()


@bp.route("/access")
def access() -> str:
    """Where the lead is signed in, and with which passkeys they can."""
    return access_page(PasskeyForm(formdata=None))


def access_page(form: PasskeyForm) -> str:
    """The page with the form as typed."""
    return render_template(
        "desk/access.html",
        form=form,
        passkeys=the_log().passkeys_of(current_person()["id"]),
        possible=passkeys.are_possible(),
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


@bp.route("/access/passkeys/begin", methods=["POST"])
def begin_own_passkey() -> AnyResponse:
    """What the browser is asked to make, as JSON."""
    if not passkeys.are_possible():
        abort(400)
    return jsonify(passkeys.options_to_register(current_person()))


@bp.route("/access/passkeys", methods=["POST"])
def add_passkey() -> AnyResponse:
    """Keep the passkey that the browser made."""
    person, form = current_person(), PasskeyForm()
    if not form.validate():
        return make_response(access_page(form), 400)
    if len(the_log().passkeys_of(person["id"])) >= passkeys.MAX_OF_PERSON:
        form.name.errors = [TOO_MANY]
        return make_response(access_page(form), 409)
    try:
        made = passkeys.registered(person, form.answer.data or "")
    except passkeys.NotAccepted:
        form.name.errors = [NOT_MADE]
        return make_response(access_page(form), 400)
    about = {"person": person["id"], "name": form.name.data}
    the_log().add_passkey({**made, **about, "added_at": utc_text(datetime.now(UTC))})
    flash(f"{form.name.data}: you can sign in with this passkey.")
    return redirect(url_for("desk.access"), 303)


@bp.route("/access/passkeys/remove", methods=["POST"])
def remove_passkey() -> AnyResponse:
    """A passkey of the lead's own signs nobody in from here on."""
    row = the_log().remove_passkey(request.form.get("passkey", ""), current_person()["id"])
    flash(f"{row['name']}: this passkey was removed here. Delete it on the device too.")
    return redirect(url_for("desk.access"), 303)


def place_of(row: Row) -> str:
    """From where a session was used last."""
    source = row["source"]
    return "on the shop PC" if is_this_computer(source) else f"at {source}"
