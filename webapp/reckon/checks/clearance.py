"""Clearance: the least gap of each pair of parts, where it is, and what was not looked at."""

from ..typed.lengths import show_mm

STATES = {
    "ride": "at ride height",
    "full_bump": "at full bump",
    "full_droop": "at full droop",
    "crossed_up": "crossed up",
}
LOCKS = {"left": "left lock", "straight": "wheels straight", "right": "right lock"}
PLACES = 12
TOUCHING = {"touches": "they touch", "witness_mark": "there is a witness mark"}


def clearance(entries: list, limits: dict) -> dict:
    """The finding `clearance`: {pairs, why}, per pair `least` (mm), `at`, `state`, `unchecked`."""
    names: list = []
    for entry in entries:
        name = pair_name(entry)
        if name not in names:
            names.append(name)
    pairs: list = []
    for name in names:
        of_pair = [each for each in entries if pair_name(each) == name]
        pairs.append(pair_found(of_pair, limits.get("clearance")))
    return {"pairs": pairs, "why": [says_of(each) for each in pairs]}


def pair_name(entry: dict) -> str:
    """The two parts of a pair in one text, in either order the same."""
    parts = sorted(entry.get("between") or ["", ""], key=lambda part: part)
    return f"{parts[0]} and {parts[1]}"


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
        "unchecked": unchecked(measured),
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


def unchecked(measured: list) -> list:
    """The travel states at each lock where nothing was recorded, as {state, lock}."""
    seen = [f"{each.get('state') or ''}/{each.get('lock') or ''}" for each in measured]
    found: list = []
    for state in list(STATES):
        for lock in list(LOCKS):
            if f"{state}/{lock}" not in seen:
                found.append({"state": state, "lock": lock})
    return found


def place_words(at: dict) -> str:
    """Where in travel and steering, in words."""
    where = STATES.get(at["state"] or "", "at an unrecorded place in the travel")
    return f"{where}, {LOCKS.get(at['lock'] or '', 'lock not recorded')}"


def says_of(pair: dict) -> str:
    """What one pair needs, as sentences."""
    from_words = " to ".join(pair["between"] or ["one part", "another"])
    so_far = f"{PLACES - len(pair['unchecked'])} of {PLACES} places checked."
    if pair["least"] is None:
        return f"{from_words.capitalize()}: no gap recorded. {so_far}"
    where = place_words(pair["at"])
    if pair["state"] == "contact":
        touching = TOUCHING.get(pair["gap"], "no gap is left")
        return f"{from_words.capitalize()}: {touching} {where}. Make room before the road. {so_far}"
    return f"{least_words(from_words.capitalize(), pair, where)} {so_far}"


def least_words(name: str, pair: dict, where: str) -> str:
    """The least gap of a pair that does not touch."""
    says = f"{name}: least {show_mm(pair['least'])} {where}"
    if pair["state"] == "tight":
        return f"{says}, under the house limit of {show_mm(pair['limit'])}. Make room."
    if pair["state"] == "recorded":
        return f"{says}. No limit is known, so it is recorded and not judged."
    return f"{says}."
