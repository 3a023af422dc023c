"""Distances to drive as people write them, in kilometers or miles."""

from .tokens import ask_which, number_of, pieces_of, refused, whole

UNITS = {
    "km": "km", "kms": "km", "kilometer": "km", "kilometers": "km",
    "mi": "mi", "mile": "mi", "miles": "mi",
}  # fmt: skip
FARTHEST = 20000.0


def parse_driven(text: str) -> dict:
    """A distance to drive as written: {ok, value, unit}, or {ok: False, code, about, choices}.

    `unit` is km or mi where the text has one, else None. What may have a mark for thousands is
    asked back.
    """
    pieces = pieces_of(text)
    unit = UNITS.get(pieces[len(pieces) - 1].rstrip(".")) if len(pieces) > 0 else None
    numbers = pieces if unit is None else pieces[: len(pieces) - 1]
    behind = "" if unit is None else " " + unit
    if len(numbers) == 2 and numbers[1] == "k":
        thousands = number_of(numbers[0])
        return answer(None if thousands is None else thousands * 1000, unit)
    if len(numbers) == 2 and whole(numbers[0]) is not None and len(numbers[1]) == 3:
        numbers = [numbers[0] + "," + numbers[1]]
    if len(numbers) != 1:
        return refused("driven_unclear")
    parts = numbers[0].replace(",", ".").split(".")
    if len(parts) == 2 and len(parts[1]) == 3 and parts[0].strip("0") != "":
        joined = "".join(parts)
        if whole(joined) is None or int(joined) > FARTHEST:
            return refused("driven_too_far")
        return ask_which("driven_thousands", [[joined + behind, float(joined)]])
    return answer(number_of(numbers[0]), unit)


def answer(driven: float | None, unit: str | None) -> dict:
    """The answer to so far in this unit, None where the text writes no number."""
    if driven is None or driven <= 0:
        return refused("driven_unclear")
    if driven > FARTHEST:
        return refused("driven_too_far")
    return {"ok": True, "value": driven, "unit": unit}
