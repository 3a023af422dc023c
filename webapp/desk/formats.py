"""How the desk writes days, times and spans of time."""

import re
from datetime import datetime, timedelta

from markupsafe import Markup, escape

from webapp.reckon.numbers import counted, trimmed
from webapp.shoplog.rows import Row

MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]
SPANS = [(timedelta(days=1), "day"), (timedelta(hours=1), "hour"), (timedelta(minutes=1), "minute")]


def day(text: str | None) -> str:
    """The date of a time, as the clock that wrote it saw it: Nov 25, 2026."""
    if text is None:
        return ""
    at = datetime.fromisoformat(text)
    return f"{MONTHS[at.month - 1]} {at.day}, {at.year}"


def when(text: str | None) -> str:
    """A time as the clock that wrote it saw it: Nov 25, 2026, 10:42."""
    return "" if text is None else f"{day(text)}, {datetime.fromisoformat(text):%H:%M}"


def when_exactly(text: str) -> str:
    """A time with seconds and its offset from UTC: Nov 25, 2026, 10:42:07 +01:00."""
    at = datetime.fromisoformat(text)
    return f"{day(text)}, {at:%H:%M:%S} {at.isoformat()[-6:]}"


def shop_time(text: str) -> str:
    """A time in the shop PC's own time zone, in ISO form; at an end of the calendar as it is."""
    at = datetime.fromisoformat(text)
    try:
        return at.astimezone().isoformat()
    except OverflowError:
        return at.isoformat()


def span(text: str, now: datetime) -> str:
    """How long ago that was: 3 days, 1 hour; under a minute for what just happened."""
    gone = now - datetime.fromisoformat(text)
    for unit, name in SPANS:
        if gone >= unit:
            return counted(gone // unit, name)
    return "less than a minute"


def commands(says: str) -> Markup:
    """A sentence in which a command between back quotes is set as one."""
    return Markup(re.sub("`([^`]+)`", r"<code>\1</code>", str(escape(says))))


def plan_words(plan: Row) -> str:
    """When something is to be measured again, such as `by May 1, 2027 or after 500 mi`."""
    parts = [f"by {day(plan['date'])}"] if plan.get("date") else []
    if plan.get("distance"):
        parts.append(f"after {trimmed(plan['distance'], 1)} {plan['unit']}")
    return " or ".join(parts)
