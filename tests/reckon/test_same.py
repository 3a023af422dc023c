"""The phone answers as Python does: texts, sheets and entry lists through both, side by side."""

import pytest
from hypothesis import strategies as st
from kit.engine import Engine, reckon_script
from kit.same_cases import CASES, compared
from kit.same_work import TOGETHER


@pytest.fixture(scope="module")
def engine():
    return Engine(reckon_script())


@pytest.mark.parametrize(("name", "givens"), CASES)
def test_the_phone_answers_as_python_does(engine, name, givens):
    compared(engine, name, st.tuples(*givens))


@pytest.mark.parametrize(("name", "givens"), TOGETHER)
def test_the_phone_answers_as_python_does_where_givens_belong_together(engine, name, givens):
    compared(engine, name, givens)
