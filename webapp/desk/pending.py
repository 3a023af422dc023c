"""What waits for the lead, the longest waiting first."""

from datetime import UTC, datetime
from typing import Any

from flask import render_template

from webapp.desk import bp
from webapp.desk.findings import Look, look_at
from webapp.desk.odd import oddities
from webapp.desk.shop import people, the_log
from webapp.desk.words import counted, span

Row = dict[str, Any]


@bp.route("")
def pending() -> str:
    """The jobs pending review, how many others are under way, and what phones still hold."""
    log = the_log()
    now, names = datetime.now(UTC), people()
    waiting = [line_of(look_at(row["id"]), names, now) for row in log.jobs(state="pending")]
    return render_template(
        "desk/pending.html",
        waiting=waiting,
        counts={state: len(log.jobs(state=state)) for state in ("open", "sent_back")},
        held=held_back(log.phones(), names, now),
    )


def line_of(look: Look, names: dict[str, str], now: datetime) -> Row:
    """One waiting job: what it is, who handed it in, for how long it waits, what is odd."""
    return {
        "look": look,
        "who": names.get(look.row["handed_in_by"], "somebody unknown"),
        "since": span(look.row["handed_in_at"], now),
        "odd": oddities(look),
    }


def held_back(phones: list[Row], names: dict[str, str], now: datetime) -> list[str]:
    """A sentence for each phone that said it still holds entries which the log lacks."""
    return [
        f"{names.get(phone['person'], 'Somebody')}: {phone['name']} said "
        f"{span(phone['last_contact'], now)} ago that it still holds "
        f"{counted(phone['pending_count'], 'entry', 'entries')}."
        for phone in phones
        if phone["pending_count"] and phone["last_contact"] and not phone["revoked_at"]
    ]
