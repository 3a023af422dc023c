"""The contract of entries as the phone carries it: one short line for each shape of a value.

A line begins with its kind; a number names another line, counted from 0. Shapes that are the same
stand once. The last lines, `is NAME LINE`, say which line is the body of which name.
"""

import textwrap
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from webapp.shoplog.rules.json_schema import Schema
from webapp.shoplog.rules.kinds import BODIES, body_schema
from webapp.shoplog.rules.values import HIDDEN

PATH = Path(__file__).parents[3] / "static" / "js" / "store" / "contract_table.js"
WIDTH = 96
ABOUT = """\
/**
 * The contract of entries, one line for each shape of a value; made from the types of the shop by
 * `python -m webapp.shoplog.rules.document`, and read by contract.js.
 */
"""
NUMBERS = {"number": "number", "integer": "whole"}


class Table:
    """Lines so far; the same shape gets the same line."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def line(self, node: Schema) -> int:
        """The number of the line that says what a value must be."""
        said = self.said(node)
        if said not in self.lines:
            self.lines.append(said)
        return self.lines.index(said)

    def said(self, node: Schema) -> str:
        """What a part of the schema asks for, as a line."""
        if "anyOf" in node:
            return "either " + " ".join(str(self.line(each)) for each in node["anyOf"])
        if "enum" in node:
            return "one " + ", ".join(node["enum"])
        if "not" in node:
            return "never"
        kind = node.get("type", "any")
        if kind == "string":
            return text_said(node)
        if kind in NUMBERS:
            return number_said(NUMBERS[kind], node)
        if kind == "array":
            sizes = node.get("minItems", 0), node.get("maxItems", "Infinity")
            return f"list {self.line(node['items'])} {sizes[0]} {sizes[1]}"
        return self.object_said(node) if kind == "object" else str(kind)

    def object_said(self, node: Schema) -> str:
        """Fields by name with `?` behind one that may be left out; or names and values."""
        if node.get("additionalProperties"):
            names, values = node["propertyNames"], node["additionalProperties"]
            return f"names {self.line(names)} {self.line(values)}"
        if "properties" not in node:
            return f"object {node['maxBytes']}"
        needed = node.get("required", ())
        fields = [
            f"{name}{'' if name in needed else '?'} {self.line(each)}"
            for name, each in node["properties"].items()
        ]
        return " ".join(["only" if node.get("additionalProperties") is False else "open", *fields])


def text_said(node: Schema) -> str:
    """A text of a shape, or of a length: 1 where it is not to be blank, 2 where it is a name."""
    pattern = node.get("pattern", "")
    if node.get("format") == "date":
        return f"day {pattern}"
    if HIDDEN in pattern:
        return f"text 2 {node['maxLength']}"
    if pattern.startswith("^"):
        return f"like {pattern}"
    return f"text {1 if pattern else 0} {node['maxLength']}"


def number_said(kind: str, node: Schema) -> str:
    """A number with its bounds."""
    if "exclusiveMinimum" in node:
        return f"above {node['exclusiveMinimum']} {node['maximum']}"
    return f"{kind} {node['minimum']} {node['maximum']}"


def lines(names: Mapping[str, Any] = BODIES) -> list[str]:
    """The table's lines."""
    table = Table()
    bodies = [f"is {name} {table.line(body_schema(name))}" for name in names]
    return table.lines + bodies


def written() -> str:
    """The script as it stands in static/; a line that goes on begins with a blank."""
    wrapped = [
        row
        for line in lines()
        for row in textwrap.wrap(
            line, WIDTH, subsequent_indent=" ", break_long_words=False, break_on_hyphens=False
        )
    ]
    return ABOUT + "export const TABLE = String.raw`" + "\n".join(wrapped) + "\n`;\n"
