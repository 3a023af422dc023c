"""The phone takes and refuses what the shop does; both go by the same types."""

from random import Random

import pytest
from kit.entries import make_entry
from kit.generated import NAMES, World
from kit.phone_contract import on_phone

from webapp.shoplog.entries import Refused, plain
from webapp.shoplog.rules import phone_table
from webapp.shoplog.rules.kinds import body_faults, entry_faults

PHONE = "11111111-2222-4333-8444-555555555555"


def shop_says(entry):
    """What the shop has against an entry's head or body."""
    return entry_faults(entry) or body_faults(entry["kind"], plain(entry["body"]))


def test_the_table_is_what_the_types_say():
    assert phone_table.PATH.read_text("utf-8") == phone_table.written()


@pytest.mark.parametrize("name", NAMES)
def test_the_phone_keeps_and_reads_what_the_shop_takes(name):
    world = World(Random(name))
    for number in range(1, 40):
        entry = world.entry(PHONE, number, name)
        if shop_says(entry):
            continue
        assert on_phone("faultOf", entry) == ""
        assert on_phone("readable", entry) == entry


def test_f68_the_phone_refuses_what_the_shop_refuses_and_nothing_else():
    world = World(Random(5))
    refused = 0
    for number in range(1, 3000):
        entry = world.broken(world.entry(PHONE, number))
        # A phone's entry has these before its number is allotted.
        if not {"kind", "body", "id", "local_no"} <= entry.keys() or not isinstance(
            entry["kind"], str
        ):
            continue
        try:
            there = shop_says(entry)
        except (Refused, AttributeError, UnicodeError, KeyError):
            continue
        here = on_phone("faultOf", entry)
        assert bool(here) == bool(there), (entry, here, there)
        refused += bool(there)

    assert refused > 500


def test_what_is_wrong_is_said_at_its_field():
    long = make_entry(PHONE, "note", body={"text": "n" * 4001})
    bare = make_entry(PHONE, "reading", body={"step": "torque", "field": "fastener"})
    huge = make_entry(PHONE, "note", body={"text": "n", "more": "m" * 20_000})

    assert on_phone("faultOf", long) == (
        "The note\u2019s text must be a text of at most 4000 characters, not an empty one."
    )
    assert on_phone("faultOf", bare) == "The reading\u2019s fastener is missing."
    assert on_phone("faultOf", huge) == (
        "The entry\u2019s body must be shorter: at most 16384 bytes."
    )


def test_what_a_phone_cannot_read_is_set_apart_and_says_why():
    newer = {**make_entry(PHONE, "note"), "kind": "weighing"}
    broken = make_entry(PHONE, "vehicle", body={"track_bars": {"front": None}})

    assert on_phone("readable", newer) == {
        **newer,
        "kind": "unreadable",
        "body": {
            "was": "weighing",
            "says": "This entry cannot be read: This app does not know the kind weighing.",
        },
    }
    assert on_phone("readable", broken)["body"]["says"] == (
        "This entry cannot be read: The vehicle\u2019s track bars, front must be an object."
    )
