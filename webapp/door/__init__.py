"""The door: who is asking, and what they may do. Sessions for the desk, credentials for phones."""

import secrets

from flask import Flask
from flask_wtf.csrf import CSRFProtect

from webapp.door import guard, pages, refusals
from webapp.door.here import current_person, the_log

csrf = CSRFProtect()


def init_app(app: Flask) -> None:
    """Put the door before every other part of the service."""
    log = app.extensions["shoplog"]
    app.config.from_mapping(
        SECRET_KEY=log.fact_or_make("secret_key", lambda: secrets.token_hex(32)),
        SESSION_COOKIE_NAME="axlewright",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        # A form may lie open for a whole day; the session says how long its token counts.
        WTF_CSRF_TIME_LIMIT=None,
        # The guard looks at where a request comes from, over http too.
        WTF_CSRF_SSL_STRICT=False,
    )
    app.before_request(guard.let_in)
    app.after_request(guard.add_headers)
    refusals.init_app(app)
    csrf.init_app(app)
    csrf.exempt(pages.pair)
    app.register_blueprint(pages.bp)


__all__ = ["csrf", "current_person", "init_app", "the_log"]
