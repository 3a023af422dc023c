"""Pages that are made for one person, compressed on their way out where the browser takes that.

What compression could give away of a page is said where its forms' tokens are hidden.
"""

import gzip
from collections.abc import Callable, Mapping

import brotli
from flask import Response, request

# Quick ones: a page is packed each time, and on a shop network more effort saves nothing.
PACKERS: Mapping[str, Callable[[bytes], bytes]] = {
    "br": lambda body: bytes(brotli.compress(body, quality=4)),
    "gzip": lambda body: gzip.compress(body, 4, mtime=0),
}
# What fits a packet or two is not worth it.
LEAST_BYTES = 1400


def pack(response: Response) -> Response:
    """The answer, compressed where it is a page and the browser takes it so."""
    if response.mimetype != "text/html" or "Content-Encoding" in response.headers:
        return response
    response.vary.add("Accept-Encoding")
    coding = next((name for name in PACKERS if request.accept_encodings[name] > 0), None)
    if coding and not response.is_streamed and len(response.get_data()) >= LEAST_BYTES:
        response.set_data(PACKERS[coding](response.get_data()))
        response.headers["Content-Encoding"] = coding
    return response
