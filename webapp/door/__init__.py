"""The door: who is asking, and what they may do. Sessions for the desk, credentials for phones."""

from flask import Flask

from webapp.door import (
    compression,
    demo,
    guard,
    headers,
    link_pages,
    pages,
    pairing,
    passkey_sign_in,
    passphrases,
    refusals,
    secret_key,
    security_contact,
    sign_in,
)
from webapp.door.blueprint import bp
from webapp.door.csrf import HiddenTokens
from webapp.door.current import the_log
from webapp.door.passkeys import Used
from webapp.door.sessions import LASTS, current_person
from webapp.door.throttle import Throttle

csrf = HiddenTokens()


def init_app(app: Flask) -> None:
    """Put the door before every other part of the service."""
    log = app.extensions["shoplog"]
    over_tls = str(app.config.get("ADDRESS") or "").startswith("https:")
    *before, key = secret_key.keys_of(log)
    app.config.setdefault("SCRYPT_N", passphrases.SCRYPT_N)
    app.config.from_mapping(
        SECRET_KEY=key,
        SECRET_KEY_FALLBACKS=before,
        # A list, oldest first: what forms carry may be signed with any key that counts.
        WTF_CSRF_SECRET_KEY=[*before, key],
        # With this prefix browsers take the cookie from nobody but this very host, over TLS.
        SESSION_COOKIE_NAME="__Host-axlewright" if over_tls else "axlewright",
        SESSION_COOKIE_SECURE=over_tls,
        PERMANENT_SESSION_LIFETIME=LASTS,
        SESSION_REFRESH_EACH_REQUEST=False,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        # A form may lie open for a whole day; the session says how long its token counts.
        WTF_CSRF_TIME_LIMIT=None,
        # The guard looks at where a request comes from, over http too.
        WTF_CSRF_SSL_STRICT=False,
    )
    # Joining doubled slashes would redirect to whatever host the request named.
    app.url_map.merge_slashes = False
    app.before_request(guard.let_in)
    app.after_request(headers.add_headers)
    app.after_request(compression.pack)
    refusals.init_app(app)
    csrf.init_app(app)
    csrf.exempt(pairing.pair)
    app.extensions["throttle"] = Throttle()
    app.extensions["used_challenges"] = Used()
    app.register_blueprint(bp)


__all__ = [
    "csrf",
    "current_person",
    "demo",
    "init_app",
    "link_pages",
    "pages",
    "passkey_sign_in",
    "security_contact",
    "sign_in",
    "the_log",
]
