"""A vehicle over time: offset, ride height and sum of each measured round, and what was changed."""

from datetime import datetime
from typing import Any

from webapp.desk.formats import day
from webapp.desk.jobs.job_view import JobView, Round, sided
from webapp.reckon.checks.uncertainty_budget import READ_TO
from webapp.reckon.log.fold import of_kind, standing
from webapp.reckon.numbers import deviation, mean
from webapp.reckon.sentences.change_words import CHANGE_NAMES
from webapp.reckon.terms import AXLES, FACES, plus_minus
from webapp.reckon.typed.length_grammar import INCH
from webapp.shoplog.rows import Row

MM_IN = {"mm": 1.0, "in": INCH}


def days_of(text: str) -> float:
    """A time as days, for a drawing's axis."""
    return round(datetime.fromisoformat(text).timestamp() / 86400, 3)


def measured_at(look: JobView, this: Round) -> str | None:
    """When the first reading of a round was made, or None."""
    made = [e["made_at"] for e in of_kind(look.entries, "reading") if e["round"] == this.name]
    return min(made, default=None, key=datetime.fromisoformat)


def over_time(looks: list[JobView]) -> list[Row]:
    """Per axle the figures of its rounds over time: {axle, figures: [{title, data, rows}]}."""
    found: list[Row] = []
    unit = str(looks[0].vehicle["units"] or "mm") if looks else "mm"
    for axle in AXLES:
        own = [look for look in reversed(looks) if look.job["axle"] == axle]
        rounds = [
            (look, this, at)
            for look in own
            for this in look.rounds
            if (at := measured_at(look, this))
        ]
        figures = [offsets(rounds), heights(rounds), *sums(rounds)]
        shown = [{**figure, "changes": changes(own)} for figure in figures if figure]
        if shown:
            found.append({"axle": axle, "figures": [as_drawn(each, axle, unit) for each in shown]})
    return found


Timed = tuple[JobView, Round, str]


def point(at: str, value: float, **more: Any) -> Row:
    """One dot of a figure."""
    return {"day": days_of(at), "at": day(at), "value": value, **more}


def offsets(rounds: list[Timed]) -> Row | None:
    """The offset with its uncertainty, against the limit of today."""
    points = [
        point(at, this.centering["offset"], expanded=this.centering["expanded"], color=this.color)
        for _, this, at in rounds
        if this.is_judged
    ]
    if not points:
        return None
    limit = rounds[-1][1].sheet["limits"]["offset"]
    series = [{"kind": "offset", "points": points}]
    return {"title": "Offset, left positive", "series": series, "band": [-limit, limit]}


def heights(rounds: list[Timed]) -> Row | None:
    """The ride height of both sides, each with what its readings are good to."""
    series = []
    for side in ("left", "right"):
        points = [
            point(at, mean(values), expanded=height_u(this, side))
            for _, this, at in rounds
            if (values := (this.sheet.get("heights") or {}).get(side))
        ]
        series.append({"kind": side, "points": points})
    if not any(each["points"] for each in series):
        return None
    return {"title": "Ride height, left round, right square", "series": series, "band": None}


def height_u(this: Round, side: str) -> float:
    """The expanded uncertainty of a side's mean ride height, from step and scatter, in mm."""
    values = this.sheet["heights"][side]
    step = this.sheet["heights"].get("read_to") or READ_TO
    scatter = deviation(values) ** 2 / len(values)
    return 2 * float((step**2 / 12 + scatter) ** 0.5)


def sums(rounds: list[Timed]) -> list[Row]:
    """The sum of the sides, a figure for each face: it stays while parts and tape do."""
    by_face: dict[str, list[Row]] = {}
    for _, this, at in rounds:
        if this.centering.get("sum") is not None:
            dot = point(at, this.centering["sum"], expanded=2 * this.centering["sum_u"])
            by_face.setdefault(this.sheet["centering"]["face"], []).append(dot)
    return [
        {
            "title": f"Sum of the sides, {FACES.get(face, face)}",
            "series": [{"kind": "sum", "points": points}],
            "band": None,
        }
        for face, points in by_face.items()
        if len(points) > 1
    ]


def changes(looks: list[JobView]) -> list[Row]:
    """What was changed, and when."""
    return [
        {
            "day": days_of(entry["made_at"]),
            "at": day(entry["made_at"]),
            "says": str(CHANGE_NAMES.get(entry["body"].get("what"), "changed")),
        }
        for look in looks
        for entry in of_kind(standing(look.entries), "change")
    ]


def as_drawn(figure: Row, axle: str, unit: str) -> Row:
    """A figure as the page holds it: data for the drawing, and the same as rows of a table."""
    data = {
        "series": [
            {**each, "points": [scaled(dot, unit) for dot in each["points"]]}
            for each in figure["series"]
        ],
        "changes": figure["changes"],
        "band": figure["band"] and [edge / MM_IN[unit] for edge in figure["band"]],
    }
    return {
        "title": figure["title"],
        "data": {**data, "unit": unit, "says": f"{figure['title']}, {axle} axle"},
        "rows": sorted(rows_of(figure, unit), key=lambda row: row["day"], reverse=True),
    }


def scaled(dot: Row, unit: str) -> Row:
    """A dot with its lengths in the unit that the vehicle is measured in."""
    return {**dot, **{key: dot[key] / MM_IN[unit] for key in ("value", "expanded")}}


def rows_of(figure: Row, unit: str) -> list[Row]:
    """The dots and the changes as lines of a table."""
    dots = [
        {"day": each["day"], "at": each["at"], "shows": value_text(series["kind"], each, unit)}
        for series in figure["series"]
        for each in series["points"]
    ]
    return dots + [{"day": e["day"], "at": e["at"], "shows": e["says"]} for e in figure["changes"]]


def value_text(kind: str, each: Row, unit: str) -> str:
    """A value with its uncertainty, and the side that it belongs to or lies on."""
    if kind == "offset":
        return sided({"offset": each["value"], "expanded": each["expanded"]}, unit)
    text = str(plus_minus(each["value"], each["expanded"], unit))
    return f"{kind} {text}" if kind in ("left", "right") else text
