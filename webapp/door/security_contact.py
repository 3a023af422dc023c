"""Whom to tell about a security hole: a page, and the file that names it (RFC 9116)."""

from datetime import UTC, datetime, timedelta

from flask import render_template, request
from werkzeug.wrappers import Response

from webapp.door.blueprint import bp

# A reader that kept the file asks again after this; the standard advises less than a year.
GOOD_FOR = timedelta(days=180)


@bp.get("/security")
def security() -> str:
    """How to report a security hole, in the shop or in the program."""
    return render_template("security.html")


@bp.get("/.well-known/security.txt")
def security_txt() -> Response:
    """The same for tools that look for it."""
    site = request.host_url.rstrip("/")
    until = (datetime.now(UTC) + GOOD_FOR).replace(microsecond=0)
    lines = [
        f"Contact: {site}/security",
        f"Policy: {site}/security",
        f"Canonical: {site}/.well-known/security.txt",
        f"Expires: {until.isoformat().replace('+00:00', 'Z')}",
        "Preferred-Languages: en",
    ]
    return Response(
        "".join(f"{line}\n" for line in lines), content_type="text/plain; charset=utf-8"
    )
