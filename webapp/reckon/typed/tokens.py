"""Texts as people write them, cut into numbers, words and marks; and the answers to them.

A parser answers {ok: True, value, ...}, or {ok: False, says, choices}: a sentence, and where the
text can be read in more than one way the readings to choose from.
"""

VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
ALIKE = {
    "⁄": "/", "∕": "/", "″": '"', "“": '"', "”": '"', "′": "'", "’": "'", "‘": "'",
    "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "\n": " ", "\r": " ",
}  # fmt: skip


def refused(says: str) -> dict:
    """The answer to a text that is no length: why, and what to do."""
    return {"ok": False, "says": says, "choices": []}


def asked(says: str, choices: list) -> dict:
    """The answer to a text that can be read in more than one way: the readings to choose from."""
    offered: list = []
    for text, value in choices:
        offered.append({"text": text, "value": value})
    return {"ok": False, "says": says, "choices": offered}


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
