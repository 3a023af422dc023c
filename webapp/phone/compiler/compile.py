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
OBJECT_LISTS = {"items": "entries", "keys": "keys", "values": "values"}
EQUALITY = {"Eq": "===", "NotEq": "!=="}
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

    def parse_Compare(self, node: Any) -> Any:
        """A text is compared by JavaScript itself; PScript's own asks what each side is first."""
        texts = [isinstance(each, commonast.Str) for each in (node.left_node, node.right_node)]
        if not any(texts) or node.op not in EQUALITY:
            return super().parse_Compare(node)
        left, right = (unify(self.parse(each)) for each in (node.left_node, node.right_node))
        return [f"{left} {EQUALITY[node.op]} {right}"]

    def parse_Call(self, node: Any) -> Any:
        """`row.get(key)` as a look into the object, with None for what is not there."""
        called = node.func_node
        looks_up = isinstance(called, commonast.Attribute) and called.attr == "get"
        if not looks_up or len(node.arg_nodes) != 1:
            return super().parse_Call(node)
        row, key = unify(self.parse(called.value_node)), "".join(self.parse(node.arg_nodes[0]))
        return [f"({row}[{key}] ?? null)"]

    def parse_Assign(self, node: Any) -> Any:
        """A comprehension is an expression here, and needs no list made beforehand."""
        target = node.target_nodes[0]
        plain = len(node.target_nodes) == 1 and isinstance(target, commonast.Name)
        if not plain or not isinstance(node.value_node, commonast.ListComp):
            return super().parse_Assign(node)
        self.vars.add(target.name)
        return [self.lf(f"{target.name} = "), *self.parse(node.value_node), ";"]

    def parse_For(self, node: Any) -> Any:
        """The loop as a for-of: PScript's own tells a list from a dict anew in each."""
        if _is_range(node.iter_node) or node.else_nodes:
            return super().parse_For(node)
        for name in _names(node.target_node):
            self.vars.add(name)
        code = [self.lf(f"for ({_pattern(node.target_node)} of {self._each(node.iter_node)}) {{")]
        self._indent += 1
        for line in node.body_nodes:
            code += self.parse(line)
        self._indent -= 1
        return [*code, self.lf("}")]

    def parse_ListComp(self, node: Any) -> Any:
        """The comprehension as filter and map: PScript's own is a loop in a function."""
        outermost = self._each(node.comp_nodes[0].iter_node)
        self.push_stack("function", "listcomp")
        for loop in node.comp_nodes:
            for name in _names(loop.target_node):
                self.vars.add(name)
        made, turn = unify(self.parse(node.element_node)), "map"
        for loop in reversed(node.comp_nodes):
            taken = outermost if loop is node.comp_nodes[0] else self._each(loop.iter_node)
            pattern = _pattern(loop.target_node)
            wanted = " && ".join(unify(self.parse(each)) for each in loop.if_nodes)
            kept = f".filter(({pattern}) => {wanted})" if wanted else ""
            as_it_is = kept and made == pattern
            made = f"{taken}{kept}" + ("" if as_it_is else f".{turn}(({pattern}) => ({made}))")
            turn = "flatMap"
        self.pop_stack()
        return [made]

    def parse_Lambda(self, node: Any) -> Any:
        """The lambda as an arrow function, which needs no binding."""
        names = [each.name for each in node.arg_nodes]
        self.push_stack("function", "lambda")
        for name in names:
            self.vars.add(name)
        made = "".join(self.parse(node.body_node))
        self.pop_stack()
        return [f"(({', '.join(names)}) => ({made}))"]

    def _each(self, node: Any) -> str:
        """What a loop goes through, as a list."""
        called = node.func_node if isinstance(node, commonast.Call) else None
        if isinstance(called, commonast.Attribute) and called.attr in OBJECT_LISTS:
            return f"Object.{OBJECT_LISTS[called.attr]}({''.join(self.parse(called.value_node))})"
        return f"_pyfunc_each({''.join(self.parse(node))})"

    def defined(self) -> list[str]:
        """The public names that the module defines."""
        return sorted(name for name in self.vars.get_defined() if not name.startswith("_"))

    def unknown(self) -> set[str]:
        """The names that the module uses and does not define."""
        return {name for name, _ in self.vars.get_undefined()}

    def helpers(self) -> tuple[set[str], set[str]]:
        """The names of PScript's functions and methods that the translation calls."""
        return self._std_functions, self._std_methods


def _is_range(node: Any) -> bool:
    """Whether this calls `range`, over which PScript's loop counts."""
    called = node.func_node if isinstance(node, commonast.Call) else None
    return isinstance(called, commonast.Name) and called.name == "range"


def _names(target: Any) -> list[str]:
    """The variables that a loop sets."""
    return [each.name for each in getattr(target, "element_nodes", [target])]


def _pattern(target: Any) -> str:
    """The variables as JavaScript takes them from one value: `x`, or `[x, y]` for a pair."""
    names = ", ".join(_names(target))
    return f"[{names}]" if hasattr(target, "element_nodes") else names


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
