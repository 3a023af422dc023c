"""Turns of an adjuster as people write them."""

from .tokens import count_of, refused, words_of

TURN_WORDS = ["turn", "turns"]
FLAT_WORDS = ["flat", "flats"]
FLATS = 6
MOST_TURNS = 100.0


def parse_turns(text: str) -> dict:
    """A number of turns as written: {ok, value}, or {ok: False, code, about, choices}.

    Such as 3 1/2, 3-1/2, half a turn, 2 flats (of the hex), or 3 turns and 2 flats.
    """
    pieces = words_of(text)
    flats: float | None = 0.0
    if len(pieces) > 0 and pieces[len(pieces) - 1] in FLAT_WORDS:
        at = after_turns(pieces)
        flats = count_of(pieces[at : len(pieces) - 1]) if at < len(pieces) - 1 else None
        pieces = without_and(pieces[:at])
        if len(pieces) == 0:
            return answer(None if flats is None else flats / FLATS)
    if len(pieces) > 0 and pieces[len(pieces) - 1] in TURN_WORDS:
        pieces = pieces[: len(pieces) - 1]
    turns = count_of(pieces) if len(pieces) > 0 else None
    return answer(None if turns is None or flats is None else turns + flats / FLATS)


def after_turns(pieces: list) -> int:
    """Where the flats begin: behind the word for turns and an `and`, or at the beginning."""
    for index, piece in enumerate(pieces):
        if piece in TURN_WORDS:
            follows = index + 1 < len(pieces) and pieces[index + 1] in ["and", "+"]
            return index + 2 if follows else index + 1
    return 0


def without_and(pieces: list) -> list:
    """The pieces without the `and` at their end."""
    if len(pieces) > 0 and pieces[len(pieces) - 1] in ["and", "+"]:
        return pieces[: len(pieces) - 1]
    return pieces


def answer(turns: float | None) -> dict:
    """The answer to so many turns, None where the text writes no number."""
    if turns is None or turns <= 0:
        return refused("turns_unclear")
    if turns > MOST_TURNS:
        return refused("turns_too_many")
    return {"ok": True, "value": turns}
