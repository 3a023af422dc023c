"""Asking for an axle to be measured again, by a day or after a distance."""

import math
import re
from collections.abc import Mapping
from datetime import date

from flask import Response, make_response, request
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.asked_back import Asked, as_meant, confirming, is_open, odd, refused
from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.formats import plan_words
from webapp.desk.vehicles.manage import patch, settle
from webapp.desk.vehicles.page import vehicle_page
from webapp.reckon.terms import AXLES
from webapp.shoplog.rows import Row

# One thousand to some and one to others.
MARKED_THOUSANDS = re.compile(r"\d[.,]\d{3}\b")
THOUSANDS = "Enter the distance without a thousands separator, such as 1000. Nothing was saved."
NO_PLAN = "Enter a date from today on, a distance above zero, or both. Nothing was saved."


@bp.route("/vehicles/<vehicle>/remeasure", methods=["POST"])
def remeasure(vehicle: str) -> AnyResponse:
    """Ask for an axle to be measured again, or take that back."""
    row, axle = the_log().vehicle(vehicle), request.form.get("axle", "")
    drops = "drop" in request.form
    if MARKED_THOUSANDS.search(as_meant(request.form, "distance")):
        return at_the_fields(row["id"], refused(THOUSANDS))
    plan = None if drops else plan_of(request.form)
    if axle not in AXLES or (plan is None and not drops):
        return at_the_fields(row["id"], refused(NO_PLAN))
    far = (plan or {}).get("distance")
    asked = None if far is None else odd("remeasure.distance", far, "mm")
    if asked is not None and is_open(asked, request.form, "distance"):
        return at_the_fields(row["id"], asked)
    before = row["record"].get("remeasure", {})
    drafts = [patch(row["id"], {"remeasure": {**before, axle: plan}})]
    drafts += confirming(asked, vehicle=row["id"])
    return settle(row["id"], drafts, what_is_due(axle, plan, before.get(axle)))


def at_the_fields(vehicle: str, asked: Asked) -> Response:
    """The vehicle's page with what was typed, and what is asked about it."""
    return make_response(vehicle_page(vehicle, far=asked), 400)


def what_is_due(axle: str, plan: Row | None, before: Row | None) -> str:
    """What became of the due list, with the plan that another one takes the place of."""
    measuring = f"Measuring the {axle} axle again"
    if plan is None:
        return f"{measuring} is no longer due."
    instead = "" if before is None else f", in place of {plan_words(before)}"
    return f"{measuring} is on the due list{instead}."


def plan_of(form: Mapping[str, str]) -> Row | None:
    """The day from today on and the distance of a form; None where it gives neither, or no such."""
    plan: Row = {}
    far = as_meant(form, "distance")
    try:
        if form.get("date"):
            by = date.fromisoformat(form["date"])
            if by < date.today():
                return None
            plan["date"] = by.isoformat()
        if far:
            plan["distance"] = float(far.replace(",", "."))
            plan["unit"] = "mi" if form.get("unit") == "mi" else "km"
    except ValueError:
        return None
    return plan if plan and 0 < plan.get("distance", 1.0) < math.inf else None
