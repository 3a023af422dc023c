"""The lead's decision about a job: accepted, with what goes on file, or sent back to a step."""

from typing import Any

from flask import Response, flash, make_response, redirect, render_template, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.forms import DecisionForm
from webapp.desk.jobs import second_reading
from webapp.desk.jobs.job_view import JobView, look_at
from webapp.desk.jobs.page import OWN_JOB, beside, is_own, job_page
from webapp.desk.write import Draft, NotWritten, write
from webapp.reckon.log import accepted
from webapp.reckon.numbers import counted
from webapp.reckon.step_terms import STEP_TITLES
from webapp.shoplog.rules.values import whole_number

NOT_PENDING = "This job is no longer pending review: somebody may have decided on it."


@bp.route("/jobs/<job>/decision", methods=["POST"])
def decision(job: str) -> AnyResponse:
    """Write the decision, or show the job again with what stands in its way."""
    look, form = look_at(job), DecisionForm()
    if not form.validate():
        return shown_again(look, form, None, 400)
    refusal = why_not(look, form)
    if refusal is not None:
        return shown_again(look, form, refusal, 409)
    following = beside(look)["after"]
    try:
        write(drafts_for(look, form))
    except NotWritten as error:
        return shown_again(look, form, str(error), 409)
    flash(outcome_sentence(look, form.verdict.data))
    # The list opens at the job that comes next.
    here = look.row["id"] if form.verdict.data == "second" else following
    return redirect(url_for("desk.pending", _anchor=here and f"job-{here}"), 303)


def shown_again(look: JobView, form: DecisionForm, refusal: str | None, status: int) -> Response:
    """The job's page with everything that was typed."""
    return make_response(render_template("desk/job.html", **job_page(look, form, refusal)), status)


def why_not(look: JobView, form: DecisionForm) -> str | None:
    """Why this decision cannot be taken on what the log holds, or None."""
    if look.job["state"] != "pending":
        return NOT_PENDING
    unseen = [entry for entry in look.entries if entry["seq"] > seen_by(form)]
    if unseen:
        came = counted(len(unseen), "entry", "entries")
        return f"{came} came in after you opened this page. JobView again, then decide."
    if form.verdict.data == "second":
        return second_reading.ASKED_ALREADY if second_reading.is_asked(look) else None
    if is_own(look):
        return OWN_JOB
    hasty = form.verdict.data == "accepted" and not form.unread.data
    return second_reading.NOT_WAITED if hasty and second_reading.is_asked(look) else None


def seen_by(form: DecisionForm) -> int:
    """The last entry that the page showed, 0 when the form does not say."""
    return whole_number(form.last_seq.data or "") or 0


def drafts_for(look: JobView, form: DecisionForm) -> list[Draft]:
    """The decision, and behind an acceptance what the job puts on file; or a second reading."""
    verdict = form.verdict.data
    if verdict == "second":
        return [second_reading.draft_of(look)]
    place: dict[str, Any] = {"vehicle": look.row["vehicle"], "job": look.row["id"]}
    body = {"hand_in": look.job["hand_in"]["id"], "verdict": verdict, "reason": reason_of(form)}
    decided: Draft = {"kind": "decision", "body": body, **place}
    if verdict == "sent_back":
        body.update({"step": form.step.data} if form.step.data else {})
        return [decided]
    patch = accepted.accepted_patch(look.entries, look.record, look.limits, look.last.findings)
    return [decided, {"kind": "vehicle", "body": patch, "vehicle": look.row["vehicle"]}]


def reason_of(form: DecisionForm) -> str | None:
    """The reason as the technician reads it: the step it is sent back to stands before it."""
    reason: str | None = form.reason.data or None
    if reason is None or form.verdict.data == "accepted" or not form.step.data:
        return reason
    return f"{STEP_TITLES[form.step.data]}: {reason}"


def outcome_sentence(look: JobView, verdict: str) -> str:
    """What became of the job, for the next page."""
    done = {
        "accepted": "accepted.",
        "sent_back": "sent back.",
        "second": "second reading requested. It shows up on the phones as a separate job.",
    }
    return f"{look.vehicle['name']}: {done[verdict]}"
