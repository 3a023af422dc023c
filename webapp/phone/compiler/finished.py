"""The app's files as they are sent, made from a checkout: compiled, joined and minified."""

import json
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.metadata import version
from pathlib import Path

from webapp.phone.compiler.bundle import joined, taken_from
from webapp.phone.compiler.compile import compile_module, reckon_texts, with_imports
from webapp.phone.compiler.disk_cache import kept

try:
    import minify
except ImportError:  # There is no wheel of it for Apple silicon, where files stay as they are.
    minify = None

HERE = Path(__file__).parent
APP = "js/app.js"
RECKON = "js/reckon.js"
# Where a checkout keeps the compiled arithmetic.
COMPILED = HERE.parents[2] / "build" / "reckon"
# The compiler that this process runs: its files may change while it does.
COMPILER = [path.read_bytes() for path in sorted(HERE.glob("*.*"))]
MINIFIED = {".css": "text/css", ".js": "text/javascript"}


def finished(static: Path) -> dict[str, bytes]:
    """Every file of `static` and the arithmetic as a phone gets them, by name: `js/app.js`."""
    paths = [path for path in sorted(static.rglob("*")) if path.is_file() and path.name[0] != "."]
    named = ((path.relative_to(static).as_posix(), path.read_bytes()) for path in paths)
    return dict(made_from(tuple(named)))


# A process that starts the service many times over, as the tests do, makes them once.
@lru_cache(maxsize=4)
def made_from(sources: tuple[tuple[str, bytes], ...]) -> dict[str, bytes]:
    """The finished files of these sources, each with its name."""
    scripts = {name: body.decode() for name, body in sources if name.endswith(".js")}
    scripts[RECKON] = compiled(frozenset(taken_from(RECKON, scripts)))
    scripts[APP] = joined(scripts, APP)
    files = {**dict(sources), **{name: text.encode() for name, text in scripts.items()}}
    return {name: smaller(name, body) for name, body in files.items()}


def smaller(name: str, body: bytes) -> bytes:
    """A script or stylesheet without what only its readers need; anything else as it is."""
    kind = MINIFIED.get(Path(name).suffix)
    return minify.string(kind, body.decode()).encode() if kind and minify else body


@cache
def compiled(asked: frozenset[str]) -> str:
    """These modules of the arithmetic, and what they import, as one ES module.

    They are compiled when their sources or the compiler changed. What only the desk or the command
    line uses, no script asks for, and no phone has to fetch.
    """
    texts = with_imports(reckon_texts(), asked)
    return kept(COMPILED, compiled_from(texts), lambda: compile_module(texts).encode()).decode()


def compiled_from(texts: Mapping[str, str]) -> list[bytes]:
    """All that decides what these modules become in JavaScript: they and their compiler."""
    return [*COMPILER, version("pscript").encode(), json.dumps(texts, sort_keys=True).encode()]
