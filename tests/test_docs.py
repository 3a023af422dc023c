"""The docs name what there is, and only that: pictures, links, commands, routes, fields."""

import contextlib
import io
import json
import math
import re
from pathlib import Path

import pytest

from webapp.command import main
from webapp.reckon.joint_terms import LOCK_NAMES, STATE_NAMES
from webapp.reckon.sheet_rules import RULES
from webapp.reckon.step_names import BAR_NAMES, LINK_NAMES, TOE_NAMES
from webapp.reckon.terms import JOB_STATES, ROUND_WORDS, VERDICTS
from webapp.reckon.walk.steps import STEPS
from webapp.shoplog.rules.kinds import BODIES, KINDS, body_schema
from webapp.shoplog.rules.readings import PICKS, READINGS

ROOT = Path(__file__).parent.parent
DOCS = ROOT / "docs"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(DOCS.glob("*.md"))]
PAGES += sorted((ROOT / ".github").glob("*.md"))
PICTURES = sorted((DOCS / "pictures").glob("*.png"))
LARGEST_PICTURE = 100_000

LINK = re.compile(r"\]\(([^)\s]+)\)|\b(?:src|srcset)=\"([^\"]+)\"")
SHELL = re.compile(r"^```(?:sh|bat)\n(.*?)^```", re.MULTILINE | re.DOTALL)
JSON = re.compile(r"^```json\n(.*?)^```", re.MULTILINE | re.DOTALL)
WALK_ROW = re.compile(r"^\| `([\w./]+)` \| (`[^|]+`) \|", re.MULTILINE)
HEADING = re.compile(r"^#+ (.+)$", re.MULTILINE)
LOUD = re.compile(r"!(?!\[)|\b[Ss]imply\b")


def text_of(path):
    return path.read_text("utf-8")


def everything():
    """The text of all pages."""
    return "\n".join(map(text_of, PAGES))


def links(page):
    """The relative links and pictures of a page, as the page writes them."""
    found = [target or source for target, source in LINK.findall(text_of(page))]
    return [link for link in found if not link.startswith(("http:", "https:", "#"))]


def anchors(page):
    """The places in a page that a link can name."""
    titles = HEADING.findall(text_of(page))
    return {re.sub(r"[^\w -]", "", title.lower()).replace(" ", "-") for title in titles}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_link_and_picture_exists(page):
    for link in links(page):
        name, _, place = link.partition("#")
        target = page.parent / name
        assert target.is_file(), link
        assert not place or place in anchors(target), link


def test_the_comments_of_templates_name_modules_that_are_there():
    modules = {path.name for path in (ROOT / "webapp").rglob("*.py")}
    templates = sorted((ROOT / "webapp").rglob("*.html"))
    named = {name for page in templates for name in re.findall(r"\b\w+\.py\b", text_of(page))}

    assert named
    assert named - modules == set()


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_the_pages_keep_a_calm_voice(page):
    prose = re.sub(r"`[^`]*`", "", re.sub(r"^```.*?^```", "", text_of(page), flags=re.M | re.S))

    assert LOUD.findall(prose) == []


def test_every_picture_is_small_and_shown_somewhere():
    shown = {(page.parent / link).resolve() for page in PAGES for link in links(page)}

    assert PICTURES
    assert [path.name for path in PICTURES if path.resolve() not in shown] == []
    assert [path.name for path in PICTURES if path.stat().st_size > LARGEST_PICTURE] == []


def test_the_index_leads_to_every_page():
    reached = {(DOCS / link).resolve() for link in links(DOCS / "index.md")}

    missing = {page.resolve() for page in DOCS.glob("*.md")} - {(DOCS / "index.md").resolve()}
    assert missing - reached == set()


def test_the_readme_says_what_it_is_before_any_other_heading():
    title, _, rest = text_of(ROOT / "README.md").partition("\n")
    before = rest.partition("\n## ")[0]

    assert title == "# Axlewright"
    assert not HEADING.search(before)
    assert {"technician", "lead", "axle", "track bar"} <= set(re.findall(r"track bar|\w+", before))
    assert len(before.split()) > 60


def commands(page):
    """The lines of the shell blocks of a page."""
    return [line for block in SHELL.findall(text_of(page)) for line in block.splitlines()]


def test_the_readme_has_the_two_commands_each_on_one_line():
    demo, tests, _ = commands(ROOT / "README.md")

    assert demo.split(" && ") == [
        "python3 -m venv .venv",
        ".venv/bin/pip install -q -c tests/constraints.txt .",
        ".venv/bin/axlewright demo",
    ]
    assert tests in text_of(ROOT / ".ci" / "run").splitlines()
    assert tests in text_of(ROOT / "tests" / "run.py")
    assert tests.split()[-1:] == ["tests/run.py"]


def test_the_demo_line_is_the_same_on_every_page_and_has_a_twin_for_windows():
    [demo, windows, *_] = commands(DOCS / "demo.md")

    assert demo == commands(ROOT / "README.md")[0] == commands(ROOT / "DEVELOPERS.md")[0]
    plain = demo.replace("python3", "py").replace(".venv/bin/", ".venv/Scripts/")
    assert windows.replace("\\", "/") == plain


def test_what_the_readme_installs_with_is_there():
    assert (ROOT / "tests" / "constraints.txt").is_file()
    assert (ROOT / "pyproject.toml").is_file()


def plain(value):
    """A text with ordinary blanks; other values as they are."""
    return re.sub(r"\s", " ", value) if isinstance(value, str) else value


def same(shown, found):
    """Whether what the page shows is in what was found; numbers to four decimals."""
    if isinstance(shown, dict):
        return all(same(value, found[key]) for key, value in shown.items())
    if isinstance(shown, float):
        return math.isclose(shown, found, abs_tol=5e-5)
    return plain(shown) == plain(found)


def test_the_example_of_the_readme_gives_what_it_shows(capsys, monkeypatch):
    monkeypatch.chdir(ROOT)
    program, *arguments = commands(ROOT / "README.md")[2].split()
    [shown] = JSON.findall(text_of(ROOT / "README.md"))

    code = main(arguments)

    assert (program, code) == (".venv/bin/axlewright", 0)
    assert same(json.loads(shown), json.loads(capsys.readouterr().out))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_json_of_the_pages_is_json(page):
    for block in JSON.findall(text_of(page)):
        json.loads(block)


def help_text(*arguments):
    with contextlib.redirect_stdout(io.StringIO()) as out:
        main([*arguments, "--help"])
    return out.getvalue()


def test_every_command_and_option_is_in_the_docs():
    shown = everything()
    commands_there = re.findall(r"^  (\w+) {2,}", help_text(), re.MULTILINE)

    assert commands_there
    for command in commands_there:
        assert f"axlewright {command}" in shown
        options = set(re.findall(r"--\w[\w-]*", help_text(command)))
        assert [option for option in options if f"`{option}" not in shown] == []
    assert "--version" in shown


def rules(app):
    """Every route as the docs write it: /desk/jobs/<id>; what the desk's forms post to left out."""
    for rule in app.url_map.iter_rules():
        path = re.sub(r"<(job|vehicle)>", "<id>", rule.rule)
        form = path.startswith("/desk/") and "GET" not in (rule.methods or ())
        if not form and not path.endswith("<path:_rest>"):
            yield path, rule.endpoint


def test_every_page_and_call_of_the_service_is_in_the_docs(app):
    shown = everything()
    forms = ("/door/demo/",)
    asked = [path for path, _ in rules(app) if not any(form in path for form in forms)]

    assert len(asked) > 15
    assert [path for path in asked if f"`{path}" not in shown and f" {path}" not in shown] == []


def test_every_field_of_a_sheet_is_in_its_reference():
    shown = text_of(DOCS / "sheet.md")

    assert [path for path, *_ in RULES if f"| `{path}` |" not in shown] == []
    fields = re.findall(r"^\| `([a-z_]+(?:\[\])?\.[a-z_.]+)` \|", shown, re.MULTILINE)
    assert sorted(set(fields) - {path for path, *_ in RULES}) == []


def test_every_kind_of_entry_and_its_fields_are_in_the_reference():
    shown = text_of(DOCS / "exchange.md")
    named = {*KINDS, *READINGS, *(field for fields in PICKS.values() for field in fields)}
    for each in BODIES:
        fields = body_schema(each)["properties"]
        named |= {*fields, *fields.get("field", {}).get("enum", [])}

    assert [name for name in sorted(named) if f"`{name}`" not in shown] == []


def test_the_glossary_has_every_word_of_the_walk_once():
    page = text_of(DOCS / "glossary.md").lower()
    rows = re.findall(r"^\| ([^|]+) \|", page, re.MULTILINE)
    words = [word for row in rows if row != "word" for word in row.split(", ")]
    steps = [each["title"] for each in STEPS]
    tables = [
        BAR_NAMES,
        LINK_NAMES,
        TOE_NAMES,
        STATE_NAMES,
        LOCK_NAMES,
        VERDICTS,
        ROUND_WORDS,
        JOB_STATES,
    ]
    shown = [*steps, *(word for table in tables for word in table.values())]

    assert sorted({word for word in words if words.count(word) > 1}) == []
    assert [word for word in shown if word.lower() not in words] == []


def test_the_walk_names_files_and_functions_that_are_there():
    rows = WALK_ROW.findall(text_of(ROOT / "DEVELOPERS.md"))
    rows = [(path, names) for path, names in rows if "/" in path and "." in path]

    assert len(rows) > 25
    for path, names in rows:
        source = text_of(ROOT / path)
        for name in re.findall(r"`([^`]+)`", names):
            defined = rf"(\bdef |\bfunction |^  (async )?(get )?){re.escape(name)}\("
            assert re.search(defined, source, re.MULTILINE), f"{path} has no {name}"
