"""A plan beside today: which rows there are, and how they are shown."""

from webapp.reckon.checks.what_if import plan_found
from webapp.reckon.sentences.plan_rows import plan_rows, plan_value, plan_words

BAR = {
    "frame_end": "left",
    "length": 862,
    "frame_height": 612,
    "axle_height": 498,
    "fore_aft": 18,
    "bump": 80,
    "droop": 100,
}


def shown(rows):
    return {row["name"]: (row["today"], row["then"]) for row in rows}


def test_a_plan_without_a_drag_link_has_the_rows_of_the_bar():
    today = plan_found(BAR, None, {})
    then = plan_found(BAR, None, {"axle_end_up": 40.0})
    rows = shown(plan_rows(today, then, "mm", "adjust"))
    assert rows["Bar length to stay centered"][0] == "as it is"
    assert rows["Bar length to stay centered"][1].startswith("−")
    assert "Link angle" not in rows


def test_a_plan_names_no_length_while_the_advice_is_held():
    today = plan_found(BAR, None, {})
    then = plan_found(BAR, None, {"axle_end_up": 40.0})
    rows = shown(plan_rows(today, then, "mm", "hold"))
    assert "Bar length to stay centered" not in rows
    assert "Bar angle" in rows


def test_values_are_shown_as_their_kind():
    assert plan_value(None, "angle", "mm") == "not known"
    assert plan_value(0.04, "change", "mm") == "as it is"
    assert plan_value(-4.12, "change", "mm") == "−4.1\u202fmm"
    assert plan_value(-0.254, "steer", "mm") == "0.25° right"
    assert plan_value(0.0, "steer", "mm") == "0.00°"
    assert plan_value(1.254, "ratio", "mm") == "× 1.25"
    assert plan_value(669.4, "height", "mm") == "669\u202fmm"
    assert plan_value(25.4, "length", "in") == "1\u202fin (25.4\u202fmm)"
    assert plan_value(4.0, "angle", "mm") == "4.0°"


def test_a_vehicle_in_inches_has_its_plans_in_inches():
    assert plan_value(0.04, "change", "in") == "as it is"
    assert plan_value(-25.4, "change", "in") == "1\u202fin (25.4\u202fmm) shorter"
    assert plan_value(6.0, "change", "in") == "≈\u202f1/4\u202fin (6.0\u202fmm) longer"
    assert plan_value(508.0, "height", "in") == "20\u202fin (508\u202fmm)"
    assert plan_value(-25.4, "height", "in") == "−1\u202fin (−25\u202fmm)"
    assert plan_value(-6.0, "height", "in") == "≈\u202f−1/4\u202fin (−6\u202fmm)"


def test_a_plan_names_the_mounts_that_it_moves():
    plan = {"name": "taller", "axle_end_up": 40, "pitman_down": -12.7, "height_change": 0}
    assert (
        plan_words(plan, "mm")
        == "track bar's axle end up 40\u202fmm, pitman ball down −12.7\u202fmm"
    )
    assert plan_words(plan, "in").endswith("pitman ball down −1/2\u202fin")
    assert plan_words({"name": "nothing"}, "mm") == ""
