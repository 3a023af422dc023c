"""What the numbers, marks and units of a written length say, in mm.

Inches and fractions exist only here and where lengths are shown.
"""

from .tokens import asked, kind_of, pieces_of, refused

INCH = 25.4
LONGEST = 20000.0
DENOMINATORS = [2, 4, 8, 16, 32, 64, 128, 10, 100]
UNITS = {
    "mm": "mm", "cm": "cm", "m": "m", "in": "in", "inch": "in", "inches": "in",
    '"': "in", "'": "foot mark", "ft": "ft", "foot": "ft", "feet": "ft",
    "millimeter": "mm", "millimeters": "mm",
}  # fmt: skip
IN_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH, "ft": 12 * INCH}
HALVES = {"+": 1, "strong": 1, "-": -1, "shy": -1}


def accepted(value: float, unit: str) -> dict:
    """The answer to a text that is a length: its value in mm and the unit it was written in."""
    if value < 0:
        return refused("A length is never below zero.")
    if value > LONGEST:
        return refused("That is longer than any vehicle. Check the number and the unit.")
    return {"ok": True, "value": value, "unit": unit}


def tokens_of(text: str) -> list:
    """The text as tokens {kind, text}: n number, unit, w word, and the marks / - +."""
    tokens: list = []
    for piece in pieces_of(text):
        bare = piece[: len(piece) - 1] if piece.endswith(".") else piece
        if bare in UNITS:
            tokens.append({"kind": "unit", "text": bare})
        else:
            tokens.append({"kind": kind_of(piece[0]), "text": piece})
    return tokens


def read_tokens(tokens: list, unit: str) -> dict:
    """The length that the tokens write, its half graduation already taken off."""
    for token in tokens:
        if token["kind"] == "w":
            return refused_word(token["text"])
    feet = leading_feet(tokens)
    if feet is not None:
        return read_feet(tokens, feet)
    written = unit
    last = tokens[len(tokens) - 1]
    if last["kind"] == "unit":
        written = UNITS[last["text"]]
        tokens = tokens[: len(tokens) - 1]
    return read_numbers(tokens, written, unit)


def refused_word(word: str) -> dict:
    """Why a text with this word in it is no length."""
    if word == "to":
        return refused("That is a range. Enter one reading at a time.")
    if word == "°" or word == "deg":
        return refused("That is an angle. A length is wanted here.")
    if word in HALVES:
        return refused("Write the number first, then strong or shy.")
    return refused("“" + word + "” is not part of a length. Write it such as 14 3/8 or 365 mm.")


def leading_feet(tokens: list) -> str | None:
    """The number of feet that the tokens begin with, as text, or None."""
    if len(tokens) < 2 or tokens[0]["kind"] != "n" or tokens[1]["kind"] != "unit":
        return None
    return tokens[0]["text"] if UNITS[tokens[1]["text"]] in ["ft", "foot mark"] else None


def read_feet(tokens: list, feet: str) -> dict:
    """Feet, and the inches behind them."""
    count = decimal(feet)
    if count is None:
        return refused_number(feet)
    if len(tokens) == 2:
        if UNITS[tokens[1]["text"]] == "ft":
            return accepted(count * 12 * INCH, "in")
        return asked_within(
            "Is that feet or inches?",
            [[feet + " ft", count * 12 * INCH], [feet + " in", count * INCH]],
        )
    # People write 1'-2 3/8" with a dash behind the feet.
    rest = tokens[3:] if tokens[2]["kind"] == "-" and len(tokens) > 3 else tokens[2:]
    if leading_feet(rest) is not None:
        return refused("Write the feet once, then the inches.")
    found = read_tokens(rest, "in")
    if found["ok"] and found["unit"] != "in":
        return refused("Feet go with inches. Write all of it in mm, or all in feet and inches.")
    return moved_by(found, count * 12 * INCH, feet + " ft ", "")


def asked_within(says: str, choices: list) -> dict:
    """Ask back with those choices ([text, mm]) that can be lengths; refused if none can."""
    within = [each for each in choices if each[1] >= 0 and each[1] <= LONGEST]
    if len(within) == 0:
        return accepted(choices[0][1], "in")
    return asked(says, within)


def moved_by(found: dict, more: float, before: str, behind: str) -> dict:
    """The answer with `more` mm added, to the choices too if it asks back; texts put round them."""
    if found["ok"]:
        return accepted(found["value"] + more, found["unit"])
    if len(found["choices"]) == 0:
        return found
    choices = [[before + each["text"] + behind, each["value"] + more] for each in found["choices"]]
    return asked_within(found["says"], choices)


def read_numbers(tokens: list, written: str, unit: str) -> dict:
    """What is left once the unit is taken off: a number, a fraction or both."""
    shape = "".join([token["kind"] for token in tokens])
    texts = [token["text"] for token in tokens if token["kind"] == "n"]
    if shape == "n":
        return read_decimal(texts[0], written)
    if shape == "n/n":
        return read_fraction("", texts[0], texts[1], written, unit)
    if shape == "nn/n" or shape == "n-n/n":
        return read_fraction(texts[0], texts[1], texts[2], written, unit)
    return refused_shape(shape)


def refused_shape(shape: str) -> dict:
    """Why numbers and marks in this order are no length."""
    if shape == "n/n-n" or shape == "n-n/n-n" or shape == "nn/n-n":
        return refused(
            "That is a thread (size and pitch) or a range. Enter one length such as 3/4."
        )
    if shape == "n-n" or shape == "n/n-n/n" or shape == "nn/n-nn/n" or shape == "n-nn/n":
        return refused("That is a range. Enter one reading at a time.")
    if shape == "nn":
        return refused(
            "Two numbers with nothing between them. Write a fraction with /, as in 8 7/16."
        )
    if "unit" in shape:
        return refused("The unit goes at the end, once.")
    if shape.endswith("/"):
        return refused("The fraction has no lower number. Write it such as 7/16.")
    return refused("That cannot be read as one length. Write it such as 14 3/8 or 365 mm.")


def decimal(text: str) -> float | None:
    """A number written with at most one point and some digit, or None."""
    digits = text.replace(".", "")
    if len(digits) == 0 or "," in text or len(text) - len(digits) > 1:
        return None
    return float(text)


def refused_number(text: str) -> dict:
    """Why this run of digits, points and commas is no number."""
    if "," in text:
        return refused("A comma can't be read here. Write the decimals with a point.")
    return refused("“" + text + "” is not a number. Write it such as 14.375.")


def read_decimal(text: str, written: str) -> dict:
    """A number without a fraction, in the unit it was written in."""
    if "," in text and written in ["mm", "cm", "m"]:
        return read_comma(text, written)
    value = decimal(text)
    if value is None:
        return refused_number(text)
    if written == "in":
        return accepted(value * INCH, "in")
    return accepted(value * IN_MM[written], "mm")


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
            "Does the comma stand before decimals or thousands?",
            [
                [point + " " + written, value * IN_MM[written]],
                [parts[0] + parts[1] + " " + written, thousands * IN_MM[written]],
            ],
        )
    return accepted(value * IN_MM[written], "mm")


def whole(text: str) -> int | None:
    """A number of digits only, or None."""
    if len(text) == 0 or len(text) > 6:
        return None
    for letter in text:
        if letter not in "0123456789":
            return None
    return int(text)


def read_fraction(before: str, above: str, below: str, written: str, unit: str) -> dict:
    """A fraction of an inch, with whole inches before it or none."""
    inches = whole(before) if len(before) > 0 else 0
    top = whole(above)
    bottom = whole(below)
    if inches is None or top is None or bottom is None:
        return refused("A fraction is written with whole numbers, as in 8 7/16.")
    if bottom == 0:
        return refused("A fraction can't have 0 below the line.")
    if bottom not in DENOMINATORS:
        return refused("No tape is divided into " + below + " parts. Write 16ths or 32nds.")
    if written in ["mm", "cm", "m"] and unit != written:
        return refused("Fractions go with inches. Write decimals with " + written + ".")
    if len(before) > 0 and top >= bottom:
        return refused("The fraction is a whole inch or more. Write it as in 8 7/16.")
    value = (inches + top / bottom) * INCH
    split = split_fraction(above, bottom) if len(before) == 0 else None
    if split is not None:
        return asked_split(above, below, split, value)
    if written == "mm":
        shown = (before + " " if len(before) > 0 else "") + above + "/" + below + " in"
        return asked_within("Fractions go with inches. Is it inches?", [[shown, value]])
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
    """Ask whether a blank is missing in a fraction larger than one."""
    meant = split[0] + " " + split[1] + "/" + below
    other = (int(split[0]) + int(split[1]) / int(below)) * INCH
    return asked_within(
        "Is that " + meant + " or " + above + "/" + below + "?",
        [[meant + " in", other], [above + "/" + below + " in", value]],
    )
