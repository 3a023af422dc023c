"""The check of the scripts knows the arithmetic by the names and values of its Python."""

import ast

import pytest
from check_scripts import declarations, members, no_long_lines, typed, undefined_names


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


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("const up = 1;\nalert(up, document.title);\n", []),
        ("keep();\n", ["js/app.js:1: keep is not defined"]),
        # A page has these too, for other things.
        ("\nprompt(name, event, find);\n", ["name", "event", "find"]),
        ("const fold$standing = () => fold$stand();\n", ["fold$stand"]),
        ("const broken = ;\n", ["js/app.js: "]),
    ],
)
def test_a_name_that_nothing_defines_is_found(text, found):
    lines = undefined_names({"js/app.js": text})

    assert len(lines) == len(found)
    assert all(part in line for part, line in zip(found, lines, strict=True))


def test_the_compiled_arithmetic_may_name_nothing_of_a_browser():
    assert undefined_names({"sent/js/reckon.js": "history.back();\n"}) == [
        "sent/js/reckon.js:1: history is not defined"
    ]
