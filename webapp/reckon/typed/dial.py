"""Readings of a dial gauge or a caliper as people write them, in mm."""

from ..numbers import THIN, fixed, trimmed
from .length_grammar import HALVES, INCH
from .lengths import parse_length
from .tokens import DIGITS, ask_which, decimal, is_digit, last_decimal, plain, refused, words_of

THOU = INCH / 1000
FINEST = 0.001
LARGEST_BOLT = 64.0


def parse_dial(text: str, unit: str) -> dict:
    """A reading in mm: {ok, value, unit, read_to}, or {ok: False, code, about, choices}.

    Bare numbers take `unit`: mm, thou or in. `read_to` (mm) is the last digit that was written,
    because a gauge is written down as finely as it was read.
    """
    written = plain(text)
    size = written[1:].strip(" ")
    if written.startswith("m") and is_digit(size[:1]):
        return metric_bolt(size)
    for word in ["thou", "thous"]:
        if written.endswith(word):
            return of_thou(written[: len(written) - len(word)].strip(" "))
    if unit == "thou" and is_bare(written):
        return asked_thou(written) if is_below_one(written) else of_thou(written)
    found = parse_length(text, "mm" if unit == "mm" else "in")
    if not found["ok"]:
        return asked_bolt(written, found)
    words = words_of(text)
    if "/" not in words and len([each for each in words if each in HALVES]) > 0:
        return refused("dial_half")
    found["read_to"] = last_digit(written, found["unit"])
    return found


def asked_bolt(written: str, found: dict) -> dict:
    """Why a text is no reading; the size of an inch bolt that has its thread behind it, 5/8-18."""
    if found["code"] == "length_word":
        return refused("dial_word", found["about"])
    if found["code"] == "length_thread":
        size = written.split("-")[0].strip(" ") + " in"
        bolt = parse_length(size, "in")
        if bolt["ok"]:
            return ask_which("dial_pitch", [[size, bolt["value"]]], written)
    return found


def metric_bolt(size: str) -> dict:
    """The shank of a metric bolt by its name, M14; its pitch is no part of a size."""
    parts = [each.strip(" ") for each in size.replace("x", "-").replace("×", "-").split("-")]
    value = bare_number(parts[0])
    if value is None or len(parts) > 2 or value > LARGEST_BOLT:
        return refused("dial_bolt", "M" + size)
    if len(parts) == 2:
        if bare_number(parts[1]) is None:
            return refused("dial_bolt", "M" + size)
        return ask_which("dial_pitch", [["M" + parts[0], value]], "M" + size)
    return {"ok": True, "value": value, "unit": "mm", "read_to": last_decimal(parts[0])}


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
        return refused("dial_thou")
    if value * THOU > 500:
        return refused("dial_too_long")
    return {"ok": True, "value": value * THOU, "unit": "in", "read_to": THOU * last_decimal(text)}


def asked_thou(text: str) -> dict:
    """Ask whether a number below one is inches or thousandths of an inch."""
    value = bare_number(text) or 0.0
    return ask_which(
        "dial_in_or_thou",
        [[text + " in", value * INCH], [text + " thou", value * THOU]],
    )


def last_digit(text: str, unit: str) -> float:
    """What a written reading was read to, in mm; a fraction of an inch to 1/64."""
    if "/" in text:
        return INCH / 64
    step = last_decimal(text) * (INCH if unit == "in" else 1.0)
    return max(FINEST, 1.0 if step > 1.0 else step)


def show_dial(mm: float, unit: str) -> str:
    """A gauge's reading as it stands on a screen: 0.9 mm, 0.035 in."""
    if unit == "in":
        return fixed(mm / INCH, 3) + THIN + "in"
    return show_fine(mm, "mm")


def show_fine(mm: float, unit: str, *, places: int = 2) -> str:
    """Play, a bolt or a hole in the unit in use: 0.9 mm, or 0.035 in (0.9 mm)."""
    text = trimmed(mm, places)
    metric = (text if "." in text else text + ".0") + THIN + "mm"
    return f"{show_dial(mm, 'in')} ({metric})" if unit == "in" else metric


def parse_along(text: str, unit: str) -> dict:
    """A movement one way, or both ways as in 0.4 + 0.5: like `parse_dial`, with `pair` in mm.

    Both ways are written 0.4 + 0.5, +0.4 -0.5 or 0.4/0.5. The value of a reading both ways is the
    two together; `pair` is None for one way.
    """
    ways = ways_of(plain(text))
    if len(ways) > 2:
        return refused("dial_ways")
    if plain(text).startswith("m"):
        return refused("dial_movement", text)
    if len(ways) == 2:
        return parse_ways(with_unit_of(ways[0], ways[1]), ways[1], unit)
    if unit == "thou" and "/" in ways[0] and is_bare(ways[0].replace("/", "").replace(" ", "")):
        return asked_ways_or_fraction(ways[0], unit)
    found = parse_dial(ways[0], unit)
    if found["ok"]:
        found["pair"] = None
    elif found["code"] == "length_two_numbers":
        return refused("dial_ways")
    return found


def ways_of(text: str) -> list:
    """The movements that a text holds: two for a reading both ways."""
    for word in [" and ", "&"]:
        text = text.replace(word, "+")
    signed = text.startswith("+") or text.startswith("-")
    if signed and len(text) > 1:
        other = "-" if text[0] == "+" else "+"
        parts = [each.strip(" ") for each in text[1:].split(other)]
        if len(parts) == 2 and "+" not in parts[0] + parts[1] and "-" not in parts[0] + parts[1]:
            # A stroke or a comma may stand between the two.
            return [parts[0].rstrip(" /,"), parts[1]]
    ways = [each.strip(" ") for each in text.split("+")]
    halves = [each.strip(" ") for each in text.split("/")]
    # No fraction has a decimal point: 0.9/0.7 are two movements.
    if len(ways) == 1 and len(halves) == 2 and "." in text and len(halves[0]) > 0:
        return halves if "." in halves[0] or is_bare(halves[1]) else ways
    return ways


def asked_ways_or_fraction(text: str, unit: str) -> dict:
    """Ask whether two numbers with a stroke are two movements in thousandths or a fraction."""
    choices: list = []
    parts = [each.strip(" ") for each in text.split("/")]
    both = parse_ways(parts[0], parts[1], unit) if len(parts) == 2 else {"ok": False}
    if both["ok"]:
        choices.append([parts[0] + " + " + parts[1] + " thou", both["value"]])
    found = parse_dial(text + " in", unit)
    if found["ok"]:
        choices.append([text + " in", found["value"]])
    return ask_which("dial_ways_or_fraction", choices, text) if len(choices) > 0 else found


def parse_ways(first: str, second: str, unit: str) -> dict:
    """Both ways of a movement, each as a gauge shows it."""
    if len(first) == 0 or len(second) == 0:
        return refused("dial_way_missing")
    bare = is_bare(first) and is_bare(second)
    if unit == "thou" and bare and (is_below_one(first) or is_below_one(second)):
        return asked_thou_ways(first, second)
    one = parse_dial(first, unit)
    if not one["ok"]:
        return refused(one["code"], one["about"])
    other = parse_dial(second, unit)
    if not other["ok"]:
        return refused(other["code"], other["about"])
    return {
        "ok": True,
        "value": one["value"] + other["value"],
        "unit": other["unit"],
        "read_to": max(one["read_to"], other["read_to"]),
        "pair": [one["value"], other["value"]],
    }


def asked_thou_ways(first: str, second: str) -> dict:
    """Ask whether two numbers below one are inches or thousandths of an inch."""
    choices: list = []
    for unit in ["in", "thou"]:
        one = first + " " + unit
        other = second + " " + unit
        found = parse_ways(one, other, unit)
        if not found["ok"]:
            return found
        choices.append([one + " + " + other, found["value"]])
    return ask_which("dial_in_or_thou_ways", choices)


def with_unit_of(first: str, second: str) -> str:
    """The first of two texts with the unit written behind the second, where it has none itself."""
    behind = second.lstrip(DIGITS + ".,")
    return first + " " + behind if is_bare(first) and len(behind) > 0 else first
