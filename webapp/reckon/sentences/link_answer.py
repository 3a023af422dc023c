"""What the drag link's step comes to: its answer in runs, its numbers, and what stands behind."""

from ..numbers import THIN
from ..terms import joined, steer_words, wheel_position
from .advice_words import headline
from .answer import CENTER_IT_LAST, link_then, wheel_then
from .limit_words import bump_steer_judged
from .linkage_reasons import travel_words
from .number_rows import PARTS, is_shown, part_rows

LINK_PARTS = ["steer", "wheel", "toe", "square", "steering"]


def link_answer(findings: dict, unit: str) -> list:
    """What the bump steer is, what the bar's change does to the wheel, and where that sits."""
    steering = findings.get("steering")
    advised = (findings.get("advice") or {}).get("state") or "none"
    says = bump_runs(findings.get("steer"), unit, advised)
    if advised == "hold":
        says = joined(headline(findings["advice"]), says)
    if steering is not None:
        says = joined(says, steering_runs(steering, unit, advised))
    return joined(says, wheel_then(findings, unit))


def bump_runs(found: dict | None, unit: str, advised: str) -> list:
    """The bump steer in runs, or what it still needs; not judged while the advice is held.

    What holds it may be a height of the link or the bar.
    """
    if found is None:
        return ["Enter the drag link to find out how much a bump steers."]
    if found["state"] != "known":
        return [found["why"][0]]
    inches = unit == "in"
    first = "inch" if inches else f"25{THIN}mm"
    steer = found["per_inch_bump_deg"] if inches else found["per_25_bump_deg"]
    says = [f"In the first {first} of bump the wheels steer ", steer_words(steer), "."]
    if steer_words(steer) == "nothing":
        says = [f"In the first {first} of bump the wheels do not steer."]
    if steer is None:
        travel = "an inch" if inches else first
        says = [f"The link cannot follow {travel} of bump. Check lengths and heights."]
    if advised != "hold":
        says = joined(says, bump_steer_judged(found, unit))
    if found["worst_deg"] is None:
        return says
    at = travel_words(found["worst_at"], unit)
    return joined(
        says, ["The most over the travel is ", steer_words(found["worst_deg"]), f", at {at}."]
    )


def steering_runs(found: dict, unit: str, advised: str) -> list:
    """Where the steering wheel sits and what centers it where the advice lets it be, in runs.

    The axle comes first, then toe, then the steering wheel. Where the bar is to be changed, the
    drag link is set once, for both causes together, and where the axle has no verdict its own part
    in it is not known yet.
    """
    where = ["The steering wheel sits ", wheel_position(found["wheel_deg"])]
    if found["state"] != "off":
        return where + ["."]
    if advised == "none":
        return where + [f": {CENTER_IT_LAST}"]
    if advised != "leave" or found["link_length_change"] is None:
        return where + ["."]
    return where + [f": {link_then(found, unit)}"]


def link_numbers(findings: dict, unit: str) -> list:
    """The numbers behind the drag link's step, as {name, shows} rows."""
    rows: list = []
    state = (findings.get("advice") or {}).get("state") or "none"
    for name in LINK_PARTS:
        found = findings.get(name)
        if found is not None and name in PARTS and is_shown(name, found, state):
            rows.extend(part_rows(name, found, unit))
    return rows


def link_why(findings: dict) -> list:
    """What stands behind the drag link's step, as sentences."""
    says: list = []
    for name in LINK_PARTS:
        if findings.get(name) is not None:
            says.extend(findings[name]["why"])
    return says
