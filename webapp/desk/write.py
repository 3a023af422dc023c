"""Writing at the desk: entries made here, on behalf of the person who is signed in."""

from collections.abc import Sequence
from typing import Any

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
