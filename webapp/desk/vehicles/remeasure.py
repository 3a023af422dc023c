"""Asking for an axle to be measured again, by a day or after a distance."""

import re
from collections.abc import Mapping
from datetime import date

from flask import make_response, request
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.asked_back import as_meant, confirming, is_open, odd
from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.vehicles.manage import back_with, patch, settle
from webapp.desk.vehicles.page import vehicle_page
from webapp.reckon.terms import AXLES
from webapp.shoplog.rows import Row

# One thousand to some and one to others.
MARKED_THOUSANDS = re.compile(r"\d[.,]\d{3}\b")
THOUSANDS = "Enter the distance without a thousands separator, such as 1000. Nothing was saved."
NO_PLAN = "Enter a date from today on, a distance, or both. Nothing was saved."


@bp.route("/vehicles/<vehicle>/remeasure", methods=["POST"])
def remeasure(vehicle: str) -> AnyResponse:
    """Ask for an axle to be measured again, or take that back."""
    row, axle = the_log().vehicle(vehicle), request.form.get("axle", "")
    drops = "drop" in request.form
    if MARKED_THOUSANDS.search(as_meant(request.form, "distance")):
        return back_with(row["id"], THOUSANDS)
    plan = None if drops else plan_of(request.form)
    if axle not in AXLES or (plan is None and not drops):
        return back_with(row["id"], NO_PLAN)
    far = (plan or {}).get("distance")
    asked = None if far is None else odd("remeasure.distance", far, "mm")
    if asked is not None and is_open(asked, request.form, "distance"):
        return make_response(vehicle_page(row["id"], far=asked), 400)
    planned = {**row["record"].get("remeasure", {}), axle: plan}
    says = "is no longer due." if plan is None else "is on the due list."
    drafts = [patch(row["id"], {"remeasure": planned}), *confirming(asked, vehicle=row["id"])]
    return settle(row["id"], drafts, f"Measuring the {axle} axle again {says}")


def plan_of(form: Mapping[str, str]) -> Row | None:
    """The day and the distance of a form, or None where it gives neither."""
    plan: Row = {}
    far = as_meant(form, "distance")
    try:
        if form.get("date"):
            plan["date"] = date.fromisoformat(form["date"]).isoformat()
        if far:
            plan["distance"] = float(far.replace(",", "."))
            plan["unit"] = "mi" if form.get("unit") == "mi" else "km"
    except ValueError:
        return None
    return plan or None
