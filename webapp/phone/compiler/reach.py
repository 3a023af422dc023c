"""Which functions and constants of the arithmetic those that are asked for need."""

import ast
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from webapp.phone.compiler.sources import Source, is_alias, walk

# A module and a name in it.
Name = tuple[str, str]


class Definition(NamedTuple):
    """One line at the top of a module: what it defines, or adds to, and what that needs."""

    module: str
    line: ast.stmt
    names: frozenset[str]
    needs: frozenset[Name]


def definitions(source: Source) -> list[Definition]:
    """The lines at the top of a module that do something on the phone, in order."""
    own = source.offered
    found = []
    for line in source.tree.body:
        if is_alias(line) or isinstance(line, ast.Import | ast.ImportFrom | ast.Expr):
            continue
        read = {part.id for part in walk(line) if isinstance(part, ast.Name)}
        needs = {(source.name, name) for name in read & own}
        needs |= {source.imports[name] for name in read & set(source.imports)}
        found.append(Definition(source.name, line, _defined(line), frozenset(needs)))
    return found


def _defined(line: ast.stmt) -> frozenset[str]:
    """What a line sets: of a loop, what it fills by key."""
    match line:
        case ast.FunctionDef(name=name):
            return frozenset({name})
        case ast.Assign(targets=targets):
            return frozenset(ast.unparse(target) for target in targets)
        case ast.AnnAssign(target=target):
            return frozenset({ast.unparse(target)})
    filled = [part for part in walk(line) if isinstance(part, ast.Subscript)]
    return frozenset(ast.unparse(part.value) for part in filled if isinstance(part.ctx, ast.Store))


def reached(sources: Mapping[str, Source], asked: Iterable[Name]) -> list[Definition]:
    """The definitions that these names need, those of one module in their order."""
    by_name: dict[Name, list[Definition]] = {}
    everything = [each for source in sources.values() for each in definitions(source)]
    for each in everything:
        for name in each.names:
            by_name.setdefault((each.module, name), []).append(each)
    taken: set[int] = set()
    waiting = list(asked)
    seen = set(waiting)
    while waiting:
        for each in by_name.get(waiting.pop(), []):
            taken.add(id(each.line))
            waiting += each.needs - seen
            seen |= each.needs
    return [each for each in everything if id(each.line) in taken]
