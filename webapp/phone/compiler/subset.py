"""Refuses Python in the arithmetic that the phone's compiled copy would answer differently.

An allow list over the syntax tree: what no rule knows is refused, with file and line.
"""

import ast
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from webapp.phone.compiler import dialect, rules_calls, rules_lines, rules_values
from webapp.phone.compiler.rules_names import clashes
from webapp.phone.compiler.sources import Source, called, read_sources

RULES = rules_calls.RULES | rules_lines.RULES | rules_values.RULES
VERDICTS = frozenset({"all", "any", "bool", "endswith", "isinstance", "startswith"})


class Refusal(NamedTuple):
    """One construct outside the dialect: where it stands and what to write instead."""

    file: str
    line: int
    says: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.says}"


def refusals(texts: Mapping[str, str]) -> list[Refusal]:
    """Everything in the modules (name to source text) that is outside the dialect, in order."""
    found = []
    for source in read_sources(texts).values():
        for node in source.nodes():
            found += [Refusal(source.file, _line(node), says) for says in _faults(node, source)]
        found += [Refusal(source.file, line, says) for line, says in clashes(source)]
    return sorted(found)


def _line(node: ast.AST) -> int:
    return getattr(node.target if isinstance(node, ast.comprehension) else node, "lineno", 1)


def _faults(node: ast.AST, source: Source) -> Iterator[str]:
    rule = RULES.get(type(node))
    if rule is not None:
        yield from rule(node, source)
    elif not isinstance(node, dialect.PLAIN):
        name = type(node).__name__
        yield f"{name} is outside the dialect: {dialect.INSTEAD.get(name, 'do without it')}"
    yield from _truth_faults(node, source)


def _truth_faults(node: ast.AST, source: Source) -> Iterator[str]:
    """What the compiler gets wrong about truth in tests."""
    if isinstance(node, ast.If | ast.IfExp | ast.While) and _hides_comparison(node.test):
        yield "a call with a comparison inside is not tested rightly: name its answer first"
    if isinstance(node, ast.While) and not _is_verdict(node.test, source):
        yield "an empty list counts as true in a while: write len(xs) > 0"
    ifs = node.ifs if isinstance(node, ast.comprehension) else []
    if not all(_is_verdict(test, source) for test in ifs):
        yield "an empty list counts as true in a comprehension: write len(xs) > 0"


def _hides_comparison(test: ast.expr) -> bool:
    parts = test.values if isinstance(test, ast.BoolOp) else [test]
    return any(
        isinstance(part, ast.Call | ast.Subscript) and any(map(_looks_compared, ast.walk(part)))
        for part in parts
    )


def _looks_compared(node: ast.AST) -> bool:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return any(sign in node.value for sign in ("==", "<", ">"))
    return isinstance(node, ast.Compare | ast.BoolOp)


def _is_verdict(test: ast.expr, source: Source) -> bool:
    """Whether the test is surely a bool, so that no list can slip through as true."""
    match test:
        case ast.BoolOp():
            return all(_is_verdict(part, source) for part in test.values)
        case ast.Call():
            return called(test) in VERDICTS or _has_verdict_default(test)
        case ast.Name():
            assigned = source.assigned(test.id)
            return bool(assigned) and all(map(_is_plain_verdict, assigned))
        case ast.UnaryOp():
            return isinstance(test.op, ast.Not)
    return _is_plain_verdict(test)


def _is_plain_verdict(value: ast.expr) -> bool:
    if isinstance(value, ast.Constant):
        return isinstance(value.value, bool)
    return isinstance(value, ast.Compare)


def _has_verdict_default(call: ast.Call) -> bool:
    """Whether this is d.get(key, True) or d.get(key, False)."""
    default = call.args[1] if called(call) == "get" and len(call.args) == 2 else None
    return isinstance(default, ast.Constant) and isinstance(default.value, bool)
