"""A reading as the phone says it aloud: `left, eight and seven sixteenths`."""

import math

from .lengths import inches_of
from .numbers import near_half_up, trimmed

ONES = [
    "nought",
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
UNITS = {"in": "inches", "mm": "millimetres"}


def reading_words(body: dict, usual: str) -> str:
    """The body of a reading in words; a unit other than the `usual` one is named."""
    value = body.get("value")
    name = name_of(body)
    if body.get("moved") is not None:
        return name + (", moved" if body["moved"] else ", did not move")
    if value is None:
        return name + ", " + (body.get("mark") or "nothing")
    if body.get("step") == "torque":
        return name + ", " + number_words(value) + " newton metres"
    unit = body.get("unit", "mm")
    said = name + ", " + (inch_words(value) if unit == "in" else number_words(value))
    return said if unit == usual else said + " " + UNITS[unit]


def name_of(body: dict) -> str:
    """What was read: its side or field, and of which part where the reading names one."""
    field = body["field"].replace("_", " ")
    part = body.get("fastener", body.get("joint"))
    if body.get("between") is not None:
        part = " and ".join(body["between"])
    if part is None:
        return field
    return part if field in ["gap", "fastener"] else part + ", " + field


def inch_words(mm: float) -> str:
    """A length in inches to the nearest 1/32, with `about` where that rounds it."""
    mark = inches_of(abs(mm), 32)
    said = whole_words(mark["whole"])
    if mark["top"] > 0:
        part = fraction_words(mark["top"], mark["bottom"])
        said = part if mark["whole"] == 0 else said + " and " + part
    signed = "minus " + said if mm < 0 else said
    return signed if mark["exact"] else "about " + signed


def fraction_words(top: int, bottom: int) -> str:
    """A fraction of an inch in lowest terms."""
    if bottom == 2:
        return "a half"
    part = [name for name in list(PARTS) if PARTS[name] == bottom][0]
    return whole_words(top) + " " + (part if top == 1 else part + "s")


def number_words(value: float) -> str:
    """A number to two decimals, digit by digit behind the point."""
    said = whole_words(math.floor(near_half_up(abs(value) * 100) / 100))
    behind = trimmed(abs(value), 2).partition(".")[2]
    digits = [ONES["0123456789".index(each)] for each in behind]
    if len(digits) > 0:
        said = said + " point " + " ".join(digits)
    return "minus " + said if value < 0 and said != "nought" else said


def whole_words(number: int) -> str:
    """A whole number below a million."""
    if number < 20:
        return ONES[number]
    if number < 100:
        tens = math.floor(number / 10)
        rest = number - 10 * tens
        return TENS[tens] if rest == 0 else TENS[tens] + "-" + ONES[rest]
    size = 1000 if number >= 1000 else 100
    many = math.floor(number / size)
    rest = number - size * many
    said = whole_words(many) + (" thousand" if size == 1000 else " hundred")
    if rest == 0:
        return said
    return said + (" and " if rest < 100 else " ") + whole_words(rest)
