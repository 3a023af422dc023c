"""The phone's side of the service: the app's shell, push and pull, the compiled arithmetic."""

from flask import Flask

from webapp.phone import exchange, shell


def init_app(app: Flask) -> None:
    """Serve the shell and exchange entries with phones."""
    shell.init_app(app)
    exchange.init_app(app)
