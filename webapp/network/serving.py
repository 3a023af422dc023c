"""Serving the app over the network: one process that writes, eight threads that answer."""

import atexit
import json
import logging
import multiprocessing
import os
import sys
import threading
import time
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from granian import Granian
from granian.constants import Interfaces, SSLProtocols
from granian.http import HTTP1Settings, HTTP2Settings
from granian.log import LogLevels

from webapp import create_app
from webapp.door.credentials import is_known
from webapp.network import idle_connections
from webapp.network.asgi_bridge import Bridge, requests
from webapp.shoplog.connection import fold_in

SERVED = "AXLEWRIGHT_SERVED"
PORT = "AXLEWRIGHT_SERVED_PORT"
TARGET = "webapp.network.serving:app"
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


def app() -> Bridge:
    """The service as the process that started this one describes it."""
    given = json.loads(os.environ[SERVED])
    stop_with_parent()
    atexit.register(leave_at_once)
    if given.get("LOG"):
        log_requests()
    service = create_app(given)
    threading.Thread(target=service.extensions["quick_check"].run, daemon=True).start()
    idle_connections.watch(int(os.environ[PORT]))
    return Bridge(service.wsgi_app, partial(is_known, service.extensions["shoplog"]))


def leave_at_once() -> None:
    """End this process with its work done, without taking Python down under the server's threads.

    A thread of the server that comes back to a Python that is being taken down aborts the process
    (before Python 3.14; see PyO3 pull request 4874). Every answer that was given is on the disk.
    """
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(0)


def stop_with_parent() -> None:
    """End this process when the one that started it is gone, so that the folder is free again."""
    parent = multiprocessing.parent_process()
    if parent is not None:

        def watch() -> None:
            parent.join()
            os._exit(1)

        threading.Thread(target=watch, daemon=True).start()


def log_requests() -> None:
    """Write one line a request to standard error."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
    requests.addHandler(handler)
    requests.setLevel(logging.INFO)
    requests.propagate = False


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
