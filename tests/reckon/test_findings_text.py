"""`axlewright assess` for people and programs: text, standard input, the schema of a sheet."""

import io
import json
import sys

import pytest
from hypothesis import given, settings
from kit.same_sheets import good_sheets, spoiled_sheets
from kit.sheets import SHEETS
from kit.worked_sheets import DATA, SAMPLE, changed

from webapp.command import main
from webapp.reckon.assess import assess
from webapp.reckon.sentences.findings_text import findings_text
from webapp.reckon.sheet_faults import faults
from webapp.reckon.sheet_rules import RULES
from webapp.sheet_schema import sheet_schema

SHEET = str(DATA / "sample_sheet.json")


def test_text_tells_the_answer_first_then_numbers_then_why(capsys):
    assert main(["assess", "--format", "text", SHEET]) == 0

    out = capsys.readouterr().out.replace("\u202f", " ")
    lines = out.splitlines()
    assert lines[0].startswith("The axle sits 5.4 mm to the left. Make the track bar 5.3 mm longer")
    assert lines.index("Numbers") < lines.index("Why")
    assert "  Offset                      5.4 ± 1.0 mm, left" in lines
    assert (
        "- Total toe is 0.15° in: the wheels stand 2.0 mm further apart behind the axle." in lines
    )


def test_plans_stand_beside_today():
    sheet = changed(SAMPLE, plans=[{"name": "taller bracket", "axle_end_up": 50}])

    text = findings_text(assess(sheet), "mm").replace("\u202f", " ")

    assert "What if: taller bracket" in text
    assert "  Bar angle minus link angle   0.0°, today 3.4°" in text


def test_a_plan_without_a_name_is_called_a_plan():
    text = findings_text(assess(changed(SAMPLE, plans=[{"axle_end_up": 50}])), "mm")

    assert "What if: Plan 1\n" in text


def test_an_empty_sheet_says_that_it_asks_for_nothing():
    assert findings_text(assess({}), "mm") == "Nothing on this sheet asks for an answer yet.\n"


def fed(monkeypatch, data):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))


def test_a_dash_reads_standard_input(capsys, monkeypatch):
    fed(monkeypatch, json.dumps(SAMPLE).encode())

    assert main(["assess", "-"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(json.dumps(assess(SAMPLE)))


@pytest.mark.parametrize("data", [b"{", b"\xff", b'{"axle": 5}'])
def test_bad_standard_input_is_named_and_exits_2(capsys, monkeypatch, data):
    fed(monkeypatch, data)

    assert main(["assess", "-", "--format", "text"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert len(captured.err.splitlines()) == 1


def test_the_schema_is_printed_without_a_sheet(capsys):
    assert main(["assess", "--schema"]) == 0
    assert json.loads(capsys.readouterr().out) == sheet_schema()


TYPES = {
    "object": dict,
    "array": list,
    "string": str,
    "boolean": bool,
    "null": type(None),
    "number": (int, float),
}


def is_of(value, names):
    names = [names] if isinstance(names, str) else names
    found = [name for name in names if isinstance(value, TYPES[name])]
    return bool(found) and (not isinstance(value, bool) or "boolean" in found)


def bounded(value, schema):
    if isinstance(value, list):
        within = schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", 10**9)
        return within and all(valid(each, schema["items"]) for each in value if "items" in schema)
    low, over = schema.get("minimum", -1e300), schema.get("exclusiveMinimum", -1e300)
    return isinstance(value, str) or (low <= value <= schema.get("maximum", 1e300) and value > over)


def valid(value, schema):
    """Whether a value meets the few keywords of JSON Schema that the sheet's schema uses."""
    if "anyOf" in schema:
        return any(valid(value, each) for each in schema["anyOf"])
    if "enum" in schema:
        return isinstance(value, str) and value in schema["enum"]
    if not is_of(value, schema["type"]):
        return False
    if isinstance(value, dict):
        properties = schema["properties"]
        return all(
            name in properties and valid(each, properties[name]) for name, each in value.items()
        )
    return value is None or isinstance(value, bool) or bounded(value, schema)


@given(good_sheets() | spoiled_sheets() | SHEETS)
@settings(max_examples=300)
def test_the_schema_and_the_arithmetic_accept_the_same_sheets(sheet):
    assert valid(sheet, sheet_schema()) == (faults(sheet) == [])


def test_the_schema_names_every_field():
    def paths(schema, before=""):
        for name, part in schema["properties"].items():
            inner = part.get("items", part)
            if "properties" in inner:
                yield from paths(inner, before + name + ("[]." if "items" in part else "."))
            else:
                yield before + name

    assert sorted(paths(sheet_schema())) == sorted(rule[0] for rule in RULES)
    assert valid(SAMPLE, sheet_schema())
