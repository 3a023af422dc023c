"""Dial and caliper readings as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.reckon.sentences.typed_answers import says_of
from webapp.reckon.typed.dial import parse_along, parse_dial, show_dial

READ = [
    ("0.4", "mm", 0.4, "mm", 0.1),
    ("0,45", "mm", 0.45, "mm", 0.01),
    ("12", "mm", 12, "mm", 1),
    (".020", "in", 0.508, "in", 0.0254),
    ("0.563 in", "mm", 14.3002, "in", 0.0254),
    ("9/16", "in", 14.2875, "in", 0.396875),
    ("2", "in", 50.8, "in", 1),
    ("16", "thou", 0.4064, "in", 0.0254),
    ("16.5", "thou", 0.4191, "in", 0.00254),
    ("0", "thou", 0, "in", 0.0254),
    ("35 thou", "mm", 0.889, "in", 0.0254),
    ("0.9 mm", "thou", 0.9, "mm", 0.1),
    ("0.3333", "mm", 0.3333, "mm", 0.001),
    ("M14", "in", 14, "mm", 1),
    ("m16", "mm", 16, "mm", 1),
]


@pytest.mark.parametrize(("text", "unit", "value", "written", "read_to"), READ)
def test_a_gauge_is_read_to_the_digit_it_was_written_to(text, unit, value, written, read_to):
    found = parse_dial(text, unit)

    assert found["ok"], found
    assert found["value"] == pytest.approx(value)
    assert found["unit"] == written
    assert found["read_to"] == pytest.approx(read_to)


def test_a_number_below_one_among_thousandths_is_asked_back():
    asked = parse_dial("0.060", "thou")

    assert says_of(asked) == "Is that inches or thousandths of an inch?"
    assert [each["text"] for each in asked["choices"]] == ["0.060 in", "0.060 thou"]
    assert [parse_dial(each["text"], "thou")["value"] for each in asked["choices"]] == (
        pytest.approx([1.524, 0.001524])
    )


@pytest.mark.parametrize(
    ("text", "unit", "reason"),
    [
        ("", "mm", "Nothing was entered"),
        ("", "thou", "Nothing was entered"),
        ("thou", "mm", "Write the thousandths as a number"),
        ("a thou", "in", "Write the thousandths as a number"),
        ("1.2.3", "thou", "Write the thousandths as a number"),
        ("99999", "thou", "more than a dial indicator"),
        ("-1", "mm", "no sign"),
        ("abc", "thou", "is not part of a reading"),
    ],
)
def test_what_is_no_reading_is_refused_with_the_reason(text, unit, reason):
    found = parse_dial(text, unit)

    assert not found["ok"]
    assert reason in says_of(found)


@pytest.mark.parametrize(
    ("mm", "unit", "shows"),
    [
        (0.9, "mm", "0.9 mm"),
        (0.35, "mm", "0.35 mm"),
        (14, "mm", "14.0 mm"),
        (0.889, "in", "0.035 in"),
    ],
)
def test_a_gauge_is_shown_with_its_unit(mm, unit, shows):
    assert show_dial(mm, unit).replace("\u202f", " ") == shows


ALONG = [
    ("0.4", "mm", 0.4, None, 0.1),
    ("0.4 + 0.5", "mm", 0.9, [0.4, 0.5], 0.1),
    ("0.4+0.55", "mm", 0.95, [0.4, 0.55], 0.1),
    ("16 + 18", "thou", 0.8636, [0.4064, 0.4572], 0.0254),
    ("16 + 18 thou", "mm", 0.8636, [0.4064, 0.4572], 0.0254),
    ("0.4 mm + 0.5 mm", "in", 0.9, [0.4, 0.5], 0.1),
    ("+0.9 -0.7", "mm", 1.6, [0.9, 0.7], 0.1),
    ("-0.7 +0.9", "mm", 1.6, [0.7, 0.9], 0.1),
    ("+0.9/-0.7", "mm", 1.6, [0.9, 0.7], 0.1),
    ("0.9/0.7", "mm", 1.6, [0.9, 0.7], 0.1),
    ("0.9 and 0.7", "mm", 1.6, [0.9, 0.7], 0.1),
    ("0.9/0.7 mm", "in", 1.6, [0.9, 0.7], 0.1),
    ("9/16", "in", 14.2875, None, 0.396875),
]


@pytest.mark.parametrize(("text", "unit", "value", "pair", "read_to"), ALONG)
def test_both_ways_of_a_dial_count_together(text, unit, value, pair, read_to):
    found = parse_along(text, unit)

    assert found["ok"], found
    assert found["value"] == pytest.approx(value)
    assert found["pair"] == (None if pair is None else pytest.approx(pair))
    assert found["read_to"] == pytest.approx(read_to)


def test_both_ways_below_one_among_thousandths_are_asked_back():
    asked = parse_along("0.4 + 0.5", "thou")

    assert says_of(asked) == "Are these inches or thousandths of an inch?"
    assert [each["text"] for each in asked["choices"]] == ["0.4 in + 0.5 in", "0.4 thou + 0.5 thou"]
    for each in asked["choices"]:
        assert parse_along(each["text"], "thou")["value"] == pytest.approx(each["value"])


def test_a_stroke_between_thousandths_is_asked_back():
    assert [each["text"] for each in parse_along("9/16", "thou")["choices"]] == [
        "9 + 16 thou",
        "9/16 in",
    ]
    assert [each["text"] for each in parse_along("16/18", "thou")["choices"]] == ["16 + 18 thou"]


@pytest.mark.parametrize("text", ["0.5 1.5", "14.1 120", "14 1.5", "0.5 1.5 mm"])
def test_two_sizes_with_a_space_between_them_are_told_as_two(text):
    assert says_of(parse_dial(text, "mm")).startswith("Two numbers with nothing between them.")


def test_the_pitch_of_a_bolt_is_asked_back():
    assert parse_dial("M14 x 1.5", "mm")["choices"] == [{"text": "M14", "value": 14}]
    assert "not a metric bolt" in says_of(parse_dial("M1.4.5", "mm"))
    assert "not a metric bolt" in says_of(parse_dial("M14xfine", "mm"))
    assert "not a metric bolt" in says_of(parse_dial("M900", "mm"))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("M14", "name of a bolt"),
        ("0.9 - 0.7", "range"),
        ("+0.9", "One way is missing"),
        ("0.4 + ", "One way is missing"),
        ("+ 0.5", "One way is missing"),
        ("1 + 2 + 3", "Enter one movement, or two"),
        ("0.5 1.5", "Enter one movement, or two"),
        ("0.5 1.5 mm", "Enter one movement, or two"),
        ("1 2", "Enter one movement, or two"),
        ("x + 0.5", "is not part of a reading"),
        ("0.4 mm + x", "is not part of a reading"),
        ("", "Nothing was entered"),
    ],
)
def test_what_is_no_movement_is_refused_with_the_reason(text, reason):
    assert reason in says_of(parse_along(text, "mm"))


@given(st.floats(0, 19), st.sampled_from(["mm", "thou", "in"]))
def test_what_is_shown_reads_as_what_it_was(mm, unit):
    shown = show_dial(mm, "mm" if unit == "mm" else "in")

    assert parse_dial(shown, unit)["value"] == pytest.approx(mm, abs=0.013)


MARKS = [*"0123456789.,-/+ ", "thou", "mm", "in", "½"]


@given(st.text() | st.lists(st.sampled_from(MARKS), max_size=8).map("".join))
def test_any_text_gives_a_reading_or_a_sentence(text):
    for unit in ("mm", "thou", "in"):
        for found in (parse_dial(text, unit), parse_along(text, unit)):
            assert (found["value"] >= 0 and found["read_to"] > 0) if found["ok"] else says_of(found)
