"""The phone's side of the service: the app's shell, push and pull, the compiled arithmetic."""

from flask import Flask

from webapp.phone import exchange, photos, shell


def init_app(app: Flask) -> None:
    """Serve the shell, exchange entries with phones, and take their photos."""
    shell.init_app(app)
    exchange.init_app(app)
    photos.init_app(app)
