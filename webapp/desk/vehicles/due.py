"""What is due: bolts to check and axles to measure again, overdue first, and as a calendar file."""

from datetime import UTC, date, datetime

from flask import make_response, render_template, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.formats import day
from webapp.desk.vehicles.calendar import calendar
from webapp.desk.vehicles.page import the_start
from webapp.door.address import canonical
from webapp.reckon.joint_terms import recheck_words
from webapp.reckon.numbers import counted
from webapp.reckon.terms import DUE_WORDS
from webapp.shoplog.rows import Row

MOST = 100


@bp.route("/due")
def due() -> str:
    """What is due, by day; what has a distance alone stands at the end."""
    start = the_start()
    rows = the_log().due(start, MOST + 1)
    return render_template(
        "desk/due.html",
        groups=groups(due_lines(rows[:MOST]), date.today()),
        following=start + MOST if len(rows) > MOST else None,
    )


@bp.route("/due.ics")
def due_calendar() -> AnyResponse:
    """Everything that is due on a day, as a file that calendar programs take in (RFC 5545)."""
    lines = due_lines([row for row in the_log().due() if row["day"]])
    text = calendar([event_of(line) for line in lines], datetime.now(UTC))
    answer = make_response(text)
    answer.headers["Content-Type"] = "text/calendar; charset=utf-8"
    answer.headers["Content-Disposition"] = 'attachment; filename="axlewright-due.ics"'
    return answer


def due_lines(rows: list[Row]) -> list[Row]:
    """Each due thing with its vehicle's name and what to do in words."""
    ids = sorted({row["vehicle"] for row in rows})
    names = {row["id"]: row["name"] for row in the_log().vehicles_named(ids)}
    return [
        {
            **row,
            "name": names.get(row["vehicle"]) or "Unnamed vehicle",
            "asks": DUE_WORDS[row["what"]],
            "when": recheck_words({**row, "date": None}) if row["distance"] else "",
            "since_day": day(row["since"]),
        }
        for row in rows
    ]


def groups(lines: list[Row], today: date) -> list[tuple[str, list[Row]]]:
    """The lines as overdue, due in the next weeks, later, and by distance alone."""
    found: dict[str, list[Row]] = {"Overdue": [], "Due": [], "By distance alone": []}
    for line in lines:
        title, says = "By distance alone", ""
        if line["day"]:
            left = (date.fromisoformat(line["day"]) - today).days
            title, says = ("Overdue", f"{counted(-left, 'day')} ago") if left < 0 else ("Due", "")
            says = says or ("today" if left == 0 else f"in {counted(left, 'day')}")
        found[title].append({**line, "says": says})
    return [(title, each) for title, each in found.items() if each]


def event_of(line: Row) -> Row:
    """A due thing as an event of a calendar."""
    return {
        "uid": f"{line['vehicle']}-{line['axle']}-{line['what']}@axlewright",
        "day": line["day"],
        "title": f"{line['name']}: {line['asks'].lower()} ({line['axle']} axle)",
        "url": canonical() + url_for("desk.vehicle", vehicle=line["vehicle"]),
    }
