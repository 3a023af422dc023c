"""Turns of an adjuster as people write them."""

from ..numbers import trimmed
from .tokens import ask_which, count_of, counted, pieces_of, refused, whole, words_of

TURN_WORDS = ["turn", "turns", "rev", "revs", "revolution", "revolutions"]
FLAT_WORDS = ["flat", "flats"]
DEGREE_WORDS = ["°", "deg", "degs", "degree", "degrees"]
QUARTERS = 4
FLATS = 6
MOST_TURNS = 100.0


def parse_turns(text: str) -> dict:
    """A number of turns as written: {ok, value}, or {ok: False, code, about, choices}.

    Such as 3 1/2, 3-1/2, half a turn, 180 degrees, 2 flats (of the hex), or 3 turns and 2 flats.
    """
    halves = asked_halves(pieces_of(text))
    if halves is not None:
        return halves
    pieces = [each for each in words_of(text) if each != "full"]
    last = pieces[len(pieces) - 1] if len(pieces) > 0 else ""
    at = after_turns(pieces)
    before = whole_turns(pieces, at)
    if last in FLAT_WORDS:
        return answer(together(before, part_of(pieces[at : len(pieces) - 1], FLATS)))
    if last in DEGREE_WORDS and at == 0:
        return answer(part_of(pieces[: len(pieces) - 1], 360))
    if last in TURN_WORDS or at == 0:
        return answer(count_of(before if at > 0 else pieces) if len(pieces) > 0 else None)
    # 3 turns and a half: a part of a turn behind whole ones.
    return answer(together(before, part_of(pieces[at:], 1) if "/" in pieces[at:] else None))


def asked_halves(pieces: list) -> dict | None:
    """Ask how many turns 3 half turns are: 1 1/2, or 3 1/2; None for any other text."""
    if len(pieces) != 3 or pieces[1] != "half" or pieces[2] not in TURN_WORDS:
        return None
    count = whole(counted(pieces[0]))
    if count is None or count < 2:
        return None
    again = [trimmed(count / 2, 1) + " turn" + ("" if count == 2 else "s"), str(count) + ".5 turns"]
    return ask_which("turns_halves", [[again[0], count / 2], [again[1], count + 0.5]])


def after_turns(pieces: list) -> int:
    """Where what follows the word for turns begins, an `and` left out; 0 without that word."""
    for index, piece in enumerate(pieces):
        if piece in TURN_WORDS:
            follows = index + 1 < len(pieces) and pieces[index + 1] in ["and", "+"]
            return index + 2 if follows else index + 1
    return 0


def whole_turns(pieces: list, at: int) -> list:
    """The number of whole turns before a part of one; a turn without a number is one, `and` said.

    Without the `and`, as in turn 1/2, nobody knows whether a whole one is meant too: that is left
    as it is, which is no number.
    """
    before = without_and(pieces[:at])
    if at == 0 or at >= len(pieces) or before not in [[], ["a"]]:
        return before
    return ["1"] if pieces[at - 1] in ["and", "+"] else pieces[:at]


def without_and(pieces: list) -> list:
    """The number in front of the word for turns, without that word and the `and` behind it."""
    kept = [each for each in pieces if each not in TURN_WORDS]
    if len(kept) > 0 and kept[len(kept) - 1] in ["and", "+"]:
        return kept[: len(kept) - 1]
    return kept


def part_of(pieces: list, parts: int) -> float | None:
    """So many of the parts of a turn; None where the pieces write no number."""
    if pieces == ["a"]:
        pieces = ["1"]
    count = count_of(pieces) if len(pieces) > 0 else None
    return None if count is None else count / parts


def together(before: list, part: float | None) -> float | None:
    """Whole turns, or none, and a part of one; None where either writes no number."""
    turns = count_of(before) if len(before) > 0 else 0.0
    return None if turns is None or part is None else turns + part


def answer(turns: float | None) -> dict:
    """The answer to so many turns, None where the text writes no number."""
    if turns is None or turns <= 0:
        return refused("turns_unclear")
    if turns > MOST_TURNS:
        return refused("turns_too_many")
    return {"ok": True, "value": turns}
