"""Hold points at the desk: what is open at each, and who passed it over."""

from webapp.desk.context import people
from webapp.desk.jobs.job_view import JobView
from webapp.reckon.walk import hold_points
from webapp.shoplog.rows import Row


def hold_points_of(look: JobView) -> list[Row]:
    """The hold points of the job as they stand."""
    rounds = [{"name": r.name, "sheet": r.sheet, "findings": r.findings} for r in look.rounds]
    points: list[Row] = hold_points.hold_points(look.entries, rounds)
    return points


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
