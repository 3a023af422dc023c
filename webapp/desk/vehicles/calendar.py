"""A calendar of whole-day events as text (iCalendar, RFC 5545)."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Any

LONGEST_LINE = 75
# A calendar has at least one component (RFC 5545, 3.6); this one puts nothing on any day.
NO_EVENTS = [
    "BEGIN:VTIMEZONE",
    "TZID:UTC",
    "BEGIN:STANDARD",
    "DTSTART:19700101T000000",
    "TZOFFSETFROM:+0000",
    "TZOFFSETTO:+0000",
    "END:STANDARD",
    "END:VTIMEZONE",
]


def calendar(events: list[dict[str, Any]], now: datetime) -> str:
    """The events {uid, day, title, url} as a calendar; `now` is in UTC."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Axlewright//Due//EN"]
    for event in events:
        lines += event_lines(event, now)
    lines += [] if events else NO_EVENTS
    return "".join(f"{folded(line)}\r\n" for line in [*lines, "END:VCALENDAR"])


def event_lines(event: dict[str, Any], now: datetime) -> list[str]:
    """One event, line by line; a whole-day event ends on the day after."""
    first = date.fromisoformat(event["day"])
    return [
        "BEGIN:VEVENT",
        f"UID:{event['uid']}",
        f"DTSTAMP:{now:%Y%m%dT%H%M%SZ}",
        f"DTSTART;VALUE=DATE:{first:%Y%m%d}",
        f"DTEND;VALUE=DATE:{first + timedelta(days=1):%Y%m%d}",
        f"SUMMARY:{escaped(event['title'])}",
        f"URL:{event['url']}",
        "END:VEVENT",
    ]


def escaped(text: str) -> str:
    """A text as a calendar writes it (RFC 5545, TEXT)."""
    for plain, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(plain, written)
    return text.replace("\r", "")


def folded(line: str) -> str:
    """The line in pieces of at most 75 octets, the later ones begun with a blank."""
    return "\r\n ".join(pieces(line))


def pieces(line: str) -> Iterator[str]:
    """The line cut between characters, so that each piece with its blank keeps to the length."""
    piece, size = "", 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > LONGEST_LINE - 1:
            yield piece
            piece, size = "", 0
        piece, size = piece + letter, size + octets
    yield piece
