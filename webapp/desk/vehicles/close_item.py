"""Closing what a job left open: the lead's, with a reason; it follows the vehicle until then."""

from flask import flash, make_response, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.jobs.job_view import Shelf
from webapp.desk.vehicles.left_open import left_open
from webapp.desk.vehicles.page import vehicle_page
from webapp.desk.write import NotWritten, write

NO_REASON = "Say why it may be closed: the record shows it next to your name. Nothing was closed."
TOO_LONG = "Keep the reason under 1000 characters. Nothing was closed."
NOT_OPEN = "That is not open any more, so there was nothing to close: look again."


@bp.route("/vehicles/<vehicle>/close_item", methods=["POST"])
def close_item(vehicle: str) -> AnyResponse:
    """Close one open item with a reason, or show the vehicle again with what stands in its way."""
    row = the_log().vehicle(vehicle)
    axle, says = request.form.get("axle", ""), request.form.get("says", "")
    reason = request.form.get("reason", "").strip()
    fault = fault_of(row["id"], axle, says, reason)
    if fault is None:
        body = {"axle": axle, "says": says, "reason": reason}
        try:
            write([{"kind": "close_item", "vehicle": row["id"], "body": body}])
        except NotWritten as error:
            fault = str(error)
    if fault is not None:
        flash(fault)
        return make_response(vehicle_page(row["id"]), 400)
    flash("Closed, with your reason on the record.")
    return redirect(url_for("desk.vehicle", vehicle=row["id"], _anchor="left-open"), 303)


def fault_of(vehicle: str, axle: str, says: str, reason: str) -> str | None:
    """Why this item cannot be closed with this reason, or None."""
    items = [
        (each["axle"], item["says"])
        for each in left_open(vehicle, Shelf())
        for point in each["points"]
        for item in point["open"]
    ]
    if (axle, says) not in items:
        return NOT_OPEN
    if not reason:
        return NO_REASON
    return TOO_LONG if len(reason) > 1000 else None
