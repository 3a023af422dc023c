"""Torque: figures converted and printed pairs checked. A torque is never derived from a size."""

from ..numbers import THIN, fixed

UNITS_IN_NM = {
    "N·m": 1.0,
    "lbf·ft": 1.3558179483,
    "lbf·in": 1.3558179483 / 12,
    "kgf·m": 9.80665,
}
PAIR_ROOM = 0.03
ENDS = {"bolt": "turned at the bolt", "nut": "turned at the nut"}
RUBBER_LOADED = "Clamp a rubber bushing only with the weight on the springs."
MOVED = "it moved. Fit a new bolt and nut where the maker says so, then torque it again."
THREADS = {"dry": "dry thread", "oiled": "oiled thread", "locked": "thread-locked", "new": "new"}


def in_nm(value: float, unit: str) -> float:
    """A torque in newton meters."""
    return value * UNITS_IN_NM[unit]


def out_of_nm(value: float, unit: str) -> float:
    """A torque in newton meters in another unit."""
    return value / UNITS_IN_NM[unit]


def pair_check(value: float, unit: str, also: float, also_unit: str) -> dict:
    """Whether two printed figures agree within 3 %: {state, apart}, apart as a fraction."""
    first = in_nm(value, unit)
    second = in_nm(also, also_unit)
    apart = abs(first - second) / max(first, second)
    return {"state": "agrees" if apart <= PAIR_ROOM else "differs", "apart": apart}


def torque(entries: list, standing: str | None) -> dict:
    """{fasteners, why}: each figure in both units and what it lacks: the finding `torque`."""
    found: list = []
    why: list = []
    for entry in entries:
        one = fastener_found(entry, standing)
        found.append(one)
        for says in one["why"]:
            why.append(f"{one['fastener']}: {says}")
    return {"fasteners": found, "why": why}


def fastener_found(entry: dict, standing: str | None) -> dict:
    """The finding of one fastener: N·m, lbf·ft, the pair's state, whether it moved, what it lacks.

    A fastener that is `due` waits to be checked again; one with `moved` was, and one that had
    `moved_before` was torqued again for that.
    """
    found: dict = {
        "fastener": entry.get("fastener") or "A fastener without a name",
        "nm": None,
        "lbf_ft": None,
        "pair": "single",
        "moved": entry.get("moved"),
        "moved_before": entry.get("moved_before") is True,
        "due": entry.get("due") is True,
        "lacks": all_it_lacks(entry, standing),
    }
    found["why"] = list(found["lacks"])
    if entry.get("value") is None:
        return found
    unit = entry.get("unit") or "N·m"
    found["nm"] = in_nm(entry["value"], unit)
    found["lbf_ft"] = out_of_nm(found["nm"], "lbf·ft")
    if entry.get("also") is not None:
        pair = pair_check(entry["value"], unit, entry["also"], entry.get("also_unit") or "lbf·ft")
        found["pair"] = pair["state"]
        if pair["state"] == "differs":
            found["why"].append(pair_words(entry, found["nm"], pair["apart"]))
    return found


def all_it_lacks(entry: dict, standing: str | None) -> list:
    """What a fastener still lacks, as sentences; one that did not move lacks nothing."""
    if entry.get("due") is True:
        return ["say whether it moved."]
    if entry.get("moved") is not None:
        return [MOVED] if entry["moved"] is True else []
    says = what_it_lacks(entry)
    hanging = standing == "hanging" or entry.get("on_springs") is False
    if entry.get("rubber") is True and hanging:
        says.append(RUBBER_LOADED)
    return says


def what_it_lacks(entry: dict) -> list:
    """What a torque figure needs before anyone may rely on it, as sentences."""
    asks = {
        "value": "no figure is recorded. Take it from the vehicle's or part's maker.",
        "source": "say where the figure comes from.",
        "end": "say which end was turned.",
        "thread": "say whether the thread was dry or oiled.",
    }
    return [asks[field] for field in list(asks) if entry.get(field) is None]


def pair_words(entry: dict, nm: float, apart: float) -> str:
    """What to do about a printed pair that does not agree with itself."""
    return (
        f"the two printed figures are {fixed(100 * apart, 0)} % apart: "
        f"{fixed(nm, 0)}{THIN}N·m is {fixed(out_of_nm(nm, 'lbf·ft'), 0)}{THIN}lbf·ft. "
        "Ask the maker which one is meant before you use either."
    )
