"""Numbers solved by an independent method, and the sample sheet, hold to nine digits or so."""

import pytest
from kit.worked_sheets import EXAMPLES, SAMPLE

from webapp.reckon.assess import assess

LOOSER = {"least_steer_raise": 0.1, "least_steer_deg": 0.005}


def each_value():
    for number, example in enumerate(EXAMPLES):
        for finding, values in example["findings"].items():
            for key in values:
                yield pytest.param(number, finding, key, id=f"{number + 1}-{finding}-{key}")


@pytest.mark.parametrize(("number", "finding", "key"), list(each_value()))
def test_worked_examples_hold(number, finding, key):
    sheet, wanted = EXAMPLES[number]["sheet"], EXAMPLES[number]["findings"][finding][key]

    got = assess(sheet)[finding][key]

    if isinstance(wanted, str):
        assert got == wanted
    else:
        assert got == pytest.approx(wanted, rel=1e-6, abs=LOOSER.get(key, 1e-9))


def test_the_sample_sheet_gives_the_known_answer():
    found = assess(SAMPLE)

    assert found["centering"]["offset"] == pytest.approx(5.35)
    assert found["centering"]["toward"] == "left"
    assert found["centering"]["expanded"] == pytest.approx(1.0392, abs=5e-5)
    assert found["centering"]["state"] == "outside"
    assert found["bar_change"]["length_change"] == pytest.approx(5.3021, abs=5e-5)
    assert found["bar_change"]["turns"] == 3.5
    assert found["bar_change"]["leftover"] == pytest.approx(-0.256, abs=5e-4)
