"""Hold points at the desk: what is open at each, what was closed, and who passed it over."""

from webapp.desk.context import people, the_log
from webapp.desk.each import shown
from webapp.desk.jobs.job_view import JobView
from webapp.reckon.walk import carried, hold_points
from webapp.shoplog.rows import Row

# Beyond so many jobs under way on one vehicle nobody looks back.
MAX_BEFORE = 40


def hold_points_of(look: JobView) -> list[Row]:
    """The hold points as the job begins with them and leaves them."""
    points: list[Row] = hold_points.hold_points(look.entries, rounds_found(look), past_of(look))
    return points


def left_by(look: JobView) -> list[Row]:
    """The hold points as the job leaves them, for pages that show many jobs."""
    points: list[Row] = hold_points.hold_points(look.entries, rounds_left(look), past_of(look))
    return points


def listed_hold_points(look: JobView) -> list[Row]:
    """The hold points as lists of many jobs show them.

    What accepted jobs left open is taken as it stands on file, and they are not looked through.
    """
    past = past_of(look, accepted=False)
    points: list[Row] = hold_points.hold_points(look.entries, rounds_found(look), past)
    return points


def past_of(look: JobView, accepted: bool = True) -> Row:
    """What came before a job on its axle; of accepted jobs only what is on file, if so asked."""
    filed = look.record.get("left_open", {}).get(look.job["axle"], [])
    return {"jobs": jobs_before(look, accepted), "closings": closings_of(look), "filed": filed}


def left_on_file(look: JobView) -> Row:
    """What stands open of every axle, as it goes on file once this job is accepted.

    Where a later job on the axle counts already, it is what that one leaves.
    """
    axle, after = look.job["axle"], look
    for row in the_log().jobs(vehicle=look.row["vehicle"], axle=axle, most=MAX_BEFORE):
        if row["id"] == look.row["id"]:
            break
        if row["second_of"] is None and row["state"] in ("pending", "accepted"):
            after = look.shelf.look_at(row)
            break
    filed = dict(look.shelf.past(look.row["vehicle"]).row["record"].get("left_open", {}))
    filed[axle] = carried.lines_to_file(left_by(after))
    return filed


def rounds_found(look: JobView) -> list[Row]:
    """The rounds of a job as hold points are worked out from them."""
    return [{"name": r.name, "sheet": r.sheet, "findings": r.findings} for r in look.rounds]


def rounds_left(look: JobView) -> list[Row]:
    """The rounds of a job as it is worked out from them what it left open."""
    return [{"name": r.name, "sheet": r.sheet, "findings": r.left} for r in look.rounds]


def jobs_before(look: JobView, accepted: bool = True) -> list[Row]:
    """The jobs that this one begins with, oldest first; without those that cannot be read."""
    rows = the_log().jobs_before(look.row, MAX_BEFORE)
    before = {row["id"]: row for row in rows if accepted or row["state"] != "accepted"}
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
    return the_log().closings_of_vehicle(look.row["vehicle"])


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
