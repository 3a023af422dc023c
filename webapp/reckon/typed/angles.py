"""Angles and steering-wheel positions as people write them, in degrees."""

from .length_grammar import decimal
from .tokens import asked, pieces_of, refused

DEGREE_WORDS = ["°", "º", "*", "deg", "degs", "degree", "degrees"]
MINUTE_WORDS = ["'", "min", "minute", "minutes"]
TURN_WORDS = ["turn", "turns"]
STRAIGHT = ["straight", "centered", "centered", "center", "center"]
FRACTIONS = {"quarter": 0.25, "half": 0.5, "full": 1.0}
HOUR_DEG = 30.0
MOST = 360.0
MOST_AT_WHEEL = 1080.0


def read_angle(value: float, most: float) -> dict:
    """The answer to a text that is an angle, in degrees."""
    if value > most:
        return refused("That is more than any angle here. Check the number.")
    return {"ok": True, "value": value}


def words_of(text: str) -> list:
    """The text in pieces, degree marks cut off from full stops."""
    return [each[: len(each) - 1] if ends_word(each) else each for each in pieces_of(text)]


def ends_word(piece: str) -> bool:
    """Whether a piece is a word with a full stop behind it, as in `deg.`."""
    return len(piece) > 1 and piece.endswith(".") and piece[0] not in "0123456789."


def parse_angle(text: str) -> dict:
    """An angle as written, in degrees: {ok, value}, or {ok: False, says, choices}.

    Bare numbers are degrees; minutes follow degrees, as in 1 30'.
    """
    return angle_of(words_of(text), MOST)


def angle_of(pieces: list, most: float) -> dict:
    """The angle that the pieces write, at most so many degrees."""
    if len(pieces) == 0:
        return refused("Nothing was entered. Write an angle such as 10 deg or 1\u00b0 30'.")
    if pieces[0] == "-" or pieces[0] == "+":
        return refused("An angle has no sign here. Say which side is higher or which way instead.")
    number = number_of(pieces[0])
    if number is None:
        return refused_angle(pieces[0])
    rest = pieces[1:]
    if len(rest) > 0 and rest[0] in DEGREE_WORDS:
        rest = rest[1:]
    elif len(rest) == 1 and rest[0] in MINUTE_WORDS:
        return asked_minutes(pieces[0], number, rest[0])
    if len(rest) == 0:
        return read_angle(number, most)
    return read_minutes(number, rest)


def number_of(piece: str) -> float | None:
    """A number with a point or one comma, or None."""
    return decimal(piece.replace(",", ".")) if piece[0] in "0123456789.," else None


def refused_angle(piece: str) -> dict:
    """Why a text that begins with this is no angle."""
    if piece[0] in "0123456789.,":
        return refused("\u201c" + piece + "\u201d is not a number. Write it such as 1.5.")
    return refused("\u201c" + piece + "\u201d is not part of an angle. Write it such as 10 deg.")


def asked_minutes(text: str, number: float, mark: str) -> dict:
    """Ask whether a lone minute mark means minutes; a word for minutes leaves no doubt."""
    if mark != "'":
        return read_angle(number / 60, MOST)
    return asked(
        "Is that degrees or minutes of a degree?",
        [[text + "\u00b0", number], [text + " min", number / 60]],
    )


def read_minutes(whole: float, rest: list) -> dict:
    """Degrees with the minutes behind them."""
    minutes = number_of(rest[0])
    if minutes is None:
        return refused_angle(rest[0])
    if len(rest) != 2 or rest[1] not in MINUTE_WORDS:
        return refused("Two numbers: mark the minutes, as in 1\u00b0 30'.")
    if minutes >= 60:
        return refused("A degree has 60 minutes. Check the minutes.")
    return read_angle(whole + minutes / 60, MOST)


def parse_wheel(text: str) -> dict:
    """A steering wheel's position, in degrees, left positive: {ok, value}, or a question or reason.

    Written in degrees, by the clock (12 is straight up) or in turns, with the side.
    """
    pieces = words_of(text)
    sides = [each for each in pieces if each == "left" or each == "right"]
    rest = [
        each for each in pieces if each not in ["left", "right", "to", "the", "of", "a", "at", "by"]
    ]
    if len(pieces) == 0:
        return refused("Nothing was entered. Write it such as 10 deg left or 1 o'clock.")
    if len(sides) > 1:
        return refused("Left or right, once.")
    if len(rest) == 1 and rest[0] in STRAIGHT and len(sides) == 0:
        return read_angle(0.0, MOST)
    if "".join(rest).endswith("o'clock"):
        return read_clock(rest, sides)
    size = turned_size(rest)
    return size if not size["ok"] else with_side(size["value"], sides)


def with_side(size: float, sides: list) -> dict:
    """A position with its side: left positive, right negative; asked for where it is missing."""
    if size > MOST_AT_WHEEL:
        return refused("No steering wheel turns that far. Check the number.")
    if size == 0:
        return read_angle(0.0, MOST)
    if len(sides) == 0:
        return asked("To the left or to the right?", [["left", size], ["right", -size]])
    return {"ok": True, "value": size if sides[0] == "left" else -size}


def read_clock(rest: list, sides: list) -> dict:
    """A position by the clock: 12 is straight, 1 to 5 to the right, 7 to 11 to the left."""
    hour = number_of(rest[0])
    if len(rest) != 4 or hour is None or hour < 1 or hour > 12:
        return refused("The clock has hours from 1 to 12, as in 1 o'clock.")
    if hour == 6:
        return with_side(180.0, sides)
    degrees = 0.0 if hour == 12 else (-hour if hour < 6 else 12 - hour) * HOUR_DEG
    side = "left" if degrees > 0 else "right"
    if len(sides) == 1 and sides[0] != side:
        return refused("By the clock that is to the " + side + ". Say it one way.")
    return {"ok": True, "value": degrees}


def turned_size(rest: list) -> dict:
    """How far the wheel is turned, without its side: degrees, or turns and parts of one."""
    if len(rest) > 0 and rest[len(rest) - 1] in TURN_WORDS:
        turns = turns_of(rest[: len(rest) - 1])
        if turns is None:
            return refused("Write the turns such as 1/4 turn left.")
        return {"ok": True, "value": turns * 360}
    if len(rest) == 0:
        return refused("Say how far, as in 10 deg left.")
    return angle_of(rest, MOST_AT_WHEEL)


def turns_of(rest: list) -> float | None:
    """The number that the pieces before `turn` write: a number, a fraction, both, or a word."""
    if len(rest) == 1:
        return FRACTIONS[rest[0]] if rest[0] in FRACTIONS else number_of(rest[0])
    numbers = [number_of(each) for each in rest if each != "/"]
    if len(rest) < 3 or rest[len(rest) - 2] != "/" or len(numbers) != len(rest) - 1:
        return None
    top = numbers[len(numbers) - 2]
    bottom = numbers[len(numbers) - 1]
    before = numbers[0] if len(numbers) == 3 else 0.0
    if top is None or bottom is None or before is None or bottom == 0 or len(numbers) > 3:
        return None
    return before + top / bottom
