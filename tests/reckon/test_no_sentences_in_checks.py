"""Checks, judgment and log answer in codes and values: sentences are made in sentences/ alone."""

import ast
import re

import pytest

from webapp.phone.compiler.compile import RECKON
from webapp.reckon.joint_terms import FASTENERS

# Their sentences are made where they are found.
WORDED = {"play", "repairs", "second_reading", "gauge_rr", "hole_sizes", "plausible"}
PATHS = sorted(
    path
    for folder in ("checks", "judgment", "log")
    for path in (RECKON / folder).glob("*.py")
    if path.stem not in WORDED
)
SENTENCE = re.compile(r"[a-z,] [a-z]+( [a-z]+)?[ .:]")


def texts_of(tree):
    """The texts of a module, docstrings left out."""
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.FunctionDef) and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
            yield node.value


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_no_sentence_stands_beside_the_numbers(path):
    assert [
        text
        for text in texts_of(ast.parse(path.read_text("utf-8")))
        if SENTENCE.search(text) and text not in FASTENERS
    ] == []


def test_a_sentence_is_known_as_one():
    assert SENTENCE.search("Take a second reading on the left.")
    assert not SENTENCE.search("frame_height")
