"""Angles and steering-wheel positions as people write them, in degrees."""

from ..numbers import trimmed
from .tokens import (
    LETTERS,
    ask_which,
    count_of,
    decimal,
    ends_word,
    is_number,
    number_of,
    pieces_of,
    plain,
    refused,
    whole,
    with_fractions,
    words_of,
)

DEGREE_WORDS = ["°", "º", "*", "deg", "degs", "degree", "degrees"]
MINUTE_WORDS = ["'", "min", "minute", "minutes"]
TURN_WORDS = ["turn", "turns"]
STRAIGHT = ["straight", "centered", "center", "ahead", "up"]
SIDES = {
    "left": "left", "l": "left", "lh": "left", "ccw": "left", "counterclockwise": "left",
    "right": "right", "r": "right", "rh": "right", "cw": "right", "clockwise": "right",
}  # fmt: skip
FILLERS = ["to", "the", "of", "a", "an", "at", "by", "off", "dead", "position"]
BETWEEN = ["and", "or", "then", ";", ","]
HOUR_DEG = 30.0
MOST = 360.0
MOST_AT_WHEEL = 1080.0


def read_angle(value: float, most: float) -> dict:
    """The answer to a text that is an angle, in degrees."""
    if value > most:
        return refused("angle_too_large")
    return {"ok": True, "value": value}


def parse_angle(text: str) -> dict:
    """An angle as written, in degrees: {ok, value}, or {ok: False, code, about, choices}.

    Bare numbers are degrees; minutes follow degrees, as in 1 30'.
    """
    return angle_of(words_of(text), MOST)


def angle_of(pieces: list, most: float) -> dict:
    """The angle that the pieces write, at most so many degrees."""
    if len(pieces) == 0:
        return refused("angle_empty")
    if pieces[0] == "-" or pieces[0] == "+":
        return refused("angle_sign")
    size = count_size(pieces)
    number = count_of(pieces[:size])
    if number is None:
        return refused_angle(pieces[0])
    rest = pieces[size:]
    if len(rest) > 0 and rest[0] in DEGREE_WORDS:
        rest = rest[1:]
    elif len(rest) == 1 and rest[0] in MINUTE_WORDS:
        return asked_minutes(" ".join(pieces[:size]), number, rest[0])
    if len(rest) == 0:
        return read_angle(number, most)
    return read_minutes(number, rest, most)


def count_size(pieces: list) -> int:
    """How many pieces at the beginning write one number: 3 1/2 takes four, 3-1/2 five."""
    for size in [5, 4, 3]:
        if len(pieces) >= size and pieces[size - 2] == "/":
            return size
    return 1


def refused_angle(piece: str) -> dict:
    """Why a text that begins with this is no angle."""
    return refused("angle_not_a_number" if is_number(piece) else "angle_word", piece)


def asked_minutes(text: str, number: float, mark: str) -> dict:
    """Ask whether a lone minute mark means minutes; a word for minutes leaves no doubt."""
    if mark != "'":
        return read_angle(number / 60, MOST)
    choices: list = [[text + "\u00b0", number], [text + " min", number / 60]]
    within = [each for each in choices if each[1] <= MOST]
    return (
        ask_which("angle_degrees_or_minutes", within)
        if len(within) > 0
        else refused("angle_too_large")
    )


def read_minutes(degrees: float, rest: list, most: float) -> dict:
    """Degrees with the minutes behind them."""
    minutes = number_of(rest[0])
    if minutes is None:
        return refused_angle(rest[0])
    if len(rest) != 2 or rest[1] not in MINUTE_WORDS:
        return refused("angle_mark_minutes")
    if minutes >= 60:
        return refused("angle_sixty")
    return read_angle(degrees + minutes / 60, most)


def parse_wheel(text: str) -> dict:
    """A steering wheel's position: {ok, value, positions} in degrees, left positive, or why not.

    Written in degrees, by the clock (12 is straight up) or in turns, with the side. A wheel that
    was seen in several positions does not come back to one place: its `value` is None.
    """
    parts = parts_of(wheel_pieces(text))
    if len(parts) == 0:
        return refused("wheel_empty")
    if len(parts) == 1:
        found = position_of(parts[0])
        if found["ok"]:
            found["positions"] = [found["value"]]
        return found
    return several(parts)


def wheel_pieces(text: str) -> list:
    """The text in pieces; a comma between two positions and `o'clock` are pieces of their own."""
    pieces: list = []
    written = plain(text)
    written = written.replace("counter-clockwise", "ccw").replace("counter clockwise", "ccw")
    for clock in ["'o'clock", "'oclock", "o'clock", "o' clock", "o-clock", "o clock"]:
        written = written.replace(clock, "oclock")
    for piece in pieces_of(written):
        bare = piece[: len(piece) - 1] if ends_word(piece) else piece
        if is_number(bare) and len(bare) > 1:
            pieces.extend(listed(bare))
        else:
            pieces.append(SIDES.get(bare, bare))
    return with_fractions(pieces)


def listed(run: str) -> list:
    """The numbers of a run such as `1,3,11` with the commas between; one comma is decimal."""
    if len(run.split(",")) == 2 and not run.endswith(","):
        return [run]
    found: list = []
    for each in run.split(","):
        if len(found) > 0:
            found.append(",")
        if len(each) > 0:
            found.append(each)
    return found


def parts_of(pieces: list) -> list:
    """The positions that a text lists, each as its pieces; a range of hours is two of them."""
    clock = "oclock" in pieces
    parts: list = []
    part: list = []
    for index, piece in enumerate(pieces):
        ranged = piece in ["to", "-"] and index > 0 and is_number(pieces[index - 1])
        if piece in BETWEEN or (clock and ranged and is_number(next_of(pieces, index))):
            parts.append(part)
            part = []
        elif piece != "between" and piece != "from":
            part.append(piece)
    parts.append(part)
    parts = [each for each in parts if len(each) > 0]
    # The side alone, as in 45, left, belongs to the position beside it.
    alone = [each for each in parts if each == ["left"] or each == ["right"]]
    if len(parts) == 2 and len(alone) == 1:
        return [parts[0] + parts[1]]
    return parts


def next_of(pieces: list, index: int) -> str:
    """The piece behind this one, or a blank."""
    return pieces[index + 1] if index + 1 < len(pieces) else " "


def several(parts: list) -> dict:
    """The answer to several positions: where they are all the same, one."""
    hours = "oclock" in parts[len(parts) - 1]
    positions: list = []
    for part in parts:
        bare = len(part) == 1 and whole(part[0]) is not None
        found = position_of(part + ["oclock"] if bare and hours else part)
        if not found["ok"]:
            return asked_hours(parts) if not hours else refused("wheel_several", " ".join(part))
        positions.append(found["value"])
    same = [each for each in positions if each != positions[0]]
    value = positions[0] if len(same) == 0 else None
    return {"ok": True, "value": value, "positions": positions}


def asked_hours(parts: list) -> dict:
    """Ask whether bare numbers in a row are hours of the clock; refused where they cannot be."""
    texts: list = []
    for part in parts:
        hour = whole(part[0]) if len(part) == 1 else None
        if hour is None or hour < 1 or hour > 12:
            return refused("wheel_several", " ".join(part))
        texts.append(part[0])
    return ask_which("wheel_hours", [[", ".join(texts) + " o'clock", None]])


def position_of(pieces: list) -> dict:
    """One position of the wheel: {ok, value}, or a question or reason."""
    sides = [each for each in pieces if each == "left" or each == "right"]
    rest = [each for each in pieces if each not in ["left", "right"]]
    rest = [each for each in rest if each == "to" or each not in FILLERS]
    if not is_before_hour(rest):
        rest = [each for each in rest if each != "to"]
    if len(sides) > 1:
        return refused("wheel_side_once")
    turned = [each for each in rest if each not in STRAIGHT]
    if len(rest) > 0 and len(turned) == 0 and len(sides) == 0:
        return read_angle(0.0, MOST)
    hour = hour_of(rest)
    if hour is not None:
        return read_clock(hour, sides)
    if len(rest) == 1 and len(sides) == 0 and is_hour(rest[0]):
        return asked_position(rest[0])
    if len(sides) == 1 and len(rest) == 3 and rest[1] == "/" and count_of(rest) is not None:
        return asked_turn_or_degrees("".join(rest), sides[0])
    size = turned_size(rest)
    return size if not size["ok"] else with_side(size["value"], sides)


def is_before_hour(rest: list) -> bool:
    """Whether the pieces are a part of an hour before one, as in a quarter to 2."""
    return len(rest) > 4 and rest[1] == "/" and rest[3] == "to" and is_number(rest[4])


def is_hour(piece: str) -> bool:
    """Whether a piece is a whole number from 1 to 12."""
    hour = whole(piece)
    return hour is not None and hour >= 1 and hour <= 12


def hour_of(rest: list) -> float | None:
    """The hour of a position by the clock, 0 where it is none of the clock's; None without clock.

    1 o'clock, 1:30, half past 1, a quarter to 2.
    """
    clock = len(rest) > 0 and rest[len(rest) - 1] == "oclock"
    bare = rest[: len(rest) - 1] if clock else rest
    if len(bare) == 3 and bare[1] == ":":
        minutes = whole(bare[2])
        if len(bare[2]) != 2 or minutes is None or minutes >= 60 or not is_hour(bare[0]):
            return 0.0
        return int(bare[0]) + minutes / 60
    if len(bare) == 5 and bare[1] == "/" and bare[3] in ["past", "to"] and is_hour(bare[4]):
        part = count_of(bare[:3])
        if part is not None and part < 1:
            return int(bare[4]) + part if bare[3] == "past" else int(bare[4]) - part
    if not clock:
        return 0.0 if "past" in bare else None
    hour = decimal(bare[0]) if len(bare) == 1 and is_number(bare[0]) else None
    # One decimal is a part of an hour; two could be minutes: 1.30 may be half past.
    return (
        hour
        if hour is not None and within_clock(hour) and "." not in bare[0][: len(bare[0]) - 2]
        else 0.0
    )


def within_clock(hour: float) -> bool:
    """Whether an hour is on the clock, the half hour behind 12 included."""
    return hour >= 1 and hour < 13


def with_side(size: float, sides: list) -> dict:
    """A position with its side: left positive, right negative; asked for where it is missing."""
    if size > MOST_AT_WHEEL:
        return refused("wheel_too_far")
    if size == 0:
        return read_angle(0.0, MOST)
    if len(sides) == 0:
        return ask_which("wheel_which_side", both_sides(size))
    return {"ok": True, "value": size if sides[0] == "left" else -size}


def both_sides(size: float) -> list:
    """So many degrees to either side, as choices."""
    text = trimmed(size, 4)
    return [[text + " deg left", float(text)], [text + " deg right", -float(text)]]


def asked_position(text: str) -> dict:
    """Ask whether a bare number from 1 to 12 is an hour of the clock or degrees, and which way."""
    hour = int(text)
    by_clock = with_clock(float(hour))
    choices = [[text + " o'clock", by_clock]] if hour != 6 else []
    return ask_which("wheel_clock_or_degrees", choices + both_sides(float(hour)), text)


def asked_turn_or_degrees(text: str, side: str) -> dict:
    """Ask whether a bare fraction is a part of a turn or of a degree."""
    size = count_of(words_of(text)) or 0.0
    sign = 1 if side == "left" else -1
    if size > MOST_AT_WHEEL:
        return refused("wheel_too_far")
    choices = [[text + " deg " + side, sign * size]]
    if size * 360 <= MOST_AT_WHEEL:
        choices = [[text + " turn " + side, sign * size * 360]] + choices
    return ask_which("wheel_turn_or_degrees", choices, text)


def with_clock(hour: float) -> float:
    """The degrees of an hour from 0 to 13, left positive."""
    turned = hour - 12 if hour >= 12 else hour
    return 0.0 if turned == 0 else (-turned if turned < 6 else 12 - turned) * HOUR_DEG


def read_clock(hour: float, sides: list) -> dict:
    """A position by the clock: 12 is straight, 1 to 5 to the right, 7 to 11 to the left."""
    if hour == 0:
        return refused("wheel_hours_of_clock")
    if hour == 6:
        return with_side(180.0, sides)
    degrees = with_clock(hour)
    side = "left" if degrees > 0 else "right"
    if len(sides) == 1 and sides[0] != side:
        return refused("wheel_other_side", side)
    return {"ok": True, "value": degrees}


def turned_size(rest: list) -> dict:
    """How far the wheel is turned, without its side: degrees, or turns and parts of one."""
    if len(rest) > 0 and rest[len(rest) - 1] in TURN_WORDS:
        before = rest[: len(rest) - 1]
        full = before == ["full"]
        turns = 1.0 if full else count_of(before) if len(before) > 0 else None
        if turns is None:
            return refused("wheel_turns")
        return {"ok": True, "value": turns * 360}
    if len(rest) == 0:
        return refused("wheel_how_far")
    if rest[0][0] in LETTERS and rest[0] not in DEGREE_WORDS:
        return refused("wheel_word", rest[0])
    # Nobody reads a wheel to minutes of a degree.
    if rest[len(rest) - 1] == "'" and len(rest) == count_size(rest) + 1:
        return refused("wheel_word", "'")
    return angle_of(rest, MOST_AT_WHEEL)
