"""Checks, judgment, log and parsers answer in codes and values: sentences/ alone makes words."""

import ast
import re

import pytest

from webapp.phone.compiler.compile import RECKON
from webapp.reckon.checks.clearance import HOSES
from webapp.reckon.joint_terms import FASTENERS, JOINTS

# The contract of entries refuses in its own sentences, like the contract of their fields.
REFUSES = {"entry_rules"}
PATHS = sorted(
    path
    for folder in ("checks", "judgment", "log", "typed")
    for path in (RECKON / folder).glob("*.py")
    if path.stem not in REFUSES
)
# Two words of a sentence beside each other; what a value takes the place of counts as a word.
WORDS = re.compile(r"[a-z}][,.:;]? [a-z{]")
# Names of parts that entries and sheets carry, and what people write: an answer that may be typed
# again, and ways to write an hour of the clock or a side.
NAMES = {*FASTENERS, *(joint["joint"] for joint in JOINTS), "witness mark"}
NAMES |= {"locking compound", "new fastener", HOSES}
WRITTEN = {"{} deg left", "{} deg right", " deg left", " deg right", "o clock", "counter clockwise"}
WRITTEN |= {"per inch", "per in", "to the inch", "an inch"}


def is_inside(tree, kinds, wanted):
    """The nodes that stand inside a node of these kinds for which `wanted` holds."""
    return {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, kinds) and wanted(node)
        for inner in ast.walk(node)
        if inner is not node
    }


def texts_of(tree):
    """The texts of a module; without docstrings, those of errors, and those of showing a number."""
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.FunctionDef) and isinstance(node.body[0], ast.Expr)
    }
    parts = is_inside(tree, ast.JoinedStr, lambda node: True)
    errors = is_inside(tree, ast.Raise, lambda node: True)
    shown = is_inside(tree, ast.FunctionDef, lambda node: node.name.startswith("show_"))
    for node in ast.walk(tree):
        if id(node) in docs | parts | errors | shown:
            continue
        if isinstance(node, ast.JoinedStr):
            yield "".join(
                each.value if isinstance(each, ast.Constant) else "{}" for each in node.values
            )
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def words_in(text):
    """The texts of a module that are words for a reader."""
    return [
        each
        for each in texts_of(ast.parse(text))
        if WORDS.search(each) and each not in NAMES | WRITTEN
    ]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_no_sentence_stands_beside_the_numbers(path):
    assert words_in(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    "text",
    [
        'says = "Take a second reading on the left."',
        'says = "a joint"',
        'says = f"{amount} along the bar"',
        'says = f"its bolt has {amount}"',
        'says = f"{state} the {name}"',
        'LOOSE = {"bracket": "look for cracks"}',
    ],
)
def test_even_a_short_sentence_is_known_as_one(text):
    assert len(words_in(text)) == 1


@pytest.mark.parametrize(
    "text",
    [
        'name = "frame_height"',
        'name = f"{parts[0]}/{parts[1]}"',
        'def f():\n    """A plain sentence."""\n    raise ValueError("There is no such code.")',
        'def show_amount():\n    return "less than 1/32"',
    ],
)
def test_codes_errors_and_numbers_are_no_sentences(text):
    assert words_in(text) == []
