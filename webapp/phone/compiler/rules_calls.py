"""Rules of the dialect for calls: each yields what to write instead."""

import ast
from collections.abc import Iterator

from webapp.phone.compiler import dialect
from webapp.phone.compiler.sources import Rules, Source, called


def _call(node: ast.Call, source: Source) -> Iterator[str]:
    if isinstance(node.func, ast.Name):
        yield from _function_call(node, node.func.id, source)
    elif isinstance(node.func, ast.Attribute):
        yield from _method_call(node, node.func, source)
    else:
        yield "call functions by their name"
    yield from _keywords(node, source)


def _function_call(node: ast.Call, name: str, source: Source) -> Iterator[str]:
    if source.knows(name) or isinstance(source.parents[node], ast.Raise):
        return
    count = len(node.args)
    if name not in dialect.BUILTINS:
        yield f"{name}() is outside the dialect: {dialect.CALL_INSTEAD.get(name, 'define it')}"
    elif name == "isinstance" and count == 2 and not _may_ask(node.args[1]):
        yield "isinstance may ask for bool, dict, list, str or (int, float)"
    elif (name in {"int", "float", "str", "enumerate"} and count != 1) or (
        name == "zip" and count < 2
    ):
        yield f"{name}() with {count} values is not compiled rightly"
    elif name in {"str", "float"} and not _may_convert(node.args[0], source):
        yield f"{name}() of this differs on the phone: use the dialect's own fixed()"
    elif name == "range" and count == 3 and not _is_written_out(node.args[2]):
        yield "write the step of range out as a number"


def _may_ask(asked: ast.expr) -> bool:
    return ast.unparse(asked).strip("()") in dialect.ISINSTANCE


def _may_convert(value: ast.expr, source: Source) -> bool:
    if isinstance(value, ast.Name):
        return value.id not in source.caught
    return isinstance(getattr(value, "value", 0), int | ast.AST) and not isinstance(
        value, ast.List | ast.Dict | ast.Tuple
    )


def _is_written_out(step: ast.expr) -> bool:
    return isinstance(step.operand if isinstance(step, ast.UnaryOp) else step, ast.Constant)


def _method_call(node: ast.Call, func: ast.Attribute, source: Source) -> Iterator[str]:
    name = func.attr
    if isinstance(func.value, ast.Name) and func.value.id == "math":
        return
    if name not in dialect.METHODS:
        yield f".{name}() is outside the dialect: {dialect.METHOD_INSTEAD.get(name, 'define it')}"
    elif name in {"split", "rsplit", "strip", "lstrip", "rstrip"} and len(node.args) == 0:
        yield f'.{name}() differs on the phone: name the characters, as in .{name}(" ")'
    elif name in {"startswith", "endswith"} and isinstance(node.args[0], ast.Tuple):
        yield f".{name}() takes one text: ask once for each"
    elif name == "replace" and len(node.args) != 2:
        yield ".replace() takes two texts and replaces all"


def _keywords(node: ast.Call, source: Source) -> Iterator[str]:
    given = {keyword.arg for keyword in node.keywords}
    name = called(node)
    if name == "sorted":
        yield from _sort_key(node, given)
    elif not source.knows(name) and name == "dict" and None not in given:
        return
    elif not given <= source.keyword_only(name):
        yield f"{name}() takes these by position: the phone passes only keyword-only names by name"


def _sort_key(node: ast.Call, given: set[str | None]) -> Iterator[str]:
    if given != {"key"}:
        yield "sort with key= and nothing else: without it numbers are sorted as texts"
        return
    key = node.keywords[0].value
    body = key.body if isinstance(key, ast.Lambda) else key
    if isinstance(body, ast.Tuple | ast.List):
        yield "a sort key is one number or one text: sort twice, last key first"


RULES: Rules = {
    ast.Call: _call,
}
