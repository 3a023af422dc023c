"""Rules of the dialect for names: loops and comprehensions that share one on the phone."""

import ast
from collections.abc import Iterator

from webapp.phone.compiler.sources import SCOPES, Source, called, walk

GROWING = frozenset({"append", "extend", "insert", "pop", "remove"})


def clashes(source: Source) -> Iterator[tuple[int, str]]:
    """Line and sentence for each name that two uses share where the phone keeps only one."""
    for node in source.nodes():
        if isinstance(node, ast.ListComp):
            yield from _comprehension_clashes(node, source)
        elif isinstance(node, ast.For):
            yield from _loop_clashes(node, source)


def _stores(node: ast.AST) -> set[str]:
    return {
        part.id
        for part in walk(node)
        if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store)
    }


def _comprehension_clashes(node: ast.ListComp, source: Source) -> Iterator[tuple[int, str]]:
    taken = _taken_around(node, source)
    for name in sorted(_targets(node) & taken):
        yield node.lineno, f"{name} in a comprehension would overwrite the other {name}"


def _targets(node: ast.ListComp) -> set[str]:
    return set().union(*(_stores(generator.target) for generator in node.generators))


def _taken_around(node: ast.ListComp, source: Source) -> set[str]:
    """Variables and parameters of the functions (not of other comprehensions) around the node."""
    taken: set[str] = set()
    scope: ast.AST = source.scope(node)
    while isinstance(scope, SCOPES):
        taken |= {given.arg for given in [*scope.args.args, *scope.args.kwonlyargs]}
        taken |= _own_stores(scope)
        scope = source.scope(scope)
    return taken


def _own_stores(scope: ast.AST) -> set[str]:
    comprehensions = [part for part in walk(scope) if isinstance(part, ast.ListComp)]
    inside = {id(part) for found in comprehensions for part in walk(found)}
    return {
        part.id
        for part in walk(scope)
        if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store) and id(part) not in inside
    }


def _loop_clashes(node: ast.For, source: Source) -> Iterator[tuple[int, str]]:
    names = _stores(node.target)
    for name in sorted(names & set().union(*map(_stores, node.body))):
        yield node.lineno, f"the loop sets {name} itself: use another name inside"
    for name in sorted(names & _read_after(node, source)):
        yield node.lineno, f"{name} holds something else after the loop on the phone"
    if _grows_own_range(node):
        yield node.lineno, "the loop never ends on the phone: take len() before it"


def _read_after(node: ast.For, source: Source) -> set[str]:
    """Names read after the loop before anything sets them again."""
    end = node.end_lineno or node.lineno
    later = [
        part
        for part in walk(source.scope(node))
        if isinstance(part, ast.Name) and part.lineno > end and not _is_bound_nearer(part, source)
    ]
    first: dict[str, ast.Name] = {}
    for part in sorted(later, key=lambda part: (part.lineno, isinstance(part.ctx, ast.Load))):
        first.setdefault(part.id, part)
    return {name for name, part in first.items() if isinstance(part.ctx, ast.Load)}


def _is_bound_nearer(part: ast.Name, source: Source) -> bool:
    """Whether a loop, comprehension or lambda around the name gives it a value of its own."""
    node: ast.AST = part
    while not isinstance(node, ast.Module | ast.FunctionDef):
        node = source.parents[node]
        if isinstance(node, ast.ListComp) and part.id in _targets(node):
            return True
        if isinstance(node, ast.Lambda) and part.id in {given.arg for given in node.args.args}:
            return True
    return False


def _grows_own_range(node: ast.For) -> bool:
    if not (isinstance(node.iter, ast.Call) and called(node.iter) == "range"):
        return False
    measured = {
        ast.unparse(part.args[0])
        for part in ast.walk(node.iter)
        if isinstance(part, ast.Call) and called(part) == "len" and part.args
    }
    grown = {
        ast.unparse(part.func.value)
        for line in node.body
        for part in walk(line)
        if isinstance(part, ast.Call)
        and isinstance(part.func, ast.Attribute)
        and part.func.attr in GROWING
    }
    return bool(measured & grown)
