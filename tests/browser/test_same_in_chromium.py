"""Chromium answers as CPython does, over the whole sheet: the engine that phones really have."""

import json

import pytest
from hypothesis import strategies as st
from kit.engine import callable_from_outside, reckon_script
from kit.same_cases import CASES, compared
from kit.same_work import TOGETHER
from playwright.sync_api import Page

pytestmark = pytest.mark.browser
EXAMPLES = 25


class Chromium:
    """The compiled arithmetic on a blank page, asked as the engine of the other tests is."""

    def __init__(self, page: Page) -> None:
        page.add_script_tag(content=callable_from_outside(reckon_script()))
        self.page = page

    def call(self, name, *given):
        """['value', answer] or ['error', class name] of `module.function`."""
        asked = [name, json.dumps(given)]
        return json.loads(self.page.evaluate("([name, given]) => answer(name, given)", asked))


@pytest.fixture(scope="module")
def chromium_engine(browser):
    page = browser.new_page()
    yield Chromium(page)
    page.close()


@pytest.mark.parametrize(("name", "givens"), CASES)
def test_chromium_answers_as_python_does(chromium_engine, name, givens):
    compared(chromium_engine, name, st.tuples(*givens), EXAMPLES)


@pytest.mark.parametrize(("name", "givens"), TOGETHER)
def test_chromium_answers_as_python_does_where_givens_belong_together(
    chromium_engine, name, givens
):
    compared(chromium_engine, name, givens, EXAMPLES)
