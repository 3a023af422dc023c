"""Rules of the dialect for lines and definitions: each yields what to write instead."""

import ast
from collections.abc import Iterator

from webapp.phone.compiler import dialect
from webapp.phone.compiler.sources import Rules, Source, called, imported_module


def _aug_assign(node: ast.AugAssign, source: Source) -> Iterator[str]:
    if isinstance(node.value, ast.List | ast.ListComp):
        yield "+= makes a new list on the phone: use xs.extend(...)"


def _assign(node: ast.Assign, source: Source) -> Iterator[str]:
    for target in node.targets:
        yield from _target(target)


def _target(target: ast.expr) -> Iterator[str]:
    parts = target.elts if isinstance(target, ast.Tuple | ast.List) else []
    if any(isinstance(part, ast.Tuple | ast.List) for part in parts):
        yield "unpack one level a line"


def _ann_assign(node: ast.AnnAssign, source: Source) -> Iterator[str]:
    if node.value is None:
        yield "a name needs its value where it is declared"


def _for(node: ast.For, source: Source) -> Iterator[str]:
    yield from _target(node.target)
    items = isinstance(node.iter, ast.Call) and called(node.iter) == "items"
    if items and not isinstance(node.target, ast.Tuple):
        yield "items() are taken as two names"


def _comprehension(node: ast.comprehension, source: Source) -> Iterator[str]:
    yield from _target(node.target)
    if node.is_async:
        yield "the arithmetic waits for nothing"


def _function(node: ast.FunctionDef, source: Source) -> Iterator[str]:
    if node.decorator_list:
        yield "no decorators"
    if node.name in dialect.BUILTINS | dialect.RESERVED | set(dialect.CALL_INSTEAD):
        yield f"{node.name} names something else on the phone: use another name"
    if node.name[0].isupper():
        yield "functions begin with a small letter: the phone makes an object of the others"
    if node.name.startswith("__") and node.name != "__init__":
        yield f"{node.name} is never called on the phone"
    yield from _parameters(node.args)


def _lambda(node: ast.Lambda, source: Source) -> Iterator[str]:
    yield from _parameters(node.args)


def _parameters(given: ast.arguments) -> Iterator[str]:
    if given.vararg or given.kwarg or given.posonlyargs:
        yield "name every parameter"
    if None in given.kw_defaults:
        yield "a keyword-only parameter needs a default"
    for parameter in [*given.args, *given.kwonlyargs]:
        if parameter.arg in dialect.RESERVED or parameter.arg[0].isupper():
            yield f"parameter {parameter.arg} needs another name"
    if any(isinstance(value, ast.List | ast.Dict) for value in given.defaults):
        yield "a default list or dict is shared here and fresh on the phone: use None"


def _raise(node: ast.Raise, source: Source) -> Iterator[str]:
    if node.cause is not None or node.exc is None:
        yield "raise ValueError with one sentence, or raise the caught error by its name"
    elif isinstance(node.exc, ast.Call):
        if called(node.exc) != "ValueError" or len(node.exc.args) != 1:
            yield "raise ValueError with one sentence"
    elif not (isinstance(node.exc, ast.Name) and node.exc.id in source.caught):
        yield "raise ValueError with one sentence"


def _try(node: ast.Try, source: Source) -> Iterator[str]:
    if node.orelse:
        yield "try has no else: put the lines after it"


def _handler(node: ast.ExceptHandler, source: Source) -> Iterator[str]:
    if node.type is not None and getattr(node.type, "id", "") not in {"ValueError", "Exception"}:
        yield "catch ValueError, one class a handler"


def _statement(node: ast.Expr, source: Source) -> Iterator[str]:
    is_docstring = isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)
    if not is_docstring and not isinstance(node.value, ast.Call):
        yield "a line that does nothing"


def _import(node: ast.Import, source: Source) -> Iterator[str]:
    if [(name.name, name.asname) for name in node.names] != [("math", None)]:
        yield "import math and siblings only"


def _import_from(node: ast.ImportFrom, source: Source) -> Iterator[str]:
    names = {name.name for name in node.names}
    if node.level == 0 and node.module == "typing":
        return
    if node.level not in (1, 2) or imported_module(node) not in source.siblings:
        yield "import math and siblings only, as in: from .sibling import name"
    elif any(name.startswith(("_", "*")) for name in names):
        yield "a sibling's private names stay with it"
    elif missing := names - source.family[imported_module(node)].offered:
        yield f"{node.module} has no {', '.join(sorted(missing))}"


def _module(node: ast.Module, source: Source) -> Iterator[str]:
    lines = [line for line in node.body if isinstance(line, ast.Assign | ast.AnnAssign)]
    targets = [part for line in lines for part in getattr(line, "targets", [line])]
    names = [ast.unparse(getattr(part, "target", part)) for part in targets]
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield f"{name} is set twice: what stands at the top of a module never changes"
    if any(isinstance(line, ast.AugAssign) for line in node.body):
        yield "what stands at the top of a module never changes: set it once"


RULES: Rules = {
    ast.Module: _module,
    ast.AugAssign: _aug_assign,
    ast.Assign: _assign,
    ast.AnnAssign: _ann_assign,
    ast.For: _for,
    ast.comprehension: _comprehension,
    ast.FunctionDef: _function,
    ast.Lambda: _lambda,
    ast.Raise: _raise,
    ast.Try: _try,
    ast.ExceptHandler: _handler,
    ast.Expr: _statement,
    ast.Import: _import,
    ast.ImportFrom: _import_from,
}
