"""The JSON Schema of a sheet, made from the rules that the arithmetic checks sheets by."""

from typing import Any

from webapp.reckon.sheet_rules import RULES
from webapp.reckon.typed_sheet import ROADS

DRAFT = "https://json-schema.org/draft/2020-12/schema"
ABOUT = (
    "Everything that stands recorded in one round of measuring. Lengths in mm, angles in degrees, "
    "heights above the floor; left and right as seated in the vehicle. A text stands for a value "
    "as it would be typed; a bare number in it is in `units`. Every part and every field may be "
    "missing or null."
)


def sheet_schema() -> dict[str, Any]:
    """The schema of a sheet (JSON Schema, draft 2020-12)."""
    schema = {"$schema": DRAFT, "title": "Sheet", "description": ABOUT, **_object()}
    for path, kind, bounds in RULES:
        _place(schema, path.split("."), _field(path, kind, bounds))
    return schema


def _object() -> dict[str, Any]:
    return {"type": "object", "properties": {}, "additionalProperties": False}


def _place(schema: dict[str, Any], names: list[str], field: dict[str, Any]) -> None:
    """Put a field at its path, making the objects and lists on the way."""
    for name in names[:-1]:
        schema = _part(schema["properties"], name)
    schema["properties"][names[-1]] = field


def _part(properties: dict[str, Any], name: str) -> dict[str, Any]:
    """The object schema behind a name of a path; `name[]` is a list of such objects."""
    many = name.endswith("[]")
    plain = name.removesuffix("[]")
    if plain not in properties:
        part = _object() if many else {**_object(), "type": ["object", "null"]}
        properties[plain] = {"type": ["array", "null"], "items": part} if many else part
    found: dict[str, Any] = properties[plain]["items"] if many else properties[plain]
    return found


def _number(kind: str, bounds: list[float]) -> dict[str, Any]:
    least = "exclusiveMinimum" if kind == "above zero" else "minimum"
    return {"type": "number", least: bounds[0], "maximum": bounds[1]}


def _or_text(number: dict[str, Any]) -> dict[str, Any]:
    """A number, or a text that the command reads as it would be typed."""
    return {"anyOf": [number, {"type": "string"}]}


def _field(path: str, kind: str, bounds: Any) -> dict[str, Any]:
    """The schema of one field; null stands for not known."""
    value = _number(kind, bounds) if path in ROADS else _value(kind, bounds)
    return {"anyOf": [value, {"type": "null"}]}


def _value(kind: str, bounds: Any) -> dict[str, Any]:
    number = _or_text({"type": "number", "minimum": 0, "maximum": 20000})
    pair = {"minItems": 2, "maxItems": 2}
    match kind:
        case "choice":
            return {"enum": list(bounds)}
        case "truth":
            return {"type": "boolean"}
        case "text":
            return {"type": "string"}
        case "texts":
            items = {"type": "string"} if bounds is None else {"enum": list(bounds)}
            return {"type": "array", "items": items}
        case "pair":
            return {"type": "array", "items": {"type": "string"}, **pair}
        case "numbers" | "angles":
            return {"type": "array", "items": _or_text(_number(kind, bounds))}
        case "along":
            return {"anyOf": [number, {"type": "array", "items": number, **pair}]}
        case "gap":
            return {"anyOf": [number, {"enum": list(bounds)}]}
    return _or_text(_number(kind, bounds))
