"""Lengths as people write them, and as the screens show them.

Inside everything is millimeters. What can be read in two ways is asked back with the choices, what
cannot be a length is refused with a sentence.
"""

import math

from ..numbers import MINUS, THIN, fixed, near_half_up, trimmed
from .length_grammar import HALVES, INCH, moved_by, read_tokens, tokens_of
from .tokens import ask_which, last_decimal, plain, refused

TOUCHING = "touching"
# No thread is finer; what is entered as less has no number of threads to be shown, mm.
FINEST_PITCH = 0.01


def parse_length(text: str, unit: str, read_to: float | None = None) -> dict:
    """A length as written, in mm: {ok, value, unit}, or {ok: False, code, about, choices}.

    Bare numbers take `unit` ("in" or "mm"). `read_to` (mm) is what the tape is read to; half of
    it is added for a trailing `+` or "strong" and taken off for `-` or "shy".
    """
    pair = read_pair(plain(text), unit, read_to)
    if pair is not None:
        return pair
    tokens = tokens_of(text)
    if len(tokens) == 0:
        return refused("length_empty")
    if tokens[0]["kind"] == "-" or tokens[0]["kind"] == "+":
        return refused("length_sign")
    half = 0
    last = tokens[len(tokens) - 1]
    if last["text"] in HALVES and len(tokens) > 1:
        half = HALVES[last["text"]]
        tokens = tokens[: len(tokens) - 1]
    elif last["kind"] == "unit" and len(tokens) > 2 and tokens[len(tokens) - 2]["text"] in HALVES:
        half = HALVES[tokens[len(tokens) - 2]["text"]]
        tokens = tokens[: len(tokens) - 2] + [last]
    found = read_tokens(tokens, unit)
    if half == 0:
        return found
    return moved_by(
        found, half * step_of(found, read_to) / 2, "", " strong" if half > 0 else " shy"
    )


def read_pair(written: str, unit: str, read_to: float | None) -> dict | None:
    """One length printed in two units, 8 7/16 (214 mm): the first, where the second agrees.

    None for any other text. What does not agree is asked back.
    """
    parts = [each.strip(" ") for each in written.replace("=", "(").split("(")]
    if len(parts) != 2 or len(parts[0]) == 0 or (")" in written) != written.endswith(")"):
        return None
    parts[1] = parts[1].replace(")", "")
    one = parse_length(parts[0], unit, read_to)
    other = parse_length(parts[1], "mm" if unit == "in" else "in", read_to)
    if not one["ok"] or not other["ok"] or one["unit"] == other["unit"]:
        return None
    if abs(one["value"] - other["value"]) <= half_of_last(parts[1], other["unit"]):
        return one
    bare = parse_length(parts[1], unit, read_to)
    if not bare["ok"] or bare["value"] != other["value"]:
        parts[1] = parts[1] + " " + other["unit"]
    return ask_which("length_two_figures", [[parts[0], one["value"]], [parts[1], other["value"]]])


def half_of_last(text: str, unit: str) -> float:
    """Half of what the last digit of a printed length is worth, in mm; of 1/16 in for fractions."""
    if "/" in text:
        return INCH / 32
    step = last_decimal(text) * (INCH if unit == "in" else 1.0)
    return step / 2 + 1e-9


def parse_distance(text: str, unit: str, read_to: float | None = None) -> dict:
    """A distance between two things as written: like `parse_length`, but 0 is asked back.

    A reading of zero is more often one left out; parts that meet are written `touching`.
    """
    if plain(text) == TOUCHING:
        return {"ok": True, "value": 0.0, "unit": unit}
    found = parse_length(text, unit, read_to)
    likely = [
        [each["text"], each["value"]] for each in found.get("choices", []) if each["value"] > 0
    ]
    empty = found["value"] == 0 if found["ok"] else len(found["choices"]) > len(likely)
    if not empty:
        return found
    return ask_which("length_zero", likely + [[TOUCHING, 0.0]])


def step_of(found: dict, read_to: float | None) -> float:
    """What the tape of an answer is read to, in mm: as said, where that is a mark of its unit."""
    metric = found.get("unit") == "mm"
    for choice in found.get("choices", []):
        metric = choice["text"].endswith("m")
    if read_to is not None and metric != is_inch_mark(read_to):
        return read_to
    return 1.0 if metric else INCH / 16


def is_inch_mark(mm: float) -> bool:
    """Whether a step is a mark of an inch tape, 1/64 in or a multiple of it."""
    marks = mm / INCH * 64
    return near_half_up(marks) > 0 and abs(marks - near_half_up(marks)) < 1e-6


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


def show_inches(mm: float, per_inch: int = 32) -> str:
    """A length in inches to the nearest mark, with ≈ when that rounds it."""
    mark = inches_of(abs(mm), per_inch)
    text = str(mark["whole"])
    if mark["top"] > 0:
        fraction = str(mark["top"]) + "/" + str(mark["bottom"])
        text = fraction if mark["whole"] == 0 else text + " " + fraction
    if mm < 0 and text != "0":
        text = MINUS + text
    text = text + THIN + "in"
    return text if mark["exact"] else "≈" + THIN + text


def show_length(mm: float, unit: str) -> str:
    """A length as it stands on a screen, in the unit in use."""
    return show_inches(mm) if unit == "in" else show_mm(mm)


def show_mm(mm: float) -> str:
    """A length in millimeters, to 0.1 mm."""
    return fixed(mm, 1) + THIN + "mm"


def show_limit(mm: float, unit: str) -> str:
    """A limit as people say it: no decimals that say nothing."""
    if unit == "in":
        return show_inches(mm) + " (" + trimmed(mm, 2) + THIN + "mm)"
    return trimmed(mm, 2) + THIN + "mm"


def show_amount(mm: float, unit: str) -> str:
    """A reckoned length: in inches with the millimeters behind it."""
    if unit != "in":
        return show_mm(mm)
    if abs(mm) < 0.05:
        return "0" + THIN + "in"
    if near_half_up(mm / INCH * 32) == 0:
        return "less than 1/32" + THIN + "in (" + show_mm(mm) + ")"
    return show_inches(mm) + " (" + show_mm(mm) + ")"


def show_pitch(mm: float, unit: str) -> str:
    """The pitch of a thread; in inches as threads per inch, a metric one also in millimeters."""
    metric = trimmed(mm, 3) + THIN + "mm"
    if unit != "in" or mm < FINEST_PITCH:
        return metric
    threads = trimmed(INCH / mm, 2) + " threads per inch"
    # 11 1/2 threads to the inch are cut too; 16.93 are a pitch of 1.5 mm.
    halves = INCH / mm * 2
    return threads if abs(halves - near_half_up(halves)) < 0.02 else threads + " (" + metric + ")"


def show_step(mm: float) -> str:
    """What a tape is read to: a mark of an inch tape as such, anything else in mm."""
    mark = inches_of(mm, 64)
    if mark["exact"] and mark["top"] == 1:
        return "1/" + str(mark["bottom"]) + THIN + "in"
    return trimmed(mm, 2) + THIN + "mm"
