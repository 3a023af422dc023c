"""Is the axle centered? The offset, its uncertainty and the verdict against the limit.

Letters: dL, dR mean distance from the face to the outer face of its rail, less the side's known
extra; e = (dL - dR) / 2 the offset, left positive; S = dL + dR the sum; g what the tape was read
to; U = 2 u(e) the expanded uncertainty (JCGM 100); T the offset limit (JCGM 106 decides).
"""

import math

from ..numbers import deviation, mean, spread
from ..terms import TICKS, side_of, sign_of
from .sum_of_sides import sum_check

TOLERANCE = 1e-9
READINGS_A_SIDE = 2
MARKS_APART = 2
# States of a centering that may be compared with its limit and with other rounds.
JUDGED = ["inside", "outside", "too_close"]


def centering(sheet: dict, limits: dict) -> dict:
    """The centering findings; lengths in mm, left positive; its reasons are codes."""
    part = sheet["centering"]
    short = what_is_short(part)
    found: dict = {"state": "incomplete", "reasons": short, "limit": limits["offset"]}
    if len(part.get("left") or []) == 0 or len(part.get("right") or []) == 0:
        return found
    if part.get("read_to") is None:
        return found
    found.update(reckoned(part, limits))
    found.update(sum_check(part, found))
    found["unsteady_sides"] = unsteady_sides(part, limits)
    blocked = what_blocks(sheet)
    if len(short) == 0:
        blocked = blocked + found["unsteady_sides"]
        if len(blocked) == 0:
            blocked = scattered(part, found, limits)
        found["state"] = "no_verdict" if len(blocked) > 0 else verdict(found, limits["offset"])
    found["reasons"] = short + blocked + doubts(part, found)
    found["settled_by"] = None
    if found["state"] == "too_close":
        found["settled_by"] = what_settles(part, found, limits)
        found["reasons"].append(found["settled_by"])
    return found


def what_is_short(part: dict) -> list:
    """What is still to be read before a verdict, as reasons."""
    reasons: list = []
    for side in ["left", "right"]:
        count = len(part.get(side) or [])
        if count == 0:
            reasons.append({"code": "no_readings", "side": side})
        elif count < READINGS_A_SIDE:
            reasons.append({"code": "one_reading", "side": side})
    if part.get("read_to") is None:
        reasons.append({"code": "no_read_to"})
    return reasons


def what_blocks(sheet: dict) -> list:
    """Why no verdict may be given on complete readings, as reasons."""
    part = sheet["centering"]
    reasons: list = []
    if sheet.get("standing") == "hanging":
        reasons.append({"code": "axle_hanging"})
    elif sheet.get("standing") is None:
        reasons.append({"code": "standing_unknown"})
    ready = sheet.get("ready") or {}
    for name in ticks_asked(sheet):
        if ready.get(name) is not True:
            reasons.append({"code": "not_ticked", "tick": name})
    if part.get("mixed_faces") is not None:
        reasons.append({"code": "mixed_faces"})
    if part.get("method") == "plumb_bob" and not tilt_known(part):
        reasons.append({"code": "tilt_unknown"})
    return reasons


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
        "rough": part.get("face") == "tire",
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


def unsteady_sides(part: dict, limits: dict) -> list:
    """The sides whose readings lie further apart than they may, as reasons.

    That is the house's repeat limit, or two marks of the tape where those are more.
    """
    most = max(limits["repeat"], MARKS_APART * part["read_to"])
    return [
        {"code": "does_not_repeat", "side": side, "apart": spread(part[side])}
        for side in ["left", "right"]
        if spread(part[side]) > most + TOLERANCE
    ]


def scattered(part: dict, found: dict, limits: dict) -> list:
    """A reason where nothing but scatter makes the readings too close to call; else none."""
    steady = dict(found)
    steady["expanded"] = expanded_of(steady_part(part), limits)
    if verdict(found, limits["offset"]) != "too_close":
        return []
    if verdict(steady, limits["offset"]) == "too_close":
        return []
    return [scatter_of(part)]


def scatter_of(part: dict) -> dict:
    """The reason that readings of one side lie apart, the further ones, in mm."""
    return {"code": "scattered", "apart": max(spread(part["left"]), spread(part["right"]))}


def steady_part(part: dict) -> dict:
    """The same readings as if those of a side had all come out alike."""
    steady = dict(part)
    for side in ["left", "right"]:
        steady[side] = [mean(part[side])]
    return steady


def doubts(part: dict, found: dict) -> list:
    """What weakens the readings, as reasons."""
    reasons: list = []
    if found["sum_reason"] is not None:
        reasons.append(found["sum_reason"])
    if part.get("face") == "tire":
        reasons.append({"code": "tire_readings"})
    if found["tilt_shift"] != 0.0:
        reasons.append(
            {
                "code": "tilt_corrected",
                "high_side": part["high_side"],
                "tilt_deg": part["tilt_deg"],
                "shift": found["tilt_shift"],
                "per_tenth_deg": abs(found["tilt_shift"]) / part["tilt_deg"] / 10,
            }
        )
    return reasons


def what_settles(part: dict, found: dict, limits: dict) -> dict:
    """What would turn a reading that is too close to call into a verdict, as a reason."""
    margin = abs(abs(found["offset"]) - limits["offset"])
    finer = dict(part)
    finer["read_to"] = part["read_to"] / 2
    if expanded_of(finer, limits) <= margin:
        return {"code": "settled_by_finer_tape", "read_to": finer["read_to"]}
    finer["left"] = part["left"] + part["left"]
    finer["right"] = part["right"] + part["right"]
    if expanded_of(finer, limits) <= margin:
        return {"code": "settled_by_finer_tape_and_more_readings"}
    if expanded_of(steady_part(finer), limits) <= margin:
        return scatter_of(part)
    return {"code": "on_the_limit"}


def expanded_of(part: dict, limits: dict) -> float:
    """The expanded uncertainty of the offset, in mm."""
    return math.sqrt(side_variance(part, "left", limits) + side_variance(part, "right", limits))
