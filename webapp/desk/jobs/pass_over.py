"""Passing over a hold point: only a lead can, with a reason that stays on record."""

from flask import flash, make_response, redirect, render_template, url_for
from werkzeug.exceptions import NotFound
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.forms import DecisionForm, PassOverForm
from webapp.desk.jobs.hold_points import hold_points_of
from webapp.desk.jobs.job_view import JobView, look_at
from webapp.desk.jobs.page import job_page
from webapp.desk.write import Draft, NotWritten, write
from webapp.shoplog.rows import Row
from webapp.shoplog.rules.values import whole_number

NOTHING_OPEN = "Nothing is open at this hold point, so there is nothing to pass over."
OLD_PAGE = "Your reason is still here: look again, then pass it over."
CAME_SINCE = "Entries came in after you opened this page. Look again, then pass it over."


@bp.route("/jobs/<job>/pass_over", methods=["POST"])
def pass_over(job: str) -> AnyResponse:
    """Pass one hold point over, or show the job again with what stands in its way."""
    look, form = look_at(job), PassOverForm()
    point = point_named(look, form.hold_point.data)
    if not form.validate():
        return shown_again(look, form, next(iter(form.reason.errors), OLD_PAGE), 400)
    refusal = why_not(look, form, point)
    if refusal is None:
        refusal = refusal_of(draft_of(look, point, form.reason.data))
    if refusal is not None:
        return shown_again(look, form, refusal, 409)
    flash(f"{point['title']}: passed over, with your reason on the record.")
    return redirect(url_for("desk.job", job=job), 303)


def point_named(look: JobView, name: str | None) -> Row:
    """The hold point of the job with this name, or NotFound."""
    for point in hold_points_of(look):
        if point["hold_point"] == name:
            return point
    raise NotFound


def why_not(look: JobView, form: PassOverForm, point: Row) -> str | None:
    """Why this hold point cannot be passed over on what the log holds, or None."""
    if point["state"] != "open":
        return NOTHING_OPEN
    if (whole_number(form.seen.data or "") or 0) < look.row["last_seq"]:
        return CAME_SINCE
    return None


def draft_of(look: JobView, point: Row, reason: str) -> Draft:
    """The entry that passes a hold point over, with what was open as the lead saw it."""
    seen = [each["says"] for each in point["open"]]
    body = {"hold_point": point["hold_point"], "reason": reason, "open": seen}
    place = {"vehicle": look.row["vehicle"], "job": look.row["id"], "round": look.last.name}
    return {"kind": "pass_over", "body": body, **place}


def refusal_of(draft: Draft) -> str | None:
    """The log's reason for not taking the draft; None once it is written."""
    try:
        write([draft])
    except NotWritten as error:
        return str(error)
    return None


def shown_again(look: JobView, form: PassOverForm, fault: str, status: int) -> AnyResponse:
    """The job's page with what was typed and what was wrong with it."""
    page = job_page(look, DecisionForm(formdata=None))
    for line in page["holds"]:
        if line["hold_point"] == form.hold_point.data:
            line["fault"], line["typed"] = fault, form.reason.data
    return make_response(render_template("desk/job.html", **page), status)
