"""Which backups are kept: all of the last day, one a day for a month, one a month for a year."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

STAMP = "%Y%m%d-%H%M%S"
ALL_FOR = timedelta(days=1)
DAILY_FOR = timedelta(days=31)
MONTHLY_FOR = timedelta(days=366)


def stamp_of(moment: datetime) -> str:
    """A moment as the name of a backup carries it, in UTC."""
    return moment.astimezone(UTC).strftime(STAMP)


def moment_of(stamp: str) -> datetime | None:
    """The moment of such a stamp, or None."""
    try:
        return datetime.strptime(stamp, STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None


def moments_to_keep(moments: Iterable[datetime], now: datetime) -> set[datetime]:
    """The backup times to keep; the newest always is.

    Each day or month keeps its last backup. What is dated after `now` stays as well, as a clock
    that was wrong is no reason to lose a backup.
    """
    stays: set[datetime] = set()
    seen: set[str] = set()
    for moment in sorted(moments, reverse=True):
        slot = retention_slot(moment, now)
        if not stays or (slot is not None and slot not in seen):
            stays.add(moment)
        if slot is not None:
            seen.add(slot)
    return stays


def retention_slot(moment: datetime, now: datetime) -> str | None:
    """What a backup is kept as, such as the last one of its day; None for one that is too old."""
    age = now - moment
    if age <= ALL_FOR:
        return stamp_of(moment)
    if age <= DAILY_FOR:
        return moment.strftime("day %Y%m%d")
    return moment.strftime("month %Y%m") if age <= MONTHLY_FOR else None
