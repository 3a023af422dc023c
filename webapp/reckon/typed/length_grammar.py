"""What the numbers, marks and units of a written length say, in mm.

Inches and fractions exist only here and where lengths are shown.
"""

import math

from .tokens import ask_which, decimal, kind_of, refused, whole, words_of

INCH = 25.4
LONGEST = 20000.0
# A longer number with a half behind it is more likely one of millimeters.
LONGEST_IN = 40
DENOMINATORS = [2, 4, 8, 16, 32, 64, 128, 10, 100]
UNITS = {
    "mm": "mm", "cm": "cm", "m": "m", "in": "in", "inch": "in", "inches": "in",
    '"': "in", "'": "foot_mark", "ft": "ft", "foot": "ft", "feet": "ft",
    "millimeter": "mm", "millimeters": "mm", "centimeter": "cm", "centimeters": "cm",
    "thou": "thou", "thous": "thou",
}  # fmt: skip
IN_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH, "ft": 12 * INCH, "thou": INCH / 1000}
METRIC = ["mm", "cm", "m"]
HALVES = {
    "+": 1, "strong": 1, "heavy": 1, "full": 1, "fat": 1, "plus": 1, "hvy": 1,
    "-": -1, "shy": -1, "light": -1, "bare": -1, "scant": -1, "minus": -1, "lt": -1,
}  # fmt: skip


def accepted(value: float, unit: str) -> dict:
    """The answer to a text that is a length: its value in mm and the unit it was written in."""
    if value < 0:
        return refused("length_below_zero")
    if value > LONGEST:
        return refused("length_too_long")
    return {"ok": True, "value": value, "unit": unit}


def tokens_of(text: str) -> list:
    """The text as tokens {kind, text}: n number, unit, w word, and the marks / - +."""
    tokens: list = []
    for piece in words_of(text):
        # 14" and 3/8; 3 ft, 4 in.
        if piece in ["and", ","] and len(tokens) > 0 and tokens[len(tokens) - 1]["kind"] == "unit":
            tokens.append({"kind": "and", "text": piece})
        elif piece in UNITS:
            tokens.append({"kind": "unit", "text": piece})
        else:
            tokens.append({"kind": kind_of(piece[0]), "text": piece})
    return tokens


def read_tokens(tokens: list, unit: str) -> dict:
    """The length that the tokens write, its half graduation already taken off."""
    tokens = without_joints(tokens)
    for token in tokens:
        if token["kind"] == "w" or token["kind"] == "and":
            return refused_word(tokens, token["text"])
    feet = leading_feet(tokens)
    if feet is not None:
        return read_feet(tokens, feet)
    tokens = with_fraction_behind_inches(tokens)
    written = unit
    last = tokens[len(tokens) - 1]
    if last["kind"] == "unit":
        written = UNITS[last["text"]]
        tokens = tokens[: len(tokens) - 1]
    return read_numbers(tokens, written, unit)


def without_joints(tokens: list) -> list:
    """The tokens without the `and` between two units and the number that goes with the second."""
    found: list = []
    for index, token in enumerate(tokens):
        joins = token["kind"] == "and" and index + 1 < len(tokens)
        inches = index > 0 and UNITS.get(tokens[index - 1]["text"]) in ["in", "ft", "foot_mark"]
        if not (joins and inches and tokens[index + 1]["kind"] == "n"):
            found.append(token)
    return found


def with_fraction_behind_inches(tokens: list) -> list:
    """The tokens of 14" 3/8 in the order of 14 3/8", as tapes are called out in both."""
    shape = shape_of(tokens)
    if shape not in ["nun/n", "nu-n/n", "nun/nu"] or UNITS[tokens[1]["text"]] != "in":
        return tokens
    if shape == "nun/nu" and UNITS[tokens[5]["text"]] != "in":
        return tokens
    fraction = [token for token in tokens[2:] if token["kind"] != "-" and token["kind"] != "unit"]
    return [tokens[0]] + fraction + [tokens[1]]


def shape_of(tokens: list) -> str:
    """The kinds of the tokens in a row, a unit as u."""
    return "".join(["u" if token["kind"] == "unit" else token["kind"] for token in tokens])


def refused_word(tokens: list, word: str) -> dict:
    """Why a text with this word in it is no length; a mil is asked back."""
    if word in ["mil", "mils"] and len(tokens) == 2 and tokens[0]["kind"] == "n":
        count = decimal(tokens[0]["text"])
        if count is not None:
            thou = [tokens[0]["text"] + " thou", count * IN_MM["thou"]]
            return asked_within("length_mil", [thou, [tokens[0]["text"] + " mm", count]])
    if word == "to":
        return refused("length_range")
    if word == "°" or word == "deg":
        return refused("length_angle")
    if word in HALVES:
        return refused("length_half_first", word)
    return refused("length_word", word)


def leading_feet(tokens: list) -> str | None:
    """The number of feet that the tokens begin with, as text, or None."""
    if len(tokens) < 2 or tokens[0]["kind"] != "n" or tokens[1]["kind"] != "unit":
        return None
    return tokens[0]["text"] if UNITS[tokens[1]["text"]] in ["ft", "foot_mark"] else None


def read_feet(tokens: list, feet: str) -> dict:
    """Feet, and the inches behind them."""
    count = decimal(feet)
    if count is None:
        return refused_number(feet)
    marked = UNITS[tokens[1]["text"]] == "foot_mark"
    if len(tokens) == 2:
        if not marked:
            return accepted(count * 12 * INCH, "in")
        choices = [[feet + " ft", count * 12 * INCH], [feet + " in", count * INCH]]
        return asked_within("length_feet_or_inches", choices)
    # People write 1'-2 3/8" with a dash behind the feet.
    rest = tokens[3:] if tokens[2]["kind"] == "-" and len(tokens) > 3 else tokens[2:]
    if leading_feet(rest) is not None:
        return refused("length_feet_twice")
    found = read_tokens(rest, "in")
    if found["ok"] and found["unit"] != "in":
        return refused("length_feet_and_metric")
    behind = moved_by(found, count * 12 * INCH, feet + " ft ", "")
    # A slip of the key makes the mark of feet out of that of inches.
    if marked and shape_of(rest) == "n/n" and found["ok"] and whole(feet) is not None:
        fraction = rest[0]["text"] + "/" + rest[2]["text"] + " in"
        inches = [feet + " " + fraction, count * INCH + found["value"]]
        feet_too = [feet + " ft " + fraction, count * 12 * INCH + found["value"]]
        return asked_within("length_feet_or_inches", [inches, feet_too])
    return behind


def asked_within(code: str, choices: list, about: str = "") -> dict:
    """Ask back with those choices ([text, mm]) that can be lengths; refused if none can."""
    within = [each for each in choices if each[1] >= 0 and each[1] <= LONGEST]
    if len(within) == 0:
        return accepted(choices[0][1], "in")
    return ask_which(code, within, about)


def moved_by(found: dict, more: float, before: str, behind: str) -> dict:
    """The answer with `more` mm added, to the choices too if it asks back; texts put round them."""
    if found["ok"]:
        return accepted(found["value"] + more, found["unit"])
    if len(found["choices"]) == 0:
        return found
    choices = [[before + each["text"] + behind, each["value"] + more] for each in found["choices"]]
    return asked_within(found["code"], choices, found["about"])


def read_numbers(tokens: list, written: str, unit: str) -> dict:
    """What is left once the unit is taken off: a number, a fraction or both."""
    shape = shape_of(tokens)
    texts = [token["text"] for token in tokens if token["kind"] == "n"]
    if written == "foot_mark":
        return refused("length_feet_last")
    if shape == "n":
        return read_decimal(texts[0], written)
    if shape == "n/n":
        return read_fraction("", texts[0], texts[1], written, unit)
    if shape == "nn/n" or shape == "n-n/n":
        return read_fraction(texts[0], texts[1], texts[2], written, unit)
    if shape == "n+n/n" or shape == "n/n/n":
        return one_length(texts[0] + " " + texts[1] + "/" + texts[2] + " in")
    grouped = shape == "nn" and whole(texts[0]) is not None and whole(texts[1]) is not None
    if grouped and len(texts[1]) == 3 and written == "mm":
        return one_length(texts[0] + texts[1] + " mm")
    return refused_shape(shape)


def one_length(text: str) -> dict:
    """Ask whether numbers that stand apart are this one length."""
    found = read_tokens(tokens_of(text), "in")
    return ask_which("length_one", [[text, found["value"]]]) if found["ok"] else found


def refused_shape(shape: str) -> dict:
    """Why numbers and marks in this order are no length."""
    if shape == "n/n-n" or shape == "n-n/n-n" or shape == "nn/n-n":
        return refused("length_thread")
    if shape in ["n-n", "n/n-n/n", "nn/n-nn/n", "n-nn/n"]:
        return refused("length_range")
    if shape == "nn":
        return refused("length_two_numbers")
    if "u" in shape:
        return refused("length_unit_once")
    if shape.endswith("/"):
        return refused("length_half_a_fraction")
    return refused("length_unclear")


def refused_number(text: str) -> dict:
    """Why this run of digits, points and commas is no number."""
    return refused("length_comma" if "," in text else "length_not_a_number", text)


def read_decimal(text: str, written: str) -> dict:
    """A number without a fraction, in the unit it was written in."""
    if "," in text and written in METRIC:
        return read_comma(text, written)
    value = decimal(text)
    if value is None:
        return refused_number(text)
    if written == "in" and value * INCH > LONGEST and value <= LONGEST:
        return ask_which("length_too_long", [[text + " mm", value]])
    return accepted(value * IN_MM[written], "mm" if written in METRIC else "in")


def read_comma(text: str, written: str) -> dict:
    """A metric number with a comma: decimals, unless three digits could mean thousands."""
    parts = text.split(",")
    point = ".".join(parts)
    value = decimal(point)
    if value is None:
        return refused_number(text)
    if len(parts[1]) == 3 and len(parts[0]) > 0 and not parts[0].startswith("0"):
        thousands = float(parts[0] + parts[1])
        return asked_within(
            "length_comma_or_thousands",
            [
                [point + " " + written, value * IN_MM[written]],
                [parts[0] + parts[1] + " " + written, thousands * IN_MM[written]],
            ],
        )
    return accepted(value * IN_MM[written], "mm")


def read_fraction(before: str, above: str, below: str, written: str, unit: str) -> dict:
    """A fraction of an inch, with whole inches before it or none."""
    inches = whole(before) if len(before) > 0 else 0
    top = whole(above)
    bottom = whole(below)
    if inches is None or top is None or bottom is None:
        return refused("length_fraction_of_wholes")
    if bottom == 0:
        return refused("length_over_zero")
    if bottom not in DENOMINATORS:
        return refused("length_denominator", below)
    if (written in METRIC and unit != written) or written == "thou":
        return refused("length_fraction_unit", written)
    if written == "ft":
        return refused("length_feet_last")
    if len(before) > 0 and top >= bottom:
        return refused("length_fraction_too_large")
    value = (inches + top / bottom) * INCH
    split = split_fraction(above, bottom) if len(before) == 0 else None
    if split is not None:
        return asked_split(above, below, split, value)
    if written == "mm":
        shown = (before + " " if len(before) > 0 else "") + above + "/" + below + " in"
        choices = [[shown, value]]
        # Tapes are read to half a millimeter too.
        if bottom == 2:
            half = [str(inches) + ".5 mm", inches + 0.5]
            choices = [half] + choices if inches >= LONGEST_IN else choices + [half]
        return asked_within("length_is_it_inches", choices)
    return accepted(value, "in")


def split_fraction(above: str, bottom: int) -> list | None:
    """How flattened text such as 21/4 may have been meant, [whole, top], or None.

    Print and speech input lose the gap in 2 1/4. Tenths say the same either way.
    """
    if bottom == 10 or bottom == 100:
        return None
    for cut in range(1, len(above)):
        front = above[:cut]
        back = above[cut:]
        if back.startswith("0") or front.startswith("0"):
            continue
        if int(back) < bottom and int(above) > bottom:
            return [front, back]
    return None


def asked_split(above: str, below: str, split: list, value: float) -> dict:
    """Ask whether a blank is missing in a fraction larger than one, or it is that many parts."""
    meant = split[0] + " " + split[1] + "/" + below
    other = (int(split[0]) + int(split[1]) / int(below)) * INCH
    inches = math.floor(int(above) / int(below))
    rest = int(above) - inches * int(below)
    parts = str(inches) + (" " + str(rest) + "/" + below if rest > 0 else "")
    choices = [[meant + " in", other], [parts + " in", value]]
    return asked_within("length_split", choices, above + "/" + below)
