"""Hold points at the desk: what is open at each, what was closed, and who passed it over."""

from webapp.desk.context import people, the_log
from webapp.desk.each import shown
from webapp.desk.jobs.job_view import JobView
from webapp.reckon.walk import hold_points
from webapp.shoplog.rows import Row

# Beyond so many jobs under way on one vehicle nobody looks back.
MAX_BEFORE = 40


def own_hold_points(look: JobView) -> list[Row]:
    """The hold points by what the job itself found, as lists of many jobs show them."""
    points: list[Row] = hold_points.hold_points(look.entries, rounds_found(look), None)
    return points


def hold_points_of(look: JobView) -> list[Row]:
    """The hold points as the job begins with them and leaves them."""
    past = {"jobs": jobs_before(look), "closings": closings_of(look)}
    points: list[Row] = hold_points.hold_points(look.entries, rounds_found(look), past)
    return points


def left_by(look: JobView) -> list[Row]:
    """The hold points as the job leaves them, for pages that show many jobs."""
    past = {"jobs": jobs_before(look), "closings": closings_of(look)}
    points: list[Row] = hold_points.hold_points(look.entries, rounds_left(look), past)
    return points


def rounds_found(look: JobView) -> list[Row]:
    """The rounds of a job as hold points are worked out from them."""
    return [{"name": r.name, "sheet": r.sheet, "findings": r.findings} for r in look.rounds]


def rounds_left(look: JobView) -> list[Row]:
    """The rounds of a job as it is worked out from them what it left open."""
    return [{"name": r.name, "sheet": r.sheet, "findings": r.left} for r in look.rounds]


def jobs_before(look: JobView) -> list[Row]:
    """The jobs that this one begins with, oldest first; without those that cannot be read."""
    before = {row["id"]: row for row in the_log().jobs_before(look.row, MAX_BEFORE)}
    folded = [{**row, "job": row["id"]} for row in before.values()]
    this = {**look.job, "job": look.row["id"]}
    begun = hold_points.earlier_jobs([*folded, this], this)
    rows = [before[each["job"]] for each in begun]
    return shown(rows, lambda row: job_left(look.shelf.look_at(row)))[0]


def job_left(look: JobView) -> Row:
    """A job as the next one begins with it."""
    return {"state": look.job["state"], "entries": look.entries, "rounds": rounds_left(look)}


def closings_of(look: JobView) -> list[Row]:
    """The entries about the vehicle by which leads closed items, and what strikes them."""
    own = look.shelf.past(look.row["vehicle"]).entries
    return [entry for entry in own if entry["kind"] in ("close_item", "strike")]


def hold_lines(look: JobView) -> list[Row]:
    """The hold points as the job's page shows them, with who passed each over."""
    names = people()
    return [
        {
            **point,
            "by": names.get(str((point["passed"] or {}).get("person")), "a lead"),
            "fault": None,
            "typed": "",
        }
        for point in hold_points_of(look)
    ]
