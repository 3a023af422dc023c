"""Shortened scripts run as the long ones do: only whole-line comments and indentation go."""

from py_mini_racer import MiniRacer

from webapp.phone.assets import static_folder
from webapp.phone.minify import shortened

SCRIPT = """/**
 * What a reader wants to know.
 */
const depth = 2;

  // A reason.
  const said = `reading ${depth > 1 ? `left ${depth} of  3` : 'no // one'} /* kept */`;
    const link = 'http://shop/*';
said;
"""


def test_strings_templates_and_patterns_stay_as_they_are():
    short = shortened(SCRIPT)
    assert short == (
        "const depth = 2;\n"
        "const said = `reading ${depth > 1 ? `left ${depth} of  3` : 'no // one'} /* kept */`;\n"
        "const link = 'http://shop/*';\nsaid;\n"
    )
    assert MiniRacer().eval(short) == "reading left 2 of  3 /* kept */"


def test_a_template_over_several_lines_leaves_the_script_alone():
    text = "const a = `one\n  two`;\n  // said\n"
    assert shortened(text) == text


def test_a_stylesheet_loses_comments_and_indentation_only():
    assert shortened("/* Look */\n.box {\n  margin: 0 auto;\n}\n") == (
        ".box {\nmargin: 0 auto;\n}\n"
    )


def test_every_script_of_the_app_can_be_shortened():
    for path in static_folder().rglob("*.js"):
        text = path.read_text("utf-8")
        assert len(shortened(text)) < len(text), path
