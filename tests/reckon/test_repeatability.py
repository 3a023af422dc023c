"""How well people repeat: second readings compared, and gauge R&R against an independent solver."""

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from webapp.reckon.checks.repeatability import (
    balanced,
    conclusion,
    f_test,
    good_to,
    own_scatter,
    squares,
    study,
    what_helps,
)
from webapp.reckon.checks.second_reading import compare, trials_of
from webapp.reckon.sentences.repeatability_answer import helps_words, repeatability_answer
from webapp.reckon.sentences.second_reading_answer import second_reading_answer
from webapp.reckon.terms import said

OFFSETS = st.floats(-20, 20).map(lambda value: round(value, 2))


@st.composite
def tables(draw):
    """A balanced table of vehicles, people and readings, spread over the offsets of a yard."""
    vehicles, people, trials = draw(st.tuples(st.integers(2, 6), st.integers(2, 3), st.just(2)))
    cells = vehicles * people * trials
    values = draw(st.lists(OFFSETS, min_size=cells, max_size=cells))
    return numpy.array(values).reshape(vehicles, people, trials)


def by_regression(table):
    """The four sums of squares by fitting models one inside the other, with least squares."""
    vehicles, people, trials = table.shape
    rows = [(v, p) for v in range(vehicles) for p in range(people) for _ in range(trials)]
    v_part = numpy.array([[float(v == each) for each in range(vehicles)] for v, _ in rows])
    p_part = numpy.array([[float(p == each) for each in range(people)] for _, p in rows])
    both = numpy.array(
        [[float((v, p) == (i, j)) for i in range(vehicles) for j in range(people)] for v, p in rows]
    )
    values = table.reshape(-1)
    ones = numpy.ones((len(rows), 1))

    def left(*parts):
        model = numpy.hstack([ones, *parts])
        fitted = model @ numpy.linalg.lstsq(model, values, rcond=None)[0]
        return float(((values - fitted) ** 2).sum())

    rest = left(both)
    without = left(v_part, p_part)
    return {
        "vehicles": left(p_part) - without,
        "people": left(v_part) - without,
        "both": without - rest,
        "rest": rest,
    }


@given(tables())
def test_sums_of_squares_are_those_of_nested_models(table):
    found = squares(table.tolist())

    for name, value in by_regression(table).items():
        assert found[name] == pytest.approx(value, abs=1e-6)


@given(st.floats(0.01, 50), st.integers(1, 12), st.integers(2, 60))
def test_the_f_test_is_that_of_the_independent_solver(ratio, above, below):
    found = f_test(ratio * 0.25, 0.25, above, below)

    assert found["f"] == pytest.approx(ratio)
    assert found["p"] == pytest.approx(stats.f.sf(ratio, above, below), abs=1e-8)


def test_readings_without_any_scatter_are_no_division_by_zero():
    assert study([[[1.0, 1.0], [1.0, 1.0]], [[3.0, 3.0], [3.0, 3.0]]])["grr"] == 0.0
    assert f_test(0.5, 0.0, 2, 4) == {"f": None, "p": 0.0}


def test_a_shop_made_up_with_known_scatter_is_found_to_have_it():
    draw = numpy.random.default_rng(7)
    vehicles = draw.normal(0, 4, (400, 1, 1))
    people = numpy.array([0.9, -0.9]).reshape(1, 2, 1)
    table = vehicles + people + draw.normal(0, 0.5, (400, 2, 3))

    found = study(table.tolist())

    assert found["repeatability"] == pytest.approx(0.5, rel=0.05)
    assert found["reproducibility"] == pytest.approx(0.9 * 2**0.5, rel=0.05)
    assert found["vehicles"] == pytest.approx(4, rel=0.1)
    assert found["grr"] ** 2 == pytest.approx(
        found["repeatability"] ** 2 + found["reproducibility"] ** 2
    )
    assert own_scatter(table.tolist(), 0) == pytest.approx(0.5, rel=0.05)


def test_people_who_act_on_vehicles_alike_are_pooled_with_the_scatter():
    draw = numpy.random.default_rng(3)
    alike = (draw.normal(0, 3, (12, 1, 1)) + draw.normal(0, 0.5, (12, 2, 2))).tolist()
    apart = (draw.normal(0, 3, (12, 2, 1)) + draw.normal(0, 0.05, (12, 2, 2))).tolist()

    assert study(alike)["pooled"] and not study(apart)["pooled"]


def test_cells_are_cut_to_what_all_of_them_have():
    assert balanced([[[1, 2, 3], [4, 5]], [[6, 7], [8, 9, 9]]]) == [
        [[1, 2], [4, 5]],
        [[6, 7], [8, 9]],
    ]


SCATTER = {"repeatability": 0.7, "reproducibility": 0.2, "trials": 2}


def conclusion_told(found, limit, read_to, unit="mm"):
    """What a study means for the limit, as the page says it."""
    return said(repeatability_answer(conclusion(found, limit, read_to), unit)).replace(
        "\u202f", " "
    )


def test_the_conclusion_says_what_the_limit_needs_and_what_would_do():
    assert conclusion_told(SCATTER, 3.0, 1.5875) == (
        "Our readings are good to ±1.07 mm. The limit of 3 mm needs ±0.75 mm: "
        "take 5 readings on each side."
    )
    assert good_to(SCATTER, 5) <= 0.75 < good_to(SCATTER, 4)


def test_in_a_shop_of_inches_the_conclusion_is_in_thousandths():
    assert conclusion_told(SCATTER, 3.175, 1.5875, "in").startswith(
        "Our readings are good to ±0.042 in (1.07 mm). The limit of 1/8 in (3.18 mm) needs "
        "±0.031 in (0.79 mm): "
    )


@pytest.mark.parametrize(
    ("changed", "codes", "says"),
    [
        (
            {"repeatability": 0.45, "reproducibility": 0.2},
            ["finer_tape", "more_readings"],
            "read to 1/32 in or take 3 readings",
        ),
        ({"reproducibility": 0.5}, ["people_differ"], "people differ too much"),
        (
            {"repeatability": 3.0, "reproducibility": 0.0},
            ["tape_and_play"],
            "use a finer tape, and look for play",
        ),
    ],
)
def test_what_helps_depends_on_where_the_scatter_comes_from(changed, codes, says):
    helps = what_helps({**SCATTER, **changed}, 0.75, 1.5875)

    assert [way["code"] for way in helps] == codes
    assert says in helps_words(helps).replace("\u202f", " ")


def test_readings_that_are_good_enough_are_said_to_be():
    fine = {"repeatability": 0.2, "reproducibility": 0.1, "trials": 2}

    assert conclusion(fine, 3.0, 1.0)["helps"] == []
    assert conclusion_told(fine, 3.0, 1.0).endswith("needs ±0.75 mm, so they are good enough.")


def found(offset, expanded, state="inside"):
    return {"centering": {"offset": offset, "expanded": expanded, "state": state}}


def test_two_readings_agree_within_their_uncertainties_together():
    answer = compare(found(5.4, 1.0, "outside"), found(4.6, 1.0, "outside"))

    assert answer["state"] == "agree"
    assert answer["together"] == pytest.approx(5.0)
    assert answer["together_expanded"] == pytest.approx(2**0.5 / 2)
    assert said(second_reading_answer(answer, "mm")).replace("\u202f", " ") == (
        "The second reading finds the axle 0.8 mm further to the right (±1.4 mm): the two agree. "
        "Taken together: 5.0 ± 0.7 mm, left."
    )


def test_two_readings_further_apart_than_that_do_not_agree():
    answer = compare(found(5.4, 1.0), found(1.0, 1.0))

    assert answer["state"] == "differ"
    assert "the two do not agree. One of the two was misread" in said(
        second_reading_answer(answer, "mm")
    )


@given(OFFSETS, OFFSETS, st.floats(0.1, 3), st.floats(0.1, 3))
def test_mirrored_readings_compare_alike(one, two, u_one, u_two):
    here = compare(found(one, u_one), found(two, u_two))
    mirrored = compare(found(-one, u_one), found(-two, u_two))

    assert here["state"] == mirrored["state"]
    assert here["difference"] == pytest.approx(-mirrored["difference"])


def test_a_round_without_a_verdict_is_not_compared():
    answer = compare(found(5.4, 1.0), found(5.4, 1.0, "no_verdict"))

    assert answer == {"state": "unknown"}
    assert "both need a verdict" in said(second_reading_answer(answer, "in"))


def test_each_pair_of_readings_is_an_offset_less_the_known_extras():
    part = {"left": [214.0, 215.0, 216.0], "right": [204.0, 203.0], "left_extra": 6.0}

    assert trials_of({"centering": part}) == [2.0, 3.0]
    assert trials_of({}) == []
