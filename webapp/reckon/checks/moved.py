"""What moved it? The change of offset since the last accepted round against what explains it.

Letters: h the frame-to-axle height, mean of both sides; the bar's arc turns a change of h into a
sideways shift, a logged change of the bar's length moves the axle along; the rest is unexplained.
"""

from ..numbers import mean
from ..terms import side_of, sign_of, toward
from ..typed.lengths import show_amount
from .track_bar import missing_of, out_of_reach, rise_of, run_of
from .uncertainty import combined, reading_u


def moved(sheet: dict, found: dict) -> dict:
    """The finding `moved`, mm and left positive; `found` are the centering findings of today."""
    before = sheet["before"]
    why = short_of_before(sheet, found)
    if len(why) > 0:
        return {"state": "incomplete", "why": why}
    bar = sheet["track_bar"]
    parts = expected_parts(bar, height_change(sheet), before.get("length_change") or 0.0)
    if parts is None:
        return {"state": "impossible", "why": ["This bar could not reach where the axle was then."]}
    observed = found["offset"] - before["offset"]
    rest = observed - parts["from_height"] - parts["from_bar"]
    answer: dict = {"observed": observed, "rest": rest, "toward": side_of(rest)}
    answer.update(parts)
    answer.update(rest_uncertainty(sheet, found))
    answer["state"] = state_of_rest(rest, answer["expanded"], before.get("changed") is True)
    answer["why"] = says_of_rest(answer, sheet.get("units") or "mm")
    return answer


def short_of_before(sheet: dict, found: dict) -> list:
    """What is missing to say what moved the axle, as sentences."""
    before = sheet["before"]
    bar = sheet.get("track_bar") or {}
    says: list = []
    if before.get("offset") is None or found.get("offset") is None:
        says.append("The offset of both rounds is needed to say what moved the axle.")
    if mean_height(before) is None or mean_height(sheet) is None:
        says.append("The ride height of both rounds is needed to say what moved the axle.")
    return says + missing_of(bar) + out_of_reach(bar)


def mean_height(part: dict) -> float | None:
    """The frame-to-axle height, mean of both sides, in mm; None where a side is missing."""
    heights = part.get("heights") or {}
    left = heights.get("left") or []
    right = heights.get("right") or []
    if len(left) == 0 or len(right) == 0:
        return None
    return (mean(left) + mean(right)) / 2


def height_change(sheet: dict) -> float:
    """How much higher the frame stands over the axle than before, in mm."""
    return (mean_height(sheet) or 0.0) - (mean_height(sheet["before"]) or 0.0)


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


def state_of_rest(rest: float, expanded: float, changed: bool) -> str:
    """`explained`, `changed` where other work was logged, else `unexplained`."""
    if abs(rest) <= expanded:
        return "explained"
    return "changed" if changed else "unexplained"


def amount_words(value: float, unit: str) -> str:
    """A move in words, `nothing` where there is none to see."""
    return "nothing" if abs(value) < 0.05 else toward(value, unit)


def says_of_rest(answer: dict, unit: str) -> list:
    """What moved the axle, as sentences."""
    expected = answer["from_height"] + answer["from_bar"]
    says = [
        (
            "Since the last accepted round the axle moved: "
            f"{amount_words(answer['observed'], unit)}. Ride height and logged bar changes "
            f"account for {amount_words(expected, unit)}."
        )
    ]
    if answer["state"] == "explained":
        return says + ["The rest is within what the readings can tell."]
    left = f"{toward(answer['rest'], unit)} (±{show_amount(answer['expanded'], unit)})"
    if answer["state"] == "changed":
        return says + [f"The rest, {left}, goes with the other work that is logged."]
    return says + [
        (
            f"Nothing that is logged explains the rest, {left}: look for damage or play "
            "before adjusting."
        )
    ]
