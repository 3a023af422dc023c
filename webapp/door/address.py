"""The one address at which this shop lives.

A phone keeps what it holds by address: a second one would be a second, empty app beside the first.
"""

from urllib.parse import urlsplit

from flask import Response, current_app, render_template, request

from webapp.door.refusals import refuse

# Monitors and the check of trust may ask by any name. A phone that was left under an old address
# may hand over what it holds, as it proves who it is; it is shown nothing there.
ANY_ADDRESS = {"door.health", "door.trusted", "exchange.push", "exchange.hand_back", "photos.take"}
FILES = {"shell.asset"}


def canonical() -> str:
    """The shop's address, as in `https://shop.local:8700`; the one asked for where none is set."""
    return str(current_app.config.get("ADDRESS") or request.host_url).rstrip("/")


def is_here() -> bool:
    """Whether the request came to the shop's own address."""
    return request.host.lower() == urlsplit(canonical()).netloc.lower()


def lead_there() -> Response | None:
    """Where the shop lives, for a request that came to another address; otherwise None."""
    if is_here() or request.endpoint in ANY_ADDRESS | FILES:
        return None
    if request.endpoint == "door.pair" or request.path.startswith("/log/"):
        refuse(421, "other_address", f"This shop is at {canonical()}. Open it there.")
    return Response(render_template("elsewhere.html", address=canonical()), 421)
