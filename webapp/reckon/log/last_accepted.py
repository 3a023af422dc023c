"""Since the last accepted round: which one that was, and what it says beside today's sheet."""

from .fold import ROUNDS, of_kind, precedes, standing
from .links_of_round import changes_hold_to, length_changes, round_of

LENGTH_ONLY = ["bar_turned", "link_turned"]


def previous_of(jobs: list, job: dict) -> dict | None:
    """The last of these folded jobs that was accepted before this one was opened, same axle."""
    found = None
    for other in jobs:
        if other["job"] != job["job"] and other["axle"] == job["axle"]:
            if other["state"] == "accepted" and precedes(other["decision"], job["opened"]):
                if found is None or precedes(found["decision"], other["decision"]):
                    found = other
    return found


def with_before(sheet: dict, earlier: dict | None, entries: list, round_name: str) -> dict:
    """The sheet with what the last accepted round found, where there is anything to compare.

    `earlier` is that round's {sheet, findings}; `entries` are those of the job of the sheet.
    """
    told = earlier or {}
    found = (told.get("findings") or {}).get("centering") or {}
    if sheet.get("centering") is None or found.get("offset") is None:
        return sheet
    changes = changes_before(standing(entries), round_name)
    others = [each for each in changes if each["body"].get("what") not in LENGTH_ONLY]
    before: dict = {
        "offset": found["offset"],
        "expanded": found["expanded"],
        "length_change": length_changes(changes, "track_bar"),
        "changed": len(others) > 0,
    }
    heights = told["sheet"].get("heights")
    if heights is not None:
        before["heights"] = heights
    compared = dict(sheet)
    compared["before"] = before
    return compared


def changes_before(stand: list, round_name: str) -> list:
    """The changes that had been made when the axle was measured in this round."""
    found: list = []
    for name in ROUNDS[: ROUNDS.index(round_name) + 1]:
        here = [each for each in stand if round_of(each) == name]
        last = len(here) if name != round_name else changes_hold_to(here, name)
        found.extend(of_kind(here[:last], "change"))
    return found
