"""A reading as the phone says it aloud: `left, eight and seven sixteenths`."""

import math

from ..numbers import is_number, trimmed
from ..terms import wheel_position
from ..typed.length_grammar import INCH
from ..typed.lengths import inches_of
from ..typed.torque_figures import out_of_nm, parse_torque
from .entry_words import field_name, is_of_joint

ONES = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
PARTS = {"quarter": 4, "eighth": 8, "sixteenth": 16, "thirty-second": 32}
UNITS = {"in": "inches", "mm": "millimeters"}
TORQUES = {
    "N·m": "newton meters",
    "lb-ft": "pound-feet",
    "lb-in": "pound-inches",
    "kgf·m": "kilogram meters",
}


def said_of(entry: dict, usual: str) -> str:
    """A reading or pick in words, "" where there is no number to be said."""
    body = entry["body"]
    if entry["kind"] == "reading":
        return reading_words(body, usual, entry.get("typed"))
    value = body.get("value")
    return pick_words(entry, value, usual) if is_number(value) else ""


def pick_words(entry: dict, value: float, usual: str) -> str:
    """A pick that is a number: an angle, a ratio, or a length such as that of a spacer."""
    field = entry["body"]["field"]
    if field == "wheel_deg":
        return f"steering wheel, {wheel_position(value)}"
    name = f"{field.replace('_extra', ' spacer').replace('_deg', ' in degrees')}, "
    if field in ["ratio", "tilt_deg"]:
        return name + number_words(value)
    return name + length_words(value, usual, usual, entry.get("typed") or "")


def reading_words(body: dict, usual: str, typed: str | None) -> str:
    """The body of a reading in words, as it was `typed`; a unit not the `usual` one is named."""
    value = body.get("value")
    said = [name_of(body)]
    if body.get("moved") is not None:
        said.append("moved" if body["moved"] else "did not move")
    if body.get("step") == "torque":
        if value is not None:
            said.append(torque_words(body))
    elif value is None:
        said.append(body.get("mark") or "nothing")
    else:
        # A gauge shows decimals, also where it is written down in thousandths.
        text = (typed or "") + (" ." if body.get("step") == "play" else "")
        said.append(length_words(value, body.get("unit") or "mm", usual, text))
        if body["field"] == "along":
            said.append("one way" if body.get("pair") is None else "both ways together")
    return ", ".join(said)


def name_of(body: dict) -> str:
    """What was read: its side or field, or the part of it and where, as the log calls it."""
    if is_of_joint(body):
        return field_name(body)
    return body["field"].replace("_", " ")


def torque_words(body: dict) -> str:
    """A torque in the unit that it is printed in, or in N·m where nobody wrote that."""
    found = parse_torque(body.get("figure") or "", None)
    unit = found["unit"] if found["ok"] else "N·m"
    return f"{number_words(out_of_nm(body['value'], unit))} {TORQUES[unit]}"


def length_words(mm: float, unit: str, usual: str, typed: str) -> str:
    """A length as it was typed, with decimals or a fraction; the usual unit goes without saying."""
    # A decimal without its unit could be millimeters.
    if unit == "in" and "/" not in typed and ("." in typed or "," in typed):
        return f"{number_words(mm / INCH, 4)} inches"
    said = inch_words(mm) if unit == "in" else number_words(mm, 3)
    return said if unit == usual else f"{said} {UNITS[unit]}"


def inch_words(mm: float) -> str:
    """A length in inches to the nearest 1/32, with `about` where that rounds it."""
    mark = inches_of(abs(mm), 32)
    said = whole_words(mark["whole"])
    if mark["top"] > 0:
        part = fraction_words(mark["top"], mark["bottom"])
        said = part if mark["whole"] == 0 else f"{said} and {part}"
    signed = f"minus {said}" if mm < 0 else said
    return signed if mark["exact"] else f"about {signed}"


def fraction_words(top: int, bottom: int) -> str:
    """A fraction of an inch in lowest terms."""
    if bottom == 2:
        return "a half"
    part = [name for name in list(PARTS) if PARTS[name] == bottom][0]
    return whole_words(top) + " " + (part if top == 1 else f"{part}s")


def number_words(value: float, places: int = 2) -> str:
    """A number, digit by digit behind the point."""
    parts = trimmed(abs(value), places).partition(".")
    said = whole_words(int(parts[0]))
    digits = [ONES["0123456789".index(each)] for each in parts[2]]
    if len(digits) > 0:
        said = f"{said} point {' '.join(digits)}"
    return f"minus {said}" if value < 0 and said != "zero" else said


def whole_words(number: int) -> str:
    """A whole number below a million."""
    if number < 20:
        return ONES[number]
    if number < 100:
        tens = math.floor(number / 10)
        rest = number - 10 * tens
        return TENS[tens] if rest == 0 else f"{TENS[tens]}-{ONES[rest]}"
    size = 1000 if number >= 1000 else 100
    many = math.floor(number / size)
    rest = number - size * many
    said = whole_words(many) + (" thousand" if size == 1000 else " hundred")
    if rest == 0:
        return said
    return said + (" and " if rest < 100 else " ") + whole_words(rest)
