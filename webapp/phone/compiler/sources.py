"""The arithmetic's modules as syntax trees: what each defines, imports and knows by name."""

import ast
from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from typing import Any

ALIASED = frozenset({"dict", "list", "tuple"})
SCOPES = ast.FunctionDef | ast.Lambda


class Source:
    """One module: its text, its tree and the questions that the rules ask of it."""

    def __init__(self, name: str, text: str, family: dict[str, "Source"]) -> None:
        self.name = name
        self.file = f"{name}.py"
        self.text = text
        self.tree = ast.parse(text, self.file)
        self._nodes = list(walk(self.tree))
        self.parents = {child: node for node in self._nodes for child in children(node)}
        self.family = family

    @property
    def siblings(self) -> set[str]:
        """The names of the other modules."""
        return set(self.family) - {self.name}

    def nodes(self) -> list[ast.AST]:
        """Every node but annotations and type aliases, which the phone never sees."""
        return self._nodes

    @cached_property
    def imports(self) -> dict[str, tuple[str, str]]:
        """Local name to (sibling, its name there)."""
        lines = [line for line in self.tree.body if isinstance(line, ast.ImportFrom) and line.level]
        return {
            name.asname or name.name: (imported_module(line), name.name)
            for line in lines
            for name in line.names
        }

    @cached_property
    def offered(self) -> set[str]:
        """What siblings may take: the module's own functions, constants and types."""
        names: set[str] = set()
        for line in self.tree.body:
            targets = getattr(line, "targets", [getattr(line, "target", line)])
            names |= {getattr(part, "id", getattr(part, "name", "")) for part in targets}
        return names

    @cached_property
    def functions(self) -> dict[str, ast.FunctionDef]:
        """Every function, inner ones included, by name."""
        return {node.name: node for node in self.nodes() if isinstance(node, ast.FunctionDef)}

    @cached_property
    def caught(self) -> frozenset[str]:
        """The names given to caught errors."""
        handlers = (node for node in self.nodes() if isinstance(node, ast.ExceptHandler))
        return frozenset(node.name for node in handlers if node.name)

    @cached_property
    def _known(self) -> set[str]:
        stored = {
            node.id
            for node in self.nodes()
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
        }
        parameters = {node.arg for node in self.nodes() if isinstance(node, ast.arg)}
        return stored | parameters | set(self.functions) | set(self.imports)

    def knows(self, name: str) -> bool:
        """Whether the module defines or imports the name, at any depth, or catches an error so."""
        return name in self._known or name in self.caught

    def keyword_only(self, name: str) -> set[str]:
        """The keyword-only parameters of the function called by that name, here or imported."""
        if name in self.imports:
            module, original = self.imports[name]
            return self.family[module].keyword_only(original) if module in self.family else set()
        function = self.functions.get(name)
        return {given.arg for given in function.args.kwonlyargs} if function else set()

    def assigned(self, name: str) -> list[ast.expr]:
        """The values given to a variable, none when it is also a parameter or a loop's."""
        lines = [node for node in self.nodes() if isinstance(node, ast.Assign)]
        plain = [line for line in lines if _plain_target(line) == name]
        stores = [
            node
            for node in self.nodes()
            if (isinstance(node, ast.arg) and node.arg == name)
            or (isinstance(node, ast.Name) and node.id == name and isinstance(node.ctx, ast.Store))
        ]
        return [line.value for line in plain] if len(stores) == len(plain) else []

    def is_test(self, node: ast.AST) -> bool:
        """Whether the node's answer is only asked for its truth."""
        parent = self.parents[node]
        if isinstance(parent, ast.BoolOp):
            return self.is_test(parent)
        if isinstance(parent, ast.UnaryOp):
            return isinstance(parent.op, ast.Not)
        if isinstance(parent, ast.comprehension):
            return node in parent.ifs
        return isinstance(parent, ast.If | ast.IfExp | ast.While) and parent.test is node

    def scope(self, node: ast.AST) -> ast.AST:
        """The function, or the module, that the node stands in."""
        while not isinstance(node, ast.Module):
            node = self.parents[node]
            if isinstance(node, SCOPES):
                return node
        return node


def imported_module(line: ast.ImportFrom) -> str:
    """The bare name of the module that a relative import takes from, whatever folder it is in."""
    return (line.module or "").rpartition(".")[2]


def read_sources(texts: Mapping[str, str]) -> dict[str, Source]:
    """The modules (name to text) as sources that know of each other."""
    family: dict[str, Source] = {}
    for name, text in texts.items():
        family[name] = Source(name, text, family)
    return family


def called(call: ast.Call) -> str:
    """The bare name of the function or method called."""
    return str(getattr(call.func, "id", getattr(call.func, "attr", "")))


def _plain_target(line: ast.Assign) -> str:
    """The one name that the line sets, or nothing."""
    return getattr(line.targets[0], "id", "") if len(line.targets) == 1 else ""


def is_alias(line: ast.AST) -> bool:
    """Whether the line only names a type, such as Row = dict[str, float]."""
    return (
        isinstance(line, ast.Assign)
        and isinstance(line.value, ast.Subscript)
        and getattr(line.value.value, "id", "") in ALIASED
    )


def children(node: ast.AST) -> list[ast.AST]:
    """The node's parts without annotations and type aliases."""
    found: list[ast.AST] = []
    for field in node._fields:
        if field in {"annotation", "returns", "ctx"}:
            continue
        value = getattr(node, field, None)
        if isinstance(value, ast.AST):
            found.append(value)
        elif isinstance(value, list):
            found += [part for part in value if isinstance(part, ast.AST) and not is_alias(part)]
    return found


def walk(node: ast.AST) -> Iterator[ast.AST]:
    """The node and everything under it that the phone sees, from left to right."""
    waiting = [node]
    while waiting:
        part = waiting.pop()
        yield part
        waiting += reversed(children(part))


Rules = dict[type[ast.AST], Callable[[Any, Source], Iterator[str]]]
