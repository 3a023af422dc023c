"""Scripts and stylesheets in fewer bytes mean the same."""

from py_mini_racer import MiniRacer

from webapp.phone.compiler.finished import smaller

SCRIPT = """/**
 * What a reader wants to know.
 */
const depth = 2;

  // A reason.
  const first = `reading ${depth > 1 ? `left ${depth} of  3` : 'no // one'} /* kept */`;
    const link = 'http://shop/*';
const several = `one
  two`;
globalThis.said = [first, link, several].join();
"""
STRICT = """(() => {
'use strict';
globalThis.said = (function () { return this; })() === undefined;
})();
"""


def ran(script):
    """What a script says once it is smaller."""
    engine = MiniRacer()
    engine.eval(smaller("js/said.js", script.encode()).decode())
    return engine.eval("said")


def test_comments_and_indentation_go_and_texts_stay():
    short = smaller("js/said.js", SCRIPT.encode()).decode()

    assert "reader" not in short and "A reason" not in short and "    " not in short
    assert ran(SCRIPT) == "reading left 2 of  3 /* kept */,http://shop/*,one\n  two"


def test_a_strict_script_stays_strict():
    assert ran(STRICT) is True


def test_a_stylesheet_means_the_same_in_fewer_bytes():
    assert smaller("css/look.css", b"/* Look */\n.box {\n  margin: 0 auto;\n}\n") == (
        b".box{margin:0 auto}"
    )


def test_other_files_stay_as_they_are():
    drawing = b"<svg>\n  <!-- drawn -->\n</svg>\n"

    assert smaller("icons/icon.svg", drawing) == drawing


def test_where_no_minifier_can_be_had_files_stay_as_they_are(monkeypatch):
    monkeypatch.setattr("webapp.phone.compiler.finished.minify", None)

    assert smaller("js/said.js", SCRIPT.encode()) == SCRIPT.encode()
