"""The phone's side of the service: the app's shell, push and pull, the compiled arithmetic."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flask import Flask


def init_app(app: "Flask") -> None:
    """Serve the shell, exchange entries with phones, take their photos and read their tags."""
    # Fetched here so that the compiler gets by without Flask where a wheel is built.
    from webapp.phone import exchange, photos, shell_routes, tag_pictures

    shell_routes.init_app(app)
    exchange.init_app(app)
    photos.init_app(app)
    tag_pictures.init_app(app)
