"""PScript's translation of a module with the same meaning in fewer bytes.

Compressed, the arithmetic is half of what a phone loads first. PScript numbers its own variables
through a whole module, so that no two loops look the same; it quotes every key, and asks of
everything that is looped over whether it is a dict, each time in full.
"""

import re
from itertools import pairwise

# A function of PScript's making, with its second name; and a variable that PScript numbered.
FUNCTION = re.compile(r"^(\w+) = function flx_\w+ (?=\()", re.M)
NUMBERED = re.compile(r"\bstub(\d+)")
# A key in brackets, a key of a dict, or any text, which stays as it is.
KEYS = re.compile(
    r'(?<=[\w)\]])\["(?P<item>[A-Za-z_]\w*)"\]'
    r'|(?<=[{ ])"(?P<key>[A-Za-z_]\w*)"(?=: )'
    r"""|"(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*'"""
)
DICT_TOO = re.compile(
    r"(?:\b(?P<same>\w+) = (?P<of>[^;\n]*);\s*)?"
    r'if \(\(typeof (?P<each>\w+) === "object"\) && \(!Array\.isArray\((?P=each)\)\)\) ?'
    r"\{ ?(?P=each) = Object\.keys\((?P=each)\);\}"
)
COUNTED_LOOP = re.compile(
    r"for \((\w+) ?= ?0; \1 ?< ?(\w+)\.length; \1(?:\+\+| \+= 1)\) \{\n?(\w+) = \2\[\1\];"
)
# PScript's names for its own variables and helpers; no name of Python begins with a dollar.
OWN = [
    (re.compile(r"\bstub(\d+)_(?:iter0|seq)\b"), r"$s\1"),
    (re.compile(r"\bstub(\d+)_(?:i0|itr)\b"), r"$i\1"),
    (re.compile(r"\bstub(?=\d)"), "$t"),
    (re.compile(r"\b_pyfunc_(?:op_)?"), "$f_"),
    (re.compile(r"\b_pymeth_"), "$m_"),
]
VARIABLES = re.compile(r"\Avar ([^;]*);")


def terse(code: str) -> str:
    """The translation of one module, without indentation, in fewer bytes."""
    starts = [0, *(found.start() for found in FUNCTION.finditer(code)), len(code)]
    code = "".join(_counted_anew(code[start:end]) for start, end in pairwise(starts))
    code = KEYS.sub(_bare, _declared(code))
    return COUNTED_LOOP.sub(r"for (\3 of \2) {", DICT_TOO.sub(_looped, code))


def briefly_named(code: str) -> str:
    """A whole translation, helpers and all, with PScript's own names in fewer letters."""
    for named, brief in OWN:
        code = named.sub(brief, code)
    return code


def _counted_anew(code: str) -> str:
    """One function with its numbered variables counted from 1."""
    numbers: dict[str, int] = {}

    def anew(found: re.Match[str]) -> str:
        return f"stub{numbers.setdefault(found[1], len(numbers) + 1)}"

    return NUMBERED.sub(anew, code)


def _declared(code: str) -> str:
    """The module's functions declared by their names, which are then no variables of it."""
    found = VARIABLES.match(code)
    named = found[1].split(", ") if found else []
    functions = {name for name in FUNCTION.findall(code) if name in named}
    rest = [name for name in named if name not in functions]
    declared = FUNCTION.sub(
        lambda one: f"function {one[1]} " if one[1] in functions else f"{one[1]} = function ", code
    )
    return VARIABLES.sub(f"var {', '.join(rest)};" if rest else "", declared)


def _bare(found: re.Match[str]) -> str:
    if found["item"]:
        return f".{found['item']}"
    return found["key"] or found[0]


def _looped(found: re.Match[str]) -> str:
    same, of, each = found["same"], found["of"], found["each"]
    if same == each:
        return f"{each} = _looped({of});"
    before = f"{same} = {of}; " if same else ""
    return f"{before}{each} = _looped({each});"
