"""Closes connections on which nothing comes, and bounds those of one source; on Linux alone.

The server gives up a request whose head does not come, but not a connection on which nothing was
ever asked. The system knows of each connection when something last went over it (tcp(7), TCP_INFO).
"""

import os
import socket
import stat
import struct
import sys
import threading
import time
from collections import defaultdict
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

OPEN = Path("/proc/self/fd")
EVERY_SECONDS = 1.0
# Longer than what is between two signs of life that the server asks of a phone.
IDLE_SECONDS = 45.0
MAX_OF_SOURCE = 100
MAX_OF_ALL = 700
# Where `struct tcp_info` has the milliseconds since data was last sent, and last received.
LAST_SENT, LAST_RECEIVED = 44, 52
INFO_BYTES = 56


class Connection(NamedTuple):
    """An open connection: with whom, and for how many seconds nothing has gone over it."""

    held: socket.socket
    source: str
    idle: float


def watch(port: int) -> None:
    """Look after the connections of this process at this port for as long as it runs."""
    if sys.platform == "linux":
        threading.Thread(target=keep_sweeping, args=[port], name="connections", daemon=True).start()


def keep_sweeping(port: int) -> None:
    """Sweep over and over."""
    while True:
        time.sleep(EVERY_SECONDS)
        # A connection that went away meanwhile is no reason to stop.
        with suppress(OSError):
            sweep(port)


def sweep(
    port: int,
    idle: float = IDLE_SECONDS,
    of_source: int = MAX_OF_SOURCE,
    of_all: int = MAX_OF_ALL,
) -> int:
    """Close what is idle for so many seconds, and the longest idle of too many; how many."""
    found = sorted(connections_at(port), key=lambda each: each.idle)
    seen: defaultdict[str, int] = defaultdict(int)
    closed = 0
    for number, each in enumerate(found):
        seen[each.source] += 1
        if each.idle > idle or seen[each.source] > of_source or number >= of_all:
            with suppress(OSError):
                each.held.shutdown(socket.SHUT_RDWR)
            closed += 1
        each.held.close()
    return closed


def connections_at(port: int) -> Iterator[Connection]:
    """The connections of this process to this port of its own, each held by one more handle."""
    handles: set[int] = set()
    for number in map(int, os.listdir(OPEN)):
        with suppress(OSError):
            # The handle of the listing is in it, and one of those below may have its number now.
            if number not in handles and stat.S_ISSOCK(os.fstat(number).st_mode):
                # A handle of its own stays the same connection, whatever the server does.
                held = socket.socket(fileno=os.dup(number))
                handles.add(held.fileno())
                found = at_port(held, port)
                if found is None:
                    held.close()
                else:
                    yield found


def at_port(held: socket.socket, port: int) -> Connection | None:
    """The connection, if it is one over TCP to this port; None for every other socket."""
    try:
        if held.family not in {socket.AF_INET, socket.AF_INET6} or held.getsockname()[1] != port:
            return None
        source = str(held.getpeername()[0])
        info = held.getsockopt(socket.IPPROTO_TCP, socket.TCP_INFO, INFO_BYTES)
    except OSError:
        # What listens has nobody at its other end.
        return None
    silent = min(struct.unpack_from("=I", info, at)[0] for at in (LAST_SENT, LAST_RECEIVED))
    return Connection(held, source, silent / 1000)
