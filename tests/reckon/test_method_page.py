"""Every number of docs/method.md is what the code gives, and its pictures and links are there."""

import doctest
import re
from pathlib import Path

import pytest

METHOD = Path(__file__).parents[2] / "docs" / "method.md"
TEXT = METHOD.read_text("utf-8")


def runnable():
    """The page's examples: its code blocks alone, as one document."""
    blocks = re.findall(r"```python\n(.*?)```", TEXT, re.DOTALL)
    return "\n".join(blocks)


def test_the_examples_of_the_method_give_the_numbers_on_the_page():
    parsed = doctest.DocTestParser().get_doctest(runnable(), {}, "method.md", str(METHOD), 0)
    said = []

    results = doctest.DocTestRunner(verbose=False).run(parsed, out=said.append)

    assert results.failed == 0, "".join(said)
    assert results.attempted > 50


def test_every_code_block_is_run():
    assert TEXT.count("```") == 2 * len(re.findall(r"```python\n>>> ", TEXT))


@pytest.mark.parametrize("target", sorted(set(re.findall(r"\]\(([a-z][^)#]*)\)", TEXT))))
def test_pictures_and_pages_are_there(target):
    assert (METHOD.parent / target).is_file()


def test_links_within_the_page_lead_somewhere():
    headings = re.findall(r"^## (.+)$", TEXT, re.MULTILINE)
    anchors = {re.sub(r"[^a-z ]", "", each.lower()).replace(" ", "-") for each in headings}

    assert set(re.findall(r"\]\(#([^)]+)\)", TEXT)) <= anchors
