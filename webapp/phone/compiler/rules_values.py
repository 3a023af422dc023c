"""Rules of the dialect for values: each yields what to write instead."""

import ast
from collections.abc import Iterator

from webapp.phone.compiler import dialect
from webapp.phone.compiler.sources import Rules, Source, called

# Compiled without their brackets, so that what follows takes hold of their last part alone. Before
# the call of a method, as in (a or {}).get("x"), the brackets stay.
BARE = (ast.BoolOp, ast.IfExp, ast.BinOp, ast.Compare)
UNNAMED = "the phone takes this of the last part only: name the whole first, or write .get()"


def _constant(node: ast.Constant, source: Source) -> Iterator[str]:
    value = node.value
    if isinstance(value, complex | bytes) or value is Ellipsis:
        yield "only numbers, texts, True, False and None may be written out"
    elif isinstance(value, float) and value in (float("inf"), float("-inf")):
        yield "an infinite number cannot be written out"
    elif isinstance(value, int) and abs(value) >= 2**53:
        yield "whole numbers from 2**53 on lose digits on the phone"
    elif isinstance(value, str):
        yield from _text(value)


def _text(value: str) -> Iterator[str]:
    if value in dialect.INHERITED:
        yield f"every object of the phone has {value} already: use another key"
    if any(ord(character) > 0xFFFF for character in value):
        yield "characters beyond U+FFFF count double on the phone"


def _name(node: ast.Name, source: Source) -> Iterator[str]:
    if node.id in dialect.RESERVED:
        yield f"{node.id} is a word of JavaScript: use another name"
    parent = source.parents[node]
    called = isinstance(parent, ast.Call) and parent.func is node
    if called or not isinstance(node.ctx, ast.Load) or source.knows(node.id):
        return
    if isinstance(parent, ast.Attribute) and node.id == "math":
        return
    if not isinstance(parent, ast.ExceptHandler) and not _is_type_asked(node, source):
        yield f"{node.id} is used as a value: wrap it in a lambda or define it"


def _is_type_asked(node: ast.Name, source: Source) -> bool:
    parent = source.parents[node]
    call = source.parents[parent] if isinstance(parent, ast.Tuple) else parent
    return isinstance(call, ast.Call) and called(call) == "isinstance"


def _attribute(node: ast.Attribute, source: Source) -> Iterator[str]:
    parent = source.parents[node]
    if isinstance(node.value, BARE) and not (isinstance(parent, ast.Call) and parent.func is node):
        yield UNNAMED
    if isinstance(node.value, ast.Name) and node.value.id == "math":
        if node.attr not in dialect.MATH:
            yield f"math.{node.attr} has no equal on the phone: use {_listed(dialect.MATH)}"
        return
    if node.attr in {"args", "length"} or node.attr.startswith("__"):
        yield f"attribute {node.attr} means something else on the phone"


def _listed(names: frozenset[str]) -> str:
    return ", ".join(sorted(names))


def _compare(node: ast.Compare, source: Source) -> Iterator[str]:
    sides = [node.left, *node.comparators]
    if any(isinstance(side, ast.Call) for side in sides[1:-1]):
        yield "the middle of a chained comparison is worked out twice: name it first"
    for operator, left, right in zip(node.ops, sides, sides[1:], strict=False):
        yield from _compared(operator, left, right)


def _compared(operator: ast.cmpop, left: ast.expr, right: ast.expr) -> Iterator[str]:
    if isinstance(operator, ast.Is | ast.IsNot):
        if not (isinstance(right, ast.Constant) and isinstance(right.value, bool | None)):
            yield "is may be asked of None, True and False only"
    elif isinstance(operator, ast.Lt | ast.LtE | ast.Gt | ast.GtE):
        if isinstance(left, ast.List | ast.Tuple) or isinstance(right, ast.List | ast.Tuple):
            yield "lists are compared as texts on the phone: compare their parts"
    elif isinstance(operator, ast.Eq | ast.NotEq) and isinstance(right, ast.Tuple):
        yield "a tuple is a list on the phone: compare with a list"


def _bool_op(node: ast.BoolOp, source: Source) -> Iterator[str]:
    if isinstance(node.op, ast.And) and not source.is_test(node):
        values = (ast.Subscript, ast.List, ast.Dict, ast.BinOp, ast.JoinedStr, ast.ListComp)
        if any(isinstance(value, values) for value in node.values):
            yield "and gives false for an empty value: write xs[0] if xs else None"


def _subscript(node: ast.Subscript, source: Source) -> Iterator[str]:
    if isinstance(node.value, BARE):
        yield UNNAMED
    if isinstance(node.slice, ast.Slice):
        if node.slice.step is not None:
            yield "a slice has no step: use list(reversed(xs)) or range"
        if isinstance(node.ctx, ast.Store):
            yield "a slice cannot be assigned to: build the list anew"
    elif isinstance(node.slice, ast.UnaryOp) and isinstance(node.value, ast.Call):
        yield "a negative index calls the function twice: name the list first"
    elif isinstance(node.slice, ast.Tuple):
        yield "an index is one number or one text"


def _dict(node: ast.Dict, source: Source) -> Iterator[str]:
    for key in node.keys:
        if key is None:
            yield "write dict(d) and update instead of **"
        elif isinstance(key, ast.Tuple) or (
            isinstance(key, ast.Constant)
            and (not isinstance(key.value, str) or key.value.isdigit())
        ):
            yield "keys are texts that do not look like numbers"


def _joined(node: ast.JoinedStr, source: Source) -> Iterator[str]:
    for part in node.values:
        if isinstance(part, ast.FormattedValue) and (part.format_spec or part.conversion != -1):
            yield "f-strings hold ready texts: use the dialect's own fixed()"


RULES: Rules = {
    ast.Constant: _constant,
    ast.Name: _name,
    ast.Attribute: _attribute,
    ast.Compare: _compare,
    ast.BoolOp: _bool_op,
    ast.Subscript: _subscript,
    ast.Dict: _dict,
    ast.JoinedStr: _joined,
}
