"""The form with what the lead knows of a vehicle: it writes what differs from the file."""

from flask import flash, make_response, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.asked_back import confirming
from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.vehicles.known_values import Known, known_values, patch_of
from webapp.desk.vehicles.manage import patch
from webapp.desk.vehicles.page import vehicle_page
from webapp.desk.write import NotWritten, write
from webapp.shoplog.rows import Row


@bp.route("/vehicles/<vehicle>/known_values", methods=["POST"])
def keep_known_values(vehicle: str) -> AnyResponse:
    """Write what the form says otherwise than the file, or show it again with what is wrong."""
    row = the_log().vehicle(vehicle)
    known, read = as_typed(row["record"])
    if any(each.asked for each in known):
        return make_response(vehicle_page(row["id"], known=known), 400)
    body = patch_of(row["record"], known, read)
    try:
        if body:
            answers = [each.confirmed for each in known]
            confirmed = [one for each in answers for one in confirming(each, vehicle=row["id"])]
            write([patch(row["id"], body), *confirmed])
    except NotWritten as error:
        flash(str(error))
        return make_response(vehicle_page(row["id"], known=known), 400)
    flash("Saved." if body else "Nothing was changed.")
    return redirect(url_for("desk.vehicle", vehicle=row["id"], _anchor="known"), 303)


def as_typed(record: Row) -> tuple[list[Known], dict[str, float | None]]:
    """The fields as the form that was sent has them, and what each says in mm, by its name."""
    unit = record.get("units") or "mm"
    known = known_values(record)
    return known, {each.name: each.read(request.form, unit) for each in known}
