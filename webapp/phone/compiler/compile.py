"""The arithmetic as one JavaScript module, compiled from the Python that the server runs."""

import ast
from collections.abc import Iterable, Mapping
from graphlib import TopologicalSorter
from pathlib import Path
from typing import Any

from pscript import Parser, commonast
from pscript.parser0 import unify
from pscript.stdlib import get_partial_std_lib

from webapp.phone.compiler.sources import Source, is_alias, read_sources
from webapp.phone.compiler.subset import refusals

HERE = Path(__file__).parent
RECKON = HERE.parents[1] / "reckon"
OWN_HELPERS = {"truthy"}  # pymath.js has one that knows dicts with a key `length`
HEADER = "// Compiled from webapp/reckon; do not edit.\n"


class OutsideDialect(ValueError):
    """Modules that the phone would answer differently; the text names each place."""


class NoSuchModule(LookupError):
    """A script asks for a module that the arithmetic does not have; the text names it."""


def reckon_texts() -> dict[str, str]:
    """The arithmetic's modules, name to source text."""
    paths = sorted(path for path in RECKON.rglob("*.py") if path.stem != "__init__")
    return {path.stem: path.read_text("utf-8") for path in paths}


def with_imports(texts: Mapping[str, str], names: Iterable[str]) -> dict[str, str]:
    """Those of the modules (name to text) that are named, with all that they import."""
    sources = read_sources(texts)
    needed: set[str] = set()
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name not in sources:
            raise NoSuchModule(f"A script imports {name}, which is no module of the arithmetic.")
        if name not in needed:
            needed.add(name)
            waiting += _needs(sources[name])
    return {name: text for name, text in texts.items() if name in needed}


def compile_module(texts: Mapping[str, str]) -> str:
    """One ES module that exports each Python module (name to text) as an object of functions."""
    exports = ", ".join(f"${name} as {name}" for name in sorted(texts))
    return f"{HEADER}{_closures(texts)}export {{ {exports} }};\n"


def compile_script(texts: Mapping[str, str]) -> str:
    """The same as a plain script that sets `reckon`, for an engine that knows no modules."""
    members = ", ".join(f"{name}: ${name}" for name in sorted(texts))
    body = f'"use strict";\n{_closures(texts)}return {{ {members} }};'
    return f"{HEADER}var reckon = (() => {{\n{body}\n}})();\n"


def _closures(texts: Mapping[str, str]) -> str:
    """The shim, PScript's helpers once, and each module in a closure of its own."""
    refused = refusals(texts)
    if refused:
        raise OutsideDialect("\n".join(map(str, refused)))
    sources = read_sources(texts)
    translations = {name: _compiled(sources[name]) for name in _order(sources)}
    wrapped = [_wrapped(sources[name], done) for name, done in translations.items()]
    shim = (HERE / "pymath.js").read_text("utf-8")
    return "".join([shim, _helpers(list(translations.values())), *wrapped])


def _order(sources: Mapping[str, Source]) -> list[str]:
    """The modules' names, each after those that it imports."""
    needs = {name: _needs(source) for name, source in sources.items()}
    return list(TopologicalSorter(needs).static_order())


def _needs(source: Source) -> set[str]:
    """The modules that one imports from."""
    return {module for module, _ in source.imports.values()}


def _helpers(translations: list["Translation"]) -> str:
    functions: set[str] = set()
    methods: set[str] = set()
    for translation in translations:
        functions |= translation.helpers()[0]
        methods |= translation.helpers()[1]
    return str(get_partial_std_lib(functions - OWN_HELPERS, methods)) + "\n"


def _compiled(source: Source) -> "Translation":
    """The module's translation, once every name in it is known."""
    translation = Translation(_without_imports(source), docstrings=False, inline_stdlib=False)
    unknown = translation.unknown() - set(source.imports) - {"math"}
    if unknown:
        raise OutsideDialect(f"{source.file}: nothing defines {', '.join(sorted(unknown))}")
    return translation


class Translation(Parser):  # type: ignore[misc] # PScript carries no types
    """PScript's translation of one module and its notes on what the module needs."""

    def parse_Dict(self, node: Any) -> Any:
        """The dict with its keys in quotes: PScript leaves them off a key such as ½ too."""
        keys = node.key_nodes
        if not all(isinstance(key, commonast.Str) for key in keys):
            return super().parse_Dict(node)
        pairs = zip(keys, node.value_nodes, strict=True)
        texts = (
            "".join(self.parse(key)) + ": " + "".join(self.parse(value)) for key, value in pairs
        )
        return [f"({{{', '.join(texts)}}})"]

    def parse_JoinedStr(self, node: Any) -> Any:
        """The f-string as a sum of texts: PScript's own writes them into a pattern at run time."""
        parts = [unify(self.parse(getattr(each, "value_node", each))) for each in node.value_nodes]
        # The empty text first: two numbers side by side are written down, and not added.
        return ["(", " + ".join(['""', *parts]), ")"]

    def defined(self) -> list[str]:
        """The public names that the module defines."""
        return sorted(name for name in self.vars.get_defined() if not name.startswith("_"))

    def unknown(self) -> set[str]:
        """The names that the module uses and does not define."""
        return {name for name, _ in self.vars.get_undefined()}

    def helpers(self) -> tuple[set[str], set[str]]:
        """The names of PScript's functions and methods that the translation calls."""
        return self._std_functions, self._std_methods


def _without_imports(source: Source) -> str:
    """The text with imports, type aliases and the docstring emptied; line numbers stay true."""
    lines = source.text.splitlines()
    for node in source.tree.body:
        is_docstring = isinstance(node, ast.Expr)
        if is_docstring or is_alias(node) or isinstance(node, ast.Import | ast.ImportFrom):
            end = node.end_lineno or node.lineno
            lines[node.lineno - 1 : end] = [""] * (end - node.lineno + 1)
    return "\n".join(lines) + "\n"


def _wrapped(source: Source, translation: Translation) -> str:
    taken: dict[str, list[str]] = {}
    for local, (module, name) in source.imports.items():
        taken.setdefault(module, []).append(name if name == local else f"{name}: {local}")
    head = "".join(
        f"const {{{', '.join(names)}}} = ${module};\n" for module, names in taken.items()
    )
    public = ", ".join(translation.defined())
    code = translation.dump()
    return f"const ${source.name} = (() => {{\n{head}{code}\nreturn {{ {public} }};\n}})();\n"
