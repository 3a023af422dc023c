"""What was done to an axle last time: measured, changed, torqued, and who turned its bar."""

from .fold import of_kind, standing
from .readings import readings_of

TURNS = ["bar_turned", "bar_replaced"]


def last_handed_in(jobs: list, axle: str) -> dict | None:
    """The last job of an axle that was handed in, of jobs in the order in which they were opened.

    A second reading measures another job's round again, and is no work of its own.
    """
    found: dict | None = None
    for job in jobs:
        if job["axle"] == axle and job["second_of"] is None and job["state"] != "open":
            found = job
    return found


def changes_made(entries: list) -> list:
    """The changes of a job that stand."""
    return of_kind(standing(entries), "change")


def bar_turns(jobs: list) -> list:
    """Every turn and replacement of a track bar, {entry, job}, the newest first."""
    found: list = []
    for job in jobs:
        for entry in changes_made(job["entries"]):
            if entry["body"].get("what") in TURNS:
                found.append({"entry": entry, "job": job})
    return list(reversed(sorted(found, key=lambda each: each["entry"].get("made_at") or "")))


def torqued(jobs: list, axle: str) -> list:
    """The last torque of each fastener of an axle, as entries, in the order of the first ones."""
    found: dict = {}
    for job in jobs:
        if job["axle"] == axle:
            for entry in readings_of(standing(job["entries"]), "torque"):
                found[entry["body"]["fastener"]] = entry
    return list(found.values())


def taped_by(entries: list, round_name: str) -> list:
    """Who took the readings of the centering that stand in a round; `""` for unsent ones."""
    hands: list = []
    for entry in readings_of(standing(entries), "centering"):
        hand = entry.get("person") or ""
        if entry.get("round") == round_name and hand not in hands:
            hands.append(hand)
    return hands
