"""What is due on a vehicle: bolts to be checked again and axles to be measured again.

`rechecks` on file is what a job asked for its bolts, `remeasure` what the lead asked for an axle:
{axle: {date, distance, unit}}, None once it is done.
"""

from .fold import of_kind, standing

WHATS = {"rechecks": "recheck", "remeasure": "remeasure"}
ASKS = {
    "recheck": "Check the torque of the bolts again",
    "remeasure": "Measure the axle again",
}
AXLES = ["front", "rear"]


def due_of(entries: list) -> list:
    """What stands open in a vehicle's entries: {axle, what, date, distance, unit, since, job}.

    `since` is when it was asked, `job` the job that asked it, or None.
    """
    asked: dict = {}
    for entry in of_kind(standing(entries), "vehicle"):
        for key in list(WHATS):
            if key in entry["body"]:
                for axle in AXLES:
                    note_asked(asked, key, axle, entry)
    return [each for each in asked.values() if each["asks"] is not None]


def note_asked(asked: dict, key: str, axle: str, entry: dict) -> None:
    """Keep what an entry asks for an axle, with when it first asked that."""
    plan = entry["body"][key].get(axle)
    place = key + "/" + axle
    before = asked.get(place)
    if before is not None and same_plan(before["asks"], plan):
        return
    found: dict = {"axle": axle, "what": WHATS[key], "asks": plan}
    for part in ["date", "distance", "unit"]:
        found[part] = None if plan is None else plan.get(part)
    found["since"] = entry.get("made_at") or ""
    found["job"] = entry["body"].get("from_job")
    asked[place] = found


def same_plan(first: dict | None, second: dict | None) -> bool:
    """Whether two of them ask for the same."""
    if first is None or second is None:
        return first is None and second is None
    parts = [part for part in ["date", "distance", "unit"] if first.get(part) != second.get(part)]
    return len(parts) == 0


def done_patch(patch: dict, record: dict, axle: str, rounds: list, measured: bool) -> dict:
    """What an accepted job settles of what is due on its axle, beside what its patch files.

    A recheck round settles the bolts unless the job asks for another; a measured axle is measured.
    """
    settled: dict = {}
    asked = record.get("rechecks", {}).get(axle)
    if asked is not None and "recheck" in rounds and patch.get("rechecks") is None:
        settled["rechecks"] = without(record["rechecks"], axle)
    if measured and record.get("remeasure", {}).get(axle) is not None:
        settled["remeasure"] = without(record["remeasure"], axle)
    return settled


def without(plans: dict, axle: str) -> dict:
    """The plans with nothing asked for this axle."""
    left = dict(plans)
    left[axle] = None
    return left
