"""The process that answers: the app of one shop or demo, as the process that started it says."""

import atexit
import json
import logging
import multiprocessing
import os
import sys
import threading
from functools import partial

from webapp import create_app
from webapp.door.credentials import is_known
from webapp.network import idle_connections
from webapp.network.asgi_bridge import Bridge, requests
from webapp.network.serving import PORT, SERVED


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
