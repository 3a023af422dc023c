"""What the phone says of a reading."""

import pytest

from webapp.reckon.spoken import inch_words, number_words, reading_words

INCH = 25.4


def body(step, field, value, **more):
    """A reading's body in mm unless said otherwise."""
    return {"step": step, "field": field, "value": value, "unit": "mm", **more}


@pytest.mark.parametrize(
    ("inches", "says"),
    [
        (8 + 7 / 16, "eight and seven sixteenths"),
        (14.375, "fourteen and three eighths"),
        (0.75, "three quarters"),
        (21.25, "twenty-one and one quarter"),
        (3.5, "three and a half"),
        (9 + 1 / 32, "nine and one thirty-second"),
        (0, "nought"),
        (33.01, "about thirty-three"),
    ],
)
def test_inches_are_said_as_on_the_tape(inches, says):
    assert inch_words(inches * INCH) == says


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (0, "nought"),
        (214.5, "two hundred and fourteen point five"),
        (1205, "one thousand two hundred and five"),
        (2000, "two thousand"),
        (19.996, "twenty"),
        (0.05, "nought point nought five"),
        (-3.2, "minus three point two"),
        (99999, "ninety-nine thousand nine hundred and ninety-nine"),
    ],
)
def test_numbers_are_said_in_words(value, says):
    assert number_words(value) == says


@pytest.mark.parametrize(
    ("reading", "usual", "says"),
    [
        (
            body("centring", "left", 8.4375 * INCH, unit="in"),
            "in",
            "left, eight and seven sixteenths",
        ),
        (body("heights", "right", 221), "mm", "right, two hundred and twenty-one"),
        (body("heights", "right", 221), "in", "right, two hundred and twenty-one millimetres"),
        (body("track_bar", "frame_height", 612), "mm", "frame height, six hundred and twelve"),
        (
            body("play", "along", 0.9, joint="frame end"),
            "mm",
            "frame end, along, nought point nine",
        ),
        (
            body("clearance", "gap", None, between=["track bar", "tie rod"], mark="touches"),
            "mm",
            "track bar and tie rod, touches",
        ),
        (
            body("torque", "fastener", 90, fastener="axle-end bolt"),
            "mm",
            "axle-end bolt, ninety newton metres",
        ),
        (
            body("torque", "fastener", None, fastener="axle-end bolt", moved=False),
            "mm",
            "axle-end bolt, did not move",
        ),
    ],
)
def test_a_reading_is_said_with_what_it_is_of(reading, usual, says):
    assert reading_words(reading, usual) == says
