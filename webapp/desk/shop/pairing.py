"""Pairing: the QR that makes a phone somebody's, and ending what it made."""

from flask import current_app, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.context import current_person, the_log
from webapp.desk.tags.labels import qr_path
from webapp.door.address import canonical
from webapp.door.pairing import new_pairing_code


@bp.route("/people/<person>/pairing", methods=["POST"])
def pairing(person: str) -> str:
    """A page with the QR of a new code: good once, for ten minutes."""
    row = the_log().person(person)
    code = new_pairing_code(the_log(), person, current_person()["id"])
    address = f"{canonical()}/app#pair={code}"
    trust = current_app.config.get("TRUST_PAGE")
    return render_template(
        "desk/pairing.html",
        row=row,
        code=code,
        address=address,
        qr=qr_path(address),
        trust=trust,
        # That page comes over plain HTTP, where a script of anybody's could read a code.
        trust_qr=qr_path(trust) if trust else None,
    )


@bp.route("/phones/<phone>/revoke", methods=["POST"])
def revoke(phone: str) -> AnyResponse:
    """The phone gets nothing more; what it still holds it hands over once it is paired again."""
    row = the_log().revoke_phone(phone, current_person()["id"])
    flash("That phone is revoked. If it is paired again, it sends what it still has.")
    return redirect(url_for("desk.person", person=row["person"]), 303)
