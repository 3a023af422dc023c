"""Pitches of threads as people write them."""

import pytest

from webapp.reckon.assess import assess
from webapp.reckon.sentences.typed_answers import says_with_choices
from webapp.reckon.typed.pitches import parse_pitch

INCH = 25.4


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("1.5", "mm", 1.5),
        ("1,25 mm", "mm", 1.25),
        ("1/16", "in", INCH / 16),
        ("16 tpi", "mm", INCH / 16),
        ("16TPI", "in", INCH / 16),
        ("16 threads per inch", "mm", INCH / 16),
        ("16 threads/inch", "mm", INCH / 16),
        ("11 1/2 threads to the inch", "mm", INCH / 11.5),
    ],
)
def test_a_pitch_is_read_in_mm_or_in_threads_per_inch(text, unit, mm):
    assert parse_pitch(text, unit)["value"] == pytest.approx(mm)


@pytest.mark.parametrize("text", ["", "M16", "3/4-16", "tpi", "0 tpi", "16 tpi 2", "fine"])
def test_what_is_no_pitch_is_told_how_to_write_one(text):
    found = parse_pitch(text, "mm")

    assert says_with_choices(found) == "Write the pitch like 1.5 mm or 16 threads per inch."


def test_a_length_that_asks_which_keeps_its_choices():
    assert len(parse_pitch("21/4", "in")["choices"]) == 2


def test_a_sheet_may_say_threads_per_inch():
    bar = {"length": 862, "frame_end": "left", "frame_height": 612, "axle_height": 498}
    bar["adjuster"] = {"kind": "one_end", "pitch": "16 tpi", "step": 0.5}

    assert "faults" not in assess({"track_bar": bar})
