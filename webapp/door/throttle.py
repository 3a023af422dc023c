"""Rate-limits failed sign-ins so that nobody can lock somebody else out.

Tries are counted by source, by person for sources that never got in as that person, and over all
such strangers together. A browser that did get in carries a token (`trusted`), and is counted by it
alone, as is the shop PC: whoever hammers a name, or the whole door, from elsewhere does not stand
in their way.

A try counts from the moment it is taken, before anybody knows whether it is right: tries that come
at once cannot all slip in under a limit. One process has the shop's log, and so these counts.
"""

import ipaddress
import threading
import time
from collections.abc import Callable

from webapp.door.localhost import is_this_computer, plain

WINDOW = 15 * 60.0
MAX_OF_SOURCE = 10
MAX_OF_PERSON = 30
MAX_OF_STRANGERS = 100
MAX_KEYS = 10_000


class Throttle:
    """Counts of tries within the last quarter of an hour that failed or are being looked at."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """Nothing counted yet; `clock` gives seconds."""
        self.clock = clock
        self.counted: dict[str, list[float]] = {}
        self.turn = threading.Lock()

    def take(self, limits: dict[str, int]) -> int:
        """Count a try under these keys and return 0; or, at a limit, the seconds to wait for."""
        with self.turn:
            wait = max((self._wait(key, most) for key, most in limits.items()), default=0)
            if wait == 0:
                self._count(limits)
            return wait

    def succeed(self, limits: dict[str, int]) -> None:
        """Take back a try that was right, and forget what failed under the first key before."""
        with self.turn:
            first, *others = limits
            self.counted.pop(first, None)
            for key in others:
                self.counted[key] = self._recent(key)[:-1]

    def _count(self, limits: dict[str, int]) -> None:
        if len(self.counted) > MAX_KEYS:
            self._forget()
        for key, most in limits.items():
            self.counted[key] = [*self._recent(key), self.clock()][-most:]

    def _wait(self, key: str, most: int) -> int:
        recent = self._recent(key)
        if len(recent) < most:
            return 0
        return int(recent[-most] + WINDOW - self.clock()) + 1

    def _recent(self, key: str) -> list[float]:
        begin = self.clock() - WINDOW
        return [at for at in self.counted.get(key, []) if at > begin]

    def _forget(self) -> None:
        """Drop what no longer counts, and in a flood of sources the oldest half of the rest."""
        kept = {key: recent for key in self.counted if (recent := self._recent(key))}
        oldest_first = sorted(kept, key=lambda key: kept[key][-1])
        for key in oldest_first[: max(0, len(kept) - MAX_KEYS // 2)]:
            del kept[key]
        self.counted = kept


def limits_of_try(source: str, person: str, trusted: str | None) -> dict[str, int]:
    """Under which keys a try to sign in is counted, each with its limit."""
    if trusted is not None:
        return {f"trusted {trusted}": MAX_OF_SOURCE}
    if is_this_computer(source):
        return {"source this computer": MAX_OF_SOURCE}
    return {
        f"source {network_of(source)}": MAX_OF_SOURCE,
        f"person {person}": MAX_OF_PERSON,
        "strangers": MAX_OF_STRANGERS,
    }


def network_of(source: str) -> str:
    """What one source may have to itself: an address, in IPv6 a whole network of them (/64)."""
    address = plain(source)
    if not isinstance(address, ipaddress.IPv6Address):
        return str(address or source)
    return str(ipaddress.ip_network((address, 64), strict=False))
