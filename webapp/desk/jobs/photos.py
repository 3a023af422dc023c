"""The photos of a job, as its page shows them."""

from flask import Response

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.reckon.log.fold import of_kind, standing
from webapp.reckon.sentences.entry_words import photo_subject
from webapp.shoplog import NotFound
from webapp.shoplog.rows import Row

# A picture and nothing else, whatever a browser may take its bytes for.
POLICY = "default-src 'none'; sandbox"


@bp.route("/photos/<name>")
def photo(name: str) -> Response:
    """One photo; a browser that others use keeps no copy of it."""
    answer = Response(the_log().photos.path(name).read_bytes(), mimetype="image/jpeg")
    answer.headers["Content-Security-Policy"] = POLICY
    return answer


def photo_rows(entries: list[Row]) -> list[Row]:
    """The photos that stand, each with what it is of and whether its bytes have arrived."""
    return [
        {**entry["body"], **caption_of(entry), "here": is_here(entry["body"]["sha256"])}
        for entry in of_kind(standing(entries), "photo")
    ]


def caption_of(entry: Row) -> Row:
    """Who took it, when, and the words for what it shows."""
    words = photo_subject(entry["body"])
    return {"words": words, "person": entry["person"], "made_at": entry["made_at"]}


def is_here(name: str) -> bool:
    """Whether the shop has the photo, and not just word of it."""
    try:
        return the_log().photos.path(name).is_file()
    except NotFound:
        return False
