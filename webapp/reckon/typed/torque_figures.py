"""Torque figures as people write them: value, unit, tolerance, further angle, a printed pair.

A text is read as terms, numbers with what stands behind them and the marks between, and each term
finds its place in the figure or is asked back.
"""

from ..numbers import trimmed
from .tokens import (
    DIGITS,
    LETTERS,
    ask_which,
    count_of,
    ends_word,
    is_number,
    number_of,
    pieces_of,
    refused,
    with_fractions,
)

# The letters of a unit alone, blanks and marks left out.
SPELLINGS = {
    "nm": "N·m", "newtonmeter": "N·m", "newtonmeters": "N·m", "danm": "N·m",
    "ftlb": "lb-ft", "ftlbs": "lb-ft", "ftlbf": "lb-ft",
    "lbft": "lb-ft", "lbsft": "lb-ft", "lbfft": "lb-ft", "footpound": "lb-ft",
    "footpounds": "lb-ft", "ftpound": "lb-ft", "ftpounds": "lb-ft", "poundfoot": "lb-ft",
    "poundfeet": "lb-ft", "inlb": "lb-in", "inlbs": "lb-in", "inlbf": "lb-in",
    "lbin": "lb-in", "lbsin": "lb-in", "lbfin": "lb-in",
    "inchpound": "lb-in", "inchpounds": "lb-in", "inpound": "lb-in", "inpounds": "lb-in",
    "kgfm": "kgf·m", "kgm": "kgf·m", "mkg": "kgf·m", "mkgf": "kgf·m", "kpm": "kgf·m",
}  # fmt: skip
TIMES = {"danm": 10.0}
# A weight alone is no torque: which arm was meant is asked back.
WEIGHTS = {
    "lb": ["lb-ft", "lb-in"], "lbs": ["lb-ft", "lb-in"], "lbf": ["lb-ft", "lb-in"],
    "pound": ["lb-ft", "lb-in"], "pounds": ["lb-ft", "lb-in"],
    "kg": ["kgf·m"], "kgf": ["kgf·m"], "kp": ["kgf·m"],
}  # fmt: skip
DEGREES = {
    "°": 1.0, "º": 1.0, "*": 1.0, "deg": 1.0, "degs": 1.0, "degree": 1.0, "degrees": 1.0,
    "turn": 360.0, "turns": 360.0, "flat": 60.0, "flats": 60.0,
}  # fmt: skip
JOINS = ["·", "•", "⋅", "∙", ".", "-", "*", "/"]
MARKS = {"to": "-", "or": "="}
FURTHER = ["then", "and", "plus", "+", ","]
MOST_NM = 3000.0
MOST_DEG = 720.0
UNITS_IN_NM = {
    "N·m": 1.0,
    "lb-ft": 1.3558179483,
    "lb-in": 1.3558179483 / 12,
    "kgf·m": 9.80665,
}
# How far two printed figures of one torque may lie apart, as a fraction.
PAIR_ROOM = 0.03


def in_nm(value: float, unit: str) -> float:
    """A torque in newton meters."""
    return value * UNITS_IN_NM[unit]


def out_of_nm(value: float, unit: str) -> float:
    """A torque in newton meters in another unit."""
    return value / UNITS_IN_NM[unit]


def pair_check(value: float, unit: str, also: float, also_unit: str) -> dict:
    """Whether two printed figures agree within 3 %: {state, apart}, apart as a fraction."""
    first = in_nm(value, unit)
    second = in_nm(also, also_unit)
    apart = abs(first - second) / max(first, second)
    return {"state": "agrees" if apart <= PAIR_ROOM else "differs", "apart": apart}


def parse_torque(text: str, unit: str | None) -> dict:
    """A torque as written: {ok, value, unit, tolerance, then_deg, also, pair, ...}, or why not.

    `value`, `tolerance` and `also`, the second of a printed pair, are in N·m; `pair` is `single`,
    `agrees` or `differs`; `also_unit` and `also_figure` are the second as printed. Bare numbers
    take `unit`, and are asked back without one.
    """
    terms = terms_of(text)
    if len(terms) == 0:
        return refused("torque_empty")
    if terms[0]["sort"] == "mark" or terms[0]["sort"] == "unknown":
        return refused("torque_no_number")
    for term in terms:
        if term["sort"] == "unknown":
            return refused("torque_word", term["text"])
        if term["sort"] != "mark" and term["number"] is None:
            return refused("torque_not_a_number", term["text"])
    for term in terms:
        if has_thousands(term):
            return asked_thousands(text, term, unit)
        if term["sort"] == "weight":
            return asked_weight(terms, term, unit)
    return figure_of(terms, unit)


def terms_of(text: str) -> list:
    """The text as terms {sort, text, number, unit}.

    A number is a `torque` with its unit, `bare` without, an `angle`, a `percent` or a `weight`;
    what stands between numbers is a `mark`, what means nothing here is `unknown`.
    """
    pieces = torque_pieces(text)
    terms: list = []
    at = 0
    while at < len(pieces):
        size = number_size(pieces, at)
        if size == 0:
            terms.append(mark_of(pieces[at]))
            at = at + 1
        else:
            term = number_term(pieces[at : at + size])
            at = at + size
            at = at + put_unit(term, pieces[at:])
            terms.append(term)
    return terms


def torque_pieces(text: str) -> list:
    """The text in pieces: runs of letters, numbers and single marks; ± as one mark."""
    pieces: list = []
    # 65 ft# is in pounds.
    written = text.replace("+/-", "±").replace("+-", "±").replace("#", " lb ")
    for piece in pieces_of(written):
        if is_number(piece):
            pieces.extend(number_pieces(piece))
        else:
            pieces.extend(letter_runs(piece[: len(piece) - 1] if ends_word(piece) else piece))
    return with_fractions(pieces)


def number_pieces(piece: str) -> list:
    """A number, and a comma behind it as a mark of its own; a period behind it says nothing."""
    last = piece[len(piece) - 1]
    if len(piece) == 1 or last in DIGITS:
        return [piece]
    return [piece[: len(piece) - 1], ","] if last == "," else [piece[: len(piece) - 1]]


def letter_runs(piece: str) -> list:
    """A piece cut into runs of letters and single marks."""
    runs: list = []
    run = ""
    for letter in piece:
        if letter not in LETTERS:
            runs.extend([run, letter])
            run = ""
        else:
            run = run + letter
    runs.append(run)
    return [each for each in runs if len(each) > 0]


def number_size(pieces: list, at: int) -> int:
    """How many pieces from here write one number: 90, 3/4, 1 1/2 or 1-1/2; 0 for none."""
    for size in [5, 4, 3]:
        here = pieces[at : at + size]
        if len(here) == size and here[size - 2] == "/" and count_of(here) is not None:
            return size
    digit = is_number(pieces[at]) and pieces[at] != ","
    return 1 if digit else 0


def number_term(pieces: list) -> dict:
    """The term of a number without what stands behind it."""
    text = " ".join([each for each in pieces if each != "-"]).replace(" / ", "/")
    return {
        "sort": "bare",
        "text": text,
        "number": number_of(pieces[0]) if len(pieces) == 1 else count_of(pieces),
        "unit": None,
        "typed": text,
        "fraction": len(pieces) == 3,
    }


def mark_of(piece: str) -> dict:
    """The term of what is no number."""
    mark = MARKS.get(piece, piece)
    known = mark in FURTHER or mark in ["±", "/", "-", "(", ")", "="]
    return {"sort": "mark" if known else "unknown", "text": mark, "unit": None}


def put_unit(term: dict, behind: list) -> int:
    """Give a number the unit behind it; how many pieces that took."""
    if len(behind) == 0:
        return 0
    found = longest_unit(behind)
    if found[1] > 0:
        term["sort"] = "torque"
        term["unit"] = SPELLINGS[found[0]]
        times = TIMES.get(found[0], 1.0)
        if times != 1.0 and term["number"] is not None:
            term["number"] = term["number"] * times
            term["text"] = trimmed(term["number"], 4)
        return found[1]
    if behind[0] == "%":
        term["sort"] = "percent"
        return 1
    if behind[0] in WEIGHTS:
        term["sort"] = "weight"
        term["unit"] = behind[0]
        return 1
    if behind[0] in DEGREES:
        term["sort"] = "angle"
        if term["number"] is not None:
            term["number"] = term["number"] * DEGREES[behind[0]]
        return 1
    return 0


def longest_unit(pieces: list) -> list:
    """The longest unit of torque that the pieces begin with, [letters, how many pieces]."""
    letters = ""
    best: list = ["", 0]
    for index, piece in enumerate(pieces[:6]):
        if piece[0] in LETTERS:
            letters = letters + piece
            if letters in SPELLINGS:
                best = [letters, index + 1]
        elif index == 0 or piece not in JOINS:
            return best
    return best


def has_thousands(term: dict) -> bool:
    """Whether a number has one point or comma with three digits behind it: 1.200 may be 1200."""
    if term["sort"] not in ["bare", "torque", "weight"]:
        return False
    parts = term["typed"].replace(",", ".").split(".")
    return len(parts) == 2 and len(parts[1]) == 3 and parts[0].strip("0") != ""


def asked_thousands(text: str, term: dict, unit: str | None) -> dict:
    """Ask whether the point or comma stands before decimals or thousands."""
    typed = term["typed"]
    parts = typed.replace(",", ".").split(".")
    decimals = trimmed(float(".".join(parts)), 3)
    if len(decimals.partition(".")[2]) == 3:
        decimals = decimals + "0"
    again: list = []
    for number in [decimals, "".join(parts)]:
        written = text.replace(typed, number)
        again.append(written)
        again.extend([written + " " + each for each in usual_units(unit)])
    return asked_texts("torque_thousands", again, unit, "torque_not_a_number", typed)


def asked_weight(terms: list, term: dict, unit: str | None) -> dict:
    """Ask which torque a weight alone stands for."""
    again: list = []
    for meant in WEIGHTS[term["unit"]]:
        texts: list = []
        for each in terms:
            weight = each["sort"] == "weight"
            texts.append(each["text"] + " " + meant if weight else written_term(each))
        again.append(" ".join(texts))
    return asked_texts("torque_weight", again, unit, "torque_word", term["unit"])


def written_term(term: dict) -> str:
    """A term as text that reads as the same."""
    if term["sort"] == "angle":
        return trimmed(term["number"], 4) + "°"
    if term["sort"] == "percent":
        return term["text"] + " %"
    if term["unit"] is not None:
        return term["text"] + " " + term["unit"]
    return term["text"]


def asked_texts(code: str, texts: list, unit: str | None, otherwise: str, about: str) -> dict:
    """Ask back with those texts that read as a torque; refused by the other code if none does."""
    choices: list = []
    for text in texts:
        found = parse_torque(text, unit)
        if found["ok"] and text not in [choice[0] for choice in choices]:
            choices.append([text, found["value"]])
    return ask_which(code, choices, about) if len(choices) > 0 else refused(otherwise, about)


def figure_of(terms: list, unit: str | None) -> dict:
    """The figure that the terms write, each of them used; or what is asked back or refused."""
    first = terms[0]
    if first["sort"] != "torque" and first["sort"] != "bare":
        return refused("torque_no_number")
    if first["fraction"]:
        return asked_numbers("torque_fraction", terms, unit)
    parts: dict = {"tolerance": None, "further": None, "also": None}
    for pair in behind_marks(terms[1:]):
        if pair["term"] is None:
            return refused("torque_ends_early", pair["mark"])
        wrong = put_part_of(parts, first, pair["mark"], pair["term"])
        if wrong is not None:
            return answer_of(wrong, pair["mark"], terms, unit)
        if pair["mark"] == "(" and not pair["closed"]:
            return refused("torque_bracket")
    return with_unit(first, parts, unit)


def behind_marks(terms: list) -> list:
    """The terms behind a figure, each with the mark before it: {mark, term, closed}.

    A mark where a number should be is a term too; at the end it is one without any.
    """
    found: list = []
    mark = ""
    for term in terms:
        text = term["text"]
        closes = (
            text == ")" and mark == "" and len(found) > 0 and found[len(found) - 1]["mark"] == "("
        )
        if term["sort"] != "mark":
            found.append({"mark": mark, "term": term, "closed": False})
            mark = ""
        elif closes and not found[len(found) - 1]["closed"]:
            found[len(found) - 1]["closed"] = True
        elif mark == "" or (mark in FURTHER and text in FURTHER):
            mark = text
        else:
            found.append({"mark": mark, "term": term, "closed": False})
            mark = ""
    if mark != "":
        found.append({"mark": mark, "term": None, "closed": False})
    return found


def put_part_of(parts: dict, first: dict, mark: str, term: dict) -> str | None:
    """Put a term where it belongs in the figure; the code of why it belongs nowhere, or None."""
    sort = term["sort"]
    if sort == "mark":
        return "torque_sign"
    if mark == "±":
        return put_tolerance(parts, term)
    if mark == "-":
        return "torque_range" if sort in ["bare", "torque"] else "torque_further"
    if sort == "angle" or (sort == "bare" and mark == "then" and not term["fraction"]):
        if mark in ["(", "=", ")"]:
            return "torque_leftover"
        if parts["further"] is not None:
            return "torque_two_angles"
        parts["further"] = term["number"]
        return None
    if sort == "torque" and mark in ["", "(", "/", "="] and parts["also"] is None:
        if first["unit"] is not None or mark in ["(", "="]:
            if not term["fraction"]:
                parts["also"] = term
                return None
    return "torque_leftover"


def put_tolerance(parts: dict, term: dict) -> str | None:
    """Put a tolerance into the figure; the code of why it cannot be, or None."""
    if parts["tolerance"] is not None:
        return "torque_two_tolerances"
    if parts["further"] is not None or parts["also"] is not None or term["sort"] == "angle":
        return "torque_leftover"
    parts["tolerance"] = term
    return None


def answer_of(code: str, mark: str, terms: list, unit: str | None) -> dict:
    """The answer to a figure in which a term is left over: asked back where there is a choice."""
    if code == "torque_range":
        return asked_numbers("torque_range", terms, unit)
    if code == "torque_leftover" or code == "torque_further":
        return asked_numbers("torque_further" if may_be_angle(terms) else code, terms, unit)
    return refused(code, mark)


def may_be_angle(terms: list) -> bool:
    """Whether the text is a torque and one bare number behind it, which may be an angle."""
    first = terms[0]
    last = terms[len(terms) - 1]
    if len(numbers_in(terms)) != 2 or last["sort"] not in ["bare", "angle"]:
        return False
    return first["sort"] == "torque" or last["sort"] == "angle" or terms[1]["text"] == "+"


def numbers_in(terms: list) -> list:
    """The terms that are numbers."""
    return [each for each in terms if each["sort"] != "mark"]


def asked_numbers(code: str, terms: list, unit: str | None) -> dict:
    """Ask which of the numbers is meant, or which reading of two that belong together."""
    written = [term["unit"] for term in terms if term["sort"] == "torque"]
    units = written[:1] if len(written) > 0 else usual_units(unit)
    numbers = numbers_in(terms)
    again: list = []
    for each in units:
        own = [written_in(one, each) for one in numbers if one["sort"] in ["bare", "torque"]]
        if len(numbers) == 2 and len(terms) <= 3:
            again.extend(together(code, terms, numbers, each))
        if code == "torque_fraction" and len(numbers) == 1:
            again.append(trimmed(numbers[0]["number"], 4) + " " + each)
            own = [part + " " + each for part in numbers[0]["text"].split("/")]
        again.extend(own)
    about = numbers[len(numbers) - 1]["text"]
    return asked_texts(code, again, unit, "torque_left_over_digits", about)


def usual_units(unit: str | None) -> list:
    """The unit in use, or the two that a figure may be in where none is."""
    return [unit] if unit is not None else ["N·m", "lb-ft"]


def written_in(term: dict, unit: str) -> str:
    """A number with its own unit or this one."""
    return term["text"] + " " + (term["unit"] or unit)


def together(code: str, terms: list, numbers: list, unit: str) -> list:
    """The texts that two numbers may have been meant as together."""
    first = numbers[0]
    second = numbers[1]
    if code == "torque_range" and first["unit"] in [None, second["unit"]]:
        low = min(first["number"], second["number"])
        high = max(first["number"], second["number"])
        middle = trimmed((low + high) / 2, 4) + " ± " + trimmed((high - low) / 2, 4)
        return [middle + " " + (second["unit"] or unit)]
    if code == "torque_further":
        written = first["text"] + " " + (first["unit"] or unit)
        plus = [first["text"] + " ± " + second["text"] + " " + (first["unit"] or unit)]
        angle = [written + " then " + trimmed(second["number"], 4) + "°"]
        return angle + plus if terms[1]["text"] == "+" else angle
    # 1 200 has a gap for thousands, 9 0 one that nobody wanted; 90 1.5 is two numbers.
    digits = len([each for each in first["text"] + second["text"] if each not in DIGITS]) == 0
    if len(terms) == 2 and digits and first["unit"] is None and len(second["text"]) in [1, 3]:
        return [first["text"] + second["text"] + " " + (second["unit"] or unit)]
    return []


def with_unit(first: dict, parts: dict, unit: str | None) -> dict:
    """The figure in N·m once its unit is known; asked back without one."""
    room = parts["tolerance"]
    written = first["unit"] or (room["unit"] if room is not None else None) or unit
    if first["number"] <= 0:
        return refused("torque_zero")
    if written is None:
        return asked_unit(first, parts)
    value = first["number"] * UNITS_IN_NM[written]
    if value > MOST_NM:
        return refused("torque_too_large")
    tolerance = tolerance_of(room, value, written)
    if tolerance is not None and tolerance >= value:
        return refused("torque_tolerance")
    if parts["further"] is not None and parts["further"] > MOST_DEG:
        return refused("torque_angle")
    found = {
        "ok": True,
        "value": value,
        "unit": written,
        "tolerance": tolerance,
        "then_deg": parts["further"],
    }
    return with_pair(found, parts["also"])


def with_pair(found: dict, also: dict | None) -> dict:
    """The answer with the second of a printed pair and whether the two agree."""
    found["also"] = None
    found["also_unit"] = None
    found["also_figure"] = None
    found["pair"] = "single"
    if also is None:
        return found
    value = also["number"] * UNITS_IN_NM[also["unit"]]
    if value <= 0:
        return refused("torque_zero")
    if value > MOST_NM:
        return refused("torque_too_large")
    found["also"] = value
    found["also_unit"] = also["unit"]
    found["also_figure"] = written_term(also)
    found["pair"] = pair_check(found["value"], "N·m", value, "N·m")["state"]
    return found


def tolerance_of(room: dict | None, value: float, unit: str) -> float | None:
    """The tolerance in N·m, written in its unit, in the figure's or in percent; None for none."""
    if room is None:
        return None
    if room["sort"] == "percent":
        return value * room["number"] / 100
    return room["number"] * UNITS_IN_NM[room["unit"] or unit]


def asked_unit(first: dict, parts: dict) -> dict:
    """Ask which unit a figure without one is in; what stands behind it stays."""
    behind = ""
    if parts["tolerance"] is not None:
        behind = " ± " + written_term(parts["tolerance"])
    then = ""
    if parts["further"] is not None:
        then = then + " then " + trimmed(parts["further"], 4) + "°"
    if parts["also"] is not None:
        then = then + " (" + written_term(parts["also"]) + ")"
    again = [first["text"] + " " + each + behind + then for each in usual_units(None)]
    return asked_texts("torque_unit", again, None, "torque_too_large", "")
