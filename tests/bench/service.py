"""The service as it is, with a view of an empty Flask app beside it to measure against."""

from collections.abc import Callable, Iterable
from typing import Any

from flask import Flask

from webapp.network import worker
from webapp.network.asgi_bridge import Bridge

EMPTY = "/bench/empty"


def app() -> Bridge:
    """The service; the empty view is answered by the same server, bridge and threads."""
    bridge = worker.app()
    bridge.app = beside(bridge.app, empty_app().wsgi_app)
    return bridge


def empty_app() -> Flask:
    """A Flask app with one view that answers with an empty text."""
    empty = Flask("empty", static_folder=None)
    empty.add_url_rule(EMPTY, view_func=lambda: "", endpoint="empty")
    return empty


def beside(whole: Callable[..., Iterable[bytes]], empty: Callable[..., Iterable[bytes]]) -> Any:
    """A WSGI app that asks the empty one for its address, and the whole one for all others."""

    def ask(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        return (empty if environ["PATH_INFO"] == EMPTY else whole)(environ, start)

    return ask
