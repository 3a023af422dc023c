"""What the arithmetic may use so that Python and the phone's JavaScript answer alike.

Everything else is refused by `subset`; the sentences say what to write instead.
"""

import ast


def words(text: str) -> frozenset[str]:
    """The words of a text as a set."""
    return frozenset(text.split())


MATH = words("acos asin atan atan2 ceil cos degrees floor pi radians sin sqrt tan")

BUILTINS = words(
    "abs all any bool dict enumerate float int isinstance len list max min range reversed sorted "
    "str zip"
)

METHODS = words(
    "append extend insert pop index copy get items keys values update setdefault upper lower "
    "replace find startswith endswith join split partition strip lstrip rstrip ljust rjust "
    "capitalize"
)

ISINSTANCE = frozenset({"bool", "dict", "int, float", "list", "list, tuple", "str"})

PLAIN = (
    # syntax that needs no rule of its own
    *(ast.Module, ast.Load, ast.Store, ast.alias, ast.arguments, ast.arg, ast.keyword),
    *(ast.Pass, ast.Break, ast.Continue, ast.Return, ast.IfExp, ast.If, ast.While, ast.Nonlocal),
    *(ast.And, ast.Or, ast.Not, ast.USub, ast.UAdd, ast.UnaryOp),
    *(ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow),
    *(ast.Eq, ast.NotEq, ast.Lt, ast.LtE, ast.Gt, ast.GtE, ast.Is, ast.IsNot, ast.In, ast.NotIn),
    *(ast.BinOp, ast.List, ast.Tuple, ast.Slice, ast.ListComp, ast.FormattedValue),
)

INSTEAD = {
    "Assert": "check, then raise ValueError",
    "BitAnd": "compare instead of combining bits",
    "BitOr": "compare instead of combining bits; dict(d) and update join dicts",
    "BitXor": "compare instead of combining bits",
    "ClassDef": "keep what belongs together in a dict",
    "Delete": "write d.pop(key) or xs.pop(0)",
    "DictComp": "fill a dict in a loop",
    "FloorDiv": "write math.floor(a / b)",
    "GeneratorExp": "write a list comprehension",
    "Global": "pass the value and return it",
    "LShift": "multiply",
    "Match": "write if and elif",
    "Mod": "write a - n * math.floor(a / n), and join texts",
    "NamedExpr": "give the name a line of its own",
    "RShift": "divide and take math.floor",
    "Set": "use a list, or a dict of True",
    "SetComp": "use a list, or a dict of True",
    "Starred": "name each value",
    "With": "the arithmetic opens nothing",
}

CALL_INSTEAD = {
    "divmod": "write two lines with math.floor",
    "float": "give it one value that is known to be a number",
    "format": "use the dialect's own fixed()",
    "filter": "write a list comprehension",
    "frozenset": "use a list, or a dict of True",
    "map": "write a list comprehension",
    "pow": "multiply",
    "repr": "make the text yourself",
    "round": "use the dialect's own round_to()",
    "set": "use a list, or a dict of True",
    "sum": "use the dialect's own total(), which starts at 0.0",
    "tuple": "use a list",
    "type": "use isinstance",
}

METHOD_INSTEAD = {
    "center": "use ljust and rjust",
    "format": "join ready texts",
    "isalpha": "ask whether each character is in a text of allowed ones",
    "isdigit": 'ask whether each character is in "0123456789"',
    "popitem": "pop a named key",
    "remove": "write a list comprehension",
    "removeprefix": "test with startswith and take a slice",
    "reverse": "use list(reversed(xs))",
    "sort": "use sorted(xs, key=lambda value: ...)",
    "splitlines": 'split("\\n")',
    "title": "use capitalize",
}

# Words of JavaScript that cannot name a variable, a parameter or a function.
RESERVED = words(
    "arguments await case catch const debugger default delete do enum eval export extends "
    "function implements instanceof interface let new null package private protected public "
    "static super switch this throw true false typeof undefined var void yield"
)

# Names that every JavaScript object has already, so they cannot be keys.
INHERITED = words(
    "constructor __proto__ hasOwnProperty isPrototypeOf propertyIsEnumerable toLocaleString "
    "toString valueOf __defineGetter__ __defineSetter__ __lookupGetter__ __lookupSetter__"
)
