"""Rate-limits failed sign-ins so that nobody can lock somebody else out.

Tries that failed are counted by source, and by person for sources that never got in as that person.
A browser that did get in carries a token (`trusted`), and is counted by it alone: whoever hammers a
name from elsewhere does not stand in its way, nor in the way of the shop PC itself.
"""

import threading
import time
from collections.abc import Callable

from webapp.door.localhost import is_this_computer

WINDOW = 15 * 60.0
MAX_OF_SOURCE = 10
MAX_OF_PERSON = 30
MAX_KEYS = 10_000


class Throttle:
    """Counts of tries that failed within the last quarter of an hour."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """Nothing counted yet; `clock` gives seconds."""
        self.clock = clock
        self.failed: dict[str, list[float]] = {}
        self.turn = threading.Lock()

    def wait(self, limits: dict[str, int]) -> int:
        """Seconds until another try is taken under these keys and their limits; 0 for at once."""
        with self.turn:
            return max((self._wait(key, most) for key, most in limits.items()), default=0)

    def fail(self, limits: dict[str, int]) -> None:
        """Count one more try that failed."""
        with self.turn:
            if len(self.failed) > MAX_KEYS:
                self._forget()
            for key, most in limits.items():
                self.failed[key] = [*self._recent(key), self.clock()][-most:]

    def succeed(self, key: str) -> None:
        """Forget what failed under this key."""
        with self.turn:
            self.failed.pop(key, None)

    def _wait(self, key: str, most: int) -> int:
        recent = self._recent(key)
        if len(recent) < most:
            return 0
        return int(recent[-most] + WINDOW - self.clock()) + 1

    def _recent(self, key: str) -> list[float]:
        begin = self.clock() - WINDOW
        return [at for at in self.failed.get(key, []) if at > begin]

    def _forget(self) -> None:
        """Drop what no longer counts, and in a flood of sources the oldest half of the rest."""
        kept = {key: recent for key in self.failed if (recent := self._recent(key))}
        oldest_first = sorted(kept, key=lambda key: kept[key][-1])
        for key in oldest_first[: max(0, len(kept) - MAX_KEYS // 2)]:
            del kept[key]
        self.failed = kept


def limits_of_try(source: str, person: str, trusted: str | None) -> dict[str, int]:
    """Under which keys a try to sign in is counted, each with its limit."""
    if trusted is not None:
        return {f"trusted {trusted}": MAX_OF_SOURCE}
    if is_this_computer(source):
        return {"source this computer": MAX_OF_SOURCE}
    return {f"source {source}": MAX_OF_SOURCE, f"person {person}": MAX_OF_PERSON}
