"""Pieces of JavaScript, with brackets only where its precedence asks for them."""

import json
import re
from collections.abc import Sequence
from typing import NamedTuple

LINE = 96
NAME = re.compile(r"[A-Za-z_$][\w$]*", re.ASCII)

# How tightly an operator binds, the loosest first.
ARROW, CONDITIONAL, COALESCE, OR, AND, EQUALITY, RELATION, SUM, PRODUCT, POWER, UNARY, WHOLE = (
    range(12)
)


class Code(NamedTuple):
    """An expression, and how tightly its outermost operator binds."""

    text: str
    binds: int = WHOLE

    def within(self, least: int) -> str:
        """The text, in brackets when an operator that binds so tightly would tear it apart."""
        return self.text if self.binds >= least else f"({self.text})"


def call(function: str, *given: Code) -> Code:
    """A function called with these values."""
    return Code(f"{function}({listed(given)})")


def method(value: Code, name: str, *given: Code) -> Code:
    """A method of a value called with these."""
    return Code(f"{value.within(WHOLE)}.{name}({listed(given)})")


def operation(left: Code, sign: str, right: Code, binds: int) -> Code:
    """Two values joined by an operator that goes from left to right."""
    return Code(f"{left.within(binds)} {sign} {right.within(binds + 1)}", binds)


def coalesced(value: Code, otherwise: Code) -> Code:
    """A value, or another in place of null; JavaScript wants brackets around || and && in it."""
    return Code(f"{value.within(EQUALITY)} ?? {otherwise.within(EQUALITY)}", COALESCE)


def chain(parts: Sequence[Code], sign: str, binds: int) -> Code:
    """Values joined by && or by ||."""
    if len(parts) == 1:
        return parts[0]
    # In brackets also where && is within ||, and ?? never without them.
    return Code(f" {sign} ".join(part.within(binds) for part in parts), binds)


def negated(test: Code) -> Code:
    """The opposite of a test."""
    return Code(f"!{test.within(UNARY)}", UNARY)


def arrow(names: str, answer: Code) -> Code:
    """A function that gives an expression."""
    text = answer.within(CONDITIONAL)
    return Code(f"({names}) => {f'({text})' if text.startswith('{') else text}", ARROW)


def member(value: Code, key: Code) -> Code:
    """What a value has under a key: with a dot where the key is a name that is written out."""
    own = value.within(WHOLE)
    name = json.loads(key.text) if key.text.startswith('"') else ""
    return Code(f"{own}.{name}" if NAME.fullmatch(name) else f"{own}[{key.text}]")


def text(value: str) -> Code:
    """A text written out."""
    return Code(f'"{_escaped(json.dumps(value, ensure_ascii=False)[1:-1])}"')


def template(parts: Sequence[str | Code]) -> Code:
    """A text with values in it."""
    made = [
        f"${{{part.text}}}" if isinstance(part, Code) else _within_template(part) for part in parts
    ]
    return Code(f"`{''.join(made)}`")


def array(values: Sequence[Code]) -> Code:
    """A list written out."""
    return Code(_bracketed("[", [value.within(CONDITIONAL) for value in values], "]"))


def record(pairs: Sequence[tuple[str, Code]]) -> Code:
    """A dict written out; a variable of the key's own name stands for both."""
    members = [
        key if value.text == key and NAME.fullmatch(key) else f"{_key(key)}: {value.text}"
        for key, value in pairs
    ]
    return Code(_bracketed("{ ", members, " }") if members else "{}")


def listed(values: Sequence[Code]) -> str:
    """Values with commas between them."""
    return ", ".join(value.text for value in values)


def _key(key: str) -> str:
    return key if NAME.fullmatch(key) else text(key).text


def _bracketed(opening: str, parts: Sequence[str], closing: str) -> str:
    """Parts in brackets: on one line, or each on its own where that would be long."""
    line = f"{opening}{', '.join(parts)}{closing}"
    if len(line) <= LINE and "\n" not in line:
        return line
    lines = "".join("  " + part.replace("\n", "\n  ") + ",\n" for part in parts)
    return f"{opening.strip()}\n{lines}{closing.strip()}"


def _within_template(value: str) -> str:
    written = json.dumps(value, ensure_ascii=False)[1:-1].replace('\\"', '"')
    return _escaped(written.replace("`", "\\`").replace("${", "\\${"))


def _escaped(written: str) -> str:
    """The text with what cannot be seen in an editor, such as a narrow space, as \\u escapes."""
    return "".join(
        each if each == " " or each.isprintable() else f"\\u{ord(each):04x}" for each in written
    )
