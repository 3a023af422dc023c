"""The sentences for what the parsers ask back and refuse."""

import ast
from pathlib import Path

from webapp import reckon
from webapp.reckon.sentences.typed_answers import SAYS, says_of, says_with_choices, with_sentence
from webapp.reckon.typed.lengths import parse_length

TYPED = Path(reckon.__file__).parent / "typed"
PREFIXES = tuple({code.partition("_")[0] + "_" for code in SAYS})


def texts_in(path):
    """Every text that the code of a file holds, docstrings aside."""
    tree = ast.parse(path.read_text("utf-8"))
    loose = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    return {
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in loose
    }


def test_every_code_has_its_sentence_and_every_sentence_its_code():
    texts = set().union(*(texts_in(path) for path in TYPED.glob("*.py")))
    codes = {
        text for text in texts if text.startswith(PREFIXES) and text.replace("_", "").isalpha()
    }

    assert codes == set(SAYS)


def test_the_parsers_make_no_sentences():
    for path in TYPED.glob("*.py"):
        assert [text for text in texts_in(path) if text.endswith((".", "?")) and " " in text] == []


def test_a_sentence_names_the_piece_that_it_is_about():
    found = with_sentence(parse_length("14 x", "in"))

    assert found["says"] == says_of(found)
    assert found["says"].startswith("“x” is not part of a length.")
    assert "says" not in with_sentence(parse_length("14", "in"))


def test_choices_stand_behind_the_sentence_where_nothing_can_be_touched():
    assert says_with_choices(parse_length("15'", "in")) == (
        "Is that feet or inches? Write 15 ft or 15 in."
    )
    assert says_with_choices(parse_length("-5", "in")) == says_of(parse_length("-5", "in"))
