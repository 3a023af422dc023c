"""The log to take away: a table as CSV, every entry as JSON Lines, one job as JSON."""

import csv
import io
import json
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from flask import Response, abort, render_template, stream_with_context

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.jobs.job_view import look_at
from webapp.reckon.log import fold
from webapp.shoplog.rows import Row

PAGE = 500
# What each table of the log is, and its columns, which an empty one has too.
TABLES = {
    "entries": "Every entry as it was made, including struck ones, with who, when and its number",
    "jobs": "Jobs: vehicle, axle, state, who opened, handed in and decided, and when",
    "vehicles": "Vehicles with their records",
    "limits": "House limits in mm as set, with who, when, why, and whether they still count",
    "people": "People",
    "phones": "Phones, without their credentials",
    "due": "What is due",
    "set_aside": "Entries with the ID of another one but different content",
}
COLUMNS = {
    "entries": "v id phone local_no kind vehicle job round body typed made_at build seq person "
    "received_at",
    "jobs": "id vehicle axle about state opened_seq opened_by opened_at handed_in_seq "
    "handed_in_by handed_in_at decided_seq decided_by decided_at last_seq recent second_of "
    "accepted_seq",
    "vehicles": "id name units driving_side retired record tags",
    "limits": "seq name value from reason typed person made_at stands",
    "people": "id name role",
    "phones": "id person kind name paired_at revoked_at last_contact",
    "due": "vehicle axle what day distance unit since job",
    "set_aside": "no phone received_at entry",
}


@bp.route("/export")
def export() -> str:
    """What can be taken away."""
    return render_template("desk/export.html", tables=TABLES)


@bp.route("/export/<table>.csv")
def export_table(table: str) -> Response:
    """One table as CSV, sent row by row."""
    if table not in COLUMNS:
        abort(404)
    lines = csv_lines(COLUMNS[table].split(), ROWS[table]())
    return sent(lines, "text/csv; charset=utf-8", f"{table}.csv")


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
        "later": [entry["id"] for entry in look.job["later"]],
        "entries": look.logged,
    }
    text = json.dumps(held, ensure_ascii=False, indent=2)
    return sent(iter([text]), "application/json", f"job-{job[:8]}.json")


def sent(pieces: Iterator[str], kind: str, name: str) -> Response:
    """A file to be saved, sent as it is made."""
    answer = Response(stream_with_context(pieces), content_type=kind)
    answer.headers["Content-Disposition"] = f'attachment; filename="axlewright-{name}"'
    answer.headers["Cache-Control"] = "no-store"
    return answer


def limit_rows() -> Iterator[Row]:
    """The house limits as they were set, in log order."""
    entries = the_log().limit_entries()
    stands = {entry["id"] for entry in fold.standing(entries)}
    for entry in fold.of_kind(entries, "limit"):
        yield {**entry["body"], **entry, "stands": entry["id"] in stands}


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
        page = log.pull(page["next"], PAGE, own=True)
        yield from page["entries"]


# Page by page where there may be many.
ROWS: dict[str, Callable[[], Iterable[Row]]] = {
    "entries": every_entry,
    "jobs": lambda: paged(the_log().jobs),
    "vehicles": lambda: paged(the_log().vehicles),
    "limits": limit_rows,
    "people": lambda: the_log().people(),
    "phones": lambda: the_log().phones(),
    "due": lambda: paged(the_log().due),
    "set_aside": lambda: the_log().quarantined(),
}


def csv_lines(columns: list[str], rows: Iterable[Row]) -> Iterator[str]:
    """These columns of the rows as lines of CSV under a line of names; objects as JSON."""
    written = io.StringIO()
    writer = csv.DictWriter(written, columns, extrasaction="ignore")
    writer.writeheader()
    yield taken(written)
    for row in rows:
        writer.writerow({key: plain(value) for key, value in row.items()})
        yield taken(written)


def taken(written: io.StringIO) -> str:
    """What was written so far; the buffer is empty afterward."""
    text = written.getvalue()
    written.seek(0)
    written.truncate()
    return text


# A spreadsheet would run these as formulas, also full-width ones and behind what it does not show;
# an apostrophe makes them text.
FORMULAS = ("=", "+", "-", "@")
NOT_SHOWN = dict.fromkeys(map(ord, "\u200b\u200c\u200d\u2060\ufeff"))


def plain(value: Any) -> Any:
    """A value as a cell: objects as JSON, and texts that a spreadsheet would run made harmless."""
    if isinstance(value, dict | list):
        return json.dumps(value, ensure_ascii=False)
    return f"'{value}" if isinstance(value, str) and is_run(value) else value


def is_run(text: str) -> bool:
    """Whether a spreadsheet might run a text, or begin a line or a cell within it."""
    if text[:1] in ("\t", "\r", "\n"):
        return True
    shown = text.translate(NOT_SHOWN)
    return unicodedata.normalize("NFKC", shown).lstrip().startswith(FORMULAS)
