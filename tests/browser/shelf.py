"""A server of the app's static files, in any build, that can be told to answer badly."""

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlsplit

from webapp.phone.compiler.finished import RECKON, finished
from webapp.phone.shell_files import SOURCES

STATIC = Path(__file__).parents[2] / "static"
TYPES = {".js": "text/javascript", ".css": "text/css", ".html": "text/html"}
Answer = tuple[int, dict[str, str], bytes]


class Shelf(ThreadingHTTPServer):
    """Serves the shell as build `build`, and what `spoiled` holds under a path before it."""

    daemon_threads = True

    def __init__(self) -> None:
        """Take a free port of this machine."""
        super().__init__(("127.0.0.1", 0), Handler)
        self.build = "build-a"
        self.spoiled: dict[str, Answer] = {}
        self.asked: list[str] = []

    @property
    def origin(self) -> str:
        """Where the shelf is, by a name that browsers count as secure."""
        return f"http://localhost:{self.server_address[1]}"

    def answer(self, path: str) -> Answer:
        """The status, headers and body for a path."""
        if path in self.spoiled:
            return self.spoiled[path]
        if path == "/sw.js":
            return self.ours(".js", self.worker())
        if path == "/app" or path.startswith("/t/"):
            return self.ours(".html", f"<!doctype html><title>{self.build}</title>".encode())
        return self.asset(path)

    def asset(self, path: str) -> Answer:
        """A file of the shell, which has the same text in every build here."""
        _, shell, _, *rest = [*path.split("/"), "", ""]
        name = "/".join(rest).rstrip("/")
        if name == RECKON:
            return self.ours(".js", finished(SOURCES)[RECKON])
        file = STATIC / name
        if shell != "shell" or not file.is_file():
            return 404, {}, b""
        return self.ours(file.suffix, file.read_bytes())

    def worker(self) -> bytes:
        """The worker's text behind the lines that name this build and its assets."""
        assets = sorted(file.relative_to(STATIC) for file in (STATIC / "js").rglob("*.js"))
        shell = json.dumps([f"/shell/{self.build}/{asset.as_posix()}" for asset in assets])
        head = (
            f"const BUILD = {json.dumps(self.build)};\nconst SHELL = {shell};\nconst LATER = [];\n"
        )
        return head.encode() + (STATIC / "sw.js").read_bytes()

    def ours(self, suffix: str, body: bytes) -> Answer:
        """A good answer of this build."""
        return 200, {"Content-Type": TYPES[suffix], "X-Axlewright-Build": self.build}, body


class Handler(BaseHTTPRequestHandler):
    """Hands requests to the shelf."""

    protocol_version = "HTTP/1.1"
    server: Shelf

    def do_GET(self) -> None:
        """Answer as the shelf says."""
        path = urlsplit(self.path).path
        self.server.asked.append(path)
        status, headers, body = self.server.answer(path)
        self.send_response(status)
        for name, value in {"Cache-Control": "no-cache", **headers}.items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """Stay quiet."""


@contextmanager
def serving(server: ThreadingHTTPServer) -> Iterator[ThreadingHTTPServer]:
    """The server, answering until the end of the block."""
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    try:
        yield server
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
