"""What stands open on each axle of a vehicle, as its last job leaves it."""

from webapp.desk.context import people, the_log
from webapp.desk.each import shown
from webapp.desk.jobs.hold_points import left_by
from webapp.desk.jobs.job_view import Shelf
from webapp.reckon.terms import AXLES
from webapp.shoplog.rows import Row

# A second reading begins with nothing, and waits for its own review.
MAX_LOOKED_AT = 20


def left_open(vehicle: str, shelf: Shelf) -> list[Row]:
    """Per axle {axle, job, points, closed}: hold points that are open, and what a lead closed."""
    last = [row for axle in AXLES for row in last_job(vehicle, axle)]
    found, _ = shown(last, lambda row: axle_left_open(row, left_by(shelf.look_at(row))))
    return [each for each in found if each["points"] or each["closed"]]


def last_job(vehicle: str, axle: str) -> list[Row]:
    """The row of the last job of an axle in a list, an empty one where there was none."""
    rows = the_log().jobs(vehicle=vehicle, axle=axle, most=MAX_LOOKED_AT)
    return [row for row in rows if row["second_of"] is None][:1]


def axle_left_open(row: Row, points: list[Row]) -> Row:
    """What the last job of an axle leaves open, and what of that a lead closed."""
    closed = {each["says"]: closed_line(each) for point in points for each in point["closed"]}
    return {
        "axle": row["axle"],
        "job": row["id"],
        "points": [point for point in points if point["state"] == "open"],
        "closed": list(closed.values()),
    }


def closed_line(closed: Row) -> Row:
    """One closed item: its sentence, who closed it, when and why."""
    entry = closed["entry"]
    who = people().then(entry["person"], entry["made_at"])
    return {
        "says": closed["says"],
        "by": who,
        "at": entry["made_at"],
        "reason": entry["body"]["reason"],
    }
