"""Expressions of the arithmetic as JavaScript."""

import ast
from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from webapp.phone.compiler import javascript as js
from webapp.phone.compiler.calls import BUILTINS, METHODS
from webapp.phone.compiler.javascript import Code
from webapp.phone.compiler.kinds import (
    ANY,
    DICT,
    LIST,
    NONE,
    NUMBER,
    SCALAR,
    TEXT,
    Kinds,
    kinds_of,
    kinds_of_annotation,
)
from webapp.phone.compiler.sources import Source

RELATIONS = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
SUMS = {
    ast.Sub: ("-", js.SUM),
    ast.Mult: ("*", js.PRODUCT),
    ast.Div: ("/", js.PRODUCT),
}
# So many rounds are enough for what hangs on each other in one function.
PASSES = 6
OBJECT_LISTS = {"items": "entries", "keys": "keys", "values": "values"}


class Known(NamedTuple):
    """What is known by name in a place of a module.

    `flat` has what functions and constants of all modules are called in the one scope that they
    share; `kinds` what variables hold, `gives` what functions give, and `options` which parameters
    functions take by name only.
    """

    flat: Mapping[str, str]
    kinds: Mapping[str, Kinds]
    gives: Mapping[str, Kinds]
    options: Mapping[str, list[str]]

    def inside(self, function: ast.FunctionDef | ast.Lambda) -> "Known":
        """The same within a function of the place, where its own names hide others."""
        kinds = local_kinds(function, self)
        inner = [part for part in ast.walk(function) if isinstance(part, ast.FunctionDef)]
        gives = {part.name: kinds_of_annotation(part.returns) for part in inner}
        return Known(
            {name: flat for name, flat in self.flat.items() if name not in kinds},
            {**self.kinds, **kinds},
            {**self.gives, **gives},
            self.options,
        )

    def with_names(self, names: Sequence[str]) -> "Known":
        """The same where a comprehension sets these."""
        flat = {name: flat for name, flat in self.flat.items() if name not in names}
        return self._replace(flat=flat, kinds={**self.kinds, **dict.fromkeys(names, ANY)})

    def kind(self, node: ast.expr) -> Kinds:
        """The kinds of value that an expression may have here."""
        return kinds_of(node, self.kinds, self.gives)


def local_kinds(function: ast.FunctionDef | ast.Lambda, known: Known) -> dict[str, Kinds]:
    """What the parameters and variables of a function may hold."""
    parameters = [*function.args.args, *function.args.kwonlyargs]
    kinds = {each.arg: kinds_of_annotation(each.annotation) for each in parameters}
    if isinstance(function, ast.Lambda):
        return kinds
    own = list(own_nodes(function))
    declared = {
        part.target.id: kinds_of_annotation(part.annotation)
        for part in own
        if isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name)
    }
    outer = {name for part in own if isinstance(part, ast.Nonlocal) for name in part.names}
    stored = {
        part.id: ANY
        for part in own
        if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store) and part.id not in outer
    }
    inner = {part.name: ANY for part in own if isinstance(part, ast.FunctionDef)}
    kinds_given = {**kinds, **declared}
    kinds = {**stored, **inner, **kinds_given}
    return {
        **kinds,
        **_assigned(own, set(stored) - set(kinds_given), {**known.kinds, **kinds}, known),
    }


def _assigned(
    own: list[ast.AST], names: set[str], kinds: Mapping[str, Kinds], known: Known
) -> dict[str, Kinds]:
    """The kinds of variables after all that is assigned to them; not of those that loops set."""
    loose = {name for part in own for name in _set_otherwise(part)}
    lines = [
        (part.targets[0].id, part.value)
        for part in own
        if isinstance(part, ast.Assign) and isinstance(part.targets[0], ast.Name)
    ]
    sure = {name for name, _ in lines} & (names - loose)
    found: dict[str, Kinds] = dict.fromkeys(sure, frozenset())
    # One variable's kinds may hang on another's, and in a loop on those of a line further down.
    for _ in range(PASSES):
        before, found = found, dict.fromkeys(sure, frozenset())
        for name, value in lines:
            if name in sure:
                found[name] |= kinds_of(value, {**kinds, **before}, known.gives)
        if found == before:
            return found
    return dict.fromkeys(sure, ANY)


def _set_otherwise(part: ast.AST) -> set[str]:
    """The names that a line sets in another way than `name = value`."""
    match part:
        case ast.Assign(targets=[ast.Name()]):
            return set()
        case ast.Assign(targets=targets):
            return stored_names(*targets)
        case ast.For(target=target) | ast.AugAssign(target=target):
            return stored_names(target)
        case ast.comprehension(target=target):
            return stored_names(target)
    return set()


def own_nodes(function: ast.FunctionDef) -> list[ast.AST]:
    """The parts of a function in order, without those of the functions within it."""
    found: list[ast.AST] = []
    waiting: list[ast.AST] = list(reversed(function.body))
    while waiting:
        node = waiting.pop()
        found.append(node)
        if not isinstance(node, ast.FunctionDef | ast.Lambda):
            waiting += reversed(list(ast.iter_child_nodes(node)))
    return found


def stored_names(*nodes: ast.AST) -> set[str]:
    """The variables that these set."""
    parts = [part for node in nodes for part in ast.walk(node)]
    return {
        part.id for part in parts if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store)
    }


class Expressions:
    """Translates the expressions of one place."""

    def __init__(self, source: Source, known: Known) -> None:
        self.source = source
        self.known = known

    def of(self, node: ast.expr) -> Code:
        """The expression as JavaScript."""
        translate: Callable[[ast.expr], Code] = getattr(self, f"_{type(node).__name__.lower()}")
        return translate(node)

    def all_of(self, nodes: Sequence[ast.expr]) -> list[Code]:
        """Each of the expressions."""
        return [self.of(node) for node in nodes]

    def kind(self, node: ast.expr) -> Kinds:
        """The kinds of value that the expression may have."""
        return self.known.kind(node)

    def test(self, node: ast.expr) -> Code:
        """What JavaScript takes for true where Python takes the expression for true."""
        match node:
            case ast.BoolOp(op=ast.And(), values=values):
                return js.chain([self.test(each) for each in values], "&&", js.AND)
            case ast.BoolOp(values=values):
                return js.chain([self.test(each) for each in values], "||", js.OR)
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                return js.negated(self.test(operand))
        kind, value = self.kind(node), self.looked_up(node)
        if not kind & (LIST | DICT):
            return value
        if kind == LIST:
            return Code(f"{value.within(js.WHOLE)}.length > 0", js.RELATION)
        if kind <= LIST | NONE:
            return Code(f"{value.within(js.WHOLE)}?.length > 0", js.RELATION)
        return js.call("$truthy", value)

    def looked_up(self, node: ast.expr) -> Code:
        """The expression where what is not there need not be null: `row.key` for row.get("key")."""
        match node:
            case ast.Call(func=ast.Attribute(value=row, attr="get"), args=[key]):
                return js.member(self.of(row), self.of(key))
        return self.of(node)

    def each(self, node: ast.expr) -> Code:
        """What a loop goes through, as a list."""
        match node:
            case ast.Call(func=ast.Attribute(value=row, attr=name)) if name in OBJECT_LISTS:
                return js.call(f"Object.{OBJECT_LISTS[name]}", self.of(row))
        kind, value = self.kind(node), self.of(node)
        if kind - NONE == LIST:
            return value
        if kind - NONE == DICT:
            return js.call("Object.keys", value)
        return js.call("$each", value)

    def _name(self, node: ast.Name) -> Code:
        return Code(self.known.flat.get(node.id, node.id))

    def _constant(self, node: ast.Constant) -> Code:
        value = node.value
        if isinstance(value, str):
            return js.text(value)
        if isinstance(value, bool):
            return Code("true" if value else "false")
        return Code("null" if value is None else repr(value).removesuffix(".0"))

    def _joinedstr(self, node: ast.JoinedStr) -> Code:
        return js.template(
            [
                self.of(part.value)
                if isinstance(part, ast.FormattedValue)
                else str(getattr(part, "value", ""))
                for part in node.values
            ]
        )

    def _list(self, node: ast.List | ast.Tuple) -> Code:
        return js.array(self.all_of(node.elts))

    _tuple = _list

    def _dict(self, node: ast.Dict) -> Code:
        pairs = list(zip(node.keys, self.all_of(node.values), strict=True))
        written = [
            (key.value, value)
            for key, value in pairs
            if isinstance(key, ast.Constant) and isinstance(key.value, str)
        ]
        if len(written) == len(pairs):
            return js.record(written)
        members = [f"[{self.of(key).text}]: {value.text}" for key, value in pairs if key]
        return Code(f"{{ {', '.join(members)} }}")

    def _attribute(self, node: ast.Attribute) -> Code:
        return Code(f"{self.of(node.value).within(js.WHOLE)}.{node.attr}")

    def _subscript(self, node: ast.Subscript) -> Code:
        value = self.of(node.value)
        match node.slice:
            case ast.Slice(lower=lower, upper=upper):
                start = self.of(lower) if lower else Code("0")
                given = [start, self.of(upper)] if upper else [start] if lower else []
                return js.method(value, "slice", *given)
            case ast.UnaryOp(op=ast.USub()):
                return js.method(value, "at", self.of(node.slice))
        return js.member(value, self.of(node.slice))

    def _unaryop(self, node: ast.UnaryOp) -> Code:
        if isinstance(node.op, ast.Not):
            return js.negated(self.test(node.operand))
        sign = "-" if isinstance(node.op, ast.USub) else "+"
        value = self.of(node.operand)
        # Two signs side by side would read as one that counts up or down.
        least = js.WHOLE if value.text.startswith(sign) else js.UNARY
        return Code(f"{sign}{value.within(least)}", js.UNARY)

    def _binop(self, node: ast.BinOp) -> Code:
        left, right = self.of(node.left), self.of(node.right)
        kinds = self.kind(node.left), self.kind(node.right)
        if isinstance(node.op, ast.Add):
            return self.sum(left, right, kinds)
        if isinstance(node.op, ast.Pow):
            return Code(f"{left.within(js.WHOLE)} ** {right.within(js.UNARY)}", js.POWER)
        if isinstance(node.op, ast.Mult) and TEXT in kinds:
            said, often = (left, right) if kinds[0] == TEXT else (right, left)
            return js.method(said, "repeat", often)
        if isinstance(node.op, ast.Mult) and LIST in kinds:
            return js.call("$repeated", *((left, right) if kinds[0] == LIST else (right, left)))
        sign, binds = SUMS[type(node.op)]
        return js.operation(left, sign, right, binds)

    def sum(self, left: Code, right: Code, kinds: tuple[Kinds, Kinds]) -> Code:
        """Two values added: lists put together, numbers and texts as JavaScript does."""
        both = kinds[0] & kinds[1] & (NUMBER | TEXT | LIST)
        if both == LIST:
            return js.method(left, "concat", right)
        if both >= LIST:
            return js.call("$plus", left, right)
        return js.operation(left, "+", right, js.SUM)

    def _boolop(self, node: ast.BoolOp) -> Code:
        *firsts, last = node.values
        if isinstance(node.op, ast.And):
            sure = [not self.kind(each) & (LIST | DICT) for each in firsts]
            parts = [
                self.of(each) if plain else self.test(each)
                for each, plain in zip(firsts, sure, strict=True)
            ]
            return js.chain([*parts, self.of(last)], "&&", js.AND)
        made = self.of(last)
        for first in reversed(firsts):
            made = self._either(first, made, last)
        return made

    def _either(self, first: ast.expr, made: Code, last: ast.expr) -> Code:
        """`first or made`; an empty list or dict is not true in Python."""
        empty = isinstance(last, ast.List | ast.Dict) and not ast.unparse(last)[1:-1]
        other = self.kind(last)
        if empty or not self.kind(first) & (LIST | DICT) or other <= SCALAR:
            return js.chain([self.looked_up(first), made], "||", js.OR)
        return js.coalesced(js.call("$filled", self.looked_up(first)), made)

    def _ifexp(self, node: ast.IfExp) -> Code:
        test, body, other = self.test(node.test), self.of(node.body), self.of(node.orelse)
        parts = test.within(js.COALESCE), body.within(js.CONDITIONAL), other.within(js.CONDITIONAL)
        return Code(f"{parts[0]} ? {parts[1]} : {parts[2]}", js.CONDITIONAL)

    def _compare(self, node: ast.Compare) -> Code:
        sides = [node.left, *node.comparators]
        pairs = zip(node.ops, sides, sides[1:], strict=False)
        return js.chain([self._compared(*each) for each in pairs], "&&", js.AND)

    def _compared(self, operator: ast.cmpop, left: ast.expr, right: ast.expr) -> Code:
        if type(operator) in RELATIONS:
            sign = RELATIONS[type(operator)]
            return js.operation(self.of(left), sign, self.of(right), js.RELATION)
        if isinstance(operator, ast.In | ast.NotIn):
            found = self._within(left, right)
            return js.negated(found) if isinstance(operator, ast.NotIn) else found
        negative = isinstance(operator, ast.NotEq | ast.IsNot)
        for one, other in [(left, right), (right, left)]:
            if self.kind(one) == NONE:
                sign = "!=" if negative else "=="
                return js.operation(self.looked_up(other), sign, Code("null"), js.EQUALITY)
        if self._is_scalar(left) or self._is_scalar(right):
            sign = "!==" if negative else "==="
            return js.operation(self.looked_up(left), sign, self.looked_up(right), js.EQUALITY)
        equal = js.call("$same", self.looked_up(left), self.looked_up(right))
        return js.negated(equal) if negative else equal

    def _is_scalar(self, node: ast.expr) -> bool:
        return self.kind(node) <= SCALAR

    def _within(self, value: ast.expr, values: ast.expr) -> Code:
        kind = self.kind(values)
        if kind == DICT:
            return js.call("Object.hasOwn", self.of(values), self.of(value))
        written = isinstance(values, ast.List) and all(map(self._is_scalar, values.elts))
        if kind == TEXT or written or (kind == LIST and self._is_scalar(value)):
            return js.method(self.of(values), "includes", self.looked_up(value))
        return js.call("$within", self.of(value), self.of(values))

    def _listcomp(self, node: ast.ListComp) -> Code:
        outermost = node.generators[0]
        taken = self.each(outermost.iter)
        names = [name for loop in node.generators for name in target_names(loop.target)]
        inner = Expressions(self.source, self.known.with_names(names))
        made, turn = inner.of(node.elt), "map"
        for loop in reversed(node.generators):
            through = taken if loop is outermost else inner.each(loop.iter)
            pattern = target_pattern(loop.target)
            if loop.ifs:
                tests = [inner.test(each) for each in loop.ifs]
                kept = js.arrow(pattern, js.chain(tests, "&&", js.AND))
                through = js.method(through, "filter", kept)
            if not loop.ifs or made.text != pattern:
                through = js.method(through, turn, js.arrow(pattern, made))
            made, turn = through, "flatMap"
        return made

    def _lambda(self, node: ast.Lambda) -> Code:
        inner = Expressions(self.source, self.known.inside(node))
        return js.arrow(", ".join(each.arg for each in node.args.args), inner.of(node.body))

    def _call(self, node: ast.Call) -> Code:
        function = node.func
        if isinstance(function, ast.Attribute):
            if isinstance(function.value, ast.Name) and function.value.id == "math":
                return js.call(f"math.{function.attr}", *self.all_of(node.args))
            return METHODS[function.attr](self, function.value, node)
        name = ast.unparse(function)
        if not self.source.knows(name) and name in BUILTINS:
            return BUILTINS[name](self, node)
        given = self.all_of(node.args)
        return js.call(self.of(function).text, *given, *self._options(name, node))

    def _options(self, name: str, node: ast.Call) -> list[Code]:
        """What is given by name, in the order in which the function declares it."""
        given = {each.arg: self.of(each.value) for each in node.keywords}
        declared = self.known.options.get(name, [])
        last = max((index for index, each in enumerate(declared) if each in given), default=-1)
        return [given.get(each, Code("undefined")) for each in declared[: last + 1]]


def target_names(target: ast.expr) -> list[str]:
    """The variables that a loop sets."""
    parts = target.elts if isinstance(target, ast.Tuple | ast.List) else [target]
    return [ast.unparse(part) for part in parts]


def target_pattern(target: ast.expr) -> str:
    """The variables as JavaScript takes them from one value: `x`, or `[x, y]` for a pair."""
    names = ", ".join(target_names(target))
    return f"[{names}]" if isinstance(target, ast.Tuple | ast.List) else names
