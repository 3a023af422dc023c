"""The dialect's guard: it refuses what the phone would answer differently and lets the rest be."""

import pytest

from webapp.phone.compiler.compile import reckon_texts
from webapp.phone.compiler.subset import refusals

HEADS = {"other": "def helper(value, *, times=2):\n    return value * times\n"}

REFUSED = [
    # numbers
    ("return a // b", "math.floor(a / b)"),
    ("a //= 2 + 3", "math.floor(a / b)"),
    ("return a % 360", "math.floor(a / n)"),
    ("return divmod(a, b)", "math.floor"),
    ("return a << 4", "multiply"),
    ("return a | b", "compare instead"),
    ("return round(a)", "round_to"),
    ("return round(a, 2)", "round_to"),
    ("return sum([])", "total()"),
    ("return max([a], default=0)", "by position"),
    ("return min([a], key=lambda v: -v)", "by position"),
    ('return float("abc")', "fixed()"),
    ("return float()", "with 0 values"),
    ('return int("ff", 16)', "with 2 values"),
    ("return 1e400", "infinite"),
    ("return 9007199254740993", "2**53"),
    ("return 2j", "only numbers"),
    ("return math.hypot(a, b)", "math.hypot has no equal"),
    # comparison and truth
    ("return 1 < f(a) < 3", "worked out twice"),
    ("return [a, 2] < [b, 1]", "compare their parts"),
    ("return a == (1, 2)", "compare with a list"),
    ('return a is "x"', "asked of None"),
    ("while a:\n        a = b", "in a while"),
    ("return [v for v in a if v]", "in a comprehension"),
    ("if f(a > b):\n        return 1", "name its answer first"),
    ("return 1 if f([a < b]) else 2", "name its answer first"),
    ("return a and a[0]", "gives false"),
    ("assert a", "raise ValueError"),
    ("return any(v > 1 for v in a)", "list comprehension"),
    ("return isinstance(a, int)", "isinstance may ask"),
    ("return isinstance(a, (str, list))", "isinstance may ask"),
    ("return type(a)", "isinstance"),
    # what is taken of a part alone
    ('return (a or {})["x"]', "name the whole first"),
    ('(a or b)["x"] = 1', "name the whole first"),
    ("return (a and b)[0]", "name the whole first"),
    ("return (a or b)[-1]", "name the whole first"),
    ("return (a or b)[0:1]", "name the whole first"),
    ("return (a if a else b)[0]", "name the whole first"),
    ('return ("x" + "y")[0]', "name the whole first"),
    ("return (a or b).first", "name the whole first"),
    # lists and tuples
    ("return f(a)[-1]", "calls the function twice"),
    ("return a[::-1]", "no step"),
    ("a[0:2] = [1]", "cannot be assigned"),
    ("del a[0]", "pop"),
    ("a += [2]", "extend"),
    ("return sorted(a)", "sort with key="),
    ("a.sort()", "use sorted"),
    ("return sorted(a, key=lambda v: v, reverse=True)", "sort with key="),
    ("return sorted(a, key=lambda v: (v[0], v[1]))", "sort twice"),
    ("return sorted(a, key=abs)", "used as a value"),
    ("return list(map(str, a))", "list comprehension"),
    ("return enumerate(a, 1)", "with 2 values"),
    ("return zip(a)", "with 1 values"),
    ("return zip(*a)", "name each value"),
    ("return [*a, 3]", "name each value"),
    ("p, *q = a", "name each value"),
    ("(p, q), r = a", "one level a line"),
    ("for i, (p, q) in a:\n        f(p)", "one level a line"),
    ("return tuple(a)", "use a list"),
    # dicts
    ("return {k: 1 for k in a}", "fill a dict"),
    ("return {**a}", "instead of **"),
    ("return {1, 2}", "dict of True"),
    ("return set(a)", "dict of True"),
    ("for pair in a.items():\n        f(pair)", "two names"),
    ('return {1: "a"}', "keys are texts"),
    ('return {"10": "a"}', "keys are texts"),
    ('return a["constructor"]', "use another key"),
    ("return a.popitem()", "pop a named key"),
    # text
    ("return a.split()", "differs on the phone"),
    ("return a.strip()", "differs on the phone"),
    ('return a.startswith(("x", "y"))', "takes one text"),
    ("return a.isdigit()", "0123456789"),
    ("return a.isalpha()", "allowed ones"),
    ('return a.removeprefix("x")', "slice"),
    ('return a.replace("x", "y", 1)', "replaces all"),
    ('return "{}".format(a)', "join ready texts"),
    ('return "\U0001f600"', "count double"),
    ("return str(1.0)", "fixed()"),
    ("return str([1])", "fixed()"),
    ("return repr(a)", "yourself"),
    ('return f"{a:.2f}"', "ready texts"),
    ('return f"{a!r}"', "ready texts"),
    ('return "%.2f" % a', "join texts"),
    # loops and names
    ("return [a for a in b]", "overwrite"),
    ("v = 1\n    return [v for v in b]", "overwrite"),
    ("for i in a:\n        i = 2\n        f(i)", "sets i itself"),
    ("for i in a:\n        f(i)\n    return i", "holds something else"),
    ("for i in range(len(a)):\n        a.append(i)", "never ends"),
    ("step = -1\n    for i in range(5, 0, step):\n        f(i)", "step of range"),
    ("return (c := a)", "line of its own"),
    ("return {k for k in a}", "dict of True"),
    ("match a:\n        case 1:\n            return b", "if and elif"),
    # functions
    ("return f(a, b=5)", "by position"),
    ("return helper(a, value=5)", "by position"),
    ("def inner(*values):\n        return values", "name every parameter"),
    ("def inner(p, /):\n        return p", "name every parameter"),
    ("def inner(p, *, q):\n        return p", "needs a default"),
    ("def inner(p=[]):\n        return p", "shared"),
    ("def Inner(p):\n        return p", "small letter"),
    ("def round(p):\n        return p", "names something else"),
    ("delete = a\n    return delete", "word of JavaScript"),
    ("def inner(new):\n        return new", "needs another name"),
    ("global z", "pass the value"),
    ("with a:\n        f(a)", "opens nothing"),
    ("p: float\n    return a", "needs its value"),
    ("yield a", "Yield is outside"),
    # errors
    ("raise ValueError", "one sentence"),
    ('raise ValueError("a", "b")', "one sentence"),
    ('raise KeyError("a")', "one sentence"),
    (
        "try:\n        f(a)\n    except (ValueError, KeyError):\n        return 1",
        "one class a handler",
    ),
    ("try:\n        f(a)\n    except LookupError:\n        return 1", "one class a handler"),
    ("try:\n        f(a)\n    except ValueError as err:\n        return str(err)", "fixed()"),
    ("try:\n        f(a)\n    except ValueError as err:\n        return err.args", "args"),
    ("try:\n        f(a)\n    except ValueError:\n        raise", "by its name"),
    (
        "try:\n        f(a)\n    except ValueError:\n        f(b)\n    else:\n        f(a)",
        "no else",
    ),
    (
        'try:\n        f(a)\n    except ValueError as err:\n        raise ValueError("x") from err',
        "one",
    ),
]

ALLOWED = [
    "return a + b - a * b / 2 - -a ** 2",
    "return max(a, b) + min([a, b]) + abs(a)",
    "return 1 < a < 10",
    "return a == [1, 2]",
    "return a is None or b is not None",
    "return a is True",
    "if a:\n        return 1",
    "while len(a) > 0 and a[-1] == b:\n        a.pop()",
    "going = True\n    while going:\n        going = False",
    "return [v for v in a if v > 1 and not b]",
    "return [v for v in a] + [v for v in b]",
    'return [v for v in a if v.get("on", True)]',
    "return a or [2]",
    'return (a or {}).get("x")',
    'return (a if a else "x").upper()',
    "return any([v > 1 for v in a])",
    "return a[-1]",
    "return a[1:-1]",
    "return sorted(a, key=lambda v: -v)",
    "for i, each in enumerate(a):\n        f(each + i)",
    "for i in a:\n        f(i)\n    for i in b:\n        f(i)",
    "for key, value in a.items():\n        f(key + value)",
    'a["x"] = a.get("y", 3)',
    "p, q = f(a)\n    return p + q",
    'return a.strip(" \\t").split(",")',
    'return f"{a} mm"',
    "return str(a) + str(a + 1)",
    'raise ValueError("Too long.")',
    "try:\n        return float(a)\n    except ValueError:\n        return None",
    "return helper(a, times=3)",
    "return math.sqrt(a * a) + math.pi",
    "def inner(p, *, q=2):\n        return p + q\n    return inner(a, q=3)",
    "return isinstance(a, (int, float)) or isinstance(a, bool)",
    "p: dict[str, float | None] = {}\n    return p",
]


def says(body: str) -> list[str]:
    text = f"import math\nfrom .other import helper\n\ndef f(a, b=1):\n    {body}\n"
    return [str(refusal) for refusal in refusals({**HEADS, "sample": text})]


@pytest.mark.parametrize(("body", "sentence"), REFUSED)
def test_it_refuses_with_file_line_and_what_to_write_instead(body, sentence):
    found = says(body)

    assert any(sentence in each for each in found), found
    assert all(each.startswith("sample.py:") for each in found)


@pytest.mark.parametrize("body", ALLOWED)
def test_it_lets_the_dialect_be(body):
    assert says(body) == []


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("import os\n", "math and siblings only"),
        ("from math import sqrt\n", "math and siblings only"),
        ("from .nowhere import thing\n", "math and siblings only"),
        ("from .other import _private\n", "private names"),
        ("@cache\ndef f(a):\n    return a\n", "no decorators"),
        ("class Point:\n    pass\n", "in a dict"),
        ("def __eq__(self, o):\n    return True\n", "never called"),
        ("A = 1\nA: int = 2\n", "A is set twice"),
        ("A = 1\nA += 2\n", "never changes"),
        ("async def f(a):\n    return a\n", "AsyncFunctionDef"),
    ],
)
def test_it_refuses_at_the_top_of_a_module(text, sentence):
    found = [str(refusal) for refusal in refusals({**HEADS, "sample": text})]

    assert any(sentence in each for each in found), found


def test_it_names_the_line():
    text = "def f(a):\n    b = a\n    return round(b)\n"

    assert [(each.file, each.line) for each in refusals({"sample": text})] == [("sample.py", 3)]


def test_the_arithmetic_stays_inside_the_dialect():
    assert refusals(reckon_texts()) == []
