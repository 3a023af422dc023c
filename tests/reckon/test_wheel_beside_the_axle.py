"""A steering wheel off center is in the headline, in the order: axle, toe, steering wheel."""

import pytest
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.sentences.link_answer import link_answer
from webapp.reckon.terms import said

CENTERED = {"left": [204.0, 204.0], "right": [204.0, 204.0]}
SITS = "The axle sits in the middle, inside the limit of 3 mm. Leave the track bar as it is."


def found(wheel_deg=20, **parts):
    sheet = changed(SAMPLE, centering=CENTERED, steering={"wheel_deg": wheel_deg}, **parts)
    return assess(sheet)


def says(wheel_deg=20, **parts):
    return found(wheel_deg, **parts)["says"].replace("\u202f", " ")


@pytest.mark.parametrize(
    ("wheel_deg", "parts", "then"),
    [
        (
            20,
            {},
            " The steering wheel sits 20° to the left: once toe is right, make the drag link"
            " 3.1 mm shorter, 1 turn in, before the road.",
        ),
        (
            -20,
            {"drag_link": {"adjuster": None}},
            " The steering wheel sits 20° to the right: once toe is right, make the drag link"
            " 3.1 mm longer, before the road.",
        ),
        (
            20,
            {"drag_link": {"adjuster": {"kind": "fixed"}}},
            " The steering wheel sits 20° to the left: its drag link cannot be adjusted and would"
            " have to be 3.1 mm shorter. Ask the lead.",
        ),
        (
            20,
            {"drag_link": None},
            " The steering wheel sits 20° to the left: once toe is right, center it at the drag"
            " link, before the road.",
        ),
        (
            6,
            {"drag_link": {"adjuster": {"kind": "one_end", "pitch": 4, "step": 1}}},
            " The steering wheel sits 6° to the left: the drag link's adjuster cannot bring it"
            " nearer.",
        ),
        (4.9, {}, ""),
        (0, {}, ""),
    ],
)
def test_a_centered_axle_is_told_of_a_steering_wheel_that_is_off(wheel_deg, parts, then):
    assert says(wheel_deg, **parts) == SITS + then


def test_an_axle_left_where_it_is_by_its_adjuster_is_told_of_the_wheel_too():
    coarse = {"adjuster": {"kind": "one_end", "pitch": 25, "step": 1}}
    sheet = changed(SAMPLE, track_bar=coarse, steering={"wheel_deg": 20})
    told = assess({**sheet, "confirmed": ["implausible"]})["says"]

    assert "as it is, and ask the lead. The steering wheel sits 20° to the left: once toe" in told


@pytest.mark.parametrize(
    "parts",
    [
        {"drag_link": None},
        {"drag_link": {"arm": None}},
        {"track_bar": {"adjuster": {"kind": "fixed"}}},
        {"track_bar": None},
    ],
)
def test_where_the_axle_is_to_be_moved_the_wheel_comes_last(parts):
    told = assess(changed(SAMPLE, steering={"wheel_deg": 20}, **parts))["says"]

    assert told.endswith(
        " The steering wheel sits 20° to the left: center it last, once the axle is centered and"
        " toe is right."
    )


def test_after_a_bar_change_toe_comes_before_the_wheel():
    told = assess(SAMPLE)["says"]

    assert "sit 35° to the right: once toe is right, make the drag link" in told


def test_a_held_advice_names_the_wheel_in_no_headline():
    held = found(20, heights={"left": [221.0], "right": [180.0]})

    assert held["advice"]["state"] == "hold"
    assert "steering wheel" not in held["says"]


def test_the_drag_links_step_keeps_the_order_whatever_is_known_of_the_axle():
    alone = assess(changed(SAMPLE, centering=None, play=None, steering={"wheel_deg": 20}))
    first = said(link_answer(alone, "mm"))

    last = "to the left: center it last, once the axle is centered and toe is right."
    assert first.endswith(last)
    hanging = changed(SAMPLE, play=None, steering={"wheel_deg": 20})
    without = assess({**hanging, "standing": "hanging"})
    assert said(link_answer(without, "mm")).endswith(last)
    beside = said(link_answer(found(20), "mm"))
    assert "to the left: once toe is right, make the drag link" in beside


@pytest.mark.parametrize("places", ["30 deg right, 27 deg right", "1 o'clock, 12:54 o'clock"])
def test_a_wheel_that_comes_back_to_nearly_one_place_sits_in_the_middle_of_them(places):
    """Not as far apart as a wheel that wanders, and both some 30° off: it is not straight."""
    told = assess(changed(SAMPLE, play=None, steering={"wheel_deg": places}))

    assert told["steering"]["state"] == "off"
    assert told["steering"]["wheel_deg"] == pytest.approx(-28.5)
    assert told["wheel"]["then_deg"] == pytest.approx(-28.5 + assess(SAMPLE)["wheel"]["then_deg"])
    assert "wheel_off_center" in str(told["steering"]["reasons"])


def test_a_wheel_that_wanders_sits_nowhere():
    told = assess(changed(SAMPLE, play=None, steering={"after_bumps": [30, -3]}))
    assert "steering" not in told


def test_no_bump_steer_is_called_inside_while_its_own_heights_are_in_doubt():
    limits = {**SAMPLE.get("limits", {}), "bump_steer": 3.0}
    sheet = changed(SAMPLE, play=None, limits=limits)
    assert "inside the house limit" in said(link_answer(assess(sheet), "mm"))

    held = assess({**sheet, "older": ["drag_link"]})
    assert held["advice"]["state"] == "hold"
    assert "house limit" not in said(link_answer(held, "mm"))


def test_only_a_wheel_that_is_off_or_will_be_is_told_of_the_stability_control():
    still = changed(SAMPLE, play=None, centering={"left": [214, 214], "right": [214, 214]})
    assert not [line for line in assess(still)["why"] if "stability" in line]
    assert [line for line in assess(changed(SAMPLE, play=None))["why"] if "stability" in line]
