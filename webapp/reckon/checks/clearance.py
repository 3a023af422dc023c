"""Clearance: the least gap of each pair of parts, where it is, and what was not looked at."""

from ..joint_terms import LOCKS, STATES

# Hoses and wires are pulled tight as the axle hangs; elsewhere they follow.
HOSES = "hoses and wires"
HOSE_STATES = ["full_droop"]
TOUCHING = ["touches", "witness_mark"]


def clearance(entries: list, limits: dict) -> dict:
    """The finding `clearance`: {pairs}, per pair `least` (mm), `at`, `state`, `unchecked`."""
    names: list = []
    for entry in entries:
        name = pair_name(entry)
        if name not in names:
            names.append(name)
    pairs: list = []
    for name in names:
        of_pair = [each for each in entries if pair_name(each) == name]
        pairs.append(pair_found(of_pair, limits.get("clearance")))
    return {"pairs": pairs}


def pair_name(entry: dict) -> str:
    """What a pair of parts is told apart by, in either order the same."""
    parts = sorted(entry.get("between") or ["", ""], key=lambda part: part)
    return f"{parts[0]}/{parts[1]}"


def gap_of(entry: dict) -> float | None:
    """The gap in mm, 0.0 for parts that touch or left a mark; None where none is recorded."""
    gap = entry.get("gap")
    if gap is None:
        return None
    return 0.0 if gap in TOUCHING else gap


def pair_found(entries: list, limit: float | None) -> dict:
    """The finding of one pair."""
    measured = [each for each in entries if gap_of(each) is not None]
    found: dict = {
        "between": entries[0].get("between"),
        "least": None,
        "at": None,
        "gap": None,
        "state": "recorded",
        "limit": limit,
        "unchecked": unchecked(measured, entries[0].get("between") or []),
    }
    if len(measured) == 0:
        return found
    closest = sorted(measured, key=lambda each: gap_of(each) or 0.0)[0]
    found["least"] = gap_of(closest)
    found["at"] = {"state": closest.get("state"), "lock": closest.get("lock")}
    found["gap"] = closest["gap"]
    found["state"] = state_of_gap(found["least"], limit)
    return found


def state_of_gap(least: float, limit: float | None) -> str:
    """`contact`, `tight`, `clear`, or `recorded` where no limit says more."""
    if least == 0:
        return "contact"
    if limit is None:
        return "recorded"
    return "tight" if least < limit else "clear"


def states_of(between: list) -> list:
    """The travel states in which a pair is looked at."""
    return HOSE_STATES if HOSES in between else list(STATES)


def places_of(between: list) -> int:
    """At how many places a pair is looked at: each of its travel states at each lock."""
    return len(states_of(between)) * len(list(LOCKS))


def unchecked(measured: list, between: list) -> list:
    """The travel states at each lock where nothing was recorded, as {state, lock}."""
    seen = [f"{each.get('state') or ''}/{each.get('lock') or ''}" for each in measured]
    found: list = []
    for state in states_of(between):
        for lock in list(LOCKS):
            if f"{state}/{lock}" not in seen:
                found.append({"state": state, "lock": lock})
    return found
