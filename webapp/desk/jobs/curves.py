"""The curves of a job through the travel, as its last round left them, for drawing."""

from webapp.desk.jobs.job_view import JobView
from webapp.shoplog.rows import Row


def curves(look: JobView) -> list[Row]:
    """The shift and the steer through the travel: {title, unit, data}, unknown ones left out."""
    found = look.last.findings
    arc, steer = found.get("bar_arc") or {}, found.get("steer") or {}
    parts = [
        ("Sideways shift through the travel", "mm", arc.get("curve")),
        ("Bump steer through the travel", "°", steer.get("curve")),
    ]
    return [
        {
            "title": title,
            "unit": look.unit if unit == "mm" else unit,
            "data": {
                "curves": [{"points": points, "kind": "curve-now"}],
                "unit": unit,
                "units": look.unit,
                "says": f"{title}, {look.last.title}",
            },
        }
        for title, unit, points in parts
        if points
    ]
