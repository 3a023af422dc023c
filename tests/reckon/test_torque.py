"""Torque: converted and checked, never derived; figures as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worded import worded
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.checks import torque as checks
from webapp.reckon.sentences.typed_answers import says_of
from webapp.reckon.typed.torque_figures import (
    SPELLINGS,
    UNITS_IN_NM,
    in_nm,
    out_of_nm,
    pair_check,
    parse_torque,
)

torque = worded(checks.torque)

LBF_FT = 1.3558179483
WHOLE = {
    "fastener": "frame-end bolt", "value": 90, "source": "maker", "end": "nut", "thread": "dry",
}  # fmt: skip


def test_pound_feet_in_newton_meters():
    assert in_nm(1, "lb-ft") == LBF_FT
    assert in_nm(12, "lb-in") == pytest.approx(LBF_FT)
    assert in_nm(1, "kgf·m") == pytest.approx(9.80665)


@given(st.floats(0.1, 2000), st.sampled_from(list(UNITS_IN_NM)))
def test_converting_there_and_back_gives_the_value(value, unit):
    assert out_of_nm(in_nm(value, unit), unit) == pytest.approx(value)


def test_a_printed_pair_may_be_three_percent_apart():
    assert pair_check(100, "N·m", 100 / LBF_FT * 0.97, "lb-ft")["state"] == "agrees"
    assert pair_check(100, "N·m", 100 / LBF_FT * 0.969, "lb-ft")["state"] == "differs"
    assert pair_check(100, "N·m", 100 / LBF_FT / 0.969, "lb-ft")["state"] == "differs"
    assert pair_check(118, "N·m", 87, "lb-ft")["state"] == "agrees"


def test_a_whole_figure_is_shown_in_both_units_and_lacks_nothing():
    found = torque([{**WHOLE, "also": 66, "also_unit": "lb-ft"}], "on_wheels")

    fastener = found["fasteners"][0]
    assert fastener["nm"] == 90
    assert fastener["lb_ft"] == pytest.approx(66.38, abs=0.01)
    assert fastener["pair"] == "agrees"
    assert found["why"] == []


def test_a_pair_that_disagrees_is_flagged():
    found = torque([{**WHOLE, "also": 90}], None)

    assert found["fasteners"][0]["pair"] == "differs"
    assert "Frame-end bolt: the two printed figures are 26% apart: 90" in found["why"][0]
    assert "Ask the maker which one is meant" in found["why"][0]


@pytest.mark.parametrize(
    ("field", "says"),
    [
        ("value", "no figure is recorded. Take it from the vehicle's or part's maker."),
        ("source", "say where the figure comes from."),
        ("end", "say which end was turned."),
        ("thread", "say whether the thread was dry or oiled."),
    ],
)
def test_what_a_figure_lacks_is_named(field, says):
    found = torque([{**WHOLE, field: None}], None)

    assert found["why"] == [f"Frame-end bolt: {says}"]


def test_a_missing_figure_is_never_worked_out():
    found = torque([{"fastener": "M14 10.9"}], None)["fasteners"][0]

    assert found["nm"] is None
    assert found["lb_ft"] is None


def test_a_rubber_bush_is_clamped_with_the_weight_on_the_springs():
    hanging = torque([{**WHOLE, "rubber": True}], "hanging")["why"]

    assert "Clamp a rubber bushing only with the weight on the springs." in hanging[0]
    assert torque([{**WHOLE, "rubber": True}], "on_wheels")["why"] == []
    assert torque([WHOLE], "hanging")["why"] == []


def test_torque_is_among_the_findings():
    found = assess(changed(SAMPLE, torque=[{"value": 66, "unit": "lb-ft"}]))

    assert found["torque"]["fasteners"][0]["nm"] == pytest.approx(66 * LBF_FT)
    assert any(says.startswith("A fastener without a name: say where") for says in found["why"])


FIGURES = [
    ("525 ± 75", 525, 75, None),
    ("525 +/- 75 Nm", 525, 75, None),
    ("525+-75", 525, 75, None),
    ("40 then 90°", 40, None, 90),
    ("40 N·m + 90 deg", 40, None, 90),
    ("40 Nm plus 1/4 turn", 40, None, 90),
    ("40 ft-lb and 90 degrees", 40 * LBF_FT, None, 90),
    ("90 N·m", 90, None, None),
    ("90 Nm", 90, None, None),
    ("90 N m", 90, None, None),
    ("90 N-m", 90, None, None),
    ("90 newton meters", 90, None, None),
    ("65 ft-lb", 65 * LBF_FT, None, None),
    ("65 lb-ft", 65 * LBF_FT, None, None),
    ("65 lb-ft", 65 * LBF_FT, None, None),
    ("65 lbf·ft", 65 * LBF_FT, None, None),
    ("65 ft. lbs.", 65 * LBF_FT, None, None),
    ("65 foot-pounds", 65 * LBF_FT, None, None),
    ("100 in-lb", 100 * LBF_FT / 12, None, None),
    ("12 kgf·m", 12 * 9.80665, None, None),
    ("12 kg-m", 12 * 9.80665, None, None),
    ("12,5 Nm", 12.5, None, None),
    ("0,125 Nm", 0.125, None, None),
    ("525 ± 75 ft-lb", 525 * LBF_FT, 75 * LBF_FT, None),
    ("525 ft-lb ± 75", 525 * LBF_FT, 75 * LBF_FT, None),
    ("90 Nm ± 10 %", 90, 9, None),
    ("90 ± 10%", 90, 9, None),
    ("90. Nm", 90, None, None),
    ("70 Nm 90°", 70, None, 90),
    ("20 Nm/90°", 20, None, 90),
    ("70 N·m, then 90°", 70, None, 90),
    ("20 Nm + half a turn", 20, None, 180),
    ("20 Nm then 2 flats", 20, None, 120),
    ("1 1/2 kgm", 1.5 * 9.80665, None, None),
    ("1½ kgm", 1.5 * 9.80665, None, None),
    ("9 daNm", 90, None, None),
    ("525 N·m ± 10 ft-lb", 525, 10 * LBF_FT, None),
]


@pytest.mark.parametrize(("text", "value", "tolerance", "then_deg"), FIGURES)
def test_a_torque_is_read_as_people_write_it(text, value, tolerance, then_deg):
    found = parse_torque(text, "N·m")

    assert found["ok"], found
    assert found["value"] == pytest.approx(value)
    assert found["tolerance"] == (None if tolerance is None else pytest.approx(tolerance))
    assert found["then_deg"] == then_deg


def test_a_bare_number_takes_the_unit_in_use_or_is_asked_back():
    asked = parse_torque("90", None)

    assert parse_torque("90", "lb-ft")["value"] == pytest.approx(90 * LBF_FT)
    assert says_of(asked) == "Is that N·m or lb-ft?"
    assert [each["value"] for each in asked["choices"]] == pytest.approx([90, 90 * LBF_FT])
    assert [each["text"] for each in parse_torque("40 then 90°", None)["choices"]] == [
        "40 N·m then 90°",
        "40 lb-ft then 90°",
    ]
    assert [each["text"] for each in parse_torque("90 ± 5", None)["choices"]] == [
        "90 N·m ± 5",
        "90 lb-ft ± 5",
    ]


ASKED = [
    ("90 Nm +10/-5", ["90 N·m", "10 N·m", "5 N·m"]),
    ("40 Nm then 60 Nm", ["40 N·m", "60 N·m"]),
    ("450 - 600 Nm", ["525 ± 75 N·m", "450 N·m", "600 N·m"]),
    ("3/4 Nm", ["0.75 N·m", "3 N·m", "4 N·m"]),
    ("1,234 Nm", ["1.2340 Nm", "1234 Nm"]),
    ("1.200 daNm", ["1.2 daNm"]),
    ("150 lb then 90°", ["150 lb-ft then 90°", "150 lb-in then 90°"]),
    ("9 kg", ["9 kgf·m"]),
]


@pytest.mark.parametrize(("text", "choices"), ASKED)
def test_what_may_be_read_in_more_than_one_way_is_asked_back(text, choices):
    found = parse_torque(text, "N·m")

    assert not found["ok"]
    assert [each["text"] for each in found["choices"]] == choices
    for choice in found["choices"]:
        assert parse_torque(choice["text"], "N·m")["value"] == choice["value"]


PAIRS = [
    ("95 N·m (75 ft. lbs.)", 95, 75 * LBF_FT, "differs", "75 lb-ft"),
    ("95 N·m (70 ft. lbs.)", 95, 70 * LBF_FT, "agrees", "70 lb-ft"),
    ("90 Nm/66 ft lb", 90, 66 * LBF_FT, "agrees", "66 lb-ft"),
    ("66 ft-lb = 90 Nm", 66 * LBF_FT, 90, "agrees", "90 N·m"),
    ("90 Nm 66 ft-lb", 90, 66 * LBF_FT, "agrees", "66 lb-ft"),
]


@pytest.mark.parametrize(("text", "value", "also", "pair", "printed"), PAIRS)
def test_both_figures_of_a_printed_pair_are_kept_and_compared(text, value, also, pair, printed):
    found = parse_torque(text, None)

    assert (found["value"], found["also"]) == (pytest.approx(value), pytest.approx(also))
    assert (found["pair"], found["also_figure"]) == (pair, printed)
    assert parse_torque("90 Nm", None)["pair"] == "single"


REFUSED = [
    ("", "Nothing was entered"),
    ("abc", "begins with its number"),
    ("-90", "begins with its number"),
    (".", "“.” is not a number"),
    ("0 Nm", "more than 0"),
    ("9999 Nm", "more than any fastener"),
    ("90 mm", "“mm” is not a unit"),
    ("1..5 Nm", "“1..5” is not a number"),
    ("90 -", "behind “-” is missing"),
    ("40 then", "behind “then” is missing"),
    ("40 then -90", "no sign"),
    ("40 then 90 then 90", "one further angle"),
    ("40 then x turn", "“x” is not a unit"),
    ("90 ± 5 ± 3", "Write only one tolerance"),
    ("90 ±", "behind “±” is missing"),
    ("90 ± 5 (66 ft-lb", "parentheses hold one figure"),
    ("90 Nm then 900°", "further than any bolt"),
    ("90 Nm (0 ft-lb)", "more than 0"),
    ("90 Nm (9999 ft-lb)", "more than any fastener"),
    ("M14 90 Nm", "begins with its number"),
    ("90 Nm then", "behind “then” is missing"),
    ("90° 40 Nm", "begins with its number"),
    ("1000 kg", "“kg” is not a unit"),
    ("90 ± 95", "as large as the figure"),
]


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_what_is_no_torque_is_refused_with_the_reason(text, reason):
    found = parse_torque(text, "N·m")

    assert not found["ok"]
    assert reason in says_of(found)


MARKS = [*"0123456789.,±+-/ '°%·", "nm", "ft", "lb", "kgf", "then", "turn", *SPELLINGS]


@given(st.text() | st.lists(st.sampled_from(MARKS), max_size=9).map("".join))
def test_any_text_gives_a_torque_or_a_sentence(text):
    for unit in ("N·m", None):
        found = parse_torque(text, unit)
        if found["ok"]:
            assert 0 < found["value"] <= 3000
        else:
            assert says_of(found)[-1] in ".?"
