"""Lists in which one thing that cannot be shown leaves the others standing."""

import logging
from collections.abc import Callable, Iterable
from typing import TypeVar

from webapp.shoplog import LogError, NotFound
from webapp.shoplog.rows import Row

log = logging.getLogger("axlewright")
T = TypeVar("T")


def shown(rows: Iterable[Row], make: Callable[[Row], T]) -> tuple[list[T], list[Row]]:
    """What `make` makes of each row, and the rows of which it makes nothing.

    Why is in the service's messages. That the log cannot be read at all is said as everywhere.
    """
    made, failed = [], []
    for row in rows:
        try:
            made.append(make(row))
        except NotFound:
            failed.append(row)
        except LogError:
            raise
        except Exception:
            log.exception("%s cannot be shown at the desk.", row["id"])
            failed.append(row)
    return made, failed
