"""Every example that the app gives for what can be typed can be typed so."""

import re
from pathlib import Path

import pytest

from webapp.reckon.sentences.typed_answers import SAYS
from webapp.reckon.typed.angles import parse_angle, parse_wheel
from webapp.reckon.typed.dial import parse_along, parse_dial
from webapp.reckon.typed.distances import parse_driven
from webapp.reckon.typed.lengths import parse_length
from webapp.reckon.typed.ratios import parse_ratio
from webapp.reckon.typed.torque_figures import parse_torque
from webapp.reckon.typed.turns import parse_turns

ROOT = Path(__file__).parents[2]
SCREENS = ROOT / "static" / "js" / "screens"
GUIDE = ROOT / "docs" / "technician.md"
READ = {
    "length": lambda text: parse_length(text, "in"),
    "angle": parse_angle,
    "wheel": parse_wheel,
    "dial": lambda text: parse_along(text, "mm") if "+" in text else parse_dial(text, "thou"),
    "dial_movement": lambda text: parse_along(text, "mm"),
    "driven": parse_driven,
    "turns": parse_turns,
    "ratio": parse_ratio,
    "torque": lambda text: parse_torque(text, "N·m"),
}


def examples_in(sentence):
    """The texts that a sentence gives as examples."""
    found = re.findall(
        r"(?:such as|Such as|it like|turns like|as in) (.+?)(?:\.(?=[ ']|$)|, and )", sentence
    )
    return [text for given in found for text in re.split(r", | or ", given.replace("’", "'"))]


def examples():
    """Every example of the sentences, with the code that it stands under."""
    return [
        pytest.param(code, text, id=f"{code} {text}")
        for code, sentence in SAYS.items()
        for text in examples_in(sentence)
    ]


@pytest.mark.parametrize(("code", "text"), examples())
def test_an_example_reads(code, text):
    found = READ.get(code, READ[code.partition("_")[0]])(text)

    assert found["ok"], found


def test_each_quantity_gives_examples():
    given = {code.partition("_")[0] for code, sentence in SAYS.items() if examples_in(sentence)}

    assert given == {"length", "angle", "wheel", "dial", "driven", "turns", "ratio", "torque"}


def test_the_hint_of_the_steering_wheel_reads():
    source = (SCREENS / "drag_link.js").read_text("utf-8")
    hint = re.sub(r"'\s*\+\s*'", "", source).replace("\\u2019", "’")
    given = examples_in(hint)

    assert len(given) == 3
    assert all(parse_wheel(text)["ok"] for text in given)


ROWS = {"steering wheel": "wheel", "bolt": "bolt"}


def in_the_guide():
    """Every way to write a value that the technician's guide lists, with its quantity."""
    part = GUIDE.read_text("utf-8").partition("## What you can type")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| ([a-z ]+) \| (`.+) \|$", part, re.M)
    return [
        pytest.param(ROWS.get(name, name), text, id=f"{name} {text}")
        for name, ways in rows
        for text in re.findall("`([^`]+)`", ways)
    ]


@pytest.mark.parametrize(("quantity", "text"), in_the_guide())
def test_a_way_to_write_it_in_the_guide_reads(quantity, text):
    read = {**READ, "dial": READ["dial_movement"], "bolt": lambda text: parse_dial(text, "in")}

    found = read[quantity](text)

    assert found["ok"], found


def test_the_guide_has_every_quantity():
    assert len({each.values[0] for each in in_the_guide()}) == 8


def test_an_angle_that_is_pressed_after_a_torque_is_never_lost():
    """The pad's own keys: the figure, its unit, further digits, and `then` with an angle."""
    assert not parse_torque("70 N·m 90", None)["ok"]
    assert parse_torque("70 N·m then 90", None)["then_deg"] == 90
    assert parse_torque("525 ± 75 lb-ft", None)["unit"] == "lb-ft"
