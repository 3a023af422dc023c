"""The token of a form, hidden anew on every page that holds it.

A page is sent compressed, and that is the shorter the more of it repeats. Whoever sees how long
pages are, and has text of their own put in them as a search does, could otherwise guess at a secret
in them letter by letter (the attack called BREACH). So each page hides its token under random bytes
which it carries along: nothing of it is the same on the next page, and no guess can be confirmed.
The other secrets of pages, a pairing's code and the link for a passphrase, only answer a form with
such a token, and each is new every time.
"""

import base64
import binascii
import secrets

from flask import Flask, g
from flask_wtf.csrf import CSRFProtect, generate_csrf


class HiddenTokens(CSRFProtect):  # type: ignore[misc] # flask_wtf carries no types
    """The check of the forms' tokens, which takes them as pages hide them."""

    def init_app(self, app: Flask) -> None:
        """Check every form, and let pages hide the token."""
        super().init_app(app)
        app.jinja_env.globals["csrf_token"] = hidden_token
        app.context_processor(lambda: {"csrf_token": hidden_token})

    def _get_csrf_token(self) -> str:
        return unmask(super()._get_csrf_token() or "")


def hidden_token() -> str:
    """This page's token, hidden in one way all through the page, so that its forms pack well."""
    if "hidden_token" not in g:
        g.hidden_token = mask(generate_csrf())
    found: str = g.hidden_token
    return found


def mask(token: str) -> str:
    """A token under random bytes as long as itself, behind those bytes."""
    cover = secrets.token_bytes(len(token))
    return base64.urlsafe_b64encode(cover + xor(cover, token.encode())).decode()


def unmask(text: str) -> str:
    """The token that a page hid in this text; an empty one for anything that no page wrote."""
    try:
        both = base64.urlsafe_b64decode(text)
        middle = len(both) // 2
        return xor(both[:middle], both[middle:]).decode("ascii")
    except (binascii.Error, ValueError):
        return ""


def xor(cover: bytes, token: bytes) -> bytes:
    """The token with each of its bytes changed by one of the cover; the same again undoes it."""
    return bytes(a ^ b for a, b in zip(cover, token, strict=True))
