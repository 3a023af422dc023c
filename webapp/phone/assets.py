"""The app's files in memory: compressed once, and named by one build id over all of them."""

import gzip
import hashlib
import json
from functools import cache, cached_property
from pathlib import Path
from typing import NamedTuple

from webapp.phone.compile import compile_module, reckon_texts

HERE = Path(__file__).parent
KEPT = frozenset({"js", "css", "icons"})
TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
}


class Asset(NamedTuple):
    """One file ready to be sent."""

    body: bytes
    packed: bytes
    type: str
    etag: str


def asset(name: str, body: bytes) -> Asset:
    """The file under this name, with its compressed form and its content type."""
    kind = TYPES.get(Path(name).suffix, "application/octet-stream")
    packed = gzip.compress(body, 9, mtime=0)
    return Asset(body, packed, kind, hashlib.sha256(body).hexdigest()[:24])


class Shell:
    """Everything the app is made of, under one build id; nothing of it changes while it runs."""

    def __init__(self, static: Path) -> None:
        """Gather the files of `static` and the compiled arithmetic."""
        self.files = _files(static)
        self.page_text = (HERE / "shell.html").read_text("utf-8")
        self.worker_text = _text(static / "sw.js")
        self.manifest_text = _text(static / "manifest.webmanifest")

    @cached_property
    def build(self) -> str:
        """Twelve hex digits that change with anything in the shell."""
        digest = hashlib.sha256()
        texts = [self.page_text, self.worker_text, self.manifest_text]
        named = [(str(number), text.encode()) for number, text in enumerate(texts)]
        for name, body in [*named, *sorted(self.files.items())]:
            digest.update(f"{name} {len(body)}\n".encode() + body)
        return digest.hexdigest()[:12]

    def url(self, name: str) -> str:
        """Where a file, such as `css/app.css`, is to be fetched in this build."""
        return f"/shell/{self.build}/{name}"

    @cached_property
    def assets(self) -> dict[str, Asset]:
        """The files under /shell/<build>/."""
        return {name: asset(name, body) for name, body in self.files.items()}

    @cached_property
    def page(self) -> Asset:
        """The page of the app."""
        return asset("app.html", self._built(self.page_text))

    @cached_property
    def manifest(self) -> Asset:
        """The web app manifest."""
        return asset("manifest.webmanifest", self._built(self.manifest_text))

    @cached_property
    def worker(self) -> Asset:
        """The service worker, told its build and the files to keep."""
        kept = [self.url(name) for name in sorted(self.files) if _is_for_phones(name)]
        head = f"const BUILD = {json.dumps(self.build)};\nconst SHELL = {json.dumps(kept)};\n"
        return asset("sw.js", (head + self.worker_text).encode())

    def _built(self, text: str) -> bytes:
        return text.replace("/shell/BUILD/", f"/shell/{self.build}/").encode()


def _files(static: Path) -> dict[str, bytes]:
    paths = [path for path in sorted(static.rglob("*")) if path.suffix in TYPES]
    named = {path.relative_to(static).as_posix(): path for path in paths}
    files = {name: path.read_bytes() for name, path in named.items() if name.split("/")[0] in KEPT}
    return {**files, "js/reckon.js": compiled_reckon()}


def _is_for_phones(name: str) -> bool:
    """Whether the app needs the file offline: not the desk's, nor icons only the launcher shows."""
    return "desk" not in name and not name.endswith(".png")


def _text(path: Path) -> str:
    return path.read_text("utf-8")


@cache
def compiled_reckon() -> bytes:
    """The arithmetic as one ES module; compiled once a process."""
    return compile_module(reckon_texts()).encode()


def static_folder() -> Path:
    """Where the app's files are: inside the package when installed, beside it in a checkout."""
    package = HERE.parent
    installed = package / "static"
    return installed if installed.is_dir() else package.parent / "static"
