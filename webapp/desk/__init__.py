"""The lead's pages: what waits for review, jobs, vehicles, tags, limits, people, the shop."""

from collections.abc import Callable

from webapp.desk import errors, expired_form, formats
from webapp.desk.blueprint import bp
from webapp.desk.context import current_person
from webapp.desk.jobs import decide, jobs_list, pass_over, pending, photos, repeatability
from webapp.desk.jobs import page as job
from webapp.desk.shop import (
    door_log,
    export,
    health,
    limits,
    missing,
    own_access,
    pairing,
    people,
    search,
    set_up,
)
from webapp.desk.tags import page as tags
from webapp.desk.vehicles import close_item, due, known_form, manage, remeasure
from webapp.desk.vehicles import page as vehicle
from webapp.reckon.numbers import counted
from webapp.reckon.sentences.decision_words import state_words, verdict_words
from webapp.reckon.terms import JOB_STATES, ROUND_WORDS

__all__ = ["bp"]

# Each page registers its views on the blueprint as it is imported.
PAGES = [
    *(decide, job, jobs_list, pass_over, pending, photos, repeatability),
    *(close_item, due, known_form, manage, remeasure, vehicle),
    *(tags,),
    *(door_log, export, health, limits, missing, own_access, pairing, people, search, set_up),
    *(errors, expired_form),
]

FILTERS: list[Callable[..., str]] = [
    *(formats.commands, formats.day, formats.plan_words, formats.shop_time, formats.when),
    formats.when_exactly,
]
IN_TEMPLATES = {
    "counted": counted,
    "JOB_STATES": JOB_STATES,
    "ROUND_WORDS": ROUND_WORDS,
    "state_words": state_words,
    "verdict_words": verdict_words,
    "current_person": current_person,
    "service_warnings": health.warnings,
    "told_at_sign_in": door_log.told_at_sign_in,
}
bp.app_context_processor(lambda: IN_TEMPLATES)
for writing in FILTERS:
    bp.add_app_template_filter(writing)
