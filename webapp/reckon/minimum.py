"""The least value of a function of one number, found by narrowing down."""

import math

GOLDEN = (math.sqrt(5) - 1) / 2
APART = 0.1
NARROWINGS = 24


def least_between(value_at, low: float, high: float) -> float:  # type: ignore[no-untyped-def]
    """Where a function with one valley between `low` and `high` is least; an end if it lies there.

    Golden section: each narrowing keeps 0.618 of the interval, 24 of them 1e-5.
    """
    left = low
    right = high
    near = right - GOLDEN * (right - left)
    far = left + GOLDEN * (right - left)
    at_near = value_at(near)
    at_far = value_at(far)
    for _ in range(NARROWINGS):
        if at_near <= at_far:
            right = far
            far = near
            at_far = at_near
            near = right - GOLDEN * (right - left)
            at_near = value_at(near)
        else:
            left = near
            near = far
            at_near = at_far
            far = left + GOLDEN * (right - left)
            at_far = value_at(far)
    best = (left + right) / 2
    for end in [low, high]:
        if value_at(end) <= value_at(best):
            best = end
    return best


def least_sharply(value_at, low: float, high: float) -> float:  # type: ignore[no-untyped-def]
    """Where a smooth valley is least, to rounding; an end if it lies there.

    Near the bottom a narrowing only compares values that rounding makes equal, so that it stops
    anywhere within the square root of it. The vertex of the parabola through three points that
    lie clearly apart does not have that limit.
    """
    at = least_between(value_at, low, high)
    before = value_at(at - APART)
    after = value_at(at + APART)
    bend = before - 2 * value_at(at) + after
    if bend <= 0.0 or abs(before - after) > 2 * bend:
        return at
    return at + APART * (before - after) / (2 * bend)
