"""Lean: which side stands higher, what is known of it, and how much of an offset it looks like."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.reckon.checks.lean import lean

LIMITS = {"lean": 15.0}


def leaning(left, right, bar=None, **known):
    return lean({"left": [left], "right": [right], **known}, LIMITS, bar)


def test_a_frame_higher_on_the_left_looks_like_an_axle_to_the_left():
    """16 mm over rails 800 mm apart, 208 mm over the axle: 16 / 800 of 208."""
    found = leaning(216.0, 200.0)

    assert found["state"] == "outside"
    assert (found["difference"], found["beyond"]) == (16.0, 16.0)
    assert found["explains"] == pytest.approx(4.16)


@pytest.mark.parametrize(
    ("left", "state"),
    [(215.0, "inside"), (215.1, "outside"), (185.0, "inside"), (184.9, "outside")],
)
def test_the_limit_itself_is_inside_on_either_side(left, state):
    assert leaning(left, 200.0)["state"] == state


def test_what_a_vehicle_is_known_to_lean_is_taken_off_first():
    level, usual = leaning(200.0, 200.0, known_lean=18.0), leaning(218.0, 200.0, known_lean=18.0)

    assert (usual["state"], usual["beyond"], usual["difference"]) == ("inside", 0.0, 18.0)
    assert usual["explains"] == 0
    assert (level["state"], level["beyond"], level["difference"]) == ("outside", -18.0, 0.0)


@pytest.mark.parametrize(("out", "width"), [(200.0, 400.0), (420.0, 840.0), (199.9, 800.0)])
def test_the_frame_is_as_wide_as_twice_the_way_to_its_middle(out, width):
    """A frame end closer to the middle than any rail lies is not at a rail."""
    found = leaning(216.0, 200.0, {"frame_end_from_center": out})

    assert found["explains"] == pytest.approx(16.0 / width * 208.0)


@pytest.mark.parametrize(
    ("middle", "rail", "explains"),
    [(576.0, 650.0, 4.35), (535.0, 650.0, 6.76), (495.0, 650.0, 9.11), (576.0, 700.0, 7.29)],
)
def test_the_frame_rolls_about_the_middle_of_its_bar(middle, rail, explains):
    """47 mm over rails 800 mm apart: 47 / 800 of the rails' height over the bar's middle."""
    bar = {"frame_height": middle + 50.0, "axle_height": middle - 50.0, "rail_height": rail}
    found = leaning(250.0, 203.0, bar)

    assert found["explains"] == pytest.approx(explains, abs=0.01)
    assert not found["rough"]
    assert leaning(250.0, 203.0)["rough"]


@pytest.mark.parametrize("heights", [{}, {"left": [200.0]}, {"left": [], "right": [200.0]}])
def test_one_side_alone_tells_nothing_of_a_lean(heights):
    assert lean(heights, LIMITS, None) is None


@given(st.floats(100, 400), st.floats(100, 400), st.floats(-30, 30))
def test_a_mirrored_vehicle_leans_the_mirrored_way(left, right, known):
    found, other = leaning(left, right, known_lean=known), leaning(right, left, known_lean=-known)

    assert other["state"] == found["state"]
    for name in ("difference", "beyond", "explains"):
        assert other[name] == pytest.approx(-found[name])
