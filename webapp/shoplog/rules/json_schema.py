"""The JSON Schema of entries, made from their types: for the docs and the generated tests."""

from collections.abc import Mapping
from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema
from pydantic_core.core_schema import DictSchema

Schema = dict[str, Any]


class WithNames(GenerateJsonSchema):
    """Pydantic's schema, with all that is asked of the names in a dictionary."""

    def dict_schema(self, schema: DictSchema) -> Schema:
        """What a dictionary's names and values must be like."""
        names, values = schema.get("keys_schema"), schema.get("values_schema")
        return {
            "type": "object",
            "propertyNames": self.generate_inner(names) if names else {},
            "additionalProperties": self.generate_inner(values) if values else {},
        }


def schema_of(kind: Any) -> Schema:
    """The schema of a type, with each part in its place and nothing that says only names."""
    whole = TypeAdapter(kind).json_schema(schema_generator=WithNames)
    found: Schema = in_place(whole, whole.get("$defs", {}))
    return found


def in_place(node: Any, parts: Mapping[str, Any]) -> Any:
    """A part of a schema with all that it refers to, without titles and defaults."""
    if isinstance(node, list):
        return [in_place(each, parts) for each in node]
    if not isinstance(node, dict):
        return node
    if "$ref" in node:
        said = {key: value for key, value in node.items() if key != "$ref"}
        return in_place({**parts[node["$ref"].rpartition("/")[2]], **said}, parts)
    return {
        key: {name: in_place(each, parts) for name, each in value.items()}
        if key == "properties"
        else in_place(value, parts)
        for key, value in node.items()
        if key not in ("$defs", "title", "default")
    }
