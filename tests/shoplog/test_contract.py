"""The contract of entries: one type a kind, and everything that follows from it."""

import pytest
from kit.entries import BODIES as EXAMPLES

from webapp.shoplog.rules import document
from webapp.shoplog.rules.kinds import BODIES, KINDS, body_schema
from webapp.shoplog.rules.sentences import words_of

# Each was taken once, and took pages down.
HARMFUL = [
    {"known_sums": {"front": {"rotor": 1}}},
    {"track_bars": {"front": None}},
    {"rechecks": {"front": 1}},
    {"remeasure": {"front": {"date": "soon"}}},
    {"torques": {"front": {"fastener": "bolt"}}},
    {"joint_limits": {"front": {"frame end": 3}}},
    {"drag_links": {"front": {"adjuster": "one_end"}}},
    {"replaced_tags": {"K7RM-4TQX": None}},
]


def test_the_document_is_what_the_types_say():
    assert document.PATH.read_text("utf-8") == document.written()


def test_every_kind_has_an_example_and_a_type():
    assert EXAMPLES.keys() == KINDS.keys()


@pytest.mark.parametrize("name", BODIES)
def test_every_field_says_in_words_what_it_must_be(name):
    for field, node in body_schema(name)["properties"].items():
        for part in with_lists_of(node):
            assert words_of(part) not in ("", "a list"), field


def with_lists_of(node):
    """A part of a schema; of a list what it holds, of several types each but null."""
    if "description" in node:
        return [node]
    if "anyOf" in node:
        several = [each for each in node["anyOf"] if each.get("type") != "null"]
        return [part for each in several for part in with_lists_of(each)]
    inner = node.get("items") or node.get("additionalProperties")
    return with_lists_of(inner) if inner else [node]


@pytest.mark.parametrize("body", HARMFUL)
def test_what_would_take_pages_down_is_refused_at_its_field(new_phone, lead, body):
    phone = new_phone("Orla Bennett")
    named = phone.entry("vehicle", {"name": "Gray hauler", "units": "in"})
    harmful = phone.entry("vehicle", body)

    taken, refused = phone.push(named, harmful).json["answers"]

    assert (taken["verdict"], refused["verdict"]) == ("stored", "refused")
    [field] = body
    assert field.replace("_", " ") in refused["reason"] or "needs a day" in refused["reason"]
    for path in ("/desk", "/desk/vehicles", f"/desk/vehicles/{phone.vehicle}", "/desk/due"):
        assert lead.get(path).status_code == 200
