"""What moved it? The change of offset since the last round that counts against what explains it.

Letters: h the frame-to-axle height, mean of both sides; the bar's arc turns a change of h into a
sideways shift, a logged change of the bar's length moves the axle along; the rest is unexplained.
"""

import math

from ..numbers import mean, total
from ..terms import side_of, sign_of
from .track_bar import missing_of, out_of_reach, rise_of, run_of
from .uncertainty_budget import combined, reading_u

# Wear, and the tape taken at another place on the face: half of what the sum of sides is allowed.
ALLOWANCE = 0.5
# What nobody measured: a frame that stands so much higher or lower is not seen by eye, and a bar of
# which the heights are not known lies no steeper than 15 degrees.
UNNOTICED = 15.0
STEEP = 0.27
# States of a comparison that say what moved the axle; a move the wrong way is a hold instead.
COMPARED = ["explained", "changed", "unexplained"]


def moved(sheet: dict, found: dict) -> dict:
    """The finding `moved`, mm and left positive; `found` are the centering findings of today."""
    before = sheet["before"]
    short = short_of_before(sheet, found)
    if len(short) > 0:
        told = told_apart_from_heights(sheet, found, short)
        return told if told is not None else {"state": "incomplete", "reasons": short}
    bar = sheet["track_bar"]
    parts = expected_parts(bar, height_change(sheet), before.get("length_change") or 0.0)
    if parts is None:
        return {"state": "impossible", "reasons": [{"code": "bar_did_not_reach"}]}
    observed = found["offset"] - before["offset"]
    rest = observed - parts["from_height"] - parts["from_bar"]
    answer: dict = {"observed": observed, "rest": rest, "toward": side_of(rest)}
    answer.update(parts)
    answer.update(rest_uncertainty(sheet, found))
    answer["from_change"] = observed - parts["from_height"]
    answer["state"] = state_of_rest(answer, before.get("changed") is True)
    answer["reasons"] = reasons_of_rest(answer)
    if answer["state"] == "explained" and found.get("sum_excess") is not None:
        answer["one_side"] = one_side(answer, found, sheet["centering"].get("known_sum_u") or 0.0)
    return answer


def one_side(answer: dict, found: dict, known_sum_u: float) -> dict | None:
    """{side, by} where one side alone reads further from the file than its tape explains, in mm.

    An axle that moves makes one side longer and the other shorter. What makes the sum and the
    offset differ together, each within its own room, is one misread side.
    """
    left = found["sum_excess"] / 2 + answer["rest"]
    right = found["sum_excess"] / 2 - answer["rest"]
    side = "left" if abs(left) >= abs(right) else "right"
    most = left if side == "left" else right
    least = right if side == "left" else left
    # The side itself is known to √2 of what half the sum is; the offset's part is in `expanded`.
    u = [answer["expanded"], found["sum_u"], known_sum_u]
    room = math.sqrt(total([each * each for each in u])) + ALLOWANCE
    if abs(most) <= room or abs(least) > abs(most) / 2:
        return None
    return {"side": side, "by": most}


def told_apart_from_heights(sheet: dict, found: dict, short: list) -> dict | None:
    """What a change of offset tells where heights or bar were not measured; None where nothing.

    Which way a longer bar pushes follows from the side of its frame end alone, and about as far as
    it is longer. A move of more than heights could have made without being noticed is unexplained.
    """
    before = sheet["before"]
    if before.get("offset") is None or found.get("offset") is None or before.get("changed") is True:
        return None
    if higher_since(sheet) is None and "springs_changed" in (sheet.get("changes") or []):
        return None
    longer = before.get("length_change") or 0.0
    end = (sheet.get("track_bar") or {}).get("frame_end")
    if end is None and longer != 0:
        return None
    should = 0.0 if longer == 0 else -sign_of(end or "left") * longer
    did = found["offset"] - before["offset"]
    known = combined(
        [
            {"name": "offset", "u": found["expanded"] / 2},
            {"name": "before", "u": (before.get("expanded") or 0.0) / 2},
        ]
    )
    room = known["expanded"] + ALLOWANCE
    answer: dict = {"observed": did, "from_change": did, "from_bar": should}
    answer.update({"from_height": None, "rest": did - should, "toward": side_of(did - should)})
    answer.update(known)
    if higher_since(sheet) is None and against(did, should, room):
        answer["state"] = "wrong_side"
        answer["reasons"] = [{"code": "axle_moved", "observed": did, "expected": should}]
        return answer
    if abs(did - should) <= room + unnoticed(sheet):
        return None
    answer["state"] = "unexplained"
    answer["reasons"] = short
    return answer


def unnoticed(sheet: dict) -> float:
    """How far the frame's height may have moved the axle without anybody having seen it, in mm."""
    bar = sheet.get("track_bar") or {}
    slope = STEEP
    if len(missing_of(bar) + out_of_reach(bar)) == 0:
        slope = abs(rise_of(bar)) / (run_of(bar, rise_of(bar)) or 1.0)
    seen = higher_since(sheet)
    return slope * (UNNOTICED if seen is None else abs(height_change(sheet)))


def against(did: float, should: float, room: float) -> bool:
    """Whether a move goes against what it should have been, both by more than `room`."""
    return did * should < 0 and abs(did) > room and abs(should) > room


def short_of_before(sheet: dict, found: dict) -> list:
    """What is missing to say what moved the axle, as reasons."""
    before = sheet["before"]
    bar = sheet.get("track_bar") or {}
    short: list = []
    if before.get("offset") is None or found.get("offset") is None:
        short.append({"code": "offsets_missing"})
    if higher_since(sheet) is None:
        short.append({"code": "heights_missing"})
    return short + missing_of(bar) + out_of_reach(bar)


def mean_height(part: dict) -> float | None:
    """The frame-to-axle height, mean of both sides, in mm; None where a side is missing."""
    heights = part.get("heights") or {}
    left = heights.get("left") or []
    right = heights.get("right") or []
    if len(left) == 0 or len(right) == 0:
        return None
    return (mean(left) + mean(right)) / 2


def heights_before(sheet: dict) -> dict | None:
    """The frame-to-axle heights of the last round that counts, or on file; {left, right} lists."""
    before = (sheet.get("before") or {}).get("heights")
    if mean_height({"heights": before}) is not None:
        return before
    filed = (sheet.get("on_file") or {}).get("heights") or {}
    if filed.get("left") is None or filed.get("right") is None:
        return None
    return {"left": [filed["left"]], "right": [filed["right"]]}


def higher_since(sheet: dict) -> dict | None:
    """How much higher each side of the frame stands over the axle than before; None if unknown."""
    before = heights_before(sheet)
    if before is None or mean_height(sheet) is None:
        return None
    found: dict = {}
    for side in ["left", "right"]:
        found[side] = mean(sheet["heights"][side]) - mean(before[side])
    return found


def height_change(sheet: dict) -> float:
    """How much higher the frame stands over the axle than before, mean of both sides, in mm."""
    higher = higher_since(sheet)
    return 0.0 if higher is None else (higher["left"] + higher["right"]) / 2


def expected_parts(bar: dict, higher: float, longer: float) -> dict | None:
    """{from_height, from_bar} in mm, what a change of height and of length does; None out of reach.

    The heights of the bar's ends are those of today.
    """
    rise = rise_of(bar)
    before = dict(bar)
    before["length"] = bar["length"] - longer
    now = run_of(bar, rise)
    lower = run_of(before, rise - higher)
    same_bar = run_of(before, rise)
    if now is None or lower is None or same_bar is None:
        return None
    side = sign_of(bar["frame_end"])
    return {"from_height": -side * (same_bar - lower), "from_bar": -side * (now - same_bar)}


def rest_uncertainty(sheet: dict, found: dict) -> dict:
    """{expanded, improve} of the unexplained rest, in mm."""
    bar = sheet["track_bar"]
    slope = abs(rise_of(bar)) / (run_of(bar, rise_of(bar)) or 1.0)
    # The mean of two sides, in each of two rounds: four readings, each counting half.
    heights = slope * reading_u(sheet["heights"])
    return combined(
        [
            {"name": "offset", "u": found["expanded"] / 2},
            {"name": "before", "u": (sheet["before"].get("expanded") or 0.0) / 2},
            {"name": "heights", "u": heights},
        ]
    )


def state_of_rest(answer: dict, changed: bool) -> str:
    """`explained`, `changed` where other work was logged, else `wrong_side` or `unexplained`.

    On the wrong side is a move that goes against what a logged change of the bar should have done.
    """
    room = answer["expanded"] + ALLOWANCE
    if abs(answer["rest"]) <= room:
        return "explained"
    if changed:
        return "changed"
    wrong = against(answer["from_change"], answer["from_bar"], room)
    return "wrong_side" if wrong else "unexplained"


def reasons_of_rest(answer: dict) -> list:
    """What moved the axle, as reasons."""
    expected = answer["from_height"] + answer["from_bar"]
    wrong = answer["state"] == "wrong_side"
    return [
        {"code": "axle_moved", "observed": answer["observed"], "expected": expected},
        {
            "code": "rest_unexplained" if wrong else f"rest_{answer['state']}",
            "rest": answer["rest"],
            "expanded": answer["expanded"],
        },
    ]
