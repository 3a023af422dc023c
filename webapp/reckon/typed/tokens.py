"""Texts as people write them, cut into numbers, words and marks; and the answers to them.

A parser answers {ok: True, value, ...}, or {ok: False, code, about, choices}: the code of a
sentence in `sentences/typed_answers`, the piece of the text that it is about, and where the text
can be read in more than one way the readings to choose from, each written so that it reads as such.
Nothing that was typed is dropped: a parser uses every piece, or does not answer with a value.
"""

import math

DIGITS = "0123456789"
LETTERS = "abcdefghijklmnopqrstuvwxyz"
VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
ALIKE = {
    "⁄": "/", "∕": "/", "″": '"', "“": '"', "”": '"', "′": "'", "’": "'", "‘": "'",
    "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-",
    "\\": "/", "[": "(", "]": ")", "˚": "°", "∶": ":", "&": " and ",
    "≈": "",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "\n": " ", "\r": " ",
}  # fmt: skip
# Sixteenths have no character of their own: some keyboards write ⁷⁄₁₆.
SMALL_DIGITS = "⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉"
COUNTS = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
]  # fmt: skip
# Fractions in words: 8 and a half, three quarters, 3 eighths.
PARTS = {
    "half": "2", "halves": "2", "quarter": "4", "quarters": "4", "eighth": "8", "eighths": "8",
    "sixteenth": "16", "sixteenths": "16",
}  # fmt: skip
ORDINALS = ["ths", "th", "nds", "nd"]


def refused(code: str, about: str = "") -> dict:
    """The answer to a text that cannot be read: the code of why, and the piece it is about."""
    return {"ok": False, "code": code, "about": about, "choices": []}


def ask_which(code: str, choices: list, about: str = "") -> dict:
    """The answer to a text that can be read in more than one way: the readings to choose from."""
    offered: list = []
    for text, value in choices:
        offered.append({"text": text, "value": value})
    return {"ok": False, "code": code, "about": about, "choices": offered}


def plain(text: str) -> str:
    """The text in lowercase, with equivalent marks written one way."""
    result = ""
    before = ""
    for letter in text.lower():
        if letter in VULGAR:
            result = result + " " + VULGAR[letter] + " "
        elif letter in SMALL_DIGITS:
            at = SMALL_DIGITS.index(letter)
            gap = " " if is_digit(before) else ""
            result = result + gap + DIGITS[at - 10 * math.floor(at / 10)]
        else:
            result = result + ALIKE.get(letter, letter)
        before = letter
    return result.replace("''", '"').strip(" ")


def kind_of(letter: str) -> str:
    """What a single character may belong to: a number, a word, or itself."""
    if letter in "0123456789.,":
        return "n"
    if letter in "/-+ \"'()±:;%=":
        return letter
    return "w"


def pieces_of(text: str) -> list:
    """The text cut into runs of one kind; marks stand alone, spaces are dropped.

    A period belongs to the word before it, as in `ft.`, unless a digit follows.
    """
    pieces: list = []
    run = ""
    written = plain(text)
    for index, letter in enumerate(written):
        kind = kind_of(letter)
        if len(run) > 0 and (kind != kind_of(run[0]) or kind not in "nw"):
            behind = written[index + 1 : index + 2]
            stops = letter == "." and kind_of(run[0]) == "w" and not is_digit(behind)
            if not stops:
                pieces.append(run)
                run = ""
        run = run + letter
    # Two blanks in a row are a period and a blank on many phones.
    ends = len(run) > 1 and run.endswith(".") and kind_of(run[0]) == "n"
    pieces.append(run[: len(run) - 1] if ends else run)
    return [piece for piece in pieces if len(piece.strip(" ")) > 0]


def is_digit(text: str) -> bool:
    """Whether a text is one digit."""
    return len(text) == 1 and text in DIGITS


def is_number(piece: str) -> bool:
    """Whether a piece is a run of digits, points and commas."""
    return kind_of(piece[0]) == "n"


def decimal(text: str) -> float | None:
    """A number written with at most one point and some digit, or None."""
    digits = text.replace(".", "")
    if len(digits) == 0 or "," in text or len(text) - len(digits) > 1:
        return None
    return float(text)


def number_of(piece: str) -> float | None:
    """A number with a point or one comma, or None."""
    return decimal(piece.replace(",", ".")) if is_number(piece) else None


def whole(text: str) -> int | None:
    """A number of digits only, or None."""
    if len(text) == 0 or len(text) > 6:
        return None
    for letter in text:
        if letter not in DIGITS:
            return None
    return int(text)


def last_decimal(text: str) -> float:
    """What the last decimal of a number is worth: 0.1 in 4.5, 1.0 in 45."""
    digits = text.replace(",", ".").partition(".")[2]
    place = 1.0
    for letter in digits:
        if letter not in DIGITS:
            return place
        place = place / 10
    return place


def words_of(text: str) -> list:
    """The text in pieces, words without the period behind them and fractions as digits."""
    return with_fractions([each[: len(each) - 1] if ends_word(each) else each
                           for each in pieces_of(text)])  # fmt: skip


def ends_word(piece: str) -> bool:
    """Whether a piece is a word with a period behind it, as in `deg.`."""
    return len(piece) > 1 and piece.endswith(".") and not is_number(piece)


def with_fractions(pieces: list) -> list:
    """The pieces with fractions and counts in words written in digits.

    8 and a half, half an inch, three quarters, 7/16ths, 7 16ths, 14 and 3/8, eleven.
    """
    found: list = []
    skipping = False
    for index, piece in enumerate(pieces):
        if skipping and piece in ["of", "a", "an"] and index + 1 < len(pieces):
            continue
        skipping = piece in PARTS
        if piece in PARTS:
            put_part(found, PARTS[piece], piece.endswith("s"))
        elif piece in ORDINALS and ends_fraction(found):
            skipping = True
        else:
            found.append(piece)
    return without_and([counted(each) for each in found])


def counted(piece: str) -> str:
    """A count in words as digits; any other piece as it is."""
    return str(COUNTS.index(piece)) if piece in COUNTS else piece


def put_part(found: list, below: str, many: bool) -> None:
    """Put a fraction in words behind the pieces before it, which may say how many parts."""
    count = whole(counted(found[len(found) - 1])) if len(found) > 0 else None
    # Three quarter turns are three quarters of one; eight half is 8 1/2.
    if count is not None and (many or count < int(below)):
        found[len(found) - 1] = str(count)
        found.extend(["/", below])
        return
    if len(found) > 0 and found[len(found) - 1] == "a":
        found.pop()
    found.extend(["1", "/", below])


def is_whole(found: list) -> bool:
    """Whether the last piece is a whole number."""
    return whole(found[len(found) - 1]) is not None


def ends_fraction(found: list) -> bool:
    """Whether the last piece is the lower number of a fraction; 7 16(ths) gets its slash."""
    if len(found) < 2 or not is_whole(found):
        return False
    before = found[len(found) - 2]
    if whole(before) is not None:
        found.insert(len(found) - 1, "/")
        return True
    return before == "/"


def without_and(found: list) -> list:
    """The pieces without the `and` between a whole number and its fraction."""
    result: list = []
    for index, piece in enumerate(found):
        joins = piece == "and" and index > 0 and index + 3 < len(found)
        if joins and whole(found[index - 1]) is not None and found[index + 2] == "/":
            if whole(found[index + 1]) is not None and whole(found[index + 3]) is not None:
                continue
        result.append(piece)
    return result


def count_of(pieces: list) -> float | None:
    """The number that the pieces write, such as 3, 1/2, 3 1/2 or 3-1/2; None where they do not."""
    if len(pieces) == 1:
        return number_of(pieces[0])
    if len(pieces) < 3 or pieces[len(pieces) - 2] != "/":
        return None
    top = whole(pieces[len(pieces) - 3])
    bottom = whole(pieces[len(pieces) - 1])
    before = pieces[: len(pieces) - 3]
    if len(before) == 2 and before[1] == "-":
        before = before[:1]
    if top is None or bottom is None or bottom == 0 or len(before) > 1:
        return None
    if len(before) == 0:
        return top / bottom
    inches = whole(before[0])
    return inches + top / bottom if inches is not None and top < bottom else None
