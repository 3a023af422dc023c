"""The compiled arithmetic in a JavaScript engine, and when its answers count as the same."""

import json
import math
from collections.abc import Callable
from importlib import import_module
from typing import Any

from py_mini_racer import MiniRacer

from webapp.phone.compiler.compile import RECKON, compile_script, reckon_texts
from webapp.phone.compiler.disk_cache import kept
from webapp.phone.compiler.finished import FINISHED, compiled_from, smaller

ANSWER = """
function answer(name, given) {
  const [module, member] = name.split('.');
  try { return JSON.stringify(['value', reckon[module][member](...JSON.parse(given))]); }
  catch (error) { return JSON.stringify(['error', error.name]); }
}
"""


class Engine:
    """A JavaScript engine that holds compiled modules, as phones get them."""

    def __init__(self, script: str) -> None:
        self.context = MiniRacer()
        self.context.eval(callable_from_outside(script))

    def call(self, name: str, *given: Any) -> list[Any]:
        """['value', answer] or ['error', class name] of `module.function`."""
        texts = json.dumps(name), json.dumps(json.dumps(given))
        return json.loads(self.context.eval(f"answer({texts[0]}, {texts[1]})"))


def reckon_script() -> str:
    """The whole arithmetic as a script, compiled once for all the processes of the tests."""
    texts = reckon_texts()
    script = FINISHED.with_name("reckon-script")
    return kept(script, compiled_from(texts), lambda: compile_script(texts).encode()).decode()


def callable_from_outside(script: str) -> str:
    """The script minified, with ANSWER's function after it."""
    return f"{smaller('reckon.js', script.encode()).decode()};{ANSWER}"


def python_answer(function: Callable[..., Any], *given: Any) -> list[Any]:
    """The same for a Python function; what JSON cannot hold becomes what it is on the phone."""
    try:
        answer = function(*json.loads(json.dumps(given)))
    except ValueError as error:
        return ["error", type(error).__name__]
    return json.loads(json.dumps(["value", answer]))


def member(name: str) -> Callable[..., Any]:
    """The Python function behind `module.function` of the arithmetic."""
    module, _, function = name.partition(".")
    [path] = RECKON.rglob(f"{module}.py")
    dotted = ".".join(path.relative_to(RECKON.parents[1]).with_suffix("").parts)
    return getattr(import_module(dotted), function)


def same(left: Any, right: Any) -> bool:
    """Equal to nine digits, with the same words and the same keys."""
    if isinstance(left, bool) or isinstance(right, bool):
        return left is right
    if isinstance(left, int | float) and isinstance(right, int | float):
        return math.isclose(left, right, rel_tol=1e-9, abs_tol=1e-9)
    if isinstance(left, list) and isinstance(right, list):
        return len(left) == len(right) and all(map(same, left, right))
    if isinstance(left, dict) and isinstance(right, dict):
        return left.keys() == right.keys() and all(same(left[key], right[key]) for key in left)
    return type(left) is type(right) and left == right
