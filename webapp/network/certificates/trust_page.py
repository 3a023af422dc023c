"""The page "trust this shop", over plain HTTP on a port of its own; it serves nothing else.

A phone that does not trust the shop yet cannot be told how over HTTPS.
"""

import plistlib
import threading
import uuid
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

from cryptography.hazmat.primitives import serialization
from jinja2 import Environment

from webapp.network.certificates.authority import common_name, fingerprint
from webapp.network.certificates.keyring import read
from webapp.network.ports import family_of, in_address

MAX_AT_ONCE = 24
PATIENCE = 10.0
PROFILE = "application/x-apple-aspen-config"
CERTIFICATE = "application/x-x509-ca-cert"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'; connect-src {origins}"
)


class Sent(NamedTuple):
    """What is sent for one path."""

    type: str
    body: bytes


class Trust(ThreadingHTTPServer):
    """Serves the page until it is closed."""

    daemon_threads = True
    allow_reuse_address = True

    def __init__(self, host: str, port: int, pages: dict[str, Sent], policy: str) -> None:
        """Listen; every path that `pages` does not name is refused."""
        self.pages = pages
        self.policy = policy
        self.places = threading.BoundedSemaphore(MAX_AT_ONCE)
        self.address_family = family_of(host)
        super().__init__((host, port), Handler)

    def start(self) -> None:
        """Answer beside this thread."""
        threading.Thread(target=self.serve_forever, daemon=True).start()

    def process_request(self, request, client_address) -> None:  # type: ignore[no-untyped-def]
        """Answer on a thread of its own, or hang up while too many are being answered."""
        if self.places.acquire(blocking=False):
            super().process_request(request, client_address)
        else:
            self.shutdown_request(request)

    def process_request_thread(self, request, client_address) -> None:  # type: ignore[no-untyped-def]
        """Answer, and make room for the next."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self.places.release()

    def handle_error(self, *_: object) -> None:
        """Nothing: a phone that hangs up is no news."""


class Handler(BaseHTTPRequestHandler):
    """Answers one request."""

    timeout = PATIENCE
    server: Trust
    server_version = "Axlewright"
    sys_version = ""

    def do_GET(self) -> None:
        """The page, one of its files, or 404."""
        found = self.server.pages.get(self.path.partition("?")[0])
        self.send_response(404 if found is None else 200)
        answer = found or Sent("text/plain; charset=utf-8", b"There is nothing at this address.\n")
        self.send_header("Content-Type", answer.type)
        self.send_header("Content-Length", str(len(answer.body)))
        self.send_header("Content-Security-Policy", self.server.policy)
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        self.wfile.write(answer.body)

    def log_message(self, *_: object) -> None:
        """Nothing: who looks at this page is of no interest."""


def trust_server(host: str, port: int, address: str, shop: str, authority: Path) -> Trust:
    """A server of the page for the shop at `address`, whose authority's certificate is given."""
    named = f"http://{in_address(urlsplit(address).hostname or '')}:{port}/here"
    policy = POLICY.format(origins=f"{address} {named}")
    return Trust(host, port, pages_of(address, named, shop, authority), policy)


def pages_of(address: str, named: str, shop: str, authority: Path) -> dict[str, Sent]:
    """Everything that is served, by path."""
    certificate = read(authority)
    shown = fingerprint(certificate)
    texts = {name: own_text(name) for name in ("trust.html", "trust.css", "trust.js")}
    page = Environment(autoescape=True).from_string(texts["trust.html"])
    html = page.render(address=address, named=named, shop=shop, fingerprint=shown)
    der = certificate.public_bytes(serialization.Encoding.DER)
    return {
        "/": Sent("text/html; charset=utf-8", html.encode()),
        "/here": Sent("text/plain; charset=utf-8", b"here\n"),
        "/trust.css": Sent("text/css; charset=utf-8", texts["trust.css"].encode()),
        "/trust.js": Sent("text/javascript; charset=utf-8", texts["trust.js"].encode()),
        "/axlewright-authority.crt": Sent(CERTIFICATE, authority.read_bytes()),
        "/axlewright.mobileconfig": Sent(PROFILE, profile(shop, der)),
    }


def own_text(name: str) -> str:
    """One of the files beside this module."""
    return files("webapp.network").joinpath("pages", name).read_text("utf-8")


def profile(shop: str, der: bytes) -> bytes:
    """A configuration profile that offers an iPhone the authority's certificate."""
    name = common_name(shop)
    # The same certificate makes the same profile, so that installing it twice leaves one.
    made = uuid.uuid5(uuid.NAMESPACE_OID, der.hex())
    inner = {
        "PayloadType": "com.apple.security.root",
        "PayloadVersion": 1,
        "PayloadIdentifier": f"local.axlewright.authority.{made}",
        "PayloadUUID": str(made).upper(),
        "PayloadDisplayName": name,
        "PayloadCertificateFileName": "axlewright-authority.cer",
        "PayloadContent": der,
    }
    outer = {
        "PayloadType": "Configuration",
        "PayloadVersion": 1,
        "PayloadIdentifier": f"local.axlewright.trust.{made}",
        "PayloadUUID": str(uuid.uuid5(made, "profile")).upper(),
        "PayloadDisplayName": f"Trust {name}",
        "PayloadDescription": "Lets this phone trust the shop's own computer.",
        "PayloadContent": [inner],
    }
    return plistlib.dumps(outer)
