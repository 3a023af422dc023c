"""The house's own rules: who may import whom, and words that must not appear."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "webapp"

MAY_IMPORT = {
    "reckon": set(),
    "shoplog": {"reckon"},
    "door": {"reckon.numbers", "shoplog"},
    "phone": {"reckon", "shoplog", "door"},
    "desk": {"reckon", "shoplog", "door", "phone.shell_routes", "maintenance.backups"},
    "sample": {"reckon", "shoplog"},
    "maintenance": {"reckon.numbers", "shoplog", "network.data_folder"},
    "network": {"create_app", "door", "maintenance", "sample", "shoplog"},
    # The factory and the command put the parts together.
    "__init__": {"desk", "door", "phone", "shoplog"},
    "command": {"__version__", "maintenance", "network", "reckon", "sheet_schema"},
    "sheet_schema": {"reckon"},
}
ARITHMETIC_MAY_IMPORT = {"math"}
# Inside the arithmetic: what was typed goes into the checks, whose numbers become sentences at the
# very end. So nothing that reads, keeps or checks values knows how they will be worded.
LEAVES = {"minimum", "numbers", "step_names", "terms"}
RECKON_MAY_IMPORT = {
    "minimum": set(),
    "numbers": set(),
    "step_names": set(),
    "terms": {"typed"},
    "joint_terms": {"typed"},
    "typed": set(),
    "photo_bounds": set(),
    "checks": {"joint_terms", "typed"},
    "log": {"checks", "joint_terms", "judgment", "limits", "typed"},
    "limits": {"log"},
    "sentences": {"checks", "joint_terms", "typed"},
    "walk": {"checks", "joint_terms", "log", "sentences", "typed"},
    "sheet_rules": {"checks", "joint_terms", "typed"},
    "sheet_faults": {"sheet_rules"},
    "entry_rules": {"sheet_rules", "joint_terms", "sheet_faults"},
    "typed_sheet": {"sentences", "sheet_faults", "typed"},
    "judgment": {"checks", "typed"},
    "ask_back": {"judgment", "sentences"},
    "job_view": {"assess", "checks", "log", "walk"},
    "assess": {"checks", "judgment", "limits", "sentences", "sheet_faults", "typed_sheet", "typed"},
}
DATABASES = {"sqlite3", "sqlite_utils"}


def modules():
    """(part, path, tree) of every module of the package."""
    for path in sorted(PACKAGE.rglob("*.py")):
        part = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        yield part, path, ast.parse(path.read_text("utf-8"))


def imported(path, tree):
    """The dotted names that a module imports, relative ones spelled out."""
    package = ".".join(path.relative_to(ROOT).parts[:-1])
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package.rsplit(".", node.level - 1)[0] + "." if node.level else ""
            module = f"{base}{node.module or ''}".rstrip(".")
            yield from (f"{module}.{name.name}" for name in node.names)


def ours(name):
    """What an import of the package reaches for: `door.roles` of webapp.door.roles.PHONE."""
    return ".".join(name.split(".")[1:3]) if name.startswith("webapp.") else None


def may(part, wanted):
    own = wanted.split(".")[0]
    allowed = MAY_IMPORT[part]
    return own == part or own in allowed or wanted in allowed


def test_each_part_imports_only_what_it_may():
    found = [
        f"{path.relative_to(ROOT)} imports {name}"
        for part, path, tree in modules()
        for name in imported(path, tree)
        if ours(name) and not may(part, ours(name))
    ]

    assert found == []


def test_the_developers_page_says_who_may_import_whom():
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    rows = re.findall(r"^\| `(\w+)` \| (.+) \|$", page.partition("| part |")[2], re.MULTILINE)
    said = {part: set(re.findall(r"`([^`]+)`", names)) for part, names in rows}

    expected = {part: wanted for part, wanted in MAY_IMPORT.items() if part != "__init__"}
    assert {part: said.get(part) for part in expected} == {
        **expected,
        "reckon": ARITHMETIC_MAY_IMPORT,
    }


def test_the_developers_map_shows_every_part_and_nothing_else():
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    drawn = page.partition("```\nwebapp/\n")[2].partition("\nstatic/")[0]
    found, part = set(), ""
    for indent, name in re.findall(r"^( +)([\w.]+/?)", drawn, re.MULTILINE):
        part = name if len(indent) == 2 else part
        found.add(name if len(indent) == 2 else part + name)

    assert [name for name in found if not (PACKAGE / name).exists()] == []
    assert {name.rstrip("/").removesuffix(".py") for name in found} >= set(MAY_IMPORT)


def test_the_arithmetic_imports_only_math_and_itself():
    found = {
        name
        for part, path, tree in modules()
        if part == "reckon"
        for name in imported(path, tree)
        if name not in ARITHMETIC_MAY_IMPORT and not name.startswith("webapp.reckon.")
    }

    assert found == set()


def test_each_room_of_the_arithmetic_imports_only_what_it_may():
    found = []
    for part, path, tree in modules():
        if part != "reckon" or path.stem == "__init__":
            continue
        room = path.relative_to(PACKAGE / "reckon").parts[0].removesuffix(".py")
        for name in imported(path, tree):
            wanted, _, rest = name.removeprefix("webapp.reckon.").partition(".")
            allowed = RECKON_MAY_IMPORT[room] | LEAVES | {room}
            if wanted != "math" and not {wanted, f"{wanted}.{rest.split('.')[0]}"} & allowed:
                found.append(f"{path.relative_to(ROOT)} imports {name}")

    assert found == []


def test_only_the_shop_log_knows_the_database():
    found = {
        part
        for part, path, tree in modules()
        for name in imported(path, tree)
        if name.split(".")[0] in DATABASES
    }

    assert found == {"shoplog"}


def kept_files():
    """Every text file that belongs to the repository, or all but hidden ones without git."""
    try:
        asked = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
        listed = subprocess.run(asked, cwd=ROOT, capture_output=True, check=True, text=True)
        paths = [ROOT / name for name in listed.stdout.split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        paths = [path for path in ROOT.rglob("*") if ".venv" not in path.parts]
    return [path for path in paths if path.is_file() and path != Path(__file__)]


BRITISH = re.compile(
    r"\b(aluminium|analys(e|ed|es|ing)|ageing|anti-?clockwise|artefacts?|behaviours?|cancell(ed|ing)"
    r"|catalogues?|centr(e|ed|es|ing)|cheques?|colour\w*|defence|favour\w*|fibres?|fulfil|grey"
    r"|honour\w*|judgements?|kerbs?|labell(ed|ing)|labour|levell(ed|ing)|licence|litres?"
    r"|lorr(y|ies)|(milli|centi|kilo)?metres?|modell(ed|ing)|moulds?|neighbour\w*|plough\w*"
    r"|practis\w*|programmes?|signall(ed|ing)|skilful|spanners?|storeys?|towards|travell(ed|ing)"
    r"|spoilt|full stops?|tyres?|whilst"
    r"|(author|capital|custom|initial|minim|normal|optim|organ|real|recogn|serial|summar)is(e|ed|es|ing))\b",
    re.IGNORECASE,
)
# What this house once called things, and what everybody else calls them.
HOUSE_WORDS = {
    "once they are whole": "atomic",
    "rub out": "backspace",
    "heard just now": "in contact",
    "give this store up": "delete this storage",
    "end its way in": "revoke",
    "tick what holds": "check what applies",
    "carried values": "values on file",
    "bar less link": "difference of the angles",
    "write the middle": "the value and its tolerance",
    "leaves nothing of behind": "leaves no half-written files",
    "not ticked": "not checked",
    "±≈": "±",
}
# Which word of another country means which of ours.
GLOSSARY = "docs/glossary.md"


UNFINISHED = re.compile(r"\b(TODO|FIXME|XXX)\b|\b[Ss]ections? \d")
PAGE = re.compile(r"[\w./-]*\w\.md\b")


def kept_lines():
    """(place, line) of every text file that belongs to the repository."""
    for path in kept_files():
        try:
            lines = path.read_text("utf-8").splitlines()
        except UnicodeDecodeError:
            continue
        yield from (
            (f"{path.relative_to(ROOT)}:{number}", line) for number, line in enumerate(lines, 1)
        )


def test_nothing_is_left_for_later_or_points_to_a_numbered_section():
    assert [place for place, line in kept_lines() if UNFINISHED.search(line)] == []


def prose_lines():
    """(place, line) of every kept line but those of the glossary."""
    return [(place, line) for place, line in kept_lines() if not place.startswith(GLOSSARY)]


def test_the_spelling_is_american():
    found = [(place, word[0]) for place, line in prose_lines() for word in BRITISH.finditer(line)]

    assert found == []


@pytest.mark.parametrize(("house_word", "usual"), HOUSE_WORDS.items())
def test_things_have_their_usual_names(house_word, usual):
    found = [place for place, line in prose_lines() if house_word in line.casefold()]

    assert found == [], f"say {usual}"


def test_nothing_points_to_pages_or_folders_that_are_not_handed_on():
    pages = {path.name for path in kept_files() if path.suffix == ".md"}
    found = [
        place
        for place, line in kept_lines()
        if any(Path(name).name not in pages for name in PAGE.findall(line))
        or str(ROOT.parent) + "/" in line
    ]

    assert found == []


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: path.stem)
def test_every_module_says_in_its_first_line_what_it_is(path):
    says = ast.get_docstring(ast.parse(path.read_text("utf-8")))

    assert says and says.splitlines()[0]
