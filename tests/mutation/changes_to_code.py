"""Every small change to a module's code that its tests should notice: its mutants."""

import ast
import copy
from collections.abc import Iterator
from typing import NamedTuple

SWAPS: dict[type, type] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.And: ast.Or, ast.Or: ast.And,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
}  # fmt: skip
OTHER_CALL = {"min": "max", "max": "min"}
# Functions of Python are named alike in all modules; a change at the top is one of a constant.
TOP = "<module>"


class Mutant(NamedTuple):
    """One change: the function it is in, its line, what stood there, and the changed module."""

    function: str
    line: int
    before: str
    after: str
    tree: ast.Module


def mutants(source: str) -> Iterator[Mutant]:
    """The changed copies of a module, one change each."""
    tree = ast.parse(source)
    skipped = set(untouched(tree))
    functions = dict(owners(tree))
    for index, node in enumerate(ast.walk(tree)):
        if id(node) in skipped:
            continue
        for change in range(len(changed(node))):
            other = copy.deepcopy(tree)
            place = list(ast.walk(other))[index]
            before = ast.unparse(place)
            replacement = changed(place)[change]
            put(other, place, replacement)
            after = ast.unparse(replacement)
            function = functions.get(id(node), TOP)
            yield Mutant(function, getattr(node, "lineno", 0), before, after, other)


def untouched(tree: ast.Module) -> Iterator[int]:
    """What no test can notice: docstrings and annotations."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.FunctionDef):
            first = node.body[0]
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                yield from (id(first), id(first.value))
        notes = [getattr(node, "annotation", None), getattr(node, "returns", None)]
        for note in notes:
            if isinstance(note, ast.AST):
                yield from (id(each) for each in ast.walk(note))
        if isinstance(node, ast.ImportFrom):
            yield from (id(each) for each in ast.walk(node))


def owners(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Each node of a function with the function's name."""
    for function in tree.body:
        if isinstance(function, ast.FunctionDef):
            for node in ast.walk(function):
                yield id(node), function.name


def changed(node: ast.AST) -> list[ast.AST]:
    """What a node may be changed into."""
    if isinstance(node, ast.Compare):
        return [with_op(node, at) for at, op in enumerate(node.ops) if type(op) in SWAPS]
    if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in SWAPS:
        other = copy.copy(node)
        other.op = SWAPS[type(node.op)]()
        return [other]
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        return [node.operand]
    if isinstance(node, ast.Constant):
        return constant(node)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return call(node, node.func.id)
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
        return [ast.Pass()]
    return []


def with_op(node: ast.Compare, at: int) -> ast.Compare:
    """The comparison the other way at one of its signs."""
    other = copy.copy(node)
    other.ops = [SWAPS[type(op)]() if i == at else op for i, op in enumerate(node.ops)]
    return other


def constant(node: ast.Constant) -> list[ast.AST]:
    """Another number, text or truth."""
    if isinstance(node.value, bool):
        return [ast.Constant(not node.value)]
    if isinstance(node.value, int | float):
        return [ast.Constant(node.value + 1)]
    return [ast.Constant(f"{node.value}_")] if isinstance(node.value, str) else []


def call(node: ast.Call, name: str) -> list[ast.AST]:
    """`min` for `max`, and a size without its `abs`."""
    if name == "abs":
        return [node.args[0]]
    if name not in OTHER_CALL:
        return []
    other = copy.copy(node)
    other.func = ast.Name(OTHER_CALL[name], ast.Load())
    return [other]


def put(tree: ast.Module, place: ast.AST, replacement: ast.AST) -> None:
    """Put another node in a node's place."""
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            if value is place:
                setattr(parent, field, replacement)
            elif isinstance(value, list) and any(each is place for each in value):
                setattr(parent, field, [replacement if one is place else one for one in value])
    ast.fix_missing_locations(tree)
