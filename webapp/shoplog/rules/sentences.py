"""A sentence for each fault of a body, in the words of the field's schema."""

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import ValidationError

MOST_TOLD = 6
LONGEST_NAME = 40
Schema = Mapping[str, Any]


def of_faults(
    kind: str, body: Mapping[str, Any], error: ValidationError, schema: Schema
) -> list[str]:
    """The sentences for what a type found at fault, those of missing fields first."""
    faults = error.errors(include_url=False, include_context=False, include_input=False)
    faults.sort(key=lambda fault: fault["type"] != "missing")
    told = [sentence(kind, body, fault["type"], fault["loc"], schema) for fault in faults]
    return list(dict.fromkeys(told))[:MOST_TOLD]


def sentence(
    kind: str, body: Mapping[str, Any], fault: str, at: Sequence[int | str], schema: Schema
) -> str:
    """What is wrong at a place of a body, as one sentence."""
    if fault == "missing":
        return f"{named(kind, body, at)} is missing."
    if fault == "string_unicode":
        return f"{named(kind, body, at)} holds a broken character: type it again."
    if fault == "extra_forbidden":
        return f"{named(kind, body, at)} is not a field: check its spelling."
    node, reached = node_at(schema, at)
    if at[reached : reached + 1] == ("[key]",):
        whole = named(kind, body, at[: reached - 1])
        return f"Each name in {whole[0].lower()}{whole[1:]} must be {words_of(node)}."
    return f"{named(kind, body, at[:reached])} must be {words_of(node)}."


def node_at(schema: Schema, at: Sequence[int | str]) -> tuple[Schema, int]:
    """The part of a schema at a place of a body, and how far along the place that is.

    Of what may be of several types only the whole is told, of a key at fault its name.
    """
    node = schema
    for reached, part in enumerate(at):
        if at[reached + 1 : reached + 2] == ("[key]",):
            return with_null_out(node)["propertyNames"], reached + 1
        inner = inside(with_null_out(node), part)
        if inner is None:
            return node, reached
        node = inner
    return node, len(at)


def inside(node: Schema, part: int | str) -> Schema | None:
    """What a schema says of a field, of every key, or of what stands in a list."""
    if isinstance(part, int):
        return node.get("items")
    found: Schema | None = node.get("properties", {}).get(part)
    return found or node.get("additionalProperties") or None


def with_null_out(node: Schema) -> Schema:
    """What a value may be where it is not null, if that is one thing."""
    others = [each for each in node.get("anyOf", []) if each.get("type") != "null"]
    return others[0] if len(others) == 1 else node


def words_of(node: Schema) -> str:
    """What a value must be, in words."""
    if "anyOf" in node and "description" not in node:
        return f"{words_of(with_null_out(node))}, or nothing"
    said = str(node.get("description", "an object" if node.get("type") == "object" else "a list"))
    # What a type says of itself is a sentence, what it says of a value is not.
    return said[0].lower() + said[1:-1] if said.endswith(".") else said


def named(kind: str, body: Mapping[str, Any], at: Sequence[int | str]) -> str:
    """How a sentence names a place: The vehicle's known sums, front, rotor."""
    parts = list(at)
    if kind == "pick" and parts[:1] == ["value"] and len(parts) < 2:
        parts[0] = body["field"]
    words = [f"no. {part + 1}" if isinstance(part, int) else plain(part) for part in parts]
    return f"The {kind.replace('_', ' ')}'s {', '.join(words)}"


def plain(name: str) -> str:
    """A field's name as it is said."""
    return name.replace("_", " ")[:LONGEST_NAME]
