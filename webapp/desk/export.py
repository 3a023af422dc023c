"""The log to take away: a table as CSV, every entry as JSON Lines, one job as JSON."""

import csv
import io
import json
from collections.abc import Iterable, Iterator
from typing import Any

from flask import Response, abort, render_template, stream_with_context

from webapp.desk import bp
from webapp.desk.findings import look_at
from webapp.desk.shop import the_log

Row = dict[str, Any]

PAGE = 500
# What each table of the log is, and its columns where the log gives more than is taken away.
TABLES = {
    "entries": "Every entry, struck ones too, as it was made, with who, when and its number",
    "jobs": "Jobs: vehicle, axle, state, who opened, handed in and decided, and when",
    "vehicles": "Vehicles with their records",
    "people": "People",
    "phones": "Phones, without what lets them in",
    "due": "What is due",
}
PHONE_COLUMNS = ("id", "person", "kind", "name", "paired_at", "revoked_at", "last_contact")


@bp.route("/export")
def export() -> str:
    """What can be taken away."""
    return render_template("desk/export.html", tables=TABLES)


@bp.route("/export/<table>.csv")
def export_table(table: str) -> Response:
    """One table as CSV, sent row by row."""
    if table not in TABLES:
        abort(404)
    return sent(csv_lines(rows_of(table)), "text/csv; charset=utf-8", f"{table}.csv")


@bp.route("/export/entries.jsonl")
def export_entries() -> Response:
    """Every entry as one JSON object a line."""
    lines = (json.dumps(row, ensure_ascii=False) + "\n" for row in every_entry())
    return sent(lines, "application/jsonl; charset=utf-8", "entries.jsonl")


@bp.route("/jobs/<job>/export.json")
def export_job(job: str) -> Response:
    """One job with its entries, and sheet and findings of each round."""
    look = look_at(job)
    rounds = [{"round": r.name, "sheet": r.sheet, "findings": r.findings} for r in look.rounds]
    held = {
        "job": look.row,
        "vehicle": {"id": look.vehicle["id"], "record": look.record},
        "limits": look.limits,
        "rounds": rounds,
        "entries": look.entries,
    }
    text = json.dumps(held, ensure_ascii=False, indent=2)
    return sent(iter([text]), "application/json", f"job-{job[:8]}.json")


def sent(pieces: Iterator[str], kind: str, name: str) -> Response:
    """A file to be saved, sent as it is made."""
    answer = Response(stream_with_context(pieces), content_type=kind)
    answer.headers["Content-Disposition"] = f'attachment; filename="axlewright-{name}"'
    answer.headers["Cache-Control"] = "no-store"
    return answer


def rows_of(table: str) -> Iterator[Row]:
    """The rows of a table, page by page where there may be many."""
    log = the_log()
    if table == "entries":
        yield from every_entry()
    elif table in ("jobs", "vehicles", "due"):
        ask = {"jobs": log.jobs, "vehicles": log.vehicles, "due": log.due}[table]
        yield from paged(ask)
    elif table == "people":
        yield from log.people()
    else:
        yield from ({key: row[key] for key in PHONE_COLUMNS} for row in log.phones())


def paged(ask: Any) -> Iterator[Row]:
    """Every row that a question of the log answers with, a page at a time."""
    start = 0
    while found := ask(start=start, most=PAGE):
        yield from found
        start += len(found)


def every_entry() -> Iterator[Row]:
    """Every entry in log order."""
    log = the_log()
    page: Row = {"next": 0, "more": True}
    while page["more"]:
        page = log.pull(page["next"], PAGE)
        yield from page["entries"]


def csv_lines(rows: Iterable[Row]) -> Iterator[str]:
    """The rows as lines of CSV under a line of names; objects as JSON."""
    written = io.StringIO()
    writer = None
    for row in rows:
        if writer is None:
            writer = csv.DictWriter(written, list(row))
            writer.writeheader()
        writer.writerow({key: plain(value) for key, value in row.items()})
        yield taken(written)


def taken(written: io.StringIO) -> str:
    """What was written so far; the buffer is empty afterwards."""
    text = written.getvalue()
    written.seek(0)
    written.truncate()
    return text


# A spreadsheet would run these as formulas; an apostrophe makes them text.
FORMULAS = ("=", "+", "-", "@", "\t", "\r")


def plain(value: Any) -> Any:
    """A value as a cell: objects as JSON, and texts that a spreadsheet would run made harmless."""
    if isinstance(value, dict | list):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, str) and value.startswith(FORMULAS):
        return f"'{value}"
    return value
