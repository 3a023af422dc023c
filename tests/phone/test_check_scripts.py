"""The check of the scripts knows the arithmetic by the names and values of its Python."""

import ast

import pytest
from check_scripts import declarations, members, no_long_lines, typed


def test_a_function_is_declared_with_what_it_takes_and_gives():
    source = """
STEPS = ["heights"]
_own = 1

def moved(sheet: dict, by: float, unit: str = "mm") -> float | None:
    return None

def _hidden() -> None:
    return None
"""
    assert members(ast.parse(source)) == (
        "  STEPS: any;\n  moved(sheet: any, by: number, unit?: string): number | null;\n"
    )


def test_every_module_of_the_arithmetic_is_declared():
    assert "export const steps: {" in declarations()
    assert "export const terms: {" in declarations()


@pytest.mark.parametrize(
    ("call", "found"),
    [("steps.places({}, 'open', [])", 0), ("steps.plaices({}, 'open', [])", 1)],
)
def test_a_misspelled_function_of_the_arithmetic_is_found(tmp_path, call, found):
    (tmp_path / "js").mkdir()
    (tmp_path / "sw.js").write_text("export {};\n", "utf-8")
    (tmp_path / "js" / "desk.js").write_text("export {};\n", "utf-8")
    (tmp_path / "js" / "app.js").write_text(
        f"import {{ steps }} from './reckon.js';\n{call};\n", "utf-8"
    )

    assert typed(tmp_path) == found


def test_no_line_of_a_script_is_longer_than_the_others_may_be():
    assert no_long_lines() == 0
