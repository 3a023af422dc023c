"""Sums without surprises and numbers shown with the same digits everywhere."""

import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.reckon.numbers import (
    deviation,
    fixed,
    is_number,
    mean,
    near_half_up,
    signed,
    spread,
    total,
    trimmed,
)

VALUES = st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=9)


@given(VALUES)
def test_sums_agree_with_the_library(values):
    assert total(values) == pytest.approx(sum(values), abs=1e-6)
    assert mean(values) == pytest.approx(statistics.mean(values), abs=1e-6)
    assert deviation(values) == pytest.approx(statistics.stdev(values), abs=1e-6)
    assert spread(values) == max(values) - min(values)


def test_no_values_sum_to_nothing_and_have_no_mean():
    assert total([]) == 0
    assert spread([]) == 0
    assert deviation([5.0]) == 0
    with pytest.raises(ValueError, match="no mean of no values"):
        mean([])


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (0.125, 2, "0.13"),
        (-0.125, 2, "−0.13"),
        (-0.04, 1, "0.0"),
        (5, 0, "5"),
        (2.05, 1, "2.1"),
        (1234.5, 1, "1234.5"),
        (0.05, 2, "0.05"),
    ],
)
def test_fixed_rounds_halves_away_from_zero(value, places, text):
    assert fixed(value, places) == text


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_fixed_is_within_half_a_digit(value, places):
    shown = float(fixed(value, places).replace("−", "-"))

    assert abs(shown - value) <= 0.5 * 10**-places + 1e-9 * abs(value) + 1e-12


def test_signs_and_trailing_zeros():
    assert signed(5.3, 1) == "+5.3"
    assert signed(-5.3, 1) == "−5.3"
    assert signed(0.01, 1) == "0.0"
    assert trimmed(3.0, 2) == "3"
    assert trimmed(0.5, 2) == "0.5"
    assert trimmed(100, 0) == "100"


@given(st.floats(-1e6, 1e6))
def test_rounding_is_the_same_both_ways(value):
    assert near_half_up(-value) == -near_half_up(value)


@pytest.mark.parametrize("value", [True, None, "5", float("nan"), float("inf"), [5]])
def test_what_is_no_number(value):
    assert not is_number(value)


def test_what_is_a_number():
    assert is_number(5)
    assert is_number(-5.5)
