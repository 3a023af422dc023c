"""Three browsers answer as CPython does, over the whole of what phones ask of the arithmetic."""

import json
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from kit.engine import callable_from_outside, member, python_answer, reckon_script, same
from kit.same_cases import CASES
from kit.same_work import TOGETHER
from shelf import Shelf, serving

pytestmark = pytest.mark.browser

EXAMPLES = 25
QUESTIONS = [(name, st.tuples(*givens)) for name, givens in CASES] + TOGETHER
PAGE = b'<!doctype html><meta charset="utf-8"><script src="/reckon.js"></script>'
ASK = "return arguments[1].map((given) => answer(arguments[0], given));"


@pytest.fixture
def reckon_shelf() -> Iterator[Shelf]:
    """A server of a page that holds the compiled arithmetic."""
    script = callable_from_outside(reckon_script()).encode()
    shelf = Shelf()
    shelf.spoiled["/"] = 200, {"Content-Type": "text/html"}, PAGE
    shelf.spoiled["/reckon.js"] = 200, {"Content-Type": "text/javascript"}, script
    with serving(shelf):
        yield shelf


def generated(givens):
    """What one function is asked, the same in each run."""
    found = []

    @settings(
        max_examples=EXAMPLES,
        phases=[Phase.generate],
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
    @given(givens)
    def take(values):
        found.append(values)

    take()
    return found


def test_the_compiled_arithmetic_answers_as_python_does(new_browser, reckon_shelf):
    browser = new_browser()
    browser.go(reckon_shelf.origin)
    for name, givens in QUESTIONS:
        asked = generated(givens)
        answers = browser.run(ASK, name, [json.dumps(values) for values in asked])
        for values, answer in zip(asked, map(json.loads, answers), strict=True):
            here = python_answer(member(name), *values)
            assert same(answer, here), f"{name} of {values}\nbrowser {answer}\npython {here}"
