"""Hold points at the desk: what is open at each, and what moved the axle since it was accepted."""

from typing import Any

from webapp.desk.context import people, the_log
from webapp.desk.jobs.look import Look
from webapp.reckon.checks import moved
from webapp.reckon.log import last_accepted
from webapp.reckon.walk import hold_points

Row = dict[str, Any]

COMPARED = ("explained", "changed", "unexplained")


def points_of(look: Look) -> list[Row]:
    """The hold points of the job as they stand."""
    rounds = [{"name": r.name, "sheet": r.sheet, "findings": r.findings} for r in look.rounds]
    points: list[Row] = hold_points.hold_points(look.entries, rounds)
    return points


def hold_lines(look: Look) -> list[Row]:
    """The hold points as the job's page shows them, with who passed each over."""
    names = people()
    return [
        {
            **point,
            "shows": state_words(point),
            "by": names.get(str((point["passed"] or {}).get("person")), "a lead"),
            "fault": None,
            "typed": "",
        }
        for point in points_of(look)
    ]


def state_words(point: Row) -> str:
    """How a hold point stands, in words."""
    if point["state"] == "open":
        return f"{len(point['open'])} open"
    return str(hold_points.STATES[point["state"]])


def with_moved(look: Look) -> None:
    """Put what moved the axle since the last accepted round among the findings of each round."""
    if not any(each.centering.get("offset") is not None for each in look.rounds):
        return
    earlier = earlier_round(look)
    for each in look.rounds:
        sheet = last_accepted.with_before(each.sheet, earlier, look.entries, each.name)
        if sheet.get("before") is not None:
            found = moved.moved(sheet, each.centering)
            each.findings["moved"] = found if found["state"] in COMPARED else None


def earlier_round(look: Look) -> Row | None:
    """The last judged round of the job of this axle that was accepted before this one."""
    last = the_log().job_before(look.row)
    if last is None:
        return None
    judged = look.shelf.look_at(last).judged()
    return {"sheet": judged.sheet, "findings": judged.placed} if judged else None
