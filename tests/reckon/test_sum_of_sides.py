"""The sum of the sides: how far it may differ, and which blunder explains its excess."""

import pytest

from webapp.reckon.checks.sum_of_sides import sum_check

INCH = 25.4


def cause(excess, **extras):
    found = sum_check({"known_sum": 400.0, **extras}, {"sum": 400.0 + excess, "sum_u": 0.5})
    return found["sum_reason"]["cause"]


@pytest.mark.parametrize(
    ("excess", "kind", "name", "tapes"),
    [
        (25.4, "tape_start", "1 in", 1), (50.8, "tape_start", "1 in", 2),
        (10.0, "tape_start", "1 cm", 1), (20.0, "tape_start", "1 cm", 2),
        (100.0, "tape_start", "10 cm", 1), (200.0, "tape_start", "10 cm", 2),
        (-25.4, "read_short", "1 in", 1), (-20.0, "read_short", "1 cm", 2),
    ],
)  # fmt: skip
def test_a_tape_begun_at_a_mark_is_named(excess, kind, name, tapes):
    found = cause(excess)

    assert (found["kind"], found["name"], found["tapes"]) == (kind, name, tapes)


@pytest.mark.parametrize(
    ("name", "wide"),
    [
        ("1/4 in", INCH / 4), ("5/16 in", INCH * 5 / 16), ("1/2 in", INCH / 2), ("15 mm", 15),
        ("30 mm", 30), ("1 1/4 in", INCH * 5 / 4), ("1 1/2 in", INCH * 3 / 2),
    ],
)  # fmt: skip
def test_a_spacer_that_is_sold_is_named_where_the_sides_are_too_far_apart(name, wide):
    assert cause(wide)["kind"] == "forgotten_spacer" and cause(wide)["name"] == name
    assert (cause(-wide) or {}).get("kind") != "forgotten_spacer"


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_spacer_that_is_known_is_named_by_its_side(side):
    found = cause(22.7, **{f"{side}_extra": 22.7})

    assert (found["kind"], found["side"]) == ("known_spacer", side)


@pytest.mark.parametrize("excess", [70.0, 3.7, -4.0])
def test_what_nothing_explains_has_no_cause(excess):
    """A 1/4 in spacer makes 6.35 mm: it is no cause of 3.7, however rough the tape is."""
    part, found = {"known_sum": 400.0, "known_sum_u": 0.6}, {"sum": 400 + excess, "sum_u": 0.96}

    assert sum_check(part, found)["sum_reason"]["cause"] is None


def test_the_room_is_twice_both_uncertainties_and_a_millimeter():
    """2 √(0.4² + 0.3²) + 1 = 2.0."""
    part, found = {"known_sum": 400.0, "known_sum_u": 0.3}, {"sum_u": 0.4}

    for excess, state in ((2.0, "agrees"), (-2.0, "agrees"), (2.1, "differs"), (-2.1, "differs")):
        assert sum_check(part, {**found, "sum": 400.0 + excess})["sum_state"] == state
