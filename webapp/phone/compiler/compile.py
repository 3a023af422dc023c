"""The arithmetic as JavaScript, compiled from the Python that the server runs.

All modules share one scope: `lean.py`'s function `tilt` is `lean$tilt` there. So a minifier can
shorten every name, and only what somebody asks for has to be taken.
"""

import ast
import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from graphlib import TopologicalSorter
from pathlib import Path

from webapp.phone.compiler.expressions import Known
from webapp.phone.compiler.kinds import ANY, Kinds, kinds_of, kinds_of_annotation
from webapp.phone.compiler.lines import Lines, function
from webapp.phone.compiler.reach import Definition, Name, definitions, reached
from webapp.phone.compiler.sources import Source, read_sources
from webapp.phone.compiler.subset import refusals

HERE = Path(__file__).parent
RECKON = HERE.parents[1] / "reckon"
HEADER = "// Compiled from webapp/reckon; do not edit.\n"
HELPER = re.compile(r"^/\*\*[^\n]*\*/\nfunction (?P<name>\$\w+)\(.*?^\}\n", re.M | re.S)


class OutsideDialect(ValueError):
    """Modules that the phone would answer differently; the text names each place."""


class NoSuchMember(LookupError):
    """A script asks for what the arithmetic does not have; the text names it."""


def reckon_texts() -> dict[str, str]:
    """The arithmetic's modules, name to source text."""
    paths = sorted(path for path in RECKON.rglob("*.py") if path.stem != "__init__")
    return {path.stem: path.read_text("utf-8") for path in paths}


def compile_module(texts: Mapping[str, str], asked: Iterable[Name] | None = None) -> str:
    """One ES module that exports each Python module (name to text) as an object.

    The objects have what is asked for, or without that every public function and constant.
    """
    sources = checked(texts)
    wanted = sorted(asked if asked is not None else public(sources))
    exports = [f"export const {name} = {members};\n" for name, members in objects(wanted)]
    return f"{HEADER}{in_one_scope(sources, wanted)}{''.join(exports)}"


def compile_script(texts: Mapping[str, str]) -> str:
    """All of it as a plain script that sets `reckon`, for an engine that knows no modules."""
    sources = checked(texts)
    wanted = sorted(public(sources))
    members = "".join(f"  {name}: {members},\n" for name, members in objects(wanted))
    body = f'"use strict";\n{in_one_scope(sources, wanted)}return {{\n{members}}};\n'
    return f"{HEADER}var reckon = (() => {{\n{body}}})();\n"


def compile_scope(texts: Mapping[str, str], asked: Iterable[Name]) -> str:
    """What is asked for, and all that it needs, for a script that has it in its own scope."""
    return in_one_scope(checked(texts), sorted(asked))


def scoped(module: str, name: str) -> str:
    """What a module's function or constant is called in the scope that all modules share."""
    return f"{module}${name}"


def checked(texts: Mapping[str, str]) -> dict[str, Source]:
    """The modules, once all of them are inside the dialect."""
    return _checked(tuple(texts.items()))


# The same modules are compiled for the phone and for the desk.
@lru_cache(maxsize=1)
def _checked(texts: tuple[tuple[str, str], ...]) -> dict[str, Source]:
    refused = refusals(dict(texts))
    if refused:
        raise OutsideDialect("\n".join(map(str, refused)))
    return read_sources(dict(texts))


def public(sources: Mapping[str, Source]) -> set[Name]:
    """Every function and constant that does not begin with an underscore."""
    return {
        (source.name, name)
        for source in sources.values()
        for each in definitions(source)
        for name in each.names
        if not name.startswith("_")
    }


def objects(wanted: Iterable[Name]) -> list[tuple[str, str]]:
    """Each module's name, and an object of what is wanted of it."""
    members: dict[str, list[str]] = {}
    for module, name in wanted:
        members.setdefault(module, []).append(f"{name}: {scoped(module, name)}")
    return [(module, f"{{ {', '.join(pairs)} }}") for module, pairs in members.items()]


def in_one_scope(sources: Mapping[str, Source], wanted: Iterable[Name]) -> str:
    """The shim of `math`, the helpers that are used, and each definition that is needed."""
    kept = reached(sources, wanted)
    missing = set(wanted) - {(each.module, name) for each in kept for name in each.names}
    if missing:
        listed = ", ".join(".".join(name) for name in sorted(missing))
        raise NoSuchMember(f"A script asks for {listed}, which the arithmetic does not have.")
    known = _known(sources)
    by_module: dict[str, list[Definition]] = {}
    for each in kept:
        by_module.setdefault(each.module, []).append(each)
    code = "".join(
        _translated(sources[name], by_module[name], known[name])
        for name in _order(sources)
        if name in by_module
    )
    return (HERE / "pymath.js").read_text("utf-8") + _helpers(code) + code


def _order(sources: Mapping[str, Source]) -> list[str]:
    """The modules' names, each after those that it imports."""
    needs = {
        name: sorted({module for module, _ in source.imports.values()})
        for name, source in sources.items()
    }
    return list(TopologicalSorter(needs).static_order())


def _helpers(code: str) -> str:
    """The helpers that the code calls, with those that they call."""
    helpers = {found["name"]: found[0] for found in HELPER.finditer(_read("helpers.js"))}
    used: set[str] = set()
    texts = [code]
    while texts:
        called = set(re.findall(r"(?<![\w$])\$[a-z_]+\b", texts.pop())) & set(helpers) - used
        used |= called
        texts += [helpers[name] for name in called]
    return "".join(f"{text}\n" for name, text in helpers.items() if name in used)


def _read(name: str) -> str:
    return (HERE / name).read_text("utf-8")


def _known(sources: Mapping[str, Source]) -> dict[str, Known]:
    """What each module knows by name: its own functions and constants, and what it imports."""
    known: dict[str, Known] = {}
    for name in _order(sources):
        source = sources[name]
        own = {part: name for each in definitions(source) for part in each.names}
        flat = {part: scoped(name, part) for part in own}
        flat |= {local: scoped(*found) for local, found in source.imports.items()}
        top = [line for line in source.tree.body if isinstance(line, ast.FunctionDef)]
        gives = {line.name: kinds_of_annotation(line.returns) for line in top}
        options = {
            line.name: [each.arg for each in line.args.kwonlyargs]
            for line in source.functions.values()
        }
        kinds: dict[str, Kinds] = {}
        for local, (module, original) in source.imports.items():
            kinds[local] = known[module].kinds.get(original, ANY)
            gives[local] = known[module].gives.get(original, ANY)
            options[local] = known[module].options.get(original, [])
        for line in source.tree.body:
            kinds |= _constant(line, kinds, gives)
        known[name] = Known(flat, kinds, gives, options)
    return known


def _constant(
    line: ast.stmt, kinds: Mapping[str, Kinds], gives: Mapping[str, Kinds]
) -> dict[str, Kinds]:
    """The kind of the constant that a line at the top of a module sets."""
    match line:
        case ast.Assign(targets=[ast.Name(id=name)], value=value):
            return {name: kinds_of(value, kinds, gives)}
        case ast.AnnAssign(target=ast.Name(id=name), annotation=annotation):
            return {name: kinds_of_annotation(annotation)}
    return {}


def _translated(source: Source, kept: list[Definition], known: Known) -> str:
    """The definitions of one module."""
    constants = [each.line for each in kept if isinstance(each.line, ast.Assign | ast.AnnAssign)]
    lines = Lines(source, known, dict.fromkeys(constants, "const"))
    made = [
        function(each.line, scoped(source.name, each.line.name), source, known)
        if isinstance(each.line, ast.FunctionDef)
        else lines.line(each.line)
        for each in kept
    ]
    return f"\n// {source.name}\n" + "".join(made)
