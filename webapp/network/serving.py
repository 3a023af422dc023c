"""Serving the app over the network: one process that writes, eight threads that answer.

That process is started by this one, which only watches over it and loads nothing of the app.
"""

import json
import logging
import multiprocessing
import os
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from granian import Granian
from granian.constants import Interfaces, SSLProtocols
from granian.http import HTTP1Settings, HTTP2Settings
from granian.log import LogLevels

SERVED = "AXLEWRIGHT_SERVED"
PORT = "AXLEWRIGHT_SERVED_PORT"
TARGET = "webapp.network.worker:app"
KILL_AFTER = 10
# A worker that ran for so long has not failed in a row with the one before.
STEADY_SECONDS = 60.0
LONGEST_PAUSE = 30.0

log = logging.getLogger("axlewright")

# What the server itself has to say goes where the requests go: to standard error.
LOGS = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "%(asctime)s %(message)s"}},
    "handlers": {"err": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "loggers": {"_granian": {"handlers": ["err"], "level": "ERROR", "propagate": False}},
}


class Keys(NamedTuple):
    """The files with the certificate that the service shows and with its key (PKCS#8)."""

    certificate: Path
    key: Path


def describe(config: Mapping[str, Any]) -> None:
    """Tell every worker that starts from here on what to serve."""
    os.environ[SERVED] = json.dumps(config, default=str)


def serve(
    config: Mapping[str, Any],
    host: str,
    port: int,
    *,
    keys: Keys | None = None,
    target: str = TARGET,
    when_up: Callable[[Callable[[], None]], None] | None = None,
) -> None:
    """Serve the app of this configuration until the process is told to stop by SIGINT or SIGTERM.

    With `LOG` in it there is one line a request on standard error.
    `when_up` is called once it listens, with what makes the service load its certificate anew.
    """
    describe(config)
    os.environ[PORT] = str(port)
    # A fresh process shares no locks with the threads of this one.
    multiprocessing.set_start_method("spawn", force=True)
    server = server_of(host, port, keys, target)
    # The log has one writer: the worker at work goes before its successor opens the folder.
    server.on_reload(lambda: end_workers(server))
    if when_up is not None:
        server.on_startup(lambda: when_up(server.signal_handler_reload))
    try:
        server.serve()
    finally:
        from webapp.shoplog.connection import fold_in

        # The worker is gone: whoever copies the one file from here on has every line.
        fold_in(Path(config["DATA"]))


def server_of(host: str, port: int, keys: Keys | None, target: str) -> Granian:
    """The server, ready to be started."""
    return Lasting(
        target,
        factory=True,
        address=host,
        port=port,
        interface=Interfaces.ASGINL,
        # The log has one writer, so there is one process; it comes back when it dies.
        workers=1,
        respawn_failed_workers=True,
        respawn_interval=0.0,
        workers_kill_timeout=KILL_AFTER,
        websockets=False,
        http1_settings=HTTP1Settings(header_read_timeout=10_000),
        # A phone that went out of range stops answering these, and its connection is closed.
        http2_settings=HTTP2Settings(keep_alive_interval=20_000, keep_alive_timeout=20),
        ssl_cert=keys.certificate if keys else None,
        ssl_key=keys.key if keys else None,
        ssl_protocol_min=SSLProtocols.tls12,
        log_level=LogLevels.error,
        log_dictconfig=LOGS,
    )


class Lasting(Granian):  # type: ignore[misc]
    """The server, which starts a worker that keeps stopping again, ever later, and never gives up.

    By itself it ends when a worker stops twice within seconds (`_serve_loop` of
    granian.server.common), which would leave the shop without its log until somebody comes.
    """

    failures = 0

    def _respawn_workers(self, workers: list[int], *given: Any, **more: Any) -> None:
        died = [self.wrks[each] for each in workers if not self.wrks[each].interrupt_by_parent]
        if died:
            lived = time.monotonic() - min(worker.birth for worker in died)
            self.failures = 1 if lived > STEADY_SECONDS else self.failures + 1
            pause = pause_after(self.failures)
            log.error("The service stopped by itself and starts again in %s seconds.", pause)
            # A request to stop ends the pause.
            self.main_loop_interrupt.wait(pause)
        super()._respawn_workers(workers, *given, **more)
        self.respawned_wrks.clear()


def pause_after(failures: int) -> float:
    """How many seconds to wait before a worker is started that stopped so often in a row."""
    return min(LONGEST_PAUSE, 0.0 if failures < 2 else 0.5 * 2.0 ** (failures - 2))


def end_workers(server: Any) -> None:
    """End the workers gracefully, or in the end abruptly."""
    for worker in server.wrks:
        worker.terminate()
        worker.join(KILL_AFTER)
        if worker.is_alive():
            worker.kill()
