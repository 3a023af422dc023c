"""Lengths as people write them, and as the screens show them.

Inside everything is millimetres; inches and fractions exist only here. What can be read in two
ways is asked back with the choices, what cannot be a length is refused with a sentence.
"""

import math

from .numbers import THIN, fixed, near_half_up, trimmed

INCH = 25.4
LONGEST = 20000.0
DENOMINATORS = [2, 4, 8, 16, 32, 64, 128, 10, 100]
VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
ALIKE = {
    "⁄": "/", "∕": "/", "″": '"', "“": '"', "”": '"', "′": "'", "’": "'", "‘": "'",
    "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "\n": " ", "\r": " ",
}  # fmt: skip
UNITS = {
    "mm": "mm", "cm": "cm", "m": "m", "in": "in", "in.": "in", "inch": "in", "inches": "in",
    '"': "in", "'": "foot mark", "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
}  # fmt: skip
IN_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH, "ft": 12 * INCH}
HALVES = {"+": 1, "strong": 1, "-": -1, "shy": -1}


def refused(says: str) -> dict:
    """The answer to a text that is no length: why, and what to do."""
    return {"ok": False, "says": says, "choices": []}


def asked(says: str, choices: list) -> dict:
    """The answer to a text that can be read in more than one way: the readings to choose from."""
    offered: list = []
    for text, value in choices:
        offered.append({"text": text, "value": value})
    return {"ok": False, "says": says, "choices": offered}


def accepted(value: float, unit: str) -> dict:
    """The answer to a text that is a length: its value in mm and the unit it was written in."""
    if value < 0:
        return refused("A length is never below zero.")
    if value > LONGEST:
        return refused("That is longer than any vehicle. Check the number and the unit.")
    return {"ok": True, "value": value, "unit": unit}


def parse_length(text: str, unit: str, read_to: float | None = None) -> dict:
    """A length as written, in mm: {ok, value, unit}, or {ok: False, says, choices}.

    Bare numbers take `unit` ("in" or "mm"). `read_to` (mm) is what the tape is read to; half of
    it is added for a trailing `+` or "strong" and taken off for `-` or "shy".
    """
    tokens = tokens_of(text)
    if len(tokens) == 0:
        return refused("Nothing was entered. Write a length such as 14 3/8 or 365 mm.")
    if tokens[0]["kind"] == "-" or tokens[0]["kind"] == "+":
        return refused("A length has no sign. Say which side is larger instead.")
    half = 0
    last = tokens[len(tokens) - 1]
    if last["text"] in HALVES and len(tokens) > 1:
        half = HALVES[last["text"]]
        tokens = tokens[: len(tokens) - 1]
    elif last["kind"] == "unit" and len(tokens) > 2 and tokens[len(tokens) - 2]["text"] in HALVES:
        half = HALVES[tokens[len(tokens) - 2]["text"]]
        tokens = tokens[: len(tokens) - 2] + [last]
    found = read_tokens(tokens, unit)
    if not found["ok"] or half == 0:
        return found
    step = read_to if read_to is not None else usual_step(found["unit"])
    return accepted(found["value"] + half * step / 2, found["unit"])


def usual_step(unit: str) -> float:
    """What a tape in this unit is usually read to, in mm."""
    return INCH / 16 if unit == "in" else 1.0


def plain(text: str) -> str:
    """The text in small letters, with every mark that means the same written the same."""
    result = ""
    for letter in text.lower():
        if letter in VULGAR:
            result = result + " " + VULGAR[letter] + " "
        else:
            result = result + ALIKE.get(letter, letter)
    return result.replace("''", '"').strip(" ")


def kind_of(letter: str) -> str:
    """What a single character may belong to: a number, a word, or itself."""
    if letter in "0123456789.,":
        return "n"
    if letter in "/-+ \"'":
        return letter
    return "w"


def pieces_of(text: str) -> list:
    """The text cut into runs of one kind; marks stand alone, blanks fall out."""
    pieces: list = []
    run = ""
    for letter in plain(text):
        kind = kind_of(letter)
        if len(run) > 0 and (kind != kind_of(run[0]) or kind not in "nw"):
            if not (letter == "." and kind_of(run[0]) == "w"):
                pieces.append(run)
                run = ""
        run = run + letter
    pieces.append(run)
    return [piece for piece in pieces if len(piece.strip(" ")) > 0]


def tokens_of(text: str) -> list:
    """The text as tokens {kind, text}: n number, unit, w word, and the marks / - +."""
    tokens: list = []
    for piece in pieces_of(text):
        kind = kind_of(piece[0])
        if piece in UNITS:
            kind = "unit"
        tokens.append({"kind": kind, "text": piece})
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
        return asked(
            "Is that feet or inches?",
            [[feet + " ft", count * 12 * INCH], [feet + " in", count * INCH]],
        )
    rest = read_tokens(tokens[2:], "in")
    if not rest["ok"]:
        return rest
    if rest["unit"] != "in":
        return refused("Feet go with inches. Write all of it in mm, or all in feet and inches.")
    return accepted(count * 12 * INCH + rest["value"], "in")


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
        return refused("That is a thread (size and pitch). Enter a length such as 3/4.")
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
        return asked(
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
    if written == "mm":
        shown = (before + " " if len(before) > 0 else "") + above + "/" + below + " in"
        return asked("Fractions go with inches. Is it inches?", [[shown, value]])
    split = split_fraction(above, bottom) if len(before) == 0 else None
    if split is not None:
        return asked_split(above, below, split, value)
    return accepted(value, "in")


def split_fraction(above: str, bottom: int) -> list | None:
    """How flattened text such as 21/4 may have been meant, [whole, top], or None.

    Print and speech input lose the gap in 2 1/4.
    """
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
    return asked(
        "Is that " + meant + " or " + above + "/" + below + "?",
        [[meant + " in", other], [above + "/" + below + " in", value]],
    )


def inches_of(mm: float, per_inch: int) -> dict:
    """The nearest mark of an inch tape: {whole, top, bottom, exact}, in lowest terms."""
    marks = near_half_up(mm / INCH * per_inch)
    inches = math.floor(marks / per_inch)
    top = marks - inches * per_inch
    bottom = per_inch
    while top > 0 and top - 2 * math.floor(top / 2) == 0:
        top = math.floor(top / 2)
        bottom = math.floor(bottom / 2)
    exact = abs(mm - marks * INCH / per_inch) < 1e-6
    return {"whole": inches, "top": top, "bottom": bottom, "exact": exact}


def show_inches(mm: float) -> str:
    """A length of zero or more in inches to the nearest 1/32, with ≈ when that rounds it."""
    mark = inches_of(mm, 32)
    text = str(mark["whole"])
    if mark["top"] > 0:
        fraction = str(mark["top"]) + "/" + str(mark["bottom"])
        text = fraction if mark["whole"] == 0 else text + " " + fraction
    text = text + THIN + "in"
    return text if mark["exact"] else "≈" + THIN + text


def show_length(mm: float, unit: str) -> str:
    """A length of zero or more as it stands on a screen, in the unit in use."""
    return show_inches(mm) if unit == "in" else show_mm(mm)


def show_mm(mm: float) -> str:
    """A length in millimetres, to 0.1 mm."""
    return fixed(mm, 1) + THIN + "mm"


def show_limit(mm: float, unit: str) -> str:
    """A limit as people say it: no decimals that say nothing."""
    if unit == "in":
        return show_inches(mm) + " (" + trimmed(mm, 2) + THIN + "mm)"
    return trimmed(mm, 2) + THIN + "mm"


def show_amount(mm: float, unit: str) -> str:
    """A reckoned length of zero or more: in inches with the millimetres behind it."""
    if unit != "in" or mm < 0.05:
        return show_mm(mm)
    if near_half_up(mm / INCH * 32) == 0:
        return "less than 1/32" + THIN + "in (" + show_mm(mm) + ")"
    return show_inches(mm) + " (" + show_mm(mm) + ")"


def show_step(mm: float) -> str:
    """What a tape is read to: a mark of an inch tape as such, anything else in mm."""
    mark = inches_of(mm, 64)
    if mark["exact"] and mark["top"] == 1:
        return "1/" + str(mark["bottom"]) + THIN + "in"
    return trimmed(mm, 2) + THIN + "mm"
