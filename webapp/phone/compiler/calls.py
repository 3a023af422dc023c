"""Builtin functions and methods of Python as JavaScript."""

import ast
from collections.abc import Callable, Mapping, Sequence
from typing import Protocol

from webapp.phone.compiler import javascript as js
from webapp.phone.compiler.javascript import Code
from webapp.phone.compiler.kinds import DICT, LIST, NONE, Kinds

TYPES = {
    "bool": 'typeof {} === "boolean"',
    "str": 'typeof {} === "string"',
    "int, float": 'typeof {} === "number"',
    "list": "Array.isArray({})",
    "list, tuple": "Array.isArray({})",
    "dict": "$is_dict({})",
}


class Place(Protocol):
    """What translates the expressions around a call."""

    def of(self, node: ast.expr) -> Code:
        """The expression as JavaScript."""

    def all_of(self, nodes: Sequence[ast.expr]) -> list[Code]:
        """Each of the expressions."""

    def test(self, node: ast.expr) -> Code:
        """The expression as a test."""

    def each(self, node: ast.expr) -> Code:
        """What a loop goes through."""

    def kind(self, node: ast.expr) -> Kinds:
        """The kinds of value that the expression may have."""


Builtin = Callable[[Place, ast.Call], Code]
Method = Callable[[Place, ast.expr, ast.Call], Code]


def function(name: str) -> Builtin:
    """A function of JavaScript that takes the same values."""
    return lambda place, node: js.call(name, *place.all_of(node.args))


def of_list(name: str) -> Builtin:
    """A function of JavaScript that takes its values one by one, as Python also does in a list."""

    def translated(place: Place, node: ast.Call) -> Code:
        if len(node.args) > 1:
            return js.call(name, *place.all_of(node.args))
        return js.call(name, Code(f"...{place.each(node.args[0]).within(js.CONDITIONAL)}"))

    return translated


def length(place: Place, node: ast.Call) -> Code:
    """`len(values)`."""
    return Code(f"{place.of(node.args[0]).within(js.WHOLE)}.length")


def boolean(place: Place, node: ast.Call) -> Code:
    """`bool(value)`."""
    return js.call("Boolean", place.test(node.args[0]))


def copied_list(place: Place, node: ast.Call) -> Code:
    """`list(values)`: a list of its own, also of a dict's keys and of what functions give anew."""
    if not node.args:
        return js.array([])
    values = node.args[0]
    made = place.each(values)
    if isinstance(values, ast.Call | ast.ListComp) and not made.text.startswith("$each"):
        return made
    if made.text.startswith("Object."):
        return made
    return Code(f"[...{made.within(js.CONDITIONAL)}]")


def copied_dict(place: Place, node: ast.Call) -> Code:
    """`dict(other)`, `dict(pairs)` or `dict(key=value)`."""
    if node.keywords:
        return js.record([(str(each.arg), place.of(each.value)) for each in node.keywords])
    if not node.args:
        return js.record([])
    values = node.args[0]
    if place.kind(values) == LIST:
        return js.call("Object.fromEntries", place.of(values))
    return Code(f"{{ ...{place.of(values).within(js.CONDITIONAL)} }}")


def is_of_type(place: Place, node: ast.Call) -> Code:
    """`isinstance(value, kind)`."""
    asked = TYPES[ast.unparse(node.args[1]).strip("()")]
    binds = js.EQUALITY if "===" in asked else js.WHOLE
    return Code(asked.format(place.of(node.args[0]).within(js.UNARY)), binds)


def enumerated(place: Place, node: ast.Call) -> Code:
    """`enumerate(values)`."""
    return Code(f"[...{js.method(place.each(node.args[0]), 'entries').text}]")


def counted(place: Place, node: ast.Call) -> Code:
    """`range(end)`, or with a start and a step."""
    given = place.all_of(node.args)
    return js.call("$range", *([Code("0"), *given] if len(given) == 1 else given))


def in_order(place: Place, node: ast.Call) -> Code:
    """`sorted(values, key=function)`."""
    return js.call("$sorted", place.of(node.args[0]), place.of(node.keywords[0].value))


def backward(place: Place, node: ast.Call) -> Code:
    """`reversed(values)`."""
    return Code(f"[...{place.each(node.args[0]).within(js.CONDITIONAL)}].reverse()")


def which(name: str) -> Builtin:
    """`any` or `all` of a list."""
    return lambda place, node: js.method(place.each(node.args[0]), name, Code("$truthy"))


BUILTINS: Mapping[str, Builtin] = {
    "abs": function("Math.abs"),
    "all": which("every"),
    "any": which("some"),
    "bool": boolean,
    "dict": copied_dict,
    "enumerate": enumerated,
    "float": function("Number"),
    "int": function("Math.trunc"),
    "isinstance": is_of_type,
    "len": length,
    "list": copied_list,
    "max": of_list("Math.max"),
    "min": of_list("Math.min"),
    "range": counted,
    "reversed": backward,
    "sorted": in_order,
    "str": function("String"),
    "zip": function("$zip"),
}


def named(name: str) -> Method:
    """A method of JavaScript that takes the same values."""
    return lambda place, value, node: js.method(place.of(value), name, *place.all_of(node.args))


def helper(name: str) -> Method:
    """A function that takes the value first."""
    return lambda place, value, node: js.call(name, place.of(value), *place.all_of(node.args))


def extended(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`values.extend(others)`."""
    others = place.each(node.args[0]).within(js.CONDITIONAL)
    return js.method(place.of(value), "push", Code(f"...{others}"))


def inserted(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`values.insert(place, other)`."""
    where, other = place.all_of(node.args)
    return js.method(place.of(value), "splice", where, Code("0"), other)


def joined(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`mark.join(texts)`."""
    return js.method(place.each(node.args[0]), "join", place.of(value))


def got(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`row.get(key)`, or with what stands for a key that is not there."""
    row, given = place.of(value), place.all_of(node.args)
    if len(given) == 1:
        return js.coalesced(js.member(row, given[0]), Code("null"))
    return js.call("$found", row, *given)


def split(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`text.split(mark)`, or so many times at most."""
    given = place.all_of(node.args)
    if len(given) == 1:
        return js.method(place.of(value), "split", *given)
    return js.call("$split", place.of(value), *given)


def index_of(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`values.index(value)`."""
    return js.call("$place_of", *place.all_of(node.args), place.of(value))


def copy(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`values.copy()`."""
    opening, closing = ("{ ", " }") if place.kind(value) - NONE == DICT else ("[", "]")
    return Code(f"{opening}...{place.of(value).within(js.CONDITIONAL)}{closing}")


def replaced(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`text.replace(old, new)`; JavaScript takes a dollar sign in a plain text for a mark."""
    old, new = node.args
    made = place.of(new)
    if not (isinstance(new, ast.Constant) and "$" not in str(new.value)):
        made = js.arrow("", made)
    return js.method(place.of(value), "replaceAll", place.of(old), made)


def of_dict(name: str) -> Method:
    """What a dict holds, as a list."""
    return lambda place, value, node: js.call(f"Object.{name}", place.of(value))


def updated(place: Place, value: ast.expr, node: ast.Call) -> Code:
    """`row.update(other)`."""
    return js.call("Object.assign", place.of(value), *place.all_of(node.args))


METHODS: Mapping[str, Method] = {
    "append": named("push"),
    "capitalize": helper("$capitalize"),
    "copy": copy,
    "endswith": named("endsWith"),
    "extend": extended,
    "find": named("indexOf"),
    "get": got,
    "index": index_of,
    "insert": inserted,
    "items": of_dict("entries"),
    "join": joined,
    "keys": of_dict("keys"),
    "ljust": named("padEnd"),
    "lower": named("toLowerCase"),
    "lstrip": helper("$lstrip"),
    "partition": helper("$partition"),
    "pop": helper("$taken"),
    "replace": replaced,
    "rjust": named("padStart"),
    "rstrip": helper("$rstrip"),
    "setdefault": helper("$put_first"),
    "split": split,
    "startswith": named("startsWith"),
    "strip": helper("$strip"),
    "update": updated,
    "upper": named("toUpperCase"),
    "values": of_dict("values"),
}
