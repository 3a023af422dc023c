"""The compiler: many Python modules become one JavaScript module with the same names."""

import json
import os
import subprocess
import sys
import textwrap

import pytest
from kit.engine import Engine

from webapp.phone.compiler.compile import (
    RECKON,
    NoSuchMember,
    OutsideDialect,
    compile_module,
    compile_scope,
    compile_script,
)


def texts(**modules: str) -> dict[str, str]:
    return {name: textwrap.dedent(text) for name, text in modules.items()}


PAIR = texts(
    numbers="""
        '''Numbers.'''

        import math

        Row = dict[str, float]
        _SCALE = 2
        HALF: float = 0.5

        def root(value: float) -> float:
            '''The root.'''
            return math.sqrt(value)

        def scaled(value: float, *, times: float = _SCALE) -> float:
            return value * times
        """,
    use="""
        from typing import Any

        from .numbers import HALF, Row, root as side, scaled

        def diagonal(row: dict[str, Any]) -> float:
            return side(row["a"] * row["a"] + row["b"] * row["b"])

        def twice(value: float) -> float:
            return scaled(value) + scaled(HALF, times=4)
        """,
)


@pytest.fixture(scope="module")
def pair():
    return Engine(compile_script(PAIR))


def test_it_calls_a_sibling_under_its_local_name(pair):
    assert pair.call("use.diagonal", {"a": 3, "b": 4}) == ["value", 5]


def test_it_passes_keyword_only_parameters(pair):
    assert pair.call("use.twice", 3) == ["value", 8]


def test_the_square_root_of_a_negative_number_raises_as_in_python(pair):
    assert pair.call("numbers.root", -1) == ["error", "ValueError"]


def test_private_names_stay_private(pair):
    assert pair.context.eval("'_SCALE' in reckon.numbers") is False
    assert pair.context.eval("'HALF' in reckon.numbers") is True


def test_a_module_may_share_its_name_with_a_function_that_another_takes():
    modules = texts(
        steer="def steer(value):\n    return value + 1\n",
        assess="from .steer import steer\n\ndef assess(value):\n    return steer(value)\n",
    )

    assert Engine(compile_script(modules)).call("assess.assess", 1) == ["value", 2]


@pytest.mark.parametrize(
    ("body", "given", "answer"),
    [
        ('return {"½": 1, "4wd": 2, "a-b": 3}', None, {"½": 1, "4wd": 2, "a-b": 3}),
        ("return 1 if a else 2", {"length": 0}, 1),
        ("return 1 if a else 2", {}, 2),
        ("return 1 if a else 2", [], 2),
        ("return math.floor(a)", -0.5, -1),
        ("return [math.degrees(a), math.radians(180.0)]", 0.0, [0, 3.141592653589793]),
        ('return a.strip(" ").split(",")', " x,y ", ["x", "y"]),
        ("return sorted(a, key=lambda v: v)", [10, 9, 1], [1, 9, 10]),
        ('return f"{a} mm"', "{3}", "{3} mm"),
        ('return f"{a}{a}"', 3, "33"),
        (
            """return f"{a['x']}{{{a['y'] if a else 0}}}{len(a['x']) + 1}\\u202f" """,
            {"x": "left", "y": 2},
            "left{2}5\u202f",
        ),
        ("return f'“{a}”' * 2", "'\"{", "“'\"{”“'\"{”"),
        ('return ["x"] * a', 2, ["x", "x"]),
        ('return "{about} `${a}\\\\".replace("{about}", a)', "$&", "$& `${a}\\"),
        ('return f"`{a}${{}}\\\\"', 1, "`1${}\\"),
        ('return (a or {}).get("x")', None, None),
        ("return a or [2]", [], [2]),
        ("return a or [2]", [1], [1]),
        ("return 1 if not a and a is not None else 2", [], 1),
        ("return 1 if a == {'x': [1]} else 2", {"x": [1]}, 1),
        ("return [1] in a", [[1]], True),
        ('return "x" in a', {"x": None}, True),
        ('return "to" + "String" in a', {"x": None}, False),
        ('return a.get("x", 3)', {"x": None}, None),
        ('return a.get("x") is None', {}, True),
        ('return [a.pop("x"), a.pop("y", None), a]', {"x": 1, "z": 2}, [1, None, {"z": 2}]),
        ('return [a.setdefault("x", 2), a.setdefault("y", 3)]', {"x": 1}, [1, 3]),
        ('return a.partition("-")', "x-y-z", ["x", "-", "y-z"]),
        ('return a.split("-", 1)', "x-y-z", ["x", "y-z"]),
        ("return a[0] + a[1]", [[1], [2]], [1, 2]),
        ("return a[0] + a[1]", ["1", "2"], "12"),
        ("return a - -1 - (2 - 3)", 1, 3),
        ("return -(-a) * (a + 1) / (a / 2)", 2.0, 6),
        ("return 1 < a < 3", 2, True),
        ("return [min(a), max(a[0], a[1]), abs(a[1])]", [3, -4], [-4, 3, 4]),
        ("return list(zip(a, [1, 2, 3]))", ["x", "y"], [["x", 1], ["y", 2]]),
        ("return [int(a), float(a), str(a)]", 2.5, [2, 2.5, "2.5"]),
        ('return a.strip(" \\t").capitalize().ljust(5) + "|"', "\t oNE ", "One  |"),
        ("return list(reversed(a)) + [each for each in range(2, 0, -1)]", [1, 5], [5, 1, 2, 1]),
        ("return a.index([2])", [1, [2]], 1),
        ("return any(a) and not all(a)", [[], 1], True),
        ("return dict([['x', a]])", 1, {"x": 1}),
        ("a.insert(1, 9)\n    return a.copy()", [1, 2], [1, 9, 2]),
    ],
)
def test_it_answers_as_python_does(body, given, answer):
    engine = Engine(compile_script({"sample": f"import math\n\ndef f(a):\n    {body}\n"}))

    assert engine.call("sample.f", given) == ["value", answer]


@pytest.mark.parametrize("call", ["math.asin(a)", "math.floor(a / b)", "math.sin(a / b)"])
def test_it_raises_where_python_raises(call):
    modules = {"sample": f"import math\n\ndef f(a, b):\n    return {call}\n"}

    assert Engine(compile_script(modules)).call("sample.f", 2, 0)[0] == "error"


def test_it_refuses_what_is_outside_the_dialect():
    with pytest.raises(OutsideDialect, match=r"sample\.py:2: round\(\)"):
        compile_module({"sample": "def f(a):\n    return round(a)\n"})


def test_it_refuses_names_that_nothing_defines():
    with pytest.raises(OutsideDialect, match="misspelled"):
        compile_module({"sample": "def f(a):\n    return [a, misspelled]\n"})
    with pytest.raises(OutsideDialect, match="nowhere"):
        compile_module({"sample": "def f(a):\n    return nowhere(a)\n"})


def test_it_refuses_a_name_that_the_sibling_lacks():
    modules = {"numbers": "X = 1\n", "use": "from .numbers import Y\n\ndef f():\n    return Y\n"}

    with pytest.raises(OutsideDialect, match="numbers has no Y"):
        compile_module(modules)


def test_the_module_exports_each_python_module_as_an_object_of_what_is_asked_for():
    assert compile_module(PAIR, [("use", "twice"), ("numbers", "HALF")]).endswith(
        "export const numbers = { HALF: numbers$HALF };\nexport const use = { twice: use$twice };\n"
    )
    assert "export const use = { diagonal: use$diagonal, twice: use$twice };" in compile_module(
        PAIR
    )


def test_only_what_is_asked_for_is_sent_and_what_that_needs():
    code = compile_scope(PAIR, [("use", "twice")])

    assert "function numbers$scaled(" in code and "const numbers$_SCALE = 2;" in code
    assert "diagonal" not in code and "numbers$root" not in code


def test_a_loop_that_fills_a_constant_goes_with_it():
    filling = """
        NAMES = ["a", "b"]
        RULES: dict = {}
        OTHER = 1
        for each in NAMES:
            RULES[each] = True

        def ruled():
            return RULES
        """
    code = compile_scope(texts(rules=filling), [("rules", "ruled")])

    assert "for (const each of rules$NAMES)" in code and "OTHER" not in code


def test_what_the_arithmetic_lacks_is_named():
    with pytest.raises(NoSuchMember, match=r"asks for nowhere\.f, use\.g, which"):
        compile_scope(PAIR, [("use", "twice"), ("use", "g"), ("nowhere", "f")])


def test_modules_may_use_one_name_for_different_things():
    modules = texts(
        one="SIDE = 1\n\ndef of(value):\n    return value + SIDE\n",
        two="""
            from .one import of as of_one

            SIDE = 10

            def of(value):
                return of_one(value) + SIDE
            """,
    )
    assert Engine(compile_script(modules)).call("two.of", 5) == ["value", 16]


READABLE = (
    """
    NAMES = {"left": "left side", "fore-aft": "lead"}

    def told(row: dict, sides: list, limit: float | None = None) -> list:
        found: list = []
        for side in sides:
            value = row.get(side)
            if value is not None and side not in found:
                found.append(f"{NAMES[side]}: {value}")
        if limit is None or len(found) == 0:
            return found + ["no limit"]
        rest = [name for name in row if name != "left"]
        first = row["between"][-1] if row.get("between") else ""
        return rest + [first, limit * -2 - (1 - limit), {"side": first, "limit": limit}]
    """,
    """const sample$NAMES = { left: "left side", "fore-aft": "lead" };
function sample$told(row, sides, limit = null) {
  const found = [];
  for (const side of sides) {
    const value = row[side] ?? null;
    if (value != null && !$within(side, found)) {
      found.push(`${sample$NAMES[side]}: ${value}`);
    }
  }
  if (limit == null || found.length === 0) {
    return found.concat(["no limit"]);
  }
  const rest = Object.keys(row).filter((name) => name !== "left");
  const first = $truthy(row.between) ? row.between.at(-1) : "";
  return rest.concat([first, limit * -2 - (1 - limit), { side: first, limit }]);
}
""",
)


def test_it_writes_what_a_reader_of_javascript_would():
    python, javascript = READABLE

    assert javascript in compile_module(texts(sample=python))


def test_every_process_compiles_to_the_same_text():
    asked = "import json, sys\nfrom webapp.phone.compiler.compile import compile_script\n"
    asked += "print(compile_script(json.load(sys.stdin)))"
    compiled = {
        subprocess.run(
            [sys.executable, "-c", asked],
            input=json.dumps(PAIR | LOOPS),
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=RECKON.parents[1],
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }

    assert len(compiled) == 1
    assert "root" in compiled.pop()


LOOPS = texts(
    loops="""
        TEXTS = {"key": 'a["key"] and {"key": 1}', "½": "half"}

        def doubled(values: list) -> list:
            found = []
            for each in values:
                for again in values:
                    if again == each:
                        found.append(each + again)
            return found

        def keys(row: dict) -> list:
            found = []
            for name in row:
                found.append(name)
            return found + [letter for letter in "ab½"]

        def above(values: list, limit: float) -> list:
            large = [value for value in values if value > limit]
            if len([value for value in large if value > 2 * limit]) > 0:
                return [TEXTS["key"]]
            return large

        def pairs(rows: list) -> list:
            return [[a, b] for a, b in rows if a != b if b > 0]

        def product(values: list) -> list:
            return [[each, other] for each in values if each > 1 for other in range(each)]

        def filled(row: dict) -> list:
            found = [f"{key}={kept}" for key, kept in row.items()]
            for value in row.values():
                found.append(value)
            for name in row.keys():
                found.append(name)
            for a, b in [["x", row.get("x")], ["y", row.get("y")]]:
                found.append([a, b, row.get("y", 7)])
            return found

        def grown(values: list) -> list:
            for each in values:
                if each < 3:
                    values.append(each + 1)
            return values

        def compared(values: list) -> list:
            return [1 if not value == "a" else 2 for value in values]

        def letters(text: str) -> list:
            return [letter for letter in text]
        """,
)
ASKED = [
    ("loops.doubled", [[1, 2]], [2, 4]),
    ("loops.keys", [{"key": 1, "b c": 2}], ["key", "b c", "a", "b", "½"]),
    ("loops.above", [[1, 2, 3], 1.6], [2, 3]),
    ("loops.pairs", [[[1, 2], [3, 3], [1, 0], [0, 5]]], [[1, 2], [0, 5]]),
    ("loops.product", [[1, 2, 3]], [[2, 0], [2, 1], [3, 0], [3, 1], [3, 2]]),
    (
        "loops.filled",
        [{"x": 2, "z": "1"}],
        ["x=2", "z=1", 2, "1", "x", "z", ["x", 2, 7], ["y", None, 7]],
    ),
    ("loops.grown", [[1, 3]], [1, 3, 2, 3]),
    ("loops.compared", [["a", 1, None, ["a"]]], [2, 1, 1, 1]),
    ("loops.letters", ["a½😀"], ["a", "½", "😀"]),
    ("loops.above", [[1, 2, 3], 1], ['a["key"] and {"key": 1}']),
]


@pytest.mark.parametrize(("name", "given", "answer"), ASKED)
def test_loops_and_keys_answer_as_in_python(name, given, answer):
    assert Engine(compile_script(LOOPS)).call(name, *given) == ["value", answer]
