"""The lead's decision about a job: accepted, with what goes on file, or sent back to a step."""

from typing import Any

from flask import Response, flash, make_response, redirect, render_template, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.forms import DecisionForm
from webapp.desk.jobs import second_reading
from webapp.desk.jobs.hold_points import left_on_file
from webapp.desk.jobs.job_view import JobView, look_at
from webapp.desk.jobs.page import OWN_JOB, beside, job_page, whose_work
from webapp.desk.write import Draft, NotWritten, write
from webapp.reckon.log import accepted
from webapp.reckon.numbers import counted
from webapp.reckon.step_names import STEP_TITLES
from webapp.shoplog.rules.values import whole_number

SAY_WHY = "You did this work yourself: say why you accept it."
NOT_PENDING = "This job is no longer pending review: somebody may have decided on it."


@bp.route("/jobs/<job>/decision", methods=["POST"])
def decision(job: str) -> AnyResponse:
    """Write the decision, or show the job again with what stands in its way."""
    look, form = look_at(job), DecisionForm()
    valid = form.validate()
    if valid and form.verdict.data == "accepted" and not form.reason.data:
        valid = whose_work(look) != "alone"
        form.reason.errors = [] if valid else [SAY_WHY]
    if not valid:
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
    if form.verdict.data == "kept" and look.job["accepted"] is None:
        return NOT_PENDING
    if look.job["state"] != "pending":
        return NOT_PENDING
    unseen = [entry for entry in look.logged if entry["seq"] > seen_by(form)]
    if unseen:
        came = counted(len(unseen), "entry", "entries")
        return f"{came} came in after you opened this page. Look again, then decide."
    if form.verdict.data == "second":
        return second_reading.ASKED_ALREADY if second_reading.is_asked(look) else None
    if whose_work(look) == "others":
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
    kept, own = verdict == "kept", whose_work(look) is not None
    body: dict[str, Any] = {
        "hand_in": look.job["hand_in"]["id"],
        "verdict": "accepted" if kept else verdict,
        "reason": reason_of(form),
        "own_reason": form.reason.data if own else None,
    }
    if look.job["accepted"] is not None:
        body.update(before=look.job["accepted"]["id"], keeps=kept)
    decided: Draft = {"kind": "decision", "body": body, **place}
    if verdict == "sent_back":
        body.update({"step": form.step.data} if form.step.data else {})
    if verdict == "sent_back" or kept:
        return [decided]
    now = look.proposed or look
    patch = accepted.accepted_patch(now.entries, now.record, now.limits, now.last.findings)
    if now.job["second_of"] is None:
        patch["left_open"] = left_on_file(now)
    return [decided, {"kind": "vehicle", "body": patch, "vehicle": look.row["vehicle"]}]


def reason_of(form: DecisionForm) -> str | None:
    """The reason as the technician reads it: the step it is sent back to stands before it."""
    reason: str | None = form.reason.data or None
    if reason is None or form.verdict.data != "sent_back" or not form.step.data:
        return reason
    return f"{STEP_TITLES[form.step.data]}: {reason}"


def outcome_sentence(look: JobView, verdict: str) -> str:
    """What became of the job, for the next page."""
    done = {
        "accepted": "accepted.",
        "sent_back": "sent back.",
        "kept": "kept as it was accepted.",
        "second": "second reading requested. It shows up on the phones as a separate job.",
    }
    return f"{look.vehicle['name']}: {done[verdict]}"
