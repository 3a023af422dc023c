"""The house's own rules: who may import whom, how long a function may be, words kept out."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "webapp"
LONGEST_FUNCTION = 45
LONGEST_MODULE = 300

MAY_IMPORT = {
    "reckon": set(),
    "shoplog": {"reckon"},
    "door": {"shoplog"},
    "phone": {"reckon", "shoplog", "door"},
    "desk": {"reckon", "shoplog", "door", "phone.shell", "maintenance.backups"},
    "sample": {"reckon", "shoplog"},
    "maintenance": {"shoplog", "network.data_folder"},
    "network": {"create_app", "door", "maintenance", "sample", "shoplog"},
    # The factory and the command put the parts together.
    "__init__": {"desk", "door", "phone", "shoplog"},
    "command": {"__version__", "maintenance", "network", "reckon", "schema"},
    "schema": {"reckon"},
}
ARITHMETIC_MAY_IMPORT = {"math"}
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
    """What an import of the package reaches for: `phone.shell` of webapp.phone.shell.the_shell."""
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


def test_the_arithmetic_imports_only_math_and_itself():
    found = {
        name
        for part, path, tree in modules()
        if part == "reckon"
        for name in imported(path, tree)
        if name not in ARITHMETIC_MAY_IMPORT and not name.startswith("webapp.reckon.")
    }

    assert found == set()


def test_only_the_shop_log_knows_the_database():
    found = {
        part
        for part, path, tree in modules()
        for name in imported(path, tree)
        if name.split(".")[0] in DATABASES
    }

    assert found == {"shoplog"}


def functions(tree):
    return [
        node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    ]


def length(node):
    return node.end_lineno - node.lineno + 1


def test_no_function_is_longer_than_a_screen():
    found = [
        f"{path.relative_to(ROOT)}:{node.lineno} {node.name} has {length(node)} lines"
        for _, path, tree in modules()
        for node in functions(tree)
        if length(node) > LONGEST_FUNCTION
    ]

    assert found == []


def test_functions_are_small():
    lengths = sorted(length(node) for _, _, tree in modules() for node in functions(tree))

    assert lengths[len(lengths) // 2] <= 8
    assert lengths[len(lengths) * 9 // 10] <= 25


def test_no_module_is_longer_than_can_be_read_at_a_sitting():
    found = {
        str(path.relative_to(ROOT)): lines
        for _, path, _ in modules()
        if (lines := len(path.read_text("utf-8").splitlines())) > LONGEST_MODULE
    }

    assert found == {}


def kept_files():
    """Every text file that belongs to the repository, or all but hidden ones without git."""
    try:
        asked = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
        listed = subprocess.run(asked, cwd=ROOT, capture_output=True, check=True, text=True)
        paths = [ROOT / name for name in listed.stdout.split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        paths = [path for path in ROOT.rglob("*") if ".venv" not in path.parts]
    return [path for path in paths if path.is_file() and path != Path(__file__)]


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
