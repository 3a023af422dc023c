"""A session at the desk for anybody, also for who could not sign in."""

from typing import Any

from flask import Flask, session
from flask.testing import FlaskClient

from webapp.door.sessions import KEY, start_session


def sign_in_as(
    app: Flask, client: FlaskClient, name: str, way: str = "passphrase", **where: str
) -> None:
    """Let the person of this name have a session in this browser, at a `base_url` if need be."""
    people: list[dict[str, Any]] = app.extensions["shoplog"].people()
    with app.test_request_context():
        start_session(next(row for row in people if row["name"] == name), way)
        key = session[KEY]
    with client.session_transaction(**where) as held:
        held.permanent = True
        held[KEY] = key
