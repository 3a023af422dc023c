"""The lead's pages: what waits for review, jobs, vehicles, tags, limits, people, the shop."""

from flask import Blueprint

bp = Blueprint("desk", __name__, url_prefix="/desk", template_folder="templates")

# The pages register their views on the blueprint as they are imported.
from webapp.desk import (  # noqa: E402
    decide,
    due,
    errors,
    export,
    health,
    jobs,
    limits,
    listed,
    missing,
    old_form,
    pairing,
    passing,
    pending,
    people,
    photos,
    record,
    repeat,
    search,
    set_up,
    tags,
    vehicles,
    words,
)
from webapp.desk.shop import current_person  # noqa: E402
from webapp.reckon.terms import JOB_STATES, ROUND_WORDS, VERDICTS  # noqa: E402

__all__ = ["bp", "decide", "errors", "jobs", "limits", "missing", "pending", "tags", "vehicles"]
__all__ += [
    "due",
    "export",
    "listed",
    "old_form",
    "pairing",
    "passing",
    "people",
    "photos",
    "record",
    "repeat",
    "search",
    "set_up",
]

IN_TEMPLATES = {
    "JOB_STATES": JOB_STATES,
    "ROUND_WORDS": ROUND_WORDS,
    "VERDICTS": VERDICTS,
    "current_person": current_person,
    "service_warnings": health.warnings,
}
bp.app_context_processor(lambda: IN_TEMPLATES)
for writing in (words.day, words.shop_time, words.when, words.when_exactly):
    bp.add_app_template_filter(writing)
