"""Which backups are kept: all of the last day, one a day for a month, one a month for a year.

Days and months are counted as they have backups, and not off the clock: one that jumps years
ahead must not make every backup look old. Nor may those that a clock made ahead push out the ones
of today once it is right: those up to now are counted by themselves too.
"""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

STAMP = "%Y%m%d-%H%M%S"
ALL_FOR = timedelta(days=1)
# As many as a day of hourly backups has.
LATEST = 24
# Today and this month are among them.
DAYS = 32
MONTHS = 13


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
    """The backup times to keep: the latest, those within a day of `now`, the last ones of each
    of the latest days and months that have any.
    """
    newest = sorted(moments, reverse=True)
    until_now = [each for each in newest if each <= now]
    stays = {*newest[:LATEST], *(each for each in newest if abs(now - each) <= ALL_FOR)}
    for each in (newest, until_now):
        stays |= last_of_each(each, "%Y%m%d", DAYS) | last_of_each(each, "%Y%m", MONTHS)
    return stays


def last_of_each(newest: Iterable[datetime], slot: str, most: int) -> set[datetime]:
    """The last moment of each of so many days or months, from the latest back."""
    last: dict[str, datetime] = {}
    for moment in newest:
        last.setdefault(moment.strftime(slot), moment)
    return set(list(last.values())[:most])
