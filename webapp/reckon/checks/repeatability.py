"""How well people repeat themselves and each other: gauge R&R by analysis of variance.

Crossed and balanced: every person measures every vehicle equally often; all effects are random.
`table[vehicle][person]` is a list of offsets in mm. MS are mean squares, V variances.
"""

import math

from ..numbers import mean, total

FEWEST_VEHICLES = 3
MOST_READINGS = 6
# Where people and vehicles do not act on each other, both are one estimate of the scatter.
POOL_ABOVE = 0.25
PANELS = 400
# U = 2 u against a limit each way: 4 to 1 (JCGM 106, measurement capability) asks for T / 4.
SHARE_OF_LIMIT = 4


def balanced(cells: list) -> list:
    """The cells cut to the number of readings that all of them have, the first ones taken."""
    fewest = min([len(cell) for vehicle in cells for cell in vehicle])
    return [[cell[:fewest] for cell in vehicle] for vehicle in cells]


def squares(table: list) -> dict:
    """Sums of squares and degrees of freedom of vehicles, people, both together and the rest."""
    vehicles = len(table)
    people = len(table[0])
    trials = len(table[0][0])
    cells = [[mean(cell) for cell in vehicle] for vehicle in table]
    by_vehicle = [mean(vehicle) for vehicle in cells]
    by_person = [mean([vehicle[who] for vehicle in cells]) for who in range(people)]
    middle = mean(by_vehicle)
    both = 0.0
    rest = 0.0
    for v in range(vehicles):
        for p in range(people):
            both += square(cells[v][p] - by_vehicle[v] - by_person[p] + middle)
            rest += total([square(each - cells[v][p]) for each in table[v][p]])
    return {
        "vehicles": people * trials * total([square(each - middle) for each in by_vehicle]),
        "people": vehicles * trials * total([square(each - middle) for each in by_person]),
        "both": trials * both,
        "rest": rest,
        "df_vehicles": vehicles - 1,
        "df_people": people - 1,
        "df_both": (vehicles - 1) * (people - 1),
        "df_rest": vehicles * people * (trials - 1),
    }


def square(value: float) -> float:
    """The value times itself."""
    return value * value


def study(table: list) -> dict:
    """Standard deviations in mm: repeatability, reproducibility, grr and vehicles; F, p, pooled.

    The table needs two vehicles, two people and two readings of each.
    """
    vehicles = len(table)
    people = len(table[0])
    trials = len(table[0][0])
    found = squares(table)
    ms_both = found["both"] / found["df_both"]
    ms_rest = found["rest"] / found["df_rest"]
    tested = f_test(ms_both, ms_rest, found["df_both"], found["df_rest"])
    pooled = tested["p"] > POOL_ABOVE
    if pooled:
        ms_rest = (found["both"] + found["rest"]) / (found["df_both"] + found["df_rest"])
        ms_both = ms_rest
    v_both = max(0.0, (ms_both - ms_rest) / trials)
    ms_people = found["people"] / found["df_people"]
    ms_vehicles = found["vehicles"] / found["df_vehicles"]
    v_people = max(0.0, (ms_people - ms_both) / (vehicles * trials))
    v_vehicles = max(0.0, (ms_vehicles - ms_both) / (people * trials))
    return {
        "repeatability": math.sqrt(ms_rest),
        "reproducibility": math.sqrt(v_people + v_both),
        "grr": math.sqrt(ms_rest + v_people + v_both),
        "vehicles": math.sqrt(v_vehicles),
        "f": tested["f"],
        "p": tested["p"],
        "pooled": pooled,
        "trials": trials,
    }


def own_scatter(table: list, person: int) -> float:
    """The standard deviation in mm of one person's readings about their own means."""
    squared = 0.0
    freedom = 0
    for vehicle in table:
        middle = mean(vehicle[person])
        squared += total([square(each - middle) for each in vehicle[person]])
        freedom += len(vehicle[person]) - 1
    return math.sqrt(squared / freedom)


def f_test(above: float, below: float, df_above: int, df_below: int) -> dict:
    """{f, p}: the ratio of two mean squares and how often chance alone would exceed it."""
    if below <= 0:
        return {"f": None, "p": 0.0 if above > 0 else 1.0}
    ratio = above / below
    end = math.asin(math.sqrt(df_below / (df_below + df_above * ratio)))
    part = beta_area(df_below, df_above, end)
    return {"f": ratio, "p": part / beta_area(df_below, df_above, math.pi / 2)}


def beta_area(a: int, b: int, end: float) -> float:
    """The integral of sin^(a - 1) cos^(b - 1) from 0 to `end`, by Simpson's rule.

    With t = sin² it is half the incomplete beta function of a / 2 and b / 2.
    """
    step = end / PANELS
    area = 0.0
    for i in range(PANELS + 1):
        weight = 1 if i == 0 or i == PANELS else 2 + 2 * (i - 2 * math.floor(i / 2))
        area += weight * power(math.sin(i * step), a - 1) * power(math.cos(i * step), b - 1)
    return area * step / 3


def power(base: float, exponent: int) -> float:
    """The base multiplied with itself; rounding below zero counts as zero."""
    return max(base, 0.0) ** exponent


def good_to(found: dict, trials: int) -> float:
    """The expanded uncertainty in mm of a mean of so many readings a side."""
    repeats = square(found["repeatability"]) / trials
    return 2 * math.sqrt(repeats + square(found["reproducibility"]))


def conclusion(found: dict, limit: float, read_to: float) -> dict:
    """What the study means for the limit: {good_to, limit, needed, helps}, lengths in mm.

    `helps` are the ways to bring the readings to what is needed, as reasons; none where they are
    good enough.
    """
    have = good_to(found, found["trials"])
    need = limit / SHARE_OF_LIMIT
    helps = [] if have <= need else what_helps(found, need, read_to)
    return {"good_to": have, "limit": limit, "needed": need, "helps": helps}


def what_helps(found: dict, need: float, read_to: float) -> list:
    """What would bring the readings to what is needed, each way as a reason."""
    room = square(need / 2) - square(found["reproducibility"])
    if room <= 0:
        return [{"code": "people_differ"}]
    ways: list = []
    half = read_to / 2
    finer = dict(found)
    # A reading to g scatters by g² / 24 in half the difference of two sides.
    gained = (square(read_to) - square(half)) / 24
    finer["repeatability"] = math.sqrt(max(0.0, square(found["repeatability"]) - gained))
    if good_to(finer, found["trials"]) <= need:
        ways.append({"code": "finer_tape", "read_to": half})
    count = math.ceil(square(found["repeatability"]) / room - 1e-9)
    if count <= MOST_READINGS:
        ways.append({"code": "more_readings", "count": count})
    return ways if len(ways) > 0 else [{"code": "tape_and_play"}]
