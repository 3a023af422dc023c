"""Small sums and the showing of numbers: the same digits on the phone and everywhere else."""

import math

MINUS = "\u2212"
THIN = "\u202f"


def total(values: list) -> float:
    """The sum, 0.0 for none."""
    result = 0.0
    for value in values:
        result += value
    return result


def mean(values: list) -> float:
    """The mean of at least one value."""
    if len(values) == 0:
        raise ValueError("There is no mean of no values.")
    return total(values) / len(values)


def spread(values: list) -> float:
    """The largest value less the smallest, 0.0 for none."""
    if len(values) == 0:
        return 0.0
    return max(values) - min(values)


def deviation(values: list) -> float:
    """The sample standard deviation (n - 1), 0.0 for fewer than two values."""
    if len(values) < 2:
        return 0.0
    middle = mean(values)
    squares = total([(each - middle) * (each - middle) for each in values])
    return math.sqrt(squares / (len(values) - 1))


def near_half_up(value: float) -> int:
    """The nearest whole number; halves go away from zero, so that mirrored values stay mirrored."""
    if value < 0:
        return -math.floor(-value + 0.5)
    return math.floor(value + 0.5)


def fixed(value: float, places: int) -> str:
    """The number with that many decimals and a true minus sign; never `-0`."""
    scale = 1
    for _ in range(places):
        scale = scale * 10
    scaled = near_half_up(abs(value) * scale)
    whole = math.floor(scaled / scale)
    text = str(whole)
    if places > 0:
        text = text + "." + str(scaled - whole * scale).rjust(places, "0")
    return MINUS + text if value < 0 and scaled > 0 else text


def signed(value: float, places: int) -> str:
    """Like `fixed`, with a plus sign before what is above zero."""
    text = fixed(value, places)
    nothing = fixed(0.0, places)
    return "+" + text if value > 0 and text != nothing else text


def trimmed(value: float, places: int) -> str:
    """Like `fixed`, without zeros at the end of the decimals."""
    text = fixed(value, places)
    while "." in text and (text.endswith("0") or text.endswith(".")):
        text = text[: len(text) - 1]
    return text


def is_number(value: object) -> bool:
    """Whether this is a finite number, and no truth value."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return False
    return value == value and abs(value) < 1e300


def counted(number: int, name: str, many: str = "") -> str:
    """A number with its noun: 1 joint, 2 joints; 1 entry, 2 entries where `many` is given."""
    if number == 1:
        return f"1 {name}"
    return f"{number} {many if many else name + 's'}"
