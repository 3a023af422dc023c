"""Changes the modules that decide, one place at a time, and lists the changes no test notices.

    .venv/bin/python tests/mutation/run.py
    .venv/bin/python tests/mutation/run.py --module checks/play.py --most 50

Each change is tried in a process of its own, on the tests that go through the changed function, the
quickest first. It takes long; `nice` keeps the computer usable meanwhile.
"""

import argparse
import contextlib
import importlib
import os
import random
import signal
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from types import CodeType, FrameType, FunctionType, ModuleType
from typing import Any

import pytest
from _pytest.runner import runtestprotocol
from hypothesis import Phase, settings

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
RECKON = ROOT / "webapp" / "reckon"
sys.path[:0] = [str(ROOT), str(HERE)]

from changes_to_code import TOP, Mutant, mutants  # noqa: E402

DECIDING = [
    "judgment/advice.py", "judgment/against_file.py", "judgment/confirmations.py",
    "judgment/plausible.py", "checks/centering.py", "checks/sum_of_sides.py", "checks/lean.py",
    "checks/moved.py", "checks/uncertainty_budget.py", "checks/play.py", "checks/repairs.py",
    "walk/hold_points.py", "walk/open_items.py",
]  # fmt: skip
# The tests that go through a folder's modules and are quick: its facts, laws and worked examples.
TESTS = {
    "judgment": ["advice", "against_file", "ask_back", "confirmations", "last_round", "moved"],
    "checks": [
        "advice", "answer", "centering", "examples", "lean", "moved", "play", "repairs",
        "sum_of_sides", "uncertainty_budget",
    ],
    "walk": ["carried", "hold_points", "open_items", "walk"],
}  # fmt: skip
EXAMPLES = 25
SLOWEST = 5.0
LONGEST = 60


class Trial:
    """A pytest plugin: instead of running the tests once, it runs them on each mutant."""

    def __init__(self, modules: list[str], most: int | None) -> None:
        self.modules, self.most = modules, most
        self.found: dict[str, list[tuple[Mutant, bool]]] = {}

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        for item in session.items:
            shorten(item)
        covering = coverage(session.items, {str(RECKON / name) for name in self.modules})
        for name in self.modules:
            self.found[name] = []
            for mutant in self.sampled(name):
                tests = tests_for(covering, str(RECKON / name), mutant.function)
                survived = not noticed(name, mutant, tests)
                self.found[name].append((mutant, survived))
                if survived:
                    print(f"{name}:{mutant.line} {mutant.before} -> {mutant.after}", flush=True)
            print(row(name, self.found[name]), flush=True)
        return True

    def sampled(self, name: str) -> list[Mutant]:
        """The mutants of a module, or a sample of them that is the same each time."""
        found = list(mutants((RECKON / name).read_text("utf-8")))
        if self.most is None or len(found) <= self.most:
            return found
        return random.Random(1).sample(found, self.most)


def shorten(item: pytest.Item) -> None:
    """Let a law try fewer examples, and look for no smaller one where it breaks."""
    test = getattr(item, "obj", None)
    old = getattr(test, "_hypothesis_internal_use_settings", None)
    if old is not None:
        few = min(old.max_examples, EXAMPLES)
        phases = (Phase.explicit, Phase.generate)
        fewer = settings(old, max_examples=few, phases=phases)
        setattr(test, "_hypothesis_internal_use_settings", fewer)  # noqa: B010


def coverage(items: list[pytest.Item], files: set[str]) -> list[tuple[float, pytest.Item, set]]:
    """For each test how long it takes, and the functions (file, name) of these files it calls."""
    found = []
    for item in items:
        called: set[tuple[str, str]] = set()

        def seen(frame: FrameType, event: str, _: Any, called: set = called) -> None:
            if event == "call" and frame.f_code.co_filename in files:
                called.add((frame.f_code.co_filename, frame.f_code.co_name))

        begun = time.perf_counter()
        sys.setprofile(seen)
        try:
            failed = fails(item)
        finally:
            sys.setprofile(None)
        took = time.perf_counter() - begun
        if failed:
            print(f"{item.nodeid} fails without any change and is left out", flush=True)
        if not failed and called and took <= SLOWEST:
            found.append((took, item, called))
    return sorted(found, key=lambda each: each[0])


def fails(item: pytest.Item) -> bool:
    """Whether a test fails."""
    with open(os.devnull, "w") as nowhere, contextlib.redirect_stdout(nowhere):
        return any(each.failed for each in runtestprotocol(item, log=False, nextitem=None))


def tests_for(covering: list, file: str, function: str) -> list[pytest.Item]:
    """The tests that go through a function, or through any of the module for what is outside."""
    return [
        item
        for _, item, called in covering
        if any(where == file and function in (name, TOP) for where, name in called)
    ]


def noticed(name: str, mutant: Mutant, tests: list[pytest.Item]) -> bool:
    """Whether one of the tests fails on the mutant, or does not come back."""
    child = os.fork()
    if child == 0:
        signal.alarm(LONGEST)
        try:
            put_in(module_of(name), mutant)
            os._exit(1 if any(fails(item) for item in tests) else 0)
        except BaseException:
            os._exit(1)
    return os.waitpid(child, 0)[1] != 0


def module_of(name: str) -> ModuleType:
    """The module of a file under webapp/reckon."""
    return importlib.import_module(f"webapp.reckon.{name[:-3].replace('/', '.')}")


def put_in(module: ModuleType, mutant: Mutant) -> None:
    """Let the functions and constants of a loaded module be those of the mutant.

    Others have imported them by name: functions get other code, lists and dicts other contents.
    """
    made = dict(vars(module))
    exec(compile(mutant.tree, str(module.__file__), "exec"), made)
    for name, old in list(vars(module).items()):
        new = made[name]
        if isinstance(old, FunctionType) and old.__module__ == module.__name__:
            old.__code__, old.__defaults__ = code_of(new), new.__defaults__
            old.__kwdefaults__ = new.__kwdefaults__
        elif mutant.function == TOP and name.isupper():
            replace(name, old, new)


def code_of(function: Callable[..., Any]) -> CodeType:
    """The code of a function."""
    return function.__code__


def replace(name: str, old: Any, new: Any) -> None:
    """Put a constant in the place of another, wherever it was imported."""
    if isinstance(old, list):
        old[:] = new
    elif isinstance(old, dict):
        old.clear()
        old.update(new)
    else:
        for each in importers():
            if vars(each).get(name) is old:
                setattr(each, name, new)


def importers() -> Iterator[ModuleType]:
    """The loaded modules of the arithmetic."""
    return (each for name, each in list(sys.modules.items()) if name.startswith("webapp.reckon"))


def row(name: str, tried: list[tuple[Mutant, bool]]) -> str:
    """A module's row of the table in docs/mutation.md."""
    survived = sum(each for _, each in tried)
    return f"| `{name}` | {len(tried)} | {len(tried) - survived} | {survived} |"


def main() -> int:
    """Try the mutants of the modules; 1 where the tests fail without a change."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--module", action="append", help="only this, such as checks/play.py")
    parser.add_argument("--most", type=int, help="a sample of so many changes a module")
    asked = parser.parse_args()
    os.chdir(ROOT)
    modules = asked.module or DECIDING
    names = sorted({name for module in modules for name in TESTS[module.split("/")[0]]})
    tests = [str(ROOT / "tests" / "reckon" / f"test_{name}.py") for name in names]
    trial = Trial(modules, asked.most)
    options = [
        "-q",
        "-W",
        "ignore::pytest.PytestAssertRewriteWarning",
        "-p",
        "no:cacheprovider",
        "-p",
        "no:xdist",
        "-p",
        "no:cov",
        *tests,
    ]
    return int(pytest.main(options, plugins=[trial]))


if __name__ == "__main__":
    sys.exit(main())
