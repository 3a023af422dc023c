"""Is the axle centered? The offset, its uncertainty and the verdict against the limit.

Letters: dL, dR mean distance from the face to the outer face of its rail, less the side's known
extra; e = (dL - dR) / 2 the offset, left positive; S = dL + dR the sum; g what the tape was read
to; U = 2 u(e) the expanded uncertainty (JCGM 100); T the offset limit (JCGM 106 decides).
"""

import math

from ..log.fold import TICKS
from ..numbers import deviation, fixed, mean, signed, spread, trimmed
from ..terms import FACES, TICK_WORDS, other, side_of, sign_of
from ..typed.lengths import show_length, show_limit, show_step
from .sum_of_sides import sum_check

TOLERANCE = 1e-9
READINGS_A_SIDE = 2
MARKS_APART = 2
TILT_NEEDED = "The floor's tilt was not measured, and both plumb lines lean with it."


def centering(sheet: dict, limits: dict) -> dict:
    """The centering findings; lengths in mm, left positive."""
    part = sheet["centering"]
    short = what_is_short(part)
    found: dict = {"state": "incomplete", "why": short, "limit": limits["offset"]}
    if len(part.get("left") or []) == 0 or len(part.get("right") or []) == 0:
        return found
    if part.get("read_to") is None:
        return found
    found.update(reckoned(part, limits))
    found.update(sum_check(part, found, sheet.get("units", "mm")))
    found["unsteady"] = apart(part, limits)
    blocked = what_blocks(sheet)
    if len(short) == 0:
        blocked = blocked + found["unsteady"]
        if len(blocked) == 0:
            blocked = scattered(part, found, limits)
        found["state"] = "no_verdict" if len(blocked) > 0 else verdict(found, limits["offset"])
    found["why"] = short + blocked + doubts(part, found)
    if found["state"] == "too_close":
        found["settle"] = what_settles(part, found, limits)
        found["why"].append(found["settle"])
    return found


def what_is_short(part: dict) -> list:
    """What is still to be read before a verdict, as sentences."""
    says: list = []
    for side in ["left", "right"]:
        count = len(part.get(side) or [])
        if count == 0:
            says.append(f"Nothing was read on the {side}.")
        elif count < READINGS_A_SIDE:
            says.append(f"Take a second reading on the {side}.")
    if part.get("read_to") is None:
        says.append("Say what the tape was read to.")
    return says


def what_blocks(sheet: dict) -> list:
    """Why no verdict may be given on complete readings, as sentences."""
    part = sheet["centering"]
    says: list = []
    if sheet.get("standing") == "hanging":
        says.append(
            "The axle was hanging: the bar holds it somewhere else than at ride height. "
            "Put the load on the springs and measure again."
        )
    elif sheet.get("standing") is None:
        says.append("It is not recorded what the vehicle was standing on.")
    ready = sheet.get("ready") or {}
    for name in ticks_asked(sheet):
        if ready.get(name) is not True:
            says.append(f"Not ticked: {TICK_WORDS[name]}.")
    if part.get("mixed_faces") is not None:
        says.append("The sides were measured from different faces. Use one face for all readings.")
    if part.get("method") == "plumb_bob" and not tilt_known(part):
        says.append(
            f"{TILT_NEEDED} Measure the tilt, and how high both points stand above the floor."
        )
    return says


def ticks_asked(sheet: dict) -> list:
    """The ticks that this sheet's centering needs: a measured tilt takes the place of `level`."""
    part = sheet.get("centering") or {}
    measured = part.get("method") == "plumb_bob" and tilt_known(part)
    return [name for name in TICKS if name != "level" or not measured]


def tilt_known(part: dict) -> bool:
    """Whether a plumb-bob reading can be corrected for the floor."""
    if part.get("tilt_deg") is None:
        return False
    level = part["tilt_deg"] == 0
    heights = [part.get("rail_point_height"), part.get("face_point_height")]
    return level or (None not in heights and part.get("high_side") is not None)


def tilt_shift(part: dict) -> float:
    """How far the floor's tilt makes the axle appear shifted, left positive, in mm.

    Seen along the floor, a line lands further to the low side the higher its point is. What gets
    into a reading is the difference of both lines: rails that hang from higher up appear to lie
    toward the low side, and the axle toward the high one.
    """
    if part.get("method") != "plumb_bob" or not tilt_known(part) or part["tilt_deg"] == 0:
        return 0.0
    higher = part["rail_point_height"] - part["face_point_height"]
    return sign_of(part["high_side"]) * higher * math.tan(math.radians(part["tilt_deg"]))


def reckoned(part: dict, limits: dict) -> dict:
    """Offset, difference, sum and their uncertainties, in mm."""
    left = mean(part["left"]) - (part.get("left_extra") or 0.0)
    right = mean(part["right"]) - (part.get("right_extra") or 0.0)
    shift = tilt_shift(part)
    offset = (left - right) / 2 - shift
    variance = side_variance(part, "left", limits) + side_variance(part, "right", limits)
    return {
        "offset": offset,
        "toward": side_of(offset),
        "difference": left - right,
        "expanded": 2 * math.sqrt(variance) / 2,
        "sum": left + right,
        "sum_u": math.sqrt(variance),
        "left": left,
        "right": right,
        "tilt_shift": shift,
    }


def side_variance(part: dict, side: str, limits: dict) -> float:
    """u² of one side's mean: what the tape was read to, how it repeats, and the face (mm²)."""
    readings = part[side]
    scatter = deviation(readings)
    step = part["read_to"]
    return (
        step * step / 12 + scatter * scatter / len(readings) + limits["face_u"] * limits["face_u"]
    )


def verdict(found: dict, limit: float) -> str:
    """`inside`, `outside` or `too_close`, by the whole interval against the limit."""
    size = abs(found["offset"])
    if size + found["expanded"] <= limit + TOLERANCE:
        return "inside"
    if size - found["expanded"] > limit + TOLERANCE:
        return "outside"
    return "too_close"


def apart(part: dict, limits: dict) -> list:
    """The sides whose readings lie further apart than they may, as sentences.

    That is the house's repeat limit, or two marks of the tape where those are more.
    """
    most = max(limits["repeat"], MARKS_APART * part["read_to"])
    says: list = []
    for side in ["left", "right"]:
        if spread(part[side]) > most + TOLERANCE:
            says.append(
                f"The {side} does not repeat: its readings lie {fixed(spread(part[side]), 1)}"
                "\u202fmm apart. Read again with the tape square, then look for play."
            )
    return says


def scattered(part: dict, found: dict, limits: dict) -> list:
    """A sentence where nothing but scatter makes the readings too close to call; else none."""
    steady = dict(found)
    steady["expanded"] = expanded_of(steady_part(part), limits)
    if verdict(found, limits["offset"]) != "too_close":
        return []
    if verdict(steady, limits["offset"]) == "too_close":
        return []
    widest = max(spread(part["left"]), spread(part["right"]))
    return [
        f"The readings of a side lie up to {fixed(widest, 1)}\u202fmm apart, and that alone"
        " hides whether the axle is inside the limit. Read again with the tape square."
    ]


def steady_part(part: dict) -> dict:
    """The same readings as if those of a side had all come out alike."""
    steady = dict(part)
    for side in ["left", "right"]:
        steady[side] = [mean(part[side])]
    return steady


def doubts(part: dict, found: dict) -> list:
    """What weakens the readings, as sentences."""
    says: list = []
    if found["sum_state"] == "differs":
        says.append(found["sum_hint"])
    if part.get("face") == "tire":
        says.append(
            "Tire readings are weak: spacers, wheel offset, run-out and wear are in "
            "them. Measure from the hub or rotor when the wheels are off."
        )
    if found["tilt_shift"] != 0.0:
        says.append(
            f"The floor falls to the {other(part['high_side'])} by "
            f"{trimmed(part['tilt_deg'], 2)}°, so the plumb lines made the axle look "
            f"{fixed(abs(found['tilt_shift']), 1)}\u202fmm too far to the "
            f"{part['high_side']}. That is taken off."
        )
    return says


def what_settles(part: dict, found: dict, limits: dict) -> str:
    """What would turn a reading that is too close to call into a verdict."""
    margin = abs(abs(found["offset"]) - limits["offset"])
    finer = dict(part)
    finer["read_to"] = part["read_to"] / 2
    if expanded_of(finer, limits) <= margin:
        return f"Reading to {show_step(finer['read_to'])} would settle it."
    finer["left"] = part["left"] + part["left"]
    finer["right"] = part["right"] + part["right"]
    if expanded_of(finer, limits) <= margin:
        return "A finer tape and twice as many readings on each side would settle it."
    return "It sits on the limit: no tape will settle that. Let the lead decide."


def expanded_of(part: dict, limits: dict) -> float:
    """The expanded uncertainty of the offset, in mm."""
    return math.sqrt(side_variance(part, "left", limits) + side_variance(part, "right", limits))


def basis(part: dict, found: dict, limits: dict, unit: str) -> list:
    """How the numbers came about, as sentences for whoever asks why."""
    says: list = []
    for side in ["left", "right"]:
        says.append(
            f"{side.capitalize()}: {len(part[side])} readings from the "
            f"{FACES.get(part.get('face') or 'rotor', 'face')}, mean "
            f"{show_length(mean(part[side]), unit)} to the outer face of the "
            f"rail{extra_words(part, side)}."
        )
    says.append(
        f"Half the difference of the sides is the offset: ({fixed(found['left'], 2)} "
        f"\u2212 {fixed(found['right'], 2)}) / 2 = "
        f"{signed((found['left'] - found['right']) / 2, 2)}\u202fmm, left positive."
    )
    says.append(
        f"It is good to ±{fixed(found['expanded'], 1)}\u202fmm (two standard "
        f"uncertainties): tape read to {show_step(part['read_to'])}, repeats, and "
        f"{trimmed(limits['face_u'], 2)}\u202fmm for each face."
    )
    says.append(
        f"The limit of {show_limit(limits['offset'], unit)} each way is a house limit; "
        "a figure from the vehicle's maker goes before it."
    )
    return says


def extra_words(part: dict, side: str) -> str:
    """What was taken off a side, in words."""
    extra = part.get(f"{side}_extra") or 0.0
    return "" if extra == 0.0 else f", less {trimmed(extra, 2)}\u202fmm for its spacer"
