"""Entries generated from the contract's own schema, whole and broken at any depth."""

import json

from hypothesis import given, settings
from kit.generated import entries

from webapp.reckon.entry_rules import rules_broken
from webapp.shoplog.entries import Refused, checked
from webapp.shoplog.rules.kinds import KINDS, body_faults, checker, name_of_body

PHONE = "11111111-2222-4333-8444-555555555555"


@settings(max_examples=100)
@given(entry=entries(PHONE))
def test_what_the_schema_describes_the_types_take(entry):
    kind, body = entry["kind"], json.loads(json.dumps(entry["body"]))

    checker(name_of_body(kind, body)).validate_python(body, strict=True)
    # What is left can only be a rule between fields.
    assert body_faults(kind, body) == rules_broken(kind, body)


@settings(max_examples=100)
@given(entry=entries(PHONE))
def test_what_is_kept_is_the_same_after_a_round_trip(entry):
    try:
        kept = checked(entry, PHONE)
    except Refused:
        return
    again = checked(json.loads(json.dumps(kept.made)), PHONE)

    assert again.content == kept.content
    assert body_faults(entry["kind"], json.loads(kept.body)) == []


@settings(max_examples=250)
@given(entry=entries(PHONE, broken=True))
def test_what_is_broken_at_any_depth_is_kept_whole_or_refused_in_a_sentence(entry):
    try:
        kept = checked(entry, PHONE)
    except Refused as refusal:
        said = str(refusal)
        assert said[0].isupper()
        assert said.rstrip().endswith(".")
        return
    assert kept.made["kind"] in KINDS
    assert body_faults(kept.made["kind"], json.loads(kept.body)) == []
