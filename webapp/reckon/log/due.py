"""What is due on a vehicle: bolts to be checked again and axles to be measured again.

`rechecks` on file is what a job asked for its bolts, `remeasure` what the lead asked for an axle:
{axle: {date, distance, unit}}, None once it is done.
"""

from ..terms import AXLES
from .fold import filed_in, standing

WHATS = {"rechecks": "recheck", "remeasure": "remeasure"}


def due_of(entries: list) -> list:
    """What stands open in a vehicle's entries: {axle, what, date, distance, unit, since, job}.

    `since` is when it was asked, `job` the job that asked it, or None.
    """
    filed = filed_in(standing(entries))
    found: list = []
    for name in list(WHATS):
        asked = filed[name]["keys"] if name in filed else {}
        for axle in AXLES:
            cell = asked.get(axle)
            if cell is not None and cell["value"] is not None:
                found.append(due_line(WHATS[name], axle, cell))
    return found


def due_line(what: str, axle: str, cell: dict) -> dict:
    """One thing that is asked for an axle, since when and by which job."""
    line: dict = {"axle": axle, "what": what}
    for part in ["date", "distance", "unit"]:
        line[part] = cell["value"].get(part)
    line["since"] = cell["entry"].get("made_at") or ""
    line["job"] = cell["entry"]["body"].get("from_job")
    return line


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
