"""Readings of a dial gauge or a caliper as people write them, in mm."""

from ..numbers import THIN, fixed, trimmed
from .length_grammar import INCH, decimal
from .lengths import parse_length
from .tokens import asked, plain, refused

UNITS = {"mm": "millimeters", "thou": "thousandths of an inch", "in": "inches"}
THOU = INCH / 1000
FINEST = 0.001
DIGITS = "0123456789"


def parse_dial(text: str, unit: str) -> dict:
    """A reading in mm: {ok, value, unit, read_to}, or {ok: False, says, choices}.

    Bare numbers take `unit`: mm, thou or in. `read_to` (mm) is the last digit that was written,
    because a gauge is written down as finely as it was read.
    """
    written = plain(text)
    if written.endswith("thou"):
        written = written[: len(written) - 4].strip(" ")
        return of_thou(written)
    if unit == "thou" and is_bare(written):
        return asked_thou(written) if is_below_one(written) else of_thou(written)
    found = parse_length(text, "mm" if unit == "mm" else "in")
    if found["ok"]:
        found["read_to"] = last_digit(written, found["unit"])
    return found


def is_bare(text: str) -> bool:
    """Whether a text is a number alone."""
    return len(text) > 0 and len([each for each in text if each not in DIGITS + ".,"]) == 0


def bare_number(text: str) -> float | None:
    """The number that a text is, decimals behind a point or a comma; None where it is none."""
    return decimal(text.replace(",", ".")) if is_bare(text) else None


def is_below_one(text: str) -> bool:
    """Whether a text is a number between 0 and 1, which a gauge in thousandths hardly shows."""
    value = bare_number(text)
    return value is not None and value > 0 and value < 1


def of_thou(text: str) -> dict:
    """The answer to a number of thousandths of an inch."""
    value = bare_number(text)
    if value is None:
        return refused("Write the thousandths as a number, such as 16.")
    if value * THOU > 500:
        return refused("That is longer than a gauge. Check the number and the unit.")
    return {"ok": True, "value": value * THOU, "unit": "in", "read_to": THOU * place_of(text)}


def asked_thou(text: str) -> dict:
    """Ask whether a number below one is inches or thousandths of an inch."""
    value = bare_number(text) or 0.0
    return asked(
        "Is that inches or thousandths of an inch?",
        [[text + " in", value * INCH], [text + " thou", value * THOU]],
    )


def place_of(text: str) -> float:
    """What the last decimal of a number is worth: 0.1 in 4.5, 1.0 in 45."""
    digits = text.replace(",", ".").partition(".")[2]
    place = 1.0
    for letter in digits:
        if letter not in DIGITS:
            return place
        place = place / 10
    return place


def last_digit(text: str, unit: str) -> float:
    """What a written reading was read to, in mm; a fraction of an inch to 1/64."""
    if "/" in text:
        return INCH / 64
    step = place_of(text) * (INCH if unit == "in" else 1.0)
    return max(FINEST, 1.0 if step > 1.0 else step)


def show_dial(mm: float, unit: str) -> str:
    """A gauge's reading as it stands on a screen: 0.9 mm, 0.035 in."""
    if unit == "in":
        return fixed(mm / INCH, 3) + THIN + "in"
    text = trimmed(mm, 2)
    return (text if "." in text else text + ".0") + THIN + "mm"


def parse_along(text: str, unit: str) -> dict:
    """A movement one way, or both ways as in 0.4 + 0.5: like `parse_dial`, with `pair` in mm.

    The value of a reading both ways is the two together; `pair` is None for one way.
    """
    ways = [each.strip(" ") for each in plain(text).split("+")]
    if len(ways) > 2:
        return refused("One movement, or two for both ways, as in 0.4 + 0.5.")
    if len(ways) == 1:
        found = parse_dial(ways[0], unit)
        if found["ok"]:
            found["pair"] = None
        return found
    return parse_ways(with_unit_of(ways[0], ways[1]), ways[1], unit)


def parse_ways(first: str, second: str, unit: str) -> dict:
    """Both ways of a movement, each as a gauge shows it."""
    if len(first) == 0 or len(second) == 0:
        return refused("One way is missing, as in 0.4 + 0.5.")
    bare = is_bare(first) and is_bare(second)
    if unit == "thou" and bare and (is_below_one(first) or is_below_one(second)):
        return asked_thou_ways(first, second)
    one = parse_dial(first, unit)
    if not one["ok"]:
        return refused(one["says"])
    other = parse_dial(second, unit)
    if not other["ok"]:
        return refused(other["says"])
    return {
        "ok": True,
        "value": one["value"] + other["value"],
        "unit": other["unit"],
        "read_to": max(one["read_to"], other["read_to"]),
        "pair": [one["value"], other["value"]],
    }


def asked_thou_ways(first: str, second: str) -> dict:
    """Ask whether two numbers below one are inches or thousandths of an inch."""
    both = (bare_number(first) or 0.0) + (bare_number(second) or 0.0)
    return asked(
        "Are these inches or thousandths of an inch?",
        [
            [first + " in + " + second + " in", both * INCH],
            [first + " thou + " + second + " thou", both * THOU],
        ],
    )


def with_unit_of(first: str, second: str) -> str:
    """The first of two texts with the unit written behind the second, where it has none itself."""
    behind = second.lstrip(DIGITS + ".,")
    return first + " " + behind if is_bare(first) and len(behind) > 0 else first
