"""A vehicle over time: offset, ride height and sum of each measured round, and what was changed."""

from datetime import datetime
from typing import Any

from webapp.desk.findings import Look, Round
from webapp.desk.words import day
from webapp.reckon.changes import CHANGES
from webapp.reckon.fold import of_kind, standing
from webapp.reckon.numbers import THIN, deviation, fixed, mean
from webapp.reckon.uncertainty import READ_TO

Row = dict[str, Any]


def days_of(text: str) -> float:
    """A time as days, for a drawing's axis."""
    return round(datetime.fromisoformat(text).timestamp() / 86400, 3)


def measured_at(look: Look, this: Round) -> str | None:
    """When the first reading of a round was made, or None."""
    made = [e["made_at"] for e in of_kind(look.entries, "reading") if e["round"] == this.name]
    return min(made, default=None, key=datetime.fromisoformat)


def over_time(looks: list[Look]) -> list[Row]:
    """Per axle the figures of its rounds over time: {axle, figures: [{title, data, rows}]}."""
    found = []
    for axle in ("front", "rear"):
        own = [look for look in reversed(looks) if look.job["axle"] == axle]
        rounds = [
            (look, this, at)
            for look in own
            for this in look.rounds
            if (at := measured_at(look, this))
        ]
        figures = [offsets(rounds), heights(rounds), sums(rounds)]
        shown = [{**figure, "changes": changes(own)} for figure in figures if figure]
        if shown:
            found.append({"axle": axle, "figures": [as_drawn(each, axle) for each in shown]})
    return found


Timed = tuple[Look, Round, str]


def point(at: str, value: float, **more: Any) -> Row:
    """One dot of a figure."""
    return {"day": days_of(at), "at": day(at), "value": value, **more}


def offsets(rounds: list[Timed]) -> Row | None:
    """The offset with its uncertainty, against the limit of today."""
    points = [
        point(at, this.centring["offset"], expanded=this.centring["expanded"], state=state)
        for _, this, at in rounds
        if (state := this.centring.get("state")) in ("inside", "outside", "too_close")
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


def sums(rounds: list[Timed]) -> Row | None:
    """The sum of the sides: it stays while parts and tape do."""
    points = [
        point(at, this.centring["sum"], expanded=2 * this.centring["sum_u"])
        for _, this, at in rounds
        if this.centring.get("sum") is not None
    ]
    if len(points) < 2:
        return None
    series = [{"kind": "sum", "points": points}]
    return {"title": "Sum of the sides", "series": series, "band": None}


def changes(looks: list[Look]) -> list[Row]:
    """What was changed, and when."""
    return [
        {
            "day": days_of(entry["made_at"]),
            "at": day(entry["made_at"]),
            "says": str(CHANGES.get(entry["body"].get("what"), "changed")),
        }
        for look in looks
        for entry in of_kind(standing(look.entries), "change")
    ]


def as_drawn(figure: Row, axle: str) -> Row:
    """A figure as the page holds it: data for the drawing, and the same as rows of a table."""
    title = f"{figure['title']}, {axle} axle"
    data = {key: figure[key] for key in ("series", "changes", "band")}
    return {
        "title": figure["title"],
        "data": {**data, "unit": "mm", "says": title},
        "rows": sorted(rows_of(figure), key=lambda row: row["day"], reverse=True),
    }


def rows_of(figure: Row) -> list[Row]:
    """The dots and the changes as lines of a table."""
    dots = [
        {"day": each["day"], "at": each["at"], "shows": f"{kind_words(series)}{shown(each)}"}
        for series in figure["series"]
        for each in series["points"]
    ]
    return dots + [{"day": e["day"], "at": e["at"], "shows": e["says"]} for e in figure["changes"]]


def kind_words(series: Row) -> str:
    """The side that a line belongs to, where it belongs to one."""
    return f"{series['kind']} " if series["kind"] in ("left", "right") else ""


def shown(each: Row) -> str:
    """A value with its uncertainty."""
    return f"{fixed(each['value'], 1)} ± {fixed(each['expanded'], 1)}{THIN}mm"
