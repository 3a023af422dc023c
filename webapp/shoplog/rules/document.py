"""The contract of entries as one document, for the docs and for whoever reads an export.

`python -m webapp.shoplog.rules.document` writes docs/entries.json from a checkout, and the table
that the phone checks entries by.
"""

import json
from pathlib import Path
from typing import Any

from webapp.shoplog.rules import phone_table
from webapp.shoplog.rules.kinds import BODIES, body_schema
from webapp.shoplog.rules.own_kinds import OWN_KINDS

DRAFT = "https://json-schema.org/draft/2020-12/schema"
ABOUT = (
    "An entry as a phone makes it; $defs also has the bodies of what the shop PC writes itself "
    f"({', '.join(OWN_KINDS)}). Lengths in mm, angles in degrees, torques in N·m. A body may "
    "have keys beside those named here, which are kept. What holds between fields beside this is "
    "in webapp/reckon/entry_rules.py."
)
PATH = Path(__file__).parents[3] / "docs" / "entries.json"


def contract() -> dict[str, Any]:
    """The JSON Schema of entries (draft 2020-12); in `$defs` that of each body by its name."""
    named = {name: body_schema(name) for name in BODIES}
    return {
        "$schema": DRAFT,
        "title": "Entry",
        "description": ABOUT,
        "$ref": "#/$defs/entry",
        "oneOf": [entry_with(name) for name in named if name not in ("entry", "reading", "pick")],
        "$defs": {**named, **{name: body_schema(name) for name in OWN_KINDS}},
    }


def entry_with(name: str) -> dict[str, Any]:
    """An entry whose body is the one of this name."""
    kind, *at = name.split(".")
    goes_by = dict(zip(("step", "field"), at, strict=False))
    body: dict[str, Any] = {"$ref": f"#/$defs/{name}"}
    if goes_by:
        body["properties"] = {key: {"const": value} for key, value in goes_by.items()}
    return {"properties": {"kind": {"const": kind}, "body": body}, "required": ["kind", "body"]}


def written() -> str:
    """The document as it stands in the docs."""
    return json.dumps(contract(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    PATH.write_text(written(), "utf-8")
    phone_table.PATH.write_text(phone_table.written(), "utf-8")
