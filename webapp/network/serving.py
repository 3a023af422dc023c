"""Serving the app over the network: one process that writes, eight threads that answer."""

import os
from pathlib import Path

from flask import Flask
from granian import Granian
from granian.constants import Interfaces
from granian.log import LogLevels

from webapp import create_app

DATA = "AXLEWRIGHT_DATA"
DEMO = "AXLEWRIGHT_DEMO"
TARGET = "webapp.network.serving:app"


def app() -> Flask:
    """The service on the data folder that the environment names."""
    return create_app({"DATA": os.environ[DATA], "DEMO": os.environ.get(DEMO) == "yes"})


def serve(folder: Path, host: str, port: int, *, demo: bool = False, target: str = TARGET) -> None:
    """Serve the log in `folder` until the process is told to stop by SIGINT or SIGTERM."""
    os.environ[DATA] = str(folder)
    os.environ[DEMO] = "yes" if demo else "no"
    server = Granian(
        target,
        factory=True,
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        # The log has one writer, so there is one process; it comes back when it dies.
        workers=1,
        respawn_failed_workers=True,
        workers_kill_timeout=10,
        blocking_threads=8,
        log_level=LogLevels.error,
    )
    server.serve()
