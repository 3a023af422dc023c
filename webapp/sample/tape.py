"""A tape as people read it: to the nearest mark, written down in each one's own hand."""

from dataclasses import dataclass
from fractions import Fraction

INCH = 25.4


@dataclass(frozen=True)
class Tape:
    """What lengths are read from: its unit ("in" or "mm") and its marks, mm apart."""

    unit: str
    read_to: float


@dataclass(frozen=True)
class Mark:
    """One reading: the text as written, and the mm that the text says."""

    typed: str
    value: float


SIXTEENTHS = Tape("in", INCH / 16)
THIRTY_SECONDS = Tape("in", INCH / 32)
MILLIMETERS = Tape("mm", 1.0)
HALF_MILLIMETERS = Tape("mm", 0.5)


def nearest(tape: Tape, length: float, hand: str) -> Mark:
    """The mark nearest to a length in mm, written in a hand (a key of INCH_HANDS)."""
    marks = round(length / tape.read_to)
    if tape.unit == "in":
        inches = Fraction(marks, round(INCH / tape.read_to))
        return Mark(write_inches(inches, hand), float(inches) * INCH)
    value = marks * tape.read_to
    return Mark(write_millimeters(value, hand), value)


INCH_HANDS = {"plain": "{} {}", "dash": "{}-{}", "mark": '{} {}"', "named": "{} {}"}


def write_inches(inches: Fraction, hand: str) -> str:
    """Inches as a whole number and a fraction in lowest terms, whichever of them there is."""
    whole, part = divmod(inches, 1)
    if part == 0:
        return str(whole)
    if whole == 0:
        return str(part)
    return INCH_HANDS[hand].format(whole, part)


def digits(value: float) -> str:
    """A number of mm or cm without idle zeros."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def write_millimeters(value: float, hand: str) -> str:
    """Millimeters bare, with their unit, as centimeters, or with a decimal comma."""
    if hand == "mark":
        return f"{digits(value / 10)} cm"
    if hand == "named":
        return f"{digits(value).replace('.', ',')} mm"
    return f"{digits(value)} mm" if hand == "dash" else digits(value)
