"""The app's files as they are sent, made from a checkout: compiled, joined and minified."""

import json
import zipfile
from collections.abc import Iterable, Mapping
from functools import lru_cache
from importlib.metadata import version
from io import BytesIO
from pathlib import Path

from webapp.phone.compiler.bundle import RECKON, asked_of_reckon, in_order, joined
from webapp.phone.compiler.compile import compile_module, compile_scope, reckon_texts
from webapp.phone.compiler.disk_cache import kept
from webapp.phone.compiler.glossary import PAGE, glossary_json
from webapp.phone.shell_files import GLOSSARY, PACKED, PACKERS, PER_BUILD, SOURCES

try:
    import minify
except ImportError:  # There is no wheel of it for Apple silicon, where files stay as they are.
    minify = None

HERE = Path(__file__).parent
APP = "js/app.js"
# Where a checkout keeps the whole app as it is sent.
FINISHED = HERE.parents[2] / "build" / "app.zip"
# The compiler that this process runs: its files may change while it does.
COMPILER = [path.read_bytes() for path in sorted(HERE.glob("*.*"))]
MINIFIED = {".css": "text/css", ".js": "text/javascript"}


def finished(static: Path) -> dict[str, bytes]:
    """The app's files as a phone gets them, by name, each also compressed: `js/app.js.br`.

    What comes of the checkout's own sources is kept on the disk, for every process that serves it.
    """
    paths = [path for path in sorted(static.rglob("*")) if path.is_file() and path.name[0] != "."]
    texts = [(path.relative_to(static).as_posix(), path.read_bytes()) for path in paths]
    named = (*texts, (GLOSSARY, glossary_json(PAGE.read_text("utf-8"))))
    if static != SOURCES:
        return dict(made_from(named))
    sources = [part for name, body in named for part in (name.encode(), body)]
    parts = [*sources, *compiled_from(reckon_texts()), version("brotli").encode()]
    return unzipped(kept(FINISHED, parts, lambda: zipped(made_from(named))))


def zipped(files: Mapping[str, bytes]) -> bytes:
    """These files by name in one archive."""
    target = BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name, body in files.items():
            archive.writestr(zipfile.ZipInfo(name), body)
    return target.getvalue()


def unzipped(archive: bytes) -> dict[str, bytes]:
    """The files in such an archive."""
    with zipfile.ZipFile(BytesIO(archive)) as opened:
        return {name: opened.read(name) for name in opened.namelist()}


# A process that starts the service many times over, as the tests do, makes them once.
@lru_cache(maxsize=4)
def made_from(sources: tuple[tuple[str, bytes], ...]) -> dict[str, bytes]:
    """The finished files of these sources, each with its name."""
    scripts = {name: body.decode() for name, body in sources if name.endswith(".js")}
    scripts |= {APP: app_of(scripts), RECKON: reckon_of(scripts)}
    files = {**dict(sources), **{name: text.encode() for name, text in scripts.items()}}
    return with_packed({name: smaller(name, body) for name, body in files.items()})


def with_packed(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """These files by name, and the texts among them compressed in every way that phones take."""
    added = {
        name + ending: PACKERS[coding](body)
        for name, body in files.items()
        if Path(name).suffix in (".css", ".js", ".json", ".svg") and name not in PER_BUILD
        for coding, ending in PACKED.items()
    }
    return {**files, **added}


def smaller(name: str, body: bytes) -> bytes:
    """A script or stylesheet without what only its readers need; anything else as it is."""
    kind = MINIFIED.get(Path(name).suffix)
    return minify.string(kind, body.decode()).encode() if kind and minify else body


def app_of(scripts: Mapping[str, str]) -> str:
    """The app's modules, by path, as one script with what they ask of the arithmetic."""
    asked = asked_by(scripts, in_order(scripts, APP))
    return joined(scripts, APP, compile_scope(reckon_texts(), asked))


def reckon_of(scripts: Mapping[str, str]) -> str:
    """What all these modules, by path, ask of the arithmetic, as one ES module.

    What only the service or the command line uses, no script asks for, and nobody has to fetch.
    """
    return compile_module(reckon_texts(), asked_by(scripts, scripts))


def asked_by(scripts: Mapping[str, str], names: Iterable[str]) -> set[tuple[str, str]]:
    """What the modules of these names ask of the arithmetic."""
    return {each for name in names for each in asked_of_reckon(name, scripts[name])}


def compiled_from(texts: Mapping[str, str]) -> list[bytes]:
    """All that decides what these modules become in JavaScript: they and their compiler."""
    return [*COMPILER, json.dumps(texts, sort_keys=True).encode()]
