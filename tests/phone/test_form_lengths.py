"""Every text of a form on the phone may be exactly as long as the contract of entries allows."""

import re
from pathlib import Path

import pytest
from kit.entries import make_entry
from kit.phone_contract import on_phone

from webapp.shoplog.entries import checked
from webapp.shoplog.rules.kinds import LONGEST_TEXT, body_schema

SCRIPTS = Path(__file__).parents[2] / "static" / "js"
PHONE = "11111111-2222-4333-8444-555555555555"
CALL = re.compile(r"longest\(('[^)]*')\)")
# What the texts of the forms end in.
ENDS_IN = {
    ("pick.play.limit", "value", "maker_source"),
    ("reading.play", "joint"),
    ("reading.torque", "source"),
    ("reading.torque", "also_figure"),
    ("reading.torque", "tool"),
    ("note", "text"),
    ("vehicle", "name"),
    ("photo", "text"),
    ("plan", "name"),
    ("change", "part"),
    ("change", "text"),
    ("job", "about"),
    ("hand_in", "reason"),
    ("strike", "reason"),
}
# A name of one's own is one for all three.
SAME = [("reading.play", "joint"), ("reading.clearance", "between"), ("reading.torque", "fastener")]
FASTENER = "parts/measure/fastener.js"
# A pairing code is in no entry, and a value is kept as a number beside what was typed.
WITHOUT = {"screens/pair.js", "parts/measure/asked.js"}


def texts():
    """The text of each script of the phone, by its path."""
    return {
        path.relative_to(SCRIPTS).as_posix(): path.read_text("utf-8")
        for path in SCRIPTS.rglob("*.js")
    }


def longest(name, *fields):
    """What the contract allows in a field of a body."""
    node = body_schema(name)
    for field in fields:
        node = node["properties"][field]
        node = next((each for each in node.get("anyOf", [node]) if each["type"] != "null"), node)
    return node.get("items", node)["maxLength"]


def test_every_length_of_a_form_is_asked_of_the_contract():
    asked = {
        tuple(re.findall(r"'([^']+)'", found))
        for text in texts().values()
        for found in CALL.findall(text)
    }
    assert "longest('reading.torque', name)" in texts()[FASTENER]
    written = re.findall(r"written\(\s*'(\w+)'", texts()[FASTENER])

    assert asked | {("reading.torque", name) for name in written} == ENDS_IN
    fixed = {path for path, text in texts().items() if re.search(r"maxlength: '\d", text)}
    assert fixed == WITHOUT


def test_every_form_of_several_lines_has_a_length():
    for path, text in texts().items():
        for found in re.finditer(r"h\('textarea', \{(.*?)\}", text, re.DOTALL):
            assert "maxlength" in found[1], path


@pytest.mark.parametrize("place", sorted({*ENDS_IN, *SAME}), ids=" ".join)
def test_the_phone_knows_the_length_that_the_contract_has(place):
    assert on_phone("longest", *place) == str(longest(*place))


def test_a_name_of_ones_own_fits_wherever_it_goes():
    assert len({longest(*place) for place in SAME}) == 1


@pytest.mark.parametrize("length", [200, 201, 2000, LONGEST_TEXT])
def test_a_note_of_any_length_that_a_form_takes_is_kept_with_what_was_typed(length):
    text = "n" * length
    entry = make_entry(PHONE, "note", body={"text": text}, typed=text)

    assert checked(entry, PHONE).made["typed"] == text
