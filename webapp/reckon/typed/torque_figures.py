"""Torque figures as people write them: a value, its unit, a tolerance, a further angle."""

from ..checks.torque import UNITS_IN_NM
from .angles import parse_angle, turned_size, words_of
from .length_grammar import decimal
from .tokens import asked, plain, refused

# The letters of a unit alone, blanks and marks left out.
SPELLINGS = {
    "nm": "N·m", "newtonmeter": "N·m", "newtonmeters": "N·m",
    "ftlb": "lbf·ft", "ftlbs": "lbf·ft", "ftlbf": "lbf·ft",
    "lbft": "lbf·ft", "lbsft": "lbf·ft", "lbfft": "lbf·ft", "footpound": "lbf·ft",
    "footpounds": "lbf·ft", "poundfoot": "lbf·ft", "poundfeet": "lbf·ft", "inlb": "lbf·in",
    "inlbs": "lbf·in", "inlbf": "lbf·in", "lbin": "lbf·in", "lbsin": "lbf·in", "lbfin": "lbf·in",
    "inchpound": "lbf·in", "inchpounds": "lbf·in", "kgfm": "kgf·m", "kgm": "kgf·m", "mkg": "kgf·m",
    "mkgf": "kgf·m", "kpm": "kgf·m",
}  # fmt: skip
MOST_NM = 3000.0
DIGITS = "0123456789"
NO_FIGURE = "Write a torque such as 90 N·m, 65 lbf·ft or 40 N·m then 90°."


def parse_torque(text: str, unit: str | None) -> dict:
    """A torque figure as written: {ok, value, unit, tolerance, then_deg}, or a question or reason.

    `value` and `tolerance` are in N·m. Bare numbers take `unit`, and are asked back without one.
    """
    halves = then_of(plain(text))
    if len(halves) > 2:
        return refused("One figure and one further angle, as in 40 then 90°.")
    further: dict = {"value": None}
    if len(halves) == 2:
        further = then_angle(halves[1])
        if further.get("ok") is not True:
            return further
    found = read_figure(halves[0], unit)
    if found["ok"]:
        found["then_deg"] = further["value"]
    elif len(found["choices"]) > 0 and (len(halves) == 2 or "±" in halves[0]):
        return refused("Write the unit behind the figure: N·m or lbf·ft.")
    return found


def then_of(text: str) -> list:
    """The figure and what follows it: cut at `then`, `plus`, or a + that is no part of a ±."""
    text = text.replace("+/-", "±").replace("+-", "±")
    for word in ["then", "plus", "and"]:
        text = text.replace(word, "+")
    return [each.strip(" ,") for each in text.split("+")]


def then_angle(text: str) -> dict:
    """The further angle in degrees, written in degrees or as a part of a turn."""
    if len(text) == 0:
        return refused("The further angle is missing, as in 40 then 90°.")
    pieces = words_of(text)
    if pieces[len(pieces) - 1] in ["turn", "turns"]:
        return turned_size(pieces)
    return parse_angle(text)


def read_figure(text: str, unit: str | None) -> dict:
    """A figure with its tolerance and unit, the further angle taken off."""
    parts = [each.strip(" ") for each in text.split("±")]
    if len(parts[0]) == 0:
        return refused("Nothing was entered. " + NO_FIGURE)
    if len(parts) > 2:
        return refused("One tolerance only, as in 525 ± 75.")
    figure = number_and_rest(parts[0])
    if figure["says"] is not None:
        return refused(figure["says"])
    room = number_and_rest(parts[1]) if len(parts) == 2 else {"says": None, "number": None}
    if room["says"] is not None:
        return refused(room["says"])
    return with_unit(figure, room, unit)


def number_and_rest(text: str) -> dict:
    """The number that a text begins with and the letters behind it: {number, rest, says}."""
    length_of_number = 0
    while length_of_number < len(text) and text[length_of_number] in DIGITS + ".,":
        length_of_number = length_of_number + 1
    digits = text[:length_of_number]
    rest = text[length_of_number:].strip(" ")
    if digits.endswith(".") or digits.endswith(","):
        digits = digits[: len(digits) - 1]
    says = why_no_number(digits, rest)
    number = decimal(digits.replace(",", ".")) if says is None else None
    if says is None and number is None:
        says = "“" + digits + "” is not a number. " + NO_FIGURE
    return {"number": number, "rest": rest, "says": says}


def why_no_number(digits: str, rest: str) -> str | None:
    """Why a text is no figure, or None where it may be one."""
    if len(digits) == 0:
        return "A torque begins with its number. " + NO_FIGURE
    if len(rest) > 1 and rest[0] in "-/" and rest[1:].strip(" ")[0] in DIGITS:
        return "That is a range or a fraction. Write the middle and its room, as in 45 ± 5."
    parts = digits.split(",")
    if len(parts) == 2 and len(parts[1]) == 3 and not digits.startswith("0"):
        return "Does the comma stand before decimals or thousands? Write it with a point or none."
    return None


def letters_of(text: str) -> str:
    """The letters of a unit, without blanks and marks."""
    result = ""
    for letter in text:
        if letter in "abcdefghijklmnopqrstuvwxyz":
            result = result + letter
    return result


def with_unit(figure: dict, room: dict, unit: str | None) -> dict:
    """The figure in N·m once its unit is known; asked back without one."""
    letters = letters_of(figure["rest"])
    behind = room.get("rest") or ""
    percent = behind.endswith("%")
    if len(letters) == 0 and len(figure["rest"]) > 0:
        return refused("“" + figure["rest"] + "” is no unit of torque. " + NO_FIGURE)
    if len(letters) == 0 and not percent:
        letters = letters_of(behind)
    if len(letters) == 0 and unit is None:
        return asked_unit(figure["number"])
    if len(letters) > 0 and letters not in SPELLINGS:
        return refused("“" + figure["rest"] + behind + "” is no unit of torque here. " + NO_FIGURE)
    written = SPELLINGS[letters] if len(letters) > 0 else unit or "N·m"
    value = figure["number"] * UNITS_IN_NM[written]
    if value <= 0:
        return refused("A torque is more than 0.")
    if value > MOST_NM:
        return refused("That is more than any fastener here. Check the number and the unit.")
    tolerance = tolerance_of(room["number"], value, written, percent)
    if tolerance is not None and tolerance >= value:
        return refused("The tolerance is as large as the figure. Check both.")
    return {"ok": True, "value": value, "unit": written, "tolerance": tolerance}


def tolerance_of(number: float | None, value: float, unit: str, percent: bool) -> float | None:
    """The tolerance in N·m, written in the figure's unit or in percent of it; None where none."""
    if number is None:
        return None
    return value * number / 100 if percent else number * UNITS_IN_NM[unit]


def asked_unit(number: float) -> dict:
    """Ask which unit a bare number is in."""
    choices = [["N·m", number], ["lbf·ft", number * UNITS_IN_NM["lbf·ft"]]]
    return asked("Is that N·m or lbf·ft?", choices)
