"""No form of the phone takes a text that is longer than the contract of entries allows."""

import re
from pathlib import Path

import pytest
from kit.entries import make_entry

from webapp.shoplog.entries import checked
from webapp.shoplog.rules.kinds import body_schema
from webapp.shoplog.rules.values import LONGEST_TEXT

SCRIPTS = Path(__file__).parents[2] / "static" / "js"
PHONE = "11111111-2222-4333-8444-555555555555"
# The fields that the texts of each script end in, by body and path; a tag code is in no entry.
ENDS_IN = {
    "parts/measure/limits.js": ["pick.play.limit value maker_source"],
    "parts/measure/own_name.js": [
        "reading.play joint",
        "reading.clearance between",
        "reading.torque fastener",
    ],
    "parts/measure/fastener.js": ["reading.torque source", "reading.torque tool"],
    "screens/job.js": ["note text"],
    "screens/pair.js": [],
    "screens/tag.js": ["vehicle name"],
    "screens/photo.js": ["photo text"],
    "screens/travel.js": ["plan name"],
    "screens/change.js": ["change part", "change text"],
    "screens/vehicle.js": ["job about"],
    "screens/hand_in.js": ["hand_in reason"],
}


def lengths_in(path):
    lines = [line for line in path.read_text("utf-8").splitlines() if "maxlength:" in line]
    return [int(found) for line in lines for found in re.findall(r"'(\d+)'", line)]


def longest(name, *fields):
    """What the contract allows in a field of a body."""
    node = body_schema(name)
    for field in fields:
        node = node["properties"][field]
        node = next((each for each in node.get("anyOf", [node]) if each["type"] != "null"), node)
    return node.get("items", node)["maxLength"]


def test_every_form_with_a_text_is_known_here():
    found = {
        path.relative_to(SCRIPTS).as_posix() for path in SCRIPTS.rglob("*.js") if lengths_in(path)
    }

    assert found == set(ENDS_IN)


@pytest.mark.parametrize("script", [each for each in ENDS_IN if ENDS_IN[each]])
def test_no_text_of_a_form_is_longer_than_what_it_ends_in(script):
    allowed = [longest(*place.split()) for place in ENDS_IN[script]]

    for length in lengths_in(SCRIPTS / script):
        assert length <= max(allowed)
        assert length <= LONGEST_TEXT
    assert min(lengths_in(SCRIPTS / script)) <= min(allowed)


@pytest.mark.parametrize("length", [200, 201, 2000, LONGEST_TEXT])
def test_a_note_of_any_length_that_a_form_takes_is_kept_with_what_was_typed(length):
    text = "n" * length
    entry = make_entry(PHONE, "note", body={"text": text}, typed=text)

    assert checked(entry, PHONE).made["typed"] == text
