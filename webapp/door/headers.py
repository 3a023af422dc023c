"""The headers of every answer, which keep other sites and stray scripts out of it."""

from flask import Response

POLICY = (
    "default-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; "
    "form-action 'self'; img-src 'self' data: blob:"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), microphone=(), geolocation=(), payment=()",
}


def add_headers(response: Response) -> Response:
    """The answer with these headers, where it has none of its own."""
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if "Cache-Control" not in response.headers:
        response.headers["Cache-Control"] = "no-store"
    return response
