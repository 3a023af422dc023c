"""Writing at the desk: entries made here, on behalf of the person who is signed in."""

from collections.abc import Sequence
from typing import Any

from wtforms import Field

from webapp.desk.context import build, current_person, the_log

Draft = dict[str, Any]


class NotWritten(Exception):
    """The log did not take an entry; the message is its reason, for the person at the desk."""


def write(drafts: Sequence[Draft]) -> None:
    """Record the drafts ({kind, body} and any of vehicle, job, round, typed), or NotWritten."""
    answers = the_log().write_at_desk(current_person()["id"], drafts, build())
    refused = [answer["reason"] or "" for answer in answers if answer["verdict"] != "stored"]
    if refused:
        raise NotWritten(" ".join(refused))


def write_or_explain(drafts: Sequence[Draft], field: Field) -> bool:
    """Whether the log took the drafts; its reason stands at the form's field when it did not."""
    try:
        write(drafts)
    except NotWritten as error:
        field.errors = [str(error)]
        return False
    return True
