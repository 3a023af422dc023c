"""Steering ratios as people write them."""

from .tokens import ask_which, number_of, refused, words_of

MOST_RATIO = 100.0


def parse_ratio(text: str) -> dict:
    """A steering ratio as written, 18, 18:1 or 18 to 1: {ok, value}, or why not."""
    pieces = words_of(text)
    if len(pieces) == 3 and pieces[1] in [":", "to", "/"]:
        if pieces[0] == "1" and pieces[2] != "1":
            turned = parse_ratio(pieces[2])
            if turned["ok"]:
                return ask_which("ratio_turned", [[pieces[2] + ":1", turned["value"]]])
        if pieces[2] == "1":
            pieces = pieces[:1]
    value = number_of(pieces[0]) if len(pieces) == 1 else None
    if value is None or value < 1 or value > MOST_RATIO:
        return refused("ratio_unclear")
    return {"ok": True, "value": value}
