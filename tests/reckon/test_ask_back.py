"""A value that vehicles do not have is asked back as it is typed, until it is measured again."""

import pytest

from webapp.reckon.ask_back import ask_back
from webapp.reckon.assess import assess

INCH = 25.4


def test_365_in_inch_mode_asks_whether_it_is_millimeters():
    found = ask_back("centering.left", 365 * INCH, "in", [])

    assert "30.4\u202fft" in found["says"]
    assert found["choices"][0]["text"] == "365\u202fmm"
    assert found["choices"][0]["value"] == pytest.approx(365)


def test_a_plausible_value_is_not_asked_about_nor_one_without_a_range():
    assert ask_back("centering.left", 214.0, "mm", []) is None
    assert ask_back("photo.width", 214.0, "mm", []) is None


def test_the_answer_counts_for_that_value_and_the_next_one_asks_again():
    found = ask_back("heights.left", 820.0, "mm", [])

    assert ask_back("heights.left", 820.0, "mm", [found["key"]]) is None
    assert ask_back("heights.left", 830.0, "mm", [found["key"]])["key"] != found["key"]


def test_the_field_and_the_advice_keep_the_answer_under_the_same_key():
    [ask] = assess({"heights": {"left": [820.0], "right": [220.0]}})["asks"]

    assert ask["key"] == ask_back("heights.left", 820.0, "mm", [])["key"]


def test_a_zero_is_asked_about_once():
    assert ask_back("centering.left", 0.0, "mm", [])["choices"] == []


@pytest.mark.parametrize(("rear", "asked"), [(1545.0, []), (1547.0, ["toe.front"])])
def test_wheels_more_than_an_inch_out_of_line_are_asked_about(rear, asked):
    found = assess({"axle": "front", "toe": {"front": 1520.0, "rear": rear, "span": 780.0}})

    assert [each["field"] for each in found["asks"]] == asked
