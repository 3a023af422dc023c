"""One law for all parsers: whatever was typed counts, or the text is not taken."""

import re
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit import typed_texts

from webapp.reckon.sentences.typed_answers import says_of
from webapp.reckon.typed.angles import parse_angle, parse_wheel
from webapp.reckon.typed.dial import parse_along, parse_dial
from webapp.reckon.typed.distances import parse_driven
from webapp.reckon.typed.lengths import parse_distance, parse_length
from webapp.reckon.typed.ratios import parse_ratio
from webapp.reckon.typed.torque_figures import parse_torque
from webapp.reckon.typed.turns import parse_turns

UNITS = {
    parse_length: ["mm", "in"],
    parse_distance: ["mm", "in"],
    parse_dial: ["mm", "thou", "in"],
    parse_along: ["mm", "thou", "in"],
    parse_torque: ["N·m", "lb-ft", None],
}
TEXTS = {
    parse_length: typed_texts.LENGTHS,
    parse_distance: typed_texts.LENGTHS,
    parse_angle: typed_texts.ANGLES,
    parse_wheel: typed_texts.ANGLES,
    parse_torque: typed_texts.TORQUES,
    parse_dial: typed_texts.DIALS,
    parse_along: typed_texts.DIALS,
    parse_turns: typed_texts.TURNS,
    parse_ratio: typed_texts.RATIOS,
    parse_driven: typed_texts.DRIVEN,
}
Read = Callable[[str], dict]
# What a gauge was read to follows from how many digits there are, not from which.
ABOUT_THE_TEXT = ["read_to", "also_figure"]


def reader(parser: Callable[..., dict], unit: str | None) -> Read:
    """The parser with its unit, where it takes one."""

    def read(text: str) -> dict:
        found = parser(text, unit) if parser in UNITS else parser(text)
        return {key: value for key, value in found.items() if key not in ABOUT_THE_TEXT}

    return read


def readers() -> list:
    """Each parser with each unit it may be used with, named."""
    found = []
    for parser in TEXTS:
        for unit in UNITS.get(parser, [None]):
            named = f"{parser.__name__} {unit or ''}".strip()
            found.append(pytest.param(reader(parser, unit), TEXTS[parser], id=named))
    return found


def another_digit(read: Read, text: str, found: dict, data: st.DataObject) -> None:
    """Another digit in its place gives another answer, or none."""
    places = [at for at, letter in enumerate(text) if letter in "0123456789"]
    # Nothing over anything is nothing, whatever stands below the line.
    if not places or re.search(r"(?<![\d.,])0+ *(ths|th)?/", text):
        return
    at = data.draw(st.sampled_from(places))
    digit = data.draw(st.sampled_from([each for each in "0123456789" if each != text[at]]))
    assert read(text[:at] + digit + text[at + 1 :]) != found


def something_more(read: Read, text: str, found: dict, data: st.DataObject) -> None:
    """A further number, word or mark anywhere gives another answer, or none."""
    at = data.draw(st.integers(0, len(text)))
    assert read(f"{text[:at]} 7 {text[at:]}") != found
    for odd in ("@", " about ", " 7x "):
        assert not read(text[:at] + odd + text[at:])["ok"]


def choices_that_can_be_typed(read: Read, found: dict) -> None:
    """A choice that is offered reads as it says, and every question has its sentence."""
    assert says_of(found)[-1] in ".?"
    for choice in found["choices"]:
        again = read(choice["text"])
        assert again["ok"], choice
        assert again["value"] == (
            None if choice["value"] is None else pytest.approx(choice["value"], abs=1e-9)
        )


@pytest.mark.parametrize(("read", "texts"), readers())
def test_nothing_typed_is_lost(read, texts):
    @given(texts, st.data())
    def law(text: str, data: st.DataObject) -> None:
        found = read(text)
        if not found["ok"]:
            choices_that_can_be_typed(read, found)
            return
        another_digit(read, text, found, data)
        something_more(read, text, found, data)

    law()
