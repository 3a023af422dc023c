"""Lines of the arithmetic as JavaScript: what a function is made of."""

import ast
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from webapp.phone.compiler import javascript as js
from webapp.phone.compiler.expressions import (
    Expressions,
    Known,
    own_nodes,
    stored_names,
    target_names,
    target_pattern,
)
from webapp.phone.compiler.javascript import Code
from webapp.phone.compiler.sources import Source

BLOCKS = ("body", "orelse", "handlers", "finalbody")
Set = ast.Assign | ast.AnnAssign


class Use(NamedTuple):
    """Where a variable is set or read: the line, and the blocks that it stands in."""

    line: ast.AST
    blocks: tuple[int, ...]


def uses(body: Sequence[ast.AST], blocks: tuple[int, ...]) -> Iterator[tuple[str, Use]]:
    """Each use of each variable in a block, in order; what a loop sets is its own within it."""
    within = (*blocks, id(body))
    for line in body:
        hidden = stored_names(line.target) if isinstance(line, ast.For) else set()
        for name in _names_of_head(line):
            if name not in hidden:
                yield name, Use(line, within)
        if not isinstance(line, ast.FunctionDef):
            for block in BLOCKS:
                inner = uses(getattr(line, block, []), within)
                yield from ((name, use) for name, use in inner if name not in hidden)


def _names_of_head(line: ast.AST) -> list[str]:
    """The variables that a line uses by itself: without its blocks, but with a whole function."""
    inner = [] if isinstance(line, ast.FunctionDef) else [*BLOCKS]
    waiting = [part for field, part in ast.iter_fields(line) if field not in inner]
    found: list[str] = []
    while waiting:
        part = waiting.pop(0)
        if isinstance(part, list):
            waiting[:0] = part
        elif isinstance(part, ast.Name):
            found.append(part.id)
        elif isinstance(part, ast.AST):
            waiting[:0] = [value for _, value in ast.iter_fields(part)]
    return found


def declared(function: ast.FunctionDef, own: set[str]) -> tuple[dict[ast.AST, str], list[str]]:
    """How each variable comes into being.

    The lines that declare what they set, each with `const` or `let`, and the variables that have
    to be declared before all lines: those first set in one block and used in another.
    """
    found: dict[str, list[Use]] = {}
    for name, use in uses(function.body, ()):
        if name in own:
            found.setdefault(name, []).append(use)
    ready = {name for name, places in found.items() if _begins_at_its_line(name, places)}
    sets = Counter(
        part.id
        for part in ast.walk(function)
        if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store)
    )
    words: dict[ast.AST, str] = {}
    begun: set[str] = set()
    for name in sorted(ready):
        line = found[name][0].line
        if isinstance(line, Set) and (names := stored_names(*_targets(line))) <= ready:
            words[line] = "let" if any(sets[each] > 1 for each in names) else "const"
            begun |= names
    return words, sorted(set(found) - begun)


def _begins_at_its_line(name: str, places: list[Use]) -> bool:
    """Whether a variable's first use sets it, in the block that has all its other uses."""
    first = places[0]
    if not isinstance(first.line, Set) or len(_targets(first.line)) != 1:
        return False
    [target] = _targets(first.line)
    parts = target.elts if isinstance(target, ast.Tuple | ast.List) else [target]
    value = first.line.value
    read = {part.id for part in ast.walk(value) if isinstance(part, ast.Name)} if value else set()
    return (
        all(isinstance(part, ast.Name) for part in parts)
        and name in stored_names(target)
        and name not in read
        and all(use.blocks[: len(first.blocks)] == first.blocks for use in places)
        and all(use.line is not first.line for use in places[1:])
    )


def _targets(line: Set) -> list[ast.expr]:
    return line.targets if isinstance(line, ast.Assign) else [line.target]


class Lines:
    """Translates the lines of one place, a function or the top of a module."""

    def __init__(self, source: Source, known: Known, words: dict[ast.AST, str]) -> None:
        self.source = source
        self.known = known
        self.words = words
        self.express = Expressions(source, known)

    def of(self, body: Sequence[ast.AST]) -> str:
        """The lines of a block."""
        return "".join(self.line(node) for node in body)

    def line(self, node: ast.AST) -> str:
        """One line, which may be a whole loop or function."""
        translate: Callable[[ast.AST], str] = getattr(self, f"_{type(node).__name__.lower()}")
        return translate(node)

    def block(self, head: str, body: Sequence[ast.AST]) -> str:
        """Lines in braces."""
        return f"{head} {{\n{indented(self.of(body))}}}"

    def _assign(self, node: ast.Assign) -> str:
        word = f"{self.words[node]} " if node in self.words else ""
        targets = "".join(f"{self._target(each)} = " for each in node.targets)
        return f"{word}{targets}{self.express.of(node.value).text};\n"

    def _annassign(self, node: ast.AnnAssign) -> str:
        word = f"{self.words[node]} " if node in self.words else ""
        value = self.express.of(node.value or node.target).text
        return f"{word}{self._target(node.target)} = {value};\n"

    def _target(self, target: ast.expr) -> str:
        if isinstance(target, ast.Tuple | ast.List):
            return f"[{', '.join(self._target(part) for part in target.elts)}]"
        return self.express.of(target).text

    def _augassign(self, node: ast.AugAssign) -> str:
        whole = ast.BinOp(_loaded(node.target), node.op, node.value)
        made = self.express.of(whole).text
        target = self._target(node.target)
        sign = made.removeprefix(f"{target} ")
        if isinstance(node.value, ast.Constant | ast.Name | ast.Call) and sign != made:
            return f"{target} {sign[0]}={sign[1:]};\n"
        return f"{target} = {made};\n"

    def _expr(self, node: ast.Expr) -> str:
        if isinstance(node.value, ast.Constant):
            return ""  # a docstring
        return f"{self.express.of(node.value).text};\n"

    def _return(self, node: ast.Return) -> str:
        return f"return {self.express.of(node.value).text};\n" if node.value else "return null;\n"

    def _raise(self, node: ast.Raise) -> str:
        match node.exc:
            case ast.Call(func=ast.Name(id=name), args=[says]):
                return f"{js.call('$fail', js.text(name), self.express.of(says)).text};\n"
        return f"throw {ast.unparse(node.exc or node)};\n"

    def _pass(self, node: ast.Pass) -> str:
        return ""

    def _nonlocal(self, node: ast.Nonlocal) -> str:
        return ""

    def _break(self, node: ast.Break) -> str:
        return "break;\n"

    def _continue(self, node: ast.Continue) -> str:
        return "continue;\n"

    def _if(self, node: ast.If) -> str:
        made = self.block(f"if ({self.express.test(node.test).text})", node.body)
        match node.orelse:
            case []:
                return f"{made}\n"
            case [ast.If() as other]:
                return f"{made} else {self._if(other)}"
        return f"{made}{self.block(' else', node.orelse)}\n"

    def _while(self, node: ast.While) -> str:
        return f"{self.block(f'while ({self.express.test(node.test).text})', node.body)}\n"

    def _for(self, node: ast.For) -> str:
        inner = Lines(self.source, self.known.with_names(target_names(node.target)), self.words)
        match node.iter:
            case ast.Call(func=ast.Name(id="range"), args=given) if len(given) < 3:
                start, end = [Code("0"), *self.express.all_of(given)][-2:]
                name = target_pattern(node.target)
                head = f"let {name} = {start.text}; {name} < {end.within(js.SUM)}; {name} += 1"
            case ast.Call(func=ast.Name(id="enumerate"), args=[values]):
                entries = js.method(self.express.each(values), "entries")
                head = f"const {target_pattern(node.target)} of {entries.text}"
            case _:
                taken = self.express.each(node.iter)
                head = f"const {target_pattern(node.target)} of {taken.text}"
        return f"{inner.block(f'for ({head})', node.body)}\n"

    def _try(self, node: ast.Try) -> str:
        made = self.block("try", node.body)
        [handler] = node.handlers
        name = handler.name or "error"
        made += f" catch ({name}) {{\n{indented(self._caught(handler, name))}}}"
        return f"{made}{self.block(' finally', node.finalbody) if node.finalbody else ''}\n"

    def _caught(self, handler: ast.ExceptHandler, name: str) -> str:
        kind = ast.unparse(handler.type) if handler.type else "Exception"
        others = f'if ({name}.name !== "{kind}") throw {name};\n' if kind != "Exception" else ""
        return others + self.of(handler.body)

    def _functiondef(self, node: ast.FunctionDef) -> str:
        return function(node, node.name, self.source, self.known)


def function(node: ast.FunctionDef, name: str, source: Source, known: Known) -> str:
    """A whole function, under this name."""
    inside = known.inside(node)
    parameters = [*node.args.args, *node.args.kwonlyargs]
    own = own_variables(node)
    words, before = declared(node, own)
    lines = Lines(source, inside, words)
    values = _defaults(node, Expressions(source, known))
    takes = ", ".join(f"{each.arg}{values.get(each.arg, '')}" for each in parameters)
    head = f"let {', '.join(before)};\n" if before else ""
    body = head + lines.of(node.body)
    if not isinstance(node.body[-1], ast.Return | ast.Raise) and _gives(node):
        body += "return null;\n"
    return f"function {name}({takes}) {{\n{indented(body)}}}\n"


def own_variables(node: ast.FunctionDef) -> set[str]:
    """The variables that a function declares: not its parameters, nor an outer function's.

    What loops and comprehensions set, they declare themselves.
    """
    own = own_nodes(node)
    outer = {name for part in own if isinstance(part, ast.Nonlocal) for name in part.names}
    parameters = {each.arg for each in [*node.args.args, *node.args.kwonlyargs]}
    targets = [target for part in own if isinstance(part, Set) for target in _targets(part)]
    return stored_names(*targets) - parameters - outer


def _gives(node: ast.FunctionDef) -> bool:
    """Whether a function gives a value somewhere, so that None comes of it elsewhere."""
    return any(isinstance(part, ast.Return) and part.value for part in own_nodes(node))


def _defaults(node: ast.FunctionDef, express: Expressions) -> dict[str, str]:
    """What a parameter's default adds to its name."""
    plain = node.args.args[len(node.args.args) - len(node.args.defaults) :]
    pairs = [
        *zip(plain, node.args.defaults, strict=True),
        *zip(node.args.kwonlyargs, node.args.kw_defaults, strict=True),
    ]
    return {each.arg: f" = {express.of(value).text}" for each, value in pairs if value}


def indented(text: str) -> str:
    """Lines moved in by one step."""
    return "".join(f"  {line}\n" if line else "\n" for line in text.splitlines())


def _loaded(target: ast.expr) -> ast.expr:
    """What a line sets, as a value."""
    return ast.parse(ast.unparse(target), mode="eval").body
