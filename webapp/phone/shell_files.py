"""The app's files in memory: compressed once, and named by one build id over all of them."""

import gzip
import hashlib
import json
from collections.abc import Callable, Mapping
from functools import cached_property, lru_cache
from pathlib import Path
from typing import NamedTuple

import brotli

HERE = Path(__file__).parent
BUILT = HERE.parent / "static"
SOURCES = HERE.parents[1] / "static"
APP = "js/app.js"
# What a phone fetches once the app stands: nobody needs it to begin.
GLOSSARY = "glossary.json"
TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
}


# Ways to compress, the best first.
PACKERS: Mapping[str, Callable[[bytes], bytes]] = {
    "br": lambda body: bytes(brotli.compress(body, quality=11)),
    "gzip": lambda body: gzip.compress(body, 9, mtime=0),
}


# The files that are sent with the build in them.
PER_BUILD = ("sw.js", "manifest.webmanifest")
# What a compressed file's name ends with.
PACKED = {"br": ".br", "gzip": ".gz"}


class Asset(NamedTuple):
    """One file ready to be sent, also compressed where it was compressed beforehand."""

    body: bytes
    type: str
    etag: str
    packed: Mapping[str, bytes]


def asset(name: str, body: bytes, packed: Mapping[str, bytes] | None = None) -> Asset:
    """The file under this name with its content type."""
    kind = TYPES.get(Path(name).suffix, "application/octet-stream")
    return Asset(body, kind, hashlib.sha256(body).hexdigest()[:24], packed or {})


@lru_cache(maxsize=1024)
def packed(body: bytes, coding: str) -> bytes:
    """A body compressed, once a process."""
    return PACKERS[coding](body)


class Shell:
    """Everything the app is made of, under one build id; nothing of it changes while it runs."""

    def __init__(self, static: Path) -> None:
        """Gather the files of `static`, as `static_folder` gives it."""
        files = finished_files(static)
        self.files = {name: body for name, body in files.items() if not _is_packed(name)}
        self.packed = {name: body for name, body in files.items() if _is_packed(name)}
        self.page_text = (HERE / "shell.html").read_text("utf-8")
        self.worker_text, self.manifest_text = (self.files.pop(name).decode() for name in PER_BUILD)

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
        return {name: asset(name, body, self._forms(name)) for name, body in self.files.items()}

    def _forms(self, name: str) -> dict[str, bytes]:
        """A file as it was compressed beforehand, by coding."""
        named = {coding: name + ending for coding, ending in PACKED.items()}
        return {coding: self.packed[form] for coding, form in named.items() if form in self.packed}

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
        lists = {"BUILD": self.build, "SHELL": kept, "LATER": [self.url(GLOSSARY)]}
        head = [f"const {name} = {json.dumps(value)};\n" for name, value in lists.items()]
        return asset("sw.js", ("".join(head) + self.worker_text).encode())

    def _built(self, text: str) -> bytes:
        return text.replace("/shell/BUILD/", f"/shell/{self.build}/").encode()


def finished_files(static: Path) -> dict[str, bytes]:
    """The app's files by name: those that were built into the package, or made from a checkout."""
    if static != BUILT:
        # Fetched here because an installed package has no compiler.
        from webapp.phone.compiler.finished import finished

        return finished(static)
    paths = [path for path in BUILT.rglob("*") if path.is_file()]
    return {path.relative_to(BUILT).as_posix(): path.read_bytes() for path in paths}


def _is_packed(name: str) -> bool:
    """Whether this is another file, compressed."""
    return name.endswith(tuple(PACKED.values()))


def _is_for_phones(name: str) -> bool:
    """Whether the app needs the file offline: not the desk's, nor icons only the launcher shows.

    Its modules are all in the script that begins it.
    """
    if name.endswith(".js"):
        return name == APP
    if name == GLOSSARY:
        return False
    return not name.endswith(".png") and Path(name).stem not in ("desk", "print")


def static_folder() -> Path:
    """Where the app's files are: finished in the package when installed, else their sources."""
    return BUILT if BUILT.is_dir() else SOURCES
