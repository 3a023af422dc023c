"""The pages that one-time links open: the shop's set-up, and a new passphrase."""

from typing import NamedTuple

from flask import current_app, render_template, request
from werkzeug.wrappers import Response

from webapp.door import one_time_links, passphrases
from webapp.door.blueprint import bp, on_to
from webapp.door.current import the_log
from webapp.door.refusals import refuse
from webapp.door.sessions import start_session
from webapp.door.sign_in import lead_called
from webapp.shoplog.rows import Row
from webapp.shoplog.rules.values import HIDDEN_SAYS, holds_hidden

USED_UP = (
    "This link was used, has expired or was mistyped. Make a new one on the shop PC: run "
    "`axlewright setup-link` to set the shop up, or `axlewright passphrase` for a passphrase."
)
SET_UP_ALREADY = (
    "This shop is set up already. Sign in, or run `axlewright passphrase` on the shop PC for a "
    "new passphrase."
)
DIFFERENT = "The two passphrases do not match. Type both again."
NO_NAME = "Enter your name: it is shown next to everything you decide."
LONGEST_NAME = 80


class Opened(NamedTuple):
    """A link with its key; `person` is whose passphrase it changes, None at the set-up.

    `made_by` is the lead who made it, None where that was done on the shop PC.
    """

    key: str
    purpose: str
    person: Row | None
    made_by: str | None


@bp.get("/door/link")
def link() -> str:
    """The form behind a link."""
    opened = the_link(request.args.get("key", ""))
    return form(opened, opened.person["name"] if opened.person else "", None)


@bp.post("/door/link")
def use_link() -> Response:
    """Do what the link is for, sign in, and go on; or the form again with what is wrong."""
    opened = the_link(request.form.get("key", ""))
    name = opened.person["name"] if opened.person else request.form.get("name", "").strip()
    passphrase = request.form.get("passphrase", "")
    fault = fault_in(name, passphrase)
    if fault is not None:
        return Response(form(opened, name, fault), 400, content_type="text/html; charset=utf-8")
    digest = passphrases.hash_passphrase(passphrase, current_app.config["SCRYPT_N"])
    if not one_time_links.use_up(the_log().folder, opened.key):
        refuse(400, "used_up", USED_UP)
    # A lead whom an import or a restore brought is that lead again, and nobody's double.
    person = opened.person or lead_called(name) or the_log().add_person(name, "lead")
    source = request.remote_addr or "unknown"
    the_log().record_at_door("link_used", person["id"], opened.made_by, source=source)
    the_log().set_passphrase(person["id"], digest, person["id"])
    start_session(person, "link")
    return on_to("/desk" if opened.person else "/desk/set-up")


def the_link(key: str) -> Opened:
    """The link that this key opens; refuses where there is none."""
    found = one_time_links.find(the_log().folder, key)
    if found is None:
        refuse(400, "used_up", USED_UP)
    if found["purpose"] == one_time_links.SET_UP and the_log().has_lead():
        refuse(400, "set_up_already", SET_UP_ALREADY)
    person = the_log().person(found["person"]) if found["person"] else None
    return Opened(key, found["purpose"], person, found["made_by"])


def fault_in(name: str, passphrase: str) -> str | None:
    """What is wrong with the form, or None."""
    if not 0 < len(name) <= LONGEST_NAME:
        return NO_NAME
    if holds_hidden(name):
        return HIDDEN_SAYS
    if passphrase != request.form.get("again", ""):
        return DIFFERENT
    return passphrases.fault_in(passphrase, [name, the_log().settings().get("shop_name", "")])


def form(opened: Opened, name: str, says: str | None) -> str:
    """The form with what was typed, but for the passphrase."""
    return render_template(
        "link.html", key=opened.key, purpose=opened.purpose, name=name, says=says
    )
