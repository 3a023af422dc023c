"""What the phone says of a reading."""

import pytest

from webapp.reckon.sentences.speech import inch_words, number_words, reading_words, said_of

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
        (0, "zero"),
        (33.01, "about thirty-three"),
    ],
)
def test_inches_are_said_as_on_the_tape(inches, says):
    assert inch_words(inches * INCH) == says


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (0, "zero"),
        (214.5, "two hundred and fourteen point five"),
        (1205, "one thousand two hundred and five"),
        (2000, "two thousand"),
        (19.996, "twenty"),
        (0.05, "zero point zero five"),
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
            body("centering", "left", 8.4375 * INCH, unit="in"),
            "in",
            "left, eight and seven sixteenths",
        ),
        (body("heights", "right", 221), "mm", "right, two hundred and twenty-one"),
        (body("heights", "right", 221), "in", "right, two hundred and twenty-one millimeters"),
        (body("track_bar", "frame_height", 612), "mm", "frame height, six hundred and twelve"),
        (
            body("play", "along", 0.9, joint="frame end"),
            "mm",
            "Track bar, frame end, movement along the bar, zero point nine, one way",
        ),
        (
            body("play", "along", 0.9, joint="left tie rod end", pair=[0.4, 0.5]),
            "mm",
            "Tie rod, left end, movement along the bar, zero point nine, both ways together",
        ),
        (
            body(
                "clearance",
                "gap",
                None,
                between=["track bar", "tie rod"],
                state="ride",
                lock="left",
                mark="touches",
            ),
            "mm",
            "track bar to tie rod, at ride height, left lock, touches",
        ),
        (
            body(
                "clearance", "gap", 9.5, between=["tire", "frame"], state="full_bump", lock="left"
            ),
            "mm",
            "tire to frame, at full bump, left lock, nine point five",
        ),
        (
            body("torque", "fastener", 90, fastener="axle-end bolt"),
            "mm",
            "axle-end bolt, ninety newton meters",
        ),
        (
            body("torque", "fastener", None, fastener="axle-end bolt", moved=False),
            "mm",
            "axle-end bolt, did not move",
        ),
        (
            body("torque", "fastener", 80, fastener="jam nuts", moved=True),
            "mm",
            "jam nuts, moved, eighty newton meters",
        ),
    ],
)
def test_a_reading_is_said_with_what_it_is_of(reading, usual, says):
    assert reading_words(reading, usual, None) == says


LBF_FT = 1.3558179483


@pytest.mark.parametrize(
    ("figure", "more", "says"),
    [
        ("65 lb-ft", {"value": 65 * LBF_FT}, "sixty-five pound-feet"),
        ("780 in-lb", {"value": 65 * LBF_FT}, "seven hundred and eighty pound-inches"),
        (
            "65 ft lb ± 5 then 90°",
            {"value": 65 * LBF_FT, "tolerance": 5 * LBF_FT, "then_angle": 90},
            "sixty-five pound-feet",
        ),
        ("90 N·m", {"value": 90}, "ninety newton meters"),
        (None, {"value": 90}, "ninety newton meters"),
    ],
)
def test_a_torque_is_said_in_the_unit_that_it_is_printed_in(figure, more, says):
    reading = {"step": "torque", "field": "fastener", "fastener": "jam nuts", "figure": figure}

    assert reading_words({**reading, **more}, "in", None) == "jam nuts, " + says


@pytest.mark.parametrize(
    ("typed", "inches", "says"),
    [
        ("0.016 in", 0.016, "zero point zero one six inches"),
        ("0,605", 0.605, "zero point six zero five inches"),
        ("14.375", 14.375, "fourteen point three seven five inches"),
        ("0.0045", 0.0045, "zero point zero zero four five inches"),
        ("19/32", 19 / 32, "nineteen thirty-seconds"),
        ("34", 34, "thirty-four"),
        (None, 0.605, "about nineteen thirty-seconds"),
    ],
)
def test_what_was_typed_as_a_decimal_is_said_as_one(typed, inches, says):
    hole = body("track_bar", "length", inches * INCH, unit="in")

    assert reading_words(hole, "in", typed) == "length, " + says


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("16 + 4", "zero point zero two inches"),
        ("0.016 in + 0.004 in", "zero point zero two inches"),
        ("1/64 + 1/256", "about one thirty-second"),
    ],
)
def test_a_gauge_is_said_in_decimals_unless_fractions_were_typed(typed, says):
    both = body("play", "along", 0.02 * INCH, unit="in", joint="own", pair=[0.4064, 0.1016])

    said = reading_words(both, "in", typed)

    assert said == f"Own, movement along the bar, {says}, both ways together"


@pytest.mark.parametrize(
    ("field", "value", "typed", "says"),
    [
        ("wheel_deg", 12.0, None, "steering wheel, 12° to the left"),
        ("wheel_deg", -30.0, "1 o'clock", "steering wheel, 30° to the right"),
        ("wheel_deg", 0.2, "0", "steering wheel, straight"),
        ("ratio", 18.5, "18.5", "ratio, eighteen point five"),
        ("tilt_deg", 0.4, "0.4", "tilt in degrees, zero point four"),
        ("left_extra", 6.35, "1/4", "left spacer, one quarter"),
        ("left_extra", 6.35, "0.25", "left spacer, zero point two five inches"),
        ("frame_end", "left", None, ""),
        ("adjuster", {"kind": "fixed"}, None, ""),
        ("carried", True, None, ""),
    ],
)
def test_picks_that_are_numbers_are_said(field, value, typed, says):
    entry = {"kind": "pick", "typed": typed, "body": {"step": "x", "field": field, "value": value}}

    assert said_of(entry, "in") == says


def test_other_entries_are_not_said():
    assert said_of({"kind": "tick", "body": {"field": "level", "value": True}}, "in") == ""
