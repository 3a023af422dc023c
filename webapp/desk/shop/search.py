"""Search across vehicles with their tag codes, what jobs are about, and notes."""

from flask import render_template, request

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.reckon.sentences.tag_words import replaced_tag_sentence
from webapp.shoplog import NotFound
from webapp.shoplog.rows import Row

MOST = 60
TITLES = {"vehicle": "Vehicles", "job": "Jobs", "note": "Notes"}


@bp.route("/search")
def search() -> str:
    """What holds every word of the search, the kinds apart, newest first."""
    asked = request.args.get("q", "").strip()[:200]
    found = the_log().find(asked, MOST + 1) if asked else []
    return render_template(
        "desk/search.html",
        asked=asked,
        tag=tag_says(asked),
        groups=groups(found[:MOST]),
        more=len(found) > MOST,
    )


def groups(found: list[Row]) -> list[tuple[str, list[Row]]]:
    """What was found by its kind, each with the name of its vehicle."""
    ids = sorted({row["vehicle"] for row in found if row["vehicle"]})
    names = {row["id"]: row["name"] for row in the_log().vehicles_named(ids)}
    lines = [{**row, "name": names.get(row["vehicle"]) or "unnamed"} for row in found]
    by_kind = {kind: [line for line in lines if line["kind"] == kind] for kind in TITLES}
    return [(TITLES[kind], each) for kind, each in by_kind.items() if each]


def tag_says(asked: str) -> str:
    """What to know of the tag whose code was searched; empty for anything else."""
    try:
        row = the_log().vehicle_by_tag(asked)
    except NotFound:
        return ""
    return str(replaced_tag_sentence(row["record"], asked.upper()))
