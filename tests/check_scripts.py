"""Whether every script is formatted, has no finding of the linter and agrees with its types.

It needs no network.

The types are asked of a copy of static/ with the arithmetic beside it as declarations that are
written from the Python modules, so that a misspelled function of it, or a wrong number of values,
is found. Names are looked up once more in what is sent, where scripts and arithmetic have been
compiled and joined into one scope. With --fix it formats the scripts and checks nothing.
"""

import ast
import json
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from urllib.parse import urlsplit
from urllib.request import url2pathname

from webapp.phone.compiler.finished import APP, RECKON, app_of, reckon_of

ROOT = Path(__file__).resolve().parent.parent
CONFIG = ROOT / "tests" / "deno.json"
ARITHMETIC = ROOT / "webapp" / "reckon"
SCRIPTS = [
    "static",
    "tests/browser/engines/screen.js",
    "tests/browser/page.js",
    "webapp/network/pages/trust.js",
    "webapp/phone/compiler/helpers.js",
    "webapp/phone/compiler/pymath.js",
]
# The scripts that the compiler puts before the arithmetic only define what is used after them.
LINTED = SCRIPTS[:-2]
LONGEST_LINE = 100
# What the service puts before the worker's text, and what browsers have that the types lack.
WORKER_NAMES = "".join(
    f"declare const {name};\n" for name in ("BUILD: string", "SHELL: string[]", "LATER: string[]")
)
PAGE_NAMES = """declare class BarcodeDetector {
  static getSupportedFormats(): Promise<string[]>;
  constructor(options: { formats: string[] });
  detect(source: CanvasImageSource): Promise<{ rawValue: string }[]>;
}
interface Navigator {
  standalone?: boolean;
}
"""
# What scripts name of a browser, besides what the linter itself knows. Nothing is in it that no
# script names, as a page also has `name`, `event` and `find`, which are rather forgotten imports.
BROWSER_NAMES = {
    *("BarcodeDetector", "CSS", "DOMPoint", "Highlight", "IDBKeyRange", "NodeFilter", "Range"),
    *("SpeechSynthesisUtterance", "document", "history", "indexedDB", "matchMedia"),
    *("requestAnimationFrame", "scrollTo", "scrollY", "speechSynthesis"),
}
WORKER = "sw.js"
WORKER_OWN = {"BUILD", "SHELL", "LATER"}
TYPES = {"int": "number", "float": "number", "str": "string", "bool": "boolean", "None": "null"}


def main() -> int:
    """0 when all holds, else 1 with each finding printed."""
    if "--fix" in sys.argv[1:]:
        return deno("fmt", "--quiet", "--config", CONFIG, *SCRIPTS)
    return max(formatted(), lint(), no_long_lines(), typed(), defined())


def deno(*command: object, cwd: Path = ROOT) -> int:
    """Run a command of deno; its exit code."""
    return subprocess.call([sys.executable, "-m", "deno", *map(str, command)], cwd=cwd)


def formatted() -> int:
    """Whether the formatter would change nothing."""
    return deno("fmt", "--check", "--config", CONFIG, *SCRIPTS)


def lint() -> int:
    """Whether the linter finds nothing."""
    return deno("lint", "--config", CONFIG, *LINTED)


def scripts() -> list[Path]:
    """Every script that is kept in the repository."""
    found = [path for name in SCRIPTS for path in (ROOT / name, *(ROOT / name).rglob("*"))]
    return sorted(path for path in found if path.suffix == ".js")


def no_long_lines() -> int:
    """Whether no line is too long: the formatter leaves comments and texts as they are."""
    long = [
        f"{path.relative_to(ROOT)}:{number} is longer than {LONGEST_LINE} characters"
        for path in scripts()
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if len(line) > LONGEST_LINE
    ]
    print("\n".join(long), end="\n" if long else "")
    return int(bool(long))


def typed(static: Path = ROOT / "static") -> int:
    """Whether what the scripts call is there, with the types and number of values it takes."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        shutil.copytree(static, copy / "static")
        (copy / "static" / "js" / "reckon.js").write_text(
            '// @ts-self-types="./reckon.d.ts"\n', "utf-8"
        )
        (copy / "static" / "js" / "reckon.d.ts").write_text(declarations(), "utf-8")
        app = checked(copy, "dom", PAGE_NAMES, "static/js/app.js", "static/js/desk.js")
        return max(app, checked(copy, "webworker", WORKER_NAMES, "static/sw.js"))


def checked(copy: Path, place: str, names: str, *roots: str) -> int:
    """Whether the types hold of these scripts and their imports, in a page or in a worker."""
    (copy / "names.d.ts").write_text(names, "utf-8")
    lib = [place, f"{place}.iterable", f"{place}.asynciterable", "esnext"]
    options = {**json.loads(CONFIG.read_text("utf-8"))["compilerOptions"], "lib": lib}
    config = copy / "deno.json"
    config.write_text(
        json.dumps({"compilerOptions": {**options, "types": ["./names.d.ts"]}}), "utf-8"
    )
    return deno(
        "check", "--quiet", "--no-remote", "--no-lock", "--config", config, *roots, cwd=copy
    )


def defined() -> int:
    """Whether every name is defined, in each script and in what is made of all of them."""
    static = ROOT / "static"
    texts = {
        path.relative_to(static).as_posix(): path.read_text("utf-8")
        for path in static.rglob("*.js")
    }
    sent = {f"sent/{APP}": app_of(texts), f"sent/{RECKON}": reckon_of(texts)}
    found = undefined_names({**texts, **sent})
    print("\n".join(found), end="\n" if found else "")
    return int(bool(found))


def undefined_names(texts: Mapping[str, str]) -> list[str]:
    """A line for each use of a name that neither its script nor a browser defines."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder).resolve()
        for name, text in texts.items():
            path = place / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")
        only = ["--rules-tags=", "--rules-include=no-undef"]
        asked = [sys.executable, "-m", "deno", "lint", "--json", "--no-config", *only, str(place)]
        said = subprocess.run(asked, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    answer = json.loads(said.stdout)
    lines = [f"{each['file_path']}: {each['message']}" for each in answer["errors"]]
    for each in answer["diagnostics"]:
        name = Path(url2pathname(urlsplit(each["filename"]).path)).relative_to(place).as_posix()
        if each["message"].split()[0] not in known_names(name):
            lines.append(f"{name}:{each['range']['start']['line']}: {each['message']}")
    return lines


def known_names(script: str) -> set[str]:
    """What a script may name without defining it: the arithmetic asks nothing of a browser."""
    if script == WORKER:
        return WORKER_OWN
    return set() if script.endswith(RECKON) else BROWSER_NAMES


def declarations() -> str:
    """The arithmetic as TypeScript declares it: each module with its functions and constants."""
    paths = sorted(path for path in ARITHMETIC.rglob("*.py") if path.stem != "__init__")
    return "".join(
        f"export const {path.stem}: {{\n{members(ast.parse(path.read_text('utf-8')))}}};\n"
        for path in paths
    )


def members(tree: ast.Module) -> str:
    """What a module offers by name: functions with what they take and give, and constants."""
    lines = [member(each) for each in tree.body]
    return "".join(f"  {line};\n" for line in lines if line and not line.startswith("_"))


def member(node: ast.stmt) -> str:
    """One definition of a module as a member, or nothing when it defines no value."""
    match node:
        case ast.FunctionDef(name=name, args=arguments, returns=returns):
            return f"{name}({parameters(arguments)}): {type_of(returns)}"
        case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)):
            return f"{name}: any"
    return ""


def parameters(arguments: ast.arguments) -> str:
    """A function's parameters; those with a value of their own may be left out."""
    required = len(arguments.args) - len(arguments.defaults)
    return ", ".join(
        f"{each.arg}{'?' if index >= required else ''}: {type_of(each.annotation)}"
        for index, each in enumerate(arguments.args)
    )


def type_of(annotation: ast.expr | None) -> str:
    """An annotation as a type, where it is a plain one; else any."""
    match annotation:
        case ast.Constant(value=None):
            return "null"
        case ast.Name(id=name):
            return TYPES.get(name, "any")
        case ast.BinOp(left=left, op=ast.BitOr(), right=right):
            parts = [type_of(left), type_of(right)]
            return "any" if "any" in parts else " | ".join(parts)
    return "any"


if __name__ == "__main__":
    sys.exit(main())
