"""What the drag link's step comes to: its answer in runs, its numbers, and what stands behind."""

from ..numbers import THIN, fixed
from ..terms import degrees, joined, side_of
from .answer import wheel_then
from .number_rows import PARTS, part_rows

LINK_PARTS = ["steer", "wheel", "toe", "square", "steering"]
SEEN_DEG = 0.005


def link_answer(findings: dict, unit: str) -> list:
    """What the bump steer is, what the bar's change does to the wheel, and where that sits."""
    steering = findings.get("steering")
    says = bump_runs(findings.get("steer"))
    if steering is not None:
        return joined(says, steering["answer"])
    return joined(says, wheel_then(findings, unit))


def bump_runs(found: dict | None) -> list:
    """The bump steer in runs, or what it still needs."""
    if found is None:
        return ["Enter the drag link to know what a bump steers."]
    if found["state"] != "known":
        return [found["why"][0]]
    first = found["per_25_bump_deg"]
    says = [f"The first 25{THIN}mm of bump steer ", steer_words(first), "."]
    if first is None:
        says = [f"The link cannot follow 25{THIN}mm of bump. Check lengths and heights."]
    if found["worst_deg"] is None:
        return says
    travel = f"{fixed(abs(found['worst_at']), 0)}{THIN}mm of "
    at = travel + ("bump" if found["worst_at"] > 0 else "droop")
    return joined(
        says, ["The worst over the travel is ", steer_words(found["worst_deg"]), f", at {at}."]
    )


def steer_words(value: float | None) -> str:
    """A steer with its side: `0.31° to the left`, or `nothing`."""
    if value is None or abs(value) < SEEN_DEG:
        return "nothing"
    return f"{degrees(abs(value), 2)} to the {side_of(value)}"


def link_numbers(findings: dict) -> list:
    """The numbers behind the drag link's step, as {name, shows} rows."""
    rows: list = []
    for name in LINK_PARTS:
        found = findings.get(name)
        if found is not None and name in PARTS and found["state"] == "known":
            rows.extend(part_rows(name, found))
    return rows


def link_why(findings: dict) -> list:
    """What stands behind the drag link's step, as sentences."""
    says: list = []
    for name in LINK_PARTS:
        if findings.get(name) is not None:
            says.extend(findings[name]["why"])
    return says
