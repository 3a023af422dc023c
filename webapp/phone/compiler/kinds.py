"""What kind of value an expression of the arithmetic has, so that it becomes plain JavaScript.

A kind is known from annotations, from values written out and from what functions give. Where it is
not known, every kind is possible, and what is emitted has to be right for each.
"""

import ast
from collections.abc import Callable, Mapping

Kinds = frozenset[str]

NUMBER: Kinds = frozenset({"number"})
TEXT: Kinds = frozenset({"text"})
BOOL: Kinds = frozenset({"bool"})
LIST: Kinds = frozenset({"list"})
DICT: Kinds = frozenset({"dict"})
NONE: Kinds = frozenset({"none"})
FUNCTION: Kinds = frozenset({"function"})
ANY: Kinds = NUMBER | TEXT | BOOL | LIST | DICT | NONE | FUNCTION
SCALAR: Kinds = NUMBER | TEXT | BOOL
ADDED: Kinds = NUMBER | TEXT | LIST

ANNOTATED = {
    "bool": BOOL,
    "dict": DICT,
    "float": NUMBER,
    "int": NUMBER,
    "list": LIST,
    "str": TEXT,
}
# What builtin functions and methods give, whatever they are given.
GIVEN = {
    **dict.fromkeys(["abs", "float", "int", "len", "max", "min", "ord", "pow"], NUMBER),
    **dict.fromkeys(["chr", "str"], TEXT),
    **dict.fromkeys(["all", "any", "bool", "isinstance"], BOOL),
    **dict.fromkeys(["enumerate", "filter", "list", "map", "range", "reversed", "sorted"], LIST),
    "dict": DICT,
    "zip": LIST,
}
METHOD_GIVES = {
    **dict.fromkeys(
        ["capitalize", "join", "ljust", "lower", "lstrip", "replace", "rjust", "rstrip"], TEXT
    ),
    **dict.fromkeys(["strip", "upper", "zfill"], TEXT),
    **dict.fromkeys(["endswith", "startswith"], BOOL),
    **dict.fromkeys(["find", "index"], NUMBER),
    **dict.fromkeys(["items", "keys", "partition", "split", "values"], LIST),
}


def kinds_of_annotation(annotation: ast.expr | None) -> Kinds:
    """The kinds of value that an annotation lets through."""
    match annotation:
        case ast.Constant(value=None):
            return NONE
        case ast.Name(id=name):
            return ANNOTATED.get(name, ANY)
        case ast.Subscript(value=ast.Name(id=name)):
            return ANNOTATED.get(name, ANY)
        case ast.BinOp(left=left, op=ast.BitOr(), right=right):
            return kinds_of_annotation(left) | kinds_of_annotation(right)
    return ANY


def kinds_of(node: ast.expr, names: Mapping[str, Kinds], gives: Mapping[str, Kinds]) -> Kinds:
    """The kinds of value that an expression may have.

    `names` holds the kinds of variables and `gives` those of what functions give, by name.
    """

    match node:
        case ast.Constant(value=value):
            return _kind_of_value(value)
        case ast.Name(id=name):
            return names.get(name, ANY)
        case ast.Call():
            return _kinds_of_call(node, names, gives)
    return PLAIN.get(type(node)) or _kinds_of_whole(node, lambda part: kinds_of(part, names, gives))


def _kinds_of_whole(node: ast.expr, of: Callable[[ast.expr], Kinds]) -> Kinds:
    """The kinds of an expression that hang on those of its parts, which `of` gives."""
    match node:
        case ast.Subscript(value=value, slice=part):
            parted = of(value) & (TEXT | LIST) if isinstance(part, ast.Slice) else ANY
            return TEXT if of(value) == TEXT else parted
        case ast.IfExp(body=body, orelse=other):
            return of(body) | of(other)
        case ast.BoolOp(op=ast.Or(), values=[*firsts, last]):
            return of(last).union(*(of(first) - NONE for first in firsts))
        case ast.BoolOp(values=values):
            return frozenset().union(*map(of, values))
        case ast.BinOp(left=left, op=operator, right=right):
            return _kinds_of_sum(operator, of(left), of(right))
        case ast.UnaryOp(op=operator):
            return BOOL if isinstance(operator, ast.Not) else NUMBER
    return ANY


PLAIN: Mapping[type[ast.expr], Kinds] = {
    ast.Attribute: NUMBER,  # math.pi
    ast.Compare: BOOL,
    ast.Dict: DICT,
    ast.JoinedStr: TEXT,
    ast.Lambda: FUNCTION,
    ast.List: LIST,
    ast.ListComp: LIST,
    ast.Tuple: LIST,
}


def _kind_of_value(value: object) -> Kinds:
    if value is None:
        return NONE
    if isinstance(value, bool):
        return BOOL
    return TEXT if isinstance(value, str) else NUMBER


def _kinds_of_sum(operator: ast.operator, left: Kinds, right: Kinds) -> Kinds:
    if isinstance(operator, ast.Add):
        return (left & right & ADDED) or ADDED
    if isinstance(operator, ast.Mult):
        certain = [side for side in (left, right) if side in (TEXT, LIST)]
        return certain[0] if certain else NUMBER
    return NUMBER


def _kinds_of_call(node: ast.Call, names: Mapping[str, Kinds], gives: Mapping[str, Kinds]) -> Kinds:
    match node.func:
        case ast.Name(id=name):
            return gives.get(name) or GIVEN.get(name, ANY)
        case ast.Attribute(value=ast.Name(id="math")):
            return NUMBER
        case ast.Attribute(value=value, attr="copy"):
            return kinds_of(value, names, gives)
        case ast.Attribute(attr=method):
            return METHOD_GIVES.get(method, ANY)
    return ANY
