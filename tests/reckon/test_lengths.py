"""A length is accepted as people write it, asked back, or refused with a reason."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.reckon.sentences.typed_answers import says_of
from webapp.reckon.typed.length_grammar import UNITS
from webapp.reckon.typed.lengths import (
    inches_of,
    parse_distance,
    parse_length,
    show_amount,
    show_length,
    show_limit,
    show_step,
)
from webapp.reckon.typed.tokens import ALIKE, VULGAR

INCH = 25.4
UNIT = st.sampled_from(["in", "mm"])

ACCEPTED = [
    ("14 3/8", "in", 365.125),
    ("14-3/8", "in", 365.125),
    ('14 3/8"', "in", 365.125),
    ("14 - 3/8 in", "in", 365.125),
    ("14⅜", "in", 365.125),
    ("14 ⅜", "in", 365.125),
    ("14-⅜″", "in", 365.125),
    ("3⁄8", "in", 9.525),
    ("8/16", "in", 12.7),
    ("6/8", "in", 19.05),
    ("14.375 in", "in", 365.125),
    ("14.375in", "mm", 365.125),
    ('0.060"', "mm", 1.524),
    (".020", "in", 0.508),
    ("365 mm", "in", 365),
    ("835mm", "in", 835),
    ("12MM", "in", 12),
    ("12 mm.", "in", 12),
    ("123cm", "in", 1230),
    ("36.5 cm", "in", 365),
    ("2.5 m", "in", 2500),
    ("365", "mm", 365),
    ("365", "in", 365 * INCH),
    ("36,5 cm", "in", 365),
    ("12,5", "mm", 12.5),
    ("0,125 mm", "in", 0.125),
    (",5 mm", "in", 0.5),
    ("1' 2 3/8\"", "mm", 365.125),
    ("1'-2 3/8\"", "mm", 365.125),
    ("1’ 2 3/8”", "mm", 365.125),
    ("1 ft. 2 3/8 in.", "mm", 365.125),
    ("5 ft", "in", 1524),
    ("5 ft 3", "mm", 1600.2),
    ("12''", "mm", 304.8),
    ("8\u00a07/16", "in", 214.3125),
    ("8\u2009\t7/16\n", "in", 214.3125),
    ("0", "in", 0),
    ("21/10", "in", 53.34),
    ("250/100", "in", 63.5),
    ("11/16", "in", 17.4625),
    ("14/4", "in", 88.9),
    ("16/16", "in", 25.4),
    ("1'-2", "mm", 355.6),
    (",125 mm", "in", 0.125),
    ("20000 mm", "in", 20000),
    ('14" 3/8', "mm", 365.125),
    ('14" 3/8"', "mm", 365.125),
    ('14" - 3/8', "mm", 365.125),
    ("14 inches 3/8", "mm", 365.125),
    ("7/16ths", "in", 11.1125),
    ("7 16ths", "in", 11.1125),
    ("14 7/16ths", "in", 366.7125),
    ("3/8ths of an inch", "mm", 9.525),
    ("14 and 3/8", "in", 365.125),
    ("8 and a half", "in", 215.9),
    ("8 and 3 quarters", "in", 222.25),
    ("half an inch", "mm", 12.7),
    ("three quarters", "in", 19.05),
    ("40 thou", "mm", 1.016),
    ("1 ft.5 in", "mm", 317.5),
]


@pytest.mark.parametrize(("text", "unit", "value"), ACCEPTED)
def test_a_length_is_read_as_people_write_it(text, unit, value):
    found = parse_length(text, unit)

    assert found["ok"]
    assert found["value"] == pytest.approx(value)


def test_the_unit_that_was_written_is_told():
    assert parse_length("14 3/8", "in")["unit"] == "in"
    assert parse_length('14 3/8"', "mm")["unit"] == "in"
    assert parse_length("36.5 cm", "in")["unit"] == "mm"
    assert parse_length("36,5 cm", "in")["unit"] == "mm"
    assert parse_length("5 ft", "mm")["unit"] == "in"
    assert parse_length("1' 2", "mm")["unit"] == "in"
    assert parse_length("365+", "mm")["unit"] == "mm"


HALVES = [
    ("14 3/8+", "in", None, 365.125 + INCH / 32),
    ("14 3/8 strong", "in", None, 365.125 + INCH / 32),
    ('14 3/8"+', "mm", None, 365.125 + INCH / 32),
    ('14 3/8-"', "mm", None, 365.125 - INCH / 32),
    ("14 3/8 shy", "in", INCH / 32, 365.125 - INCH / 64),
    ("14-", "in", None, 14 * INCH - INCH / 32),
    ("365+", "mm", None, 365.5),
    ("365 shy mm", "in", None, 364.5),
    ("365 mm -", "in", 0.5, 364.75),
    ("14 3/8 heavy", "in", None, 365.125 + INCH / 32),
    ("14 3/8 full", "in", None, 365.125 + INCH / 32),
    ("14 3/8 light", "in", None, 365.125 - INCH / 32),
    ("14 3/8 bare", "in", None, 365.125 - INCH / 32),
    ("14 3/8 scant", "in", None, 365.125 - INCH / 32),
    # A tape of the other unit was read, by its own marks.
    ("14 3/8 inch strong", "mm", 1.0, 365.125 + INCH / 32),
    ("365 mm strong", "in", 1.5875, 365.5),
]


@pytest.mark.parametrize(("text", "unit", "read_to", "value"), HALVES)
def test_strong_and_shy_are_half_a_graduation(text, unit, read_to, value):
    assert parse_length(text, unit, read_to)["value"] == pytest.approx(value)


ASKED = [
    ("21/4", "in", {"2 1/4 in": 57.15, "5 1/4 in": 133.35}),
    ("21/4", "mm", {"2 1/4 in": 57.15, "5 1/4 in": 133.35}),
    ("111/16", "in", {"1 11/16 in": 42.8625, "6 15/16 in": 176.2125}),
    ("21/4 strong", "in", {"2 1/4 in strong": 57.94375, "5 1/4 in strong": 134.14375}),
    ("1' 21/4", "in", {"1 ft 2 1/4 in": 361.95, "1 ft 5 1/4 in": 438.15}),
    ("15'", "in", {"15 ft": 4572, "15 in": 381}),
    ("14' 3/8", "in", {"14 3/8 in": 365.125, "14 ft 3/8 in": 4276.725}),
    ("14'-3/8", "mm", {"14 3/8 in": 365.125, "14 ft 3/8 in": 4276.725}),
    ("1,234 mm", "in", {"1.234 mm": 1.234, "1234 mm": 1234}),
    ("1,234+", "mm", {"1.234 mm strong": 1.734, "1234 mm strong": 1234.5}),
    ("1,234 cm", "in", {"1.234 cm": 12.34, "1234 cm": 12340}),
    ("3/8", "mm", {"3/8 in": 9.525}),
    ("0/8", "mm", {"0/8 in": 0}),
    ("4 3/8", "mm", {"4 3/8 in": 111.125}),
    ("14 3/8", "mm", {"14 3/8 in": 365.125}),
]


@pytest.mark.parametrize(("text", "unit", "choices"), ASKED)
def test_what_can_be_read_in_two_ways_is_asked_back(text, unit, choices):
    found = parse_length(text, unit)

    assert not found["ok"]
    assert says_of(found).endswith("?")
    assert {each["text"]: each["value"] for each in found["choices"]} == pytest.approx(choices)


def test_a_distance_of_zero_is_asked_back():
    found = parse_distance("0", "in")

    assert "left out?" in says_of(found)
    assert found["choices"] == [{"text": "touching", "value": 0}]
    assert parse_distance("touching", "in") == {"ok": True, "value": 0, "unit": "in"}
    assert parse_distance("14 3/8", "in") == parse_length("14 3/8", "in")


@pytest.mark.parametrize("top", [10, 17, 20, 40])
def test_an_improper_fraction_without_a_split_is_accepted_or_asked(top):
    found = parse_length(f"{top}/8", "in")

    assert found["ok"] or len(found["choices"]) == 2


REFUSED = [
    ("", "Nothing was entered"),
    (" \t", "Nothing was entered"),
    ("4-4.5", "range"),
    ("4 to 5", "range"),
    ("1/2-3/4", "range"),
    ("5-5 1/2", "range"),
    ("12 - 15", "range"),
    ("3/4-16", "thread"),
    ("1 1/4-12", "thread"),
    ("5/8-18", "thread"),
    ("-5", "no sign"),
    ("+5", "no sign"),
    ("−3/8", "no sign"),
    ("0 shy", "below zero"),
    ("abc", "“abc” is not part"),
    ("1e3", "“e” is not part"),
    ("nan", "“nan” is not part"),
    ("shy", "number first"),
    ("bare 14", "then bare"),
    ("16ths", "“ths” is not part"),
    ("14 and 3", "“and” is not part"),
    ("5 3/8 thou", "Fractions go with inches"),
    ("3/8 ft", "feet first"),
    ("3 3/8 '", "feet first"),
    ("10°", "angle"),
    ("10 deg", "angle"),
    ("3/0", "0 below the line"),
    ("1.5/8", "whole numbers"),
    ("9999999/8", "whole numbers"),
    ("3/7", "No tape is divided"),
    ("14 9/8", "whole inch or more"),
    ("4 8/8", "whole inch or more"),
    ("14 3/8 mm", "Fractions go with inches"),
    ("14,375 in", "comma"),
    ("1,2,3 mm", "comma"),
    (",5' 3", "comma"),
    (", mm", "comma"),
    ("4..5", "not a number"),
    (".", "not a number"),
    ("8 7", "nothing between"),
    ("8 7/", "no lower number"),
    ("12 mm 5", "unit goes at the end"),
    ('"5', "unit goes at the end"),
    ("/8", "cannot be read"),
    ("14 3/8++", "cannot be read"),
    ("2' 3'", "feet once"),
    ("2' 30 mm", "Feet go with inches"),
    ("2' x", "“x” is not part"),
    ("0/8 shy", "below zero"),
    ("99999/2", "longer than any vehicle"),
    ("99999 mm", "longer than any vehicle"),
    ("9" * 400, "longer than any vehicle"),
]


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_what_is_no_length_is_refused_with_the_reason(text, reason):
    found = parse_length(text, "in")

    assert not found["ok"]
    assert found["choices"] == []
    assert reason in says_of(found)


def test_a_choice_that_could_be_no_length_is_not_offered():
    assert "below zero" in says_of(parse_length("0/8 shy", "mm"))
    assert [each["text"] for each in parse_length("7001/2", "in")["choices"]] == ["700 1/2 in"]


TEXTS = st.text() | st.lists(
    st.sampled_from([*"0123456789 /-+.,", *ALIKE, *VULGAR, *UNITS, "to", "shy", "strong"]),
    max_size=9,
).map("".join)


@given(TEXTS, UNIT, st.none() | st.floats(0.01, 10))
def test_any_text_gives_a_length_or_a_sentence(text, unit, read_to):
    found = parse_length(text, unit, read_to)

    if found["ok"]:
        assert 0 <= found["value"] <= 20000
        assert found["unit"] in ["in", "mm"]
    else:
        assert says_of(found)[-1] in ".?"
        assert all(0 <= each["value"] <= 20000 for each in found["choices"])


@given(st.integers(0, 32 * 700))
def test_a_marked_length_shown_in_inches_is_read_back(marks):
    mm = marks * INCH / 32

    assert parse_length(show_length(mm, "in"), "in")["value"] == pytest.approx(mm)


@given(st.integers(0, 200000))
def test_a_length_shown_in_millimeters_is_read_back(tenths):
    found = parse_length(show_length(tenths / 10, "mm"), "in")

    assert found == {"ok": True, "value": pytest.approx(tenths / 10), "unit": "mm"}


@given(st.floats(0, 20000))
def test_inches_are_rounded_to_the_nearest_mark(mm):
    mark = inches_of(mm, 32)

    shown = (mark["whole"] + mark["top"] / mark["bottom"]) * INCH
    assert abs(shown - mm) <= INCH / 64 + 1e-9
    assert show_length(mm, "in").startswith("≈") != mark["exact"]


@pytest.mark.parametrize(
    ("mm", "shown"),
    [
        (214.3125, "8 7/16 in"),
        (214.3, "≈ 8 7/16 in"),
        (12.7, "1/2 in"),
        (0, "0 in"),
        (50.8, "2 in"),
    ],
)
def test_inches_are_shown_as_a_tape_is_read(mm, shown):
    assert show_length(mm, "in") == shown.replace(" in", "\u202fin").replace("≈ ", "≈\u202f")


def test_amounts_limits_and_steps_are_shown_without_decimals_that_say_nothing():
    assert show_amount(5.35, "mm") == "5.4\u202fmm"
    assert show_amount(0.5, "in") == "≈\u202f1/32\u202fin (0.5\u202fmm)"
    assert show_amount(0.3, "in") == "less than 1/32\u202fin (0.3\u202fmm)"
    assert show_amount(0.01, "in") == "0\u202fin"
    assert show_limit(3.0, "mm") == "3\u202fmm"
    assert show_limit(3.175, "in") == "1/8\u202fin (3.18\u202fmm)"
    assert show_step(1.5875) == "1/16\u202fin"
    assert show_step(0.5) == "0.5\u202fmm"
