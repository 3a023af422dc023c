"""Every job, the last opened first, with its filters in the address."""

from flask import render_template, request

from webapp.desk.blueprint import bp
from webapp.desk.context import people, the_log
from webapp.desk.vehicles.page import the_start
from webapp.reckon.terms import AXLES, JOB_STATES
from webapp.shoplog.rows import Row

MOST = 50
COLUMNS = ("state", "axle", "opened_by")


@bp.route("/jobs")
def jobs_list() -> str:
    """One page of the jobs that the filters leave."""
    log, start, chosen = the_log(), the_start(), filters()
    found = log.jobs(**chosen, start=start, most=MOST + 1)
    called = {row["id"]: row["name"] for row in log.vehicles_named(vehicles_of(found))}
    return render_template(
        "desk/jobs.html",
        jobs=[
            {**row, "name": called.get(row["vehicle"], ""), "accepted": row["accepted_seq"]}
            for row in found[:MOST]
        ],
        following=start + MOST if len(found) > MOST else None,
        chosen=chosen,
        states=JOB_STATES,
        axles=AXLES,
        names=people(),
    )


def filters() -> dict[str, str]:
    """Those filters of the address that say anything."""
    asked = {column: request.args.get(column, "") for column in COLUMNS}
    return {column: value for column, value in asked.items() if value}


def vehicles_of(jobs: list[Row]) -> list[str]:
    """The ids of the vehicles of these jobs, each once."""
    return sorted({row["vehicle"] for row in jobs})
