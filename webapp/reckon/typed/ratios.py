"""Steering ratios as people write them."""

from .tokens import ask_which, count_of, refused, words_of

MOST_RATIO = 100.0


def parse_ratio(text: str) -> dict:
    """A steering ratio as written, 18, 18:1 or 18 to 1: {ok, value}, or why not."""
    pieces = words_of(text)
    for index, piece in enumerate(pieces):
        # A single stroke behind the number may be that of a fraction, as in 17 1/2.
        lone = piece == "/" and len(pieces) == 3 and pieces[2] == "1"
        if piece in [":", "to", "-"] or lone:
            return of_two(pieces[:index], piece, pieces[index + 1 :])
    return answer(count_of(pieces) if len(pieces) > 0 else None)


def of_two(first: list, mark: str, second: list) -> dict:
    """The answer to two numbers with a mark between them."""
    one = count_of(first) if len(first) > 0 else None
    other = count_of(second) if len(second) > 0 else None
    if one is None or other is None:
        return refused("ratio_unclear")
    if other == 1 and mark != "-":
        return answer(one)
    choices: list = []
    both: list = [[first, one], [second, other]]
    for pieces, ratio in both:
        if ratio > 1 and ratio <= MOST_RATIO:
            choices.append([text_of(pieces) + ":1", ratio])
    if len(choices) == 0 or (len(choices) == 2 and mark == ":"):
        return refused("ratio_unclear")
    if len(choices) == 2:
        return ask_which("ratio_range", choices)
    return ask_which("ratio_turned" if one == 1 else "ratio_is_it", choices)


def text_of(pieces: list) -> str:
    """A number as text that reads as the same."""
    return " ".join(pieces).replace(" / ", "/")


def answer(ratio: float | None) -> dict:
    """The answer to a ratio, None where the text writes no number."""
    if ratio is None or ratio < 1 or ratio > MOST_RATIO:
        return refused("ratio_unclear")
    return {"ok": True, "value": ratio}
