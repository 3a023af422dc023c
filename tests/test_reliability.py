"""The page that promises: every way to fail has its row, and every row its proof."""

import re
from pathlib import Path

ROOT = Path(__file__).parent.parent
PAGE = (ROOT / "docs" / "reliability.md").read_text("utf-8")
ROW = re.compile(r"^\| F(\d\d) \| (P[123]) \| ([^|]+) \| ([^|]+) \| ([^|]+) \|$", re.MULTILINE)
NUMBERED = re.compile(r"def (test((?:_f\d\d)+)_\w+)")
LAST = 68
# A row is shown by tests of its own number; these are the others that it names, each with why.
OF_ANOTHER_ROW = {
    # A store that an iPhone deleted looks to the shop just like one that was wiped.
    ("07", "test_f12_a_phone_whose_store_was_wiped_says_what_never_arrived"),
}


def rows():
    """(number, grade, what shows it) of every row."""
    return [(number, grade, shown) for number, grade, _, _, shown in ROW.findall(PAGE)]


def numbered_tests():
    """Every test whose name has the number of a failure, with those numbers."""
    texts = [path.read_text("utf-8") for path in (ROOT / "tests").rglob("test_*.py")]
    found = [pair for text in texts for pair in NUMBERED.findall(text)]
    return {name: set(re.findall(r"\d\d", numbers)) for name, numbers in found}


def test_every_way_to_fail_has_one_row():
    assert [number for number, _, _ in rows()] == [f"{each:02}" for each in range(1, LAST + 1)]


def test_every_row_that_can_lose_or_stop_something_names_its_proof():
    by_hand = set(re.findall(r"^(\d)\. \*\*", PAGE.partition("## By hand")[2], re.MULTILINE))
    for number, grade, shown in rows():
        named = re.findall(r"`(test_\w+)`", shown)
        checks = re.findall(r"by hand (\d)", shown)
        assert named or checks or grade == "P3", f"F{number} has no proof"
        assert set(checks) <= by_hand, f"F{number} names a check that is not there"


def named_tests():
    """(number, test) for every test that a row names."""
    return {
        (number, name) for number, _, shown in rows() for name in re.findall(r"`(test_\w+)`", shown)
    }


def test_every_test_that_the_page_names_is_there_and_is_of_its_row():
    there = numbered_tests()
    strays = {(number, name) for number, name in named_tests() if number not in there.get(name, ())}

    assert {name for _, name in named_tests()} - there.keys() == set()
    assert strays == OF_ANOTHER_ROW


def test_a_row_with_tests_of_its_number_names_one_of_them():
    there = numbered_tests()
    proven = {number for number, name in named_tests() if number in there.get(name, ())}

    assert {number for numbers in there.values() for number in numbers} - proven == set()


def test_the_figures_of_the_page_are_those_of_the_tests():
    loss = (ROOT / "tests" / "shoplog" / "test_power_loss.py").read_text("utf-8")

    assert "ENTRIES, KILLS = 10_000, 200" in loss
    assert "10,000 acknowledged entries" in PAGE
    assert "killed 200 times" in PAGE


def test_every_threat_names_its_proof_and_every_proof_is_there():
    page = (ROOT / "docs" / "threat-model.md").read_text("utf-8")
    rows = re.findall(r"^\| (?!who \||---)(.+) \|$", page, re.MULTILINE)
    texts = [path.read_text("utf-8") for path in (ROOT / "tests").rglob("test_*.py")]
    there = {name for text in texts for name in re.findall(r"def (test_\w+)", text)}

    assert len(rows) > 12
    for row in rows:
        named = set(re.findall(r"`(test_\w+)`", row))
        assert named, row
        assert named <= there, named - there
