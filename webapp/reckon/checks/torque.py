"""Torque: figures converted and printed pairs checked. A torque is never derived from a size."""

from ..typed.torque_figures import in_nm, out_of_nm, pair_check

ENDS = ["bolt", "nut"]
THREADS = ["dry", "oiled", "locked", "new"]
# What a torque figure needs before anyone may rely on it.
NEEDED = ["value", "source", "end", "thread"]


def torque(entries: list, standing: str | None) -> dict:
    """{fasteners}: each figure in both units and what it lacks: the finding `torque`."""
    return {"fasteners": [fastener_found(each, standing) for each in entries]}


def fastener_found(entry: dict, standing: str | None) -> dict:
    """The finding of one fastener: N·m, lb-ft, its source, the pair, whether it moved, its lacks.

    A fastener that is `due` waits to be checked again; one with `moved` was, and one that had
    `moved_before` was torqued again for that.
    """
    found: dict = {
        "fastener": entry.get("fastener"),
        "source": entry.get("source"),
        "nm": None,
        "lb_ft": None,
        "pair": "single",
        "moved": entry.get("moved"),
        "moved_before": entry.get("moved_before") is True,
        "due": entry.get("due") is True,
        "lacking": all_it_lacks(entry, standing),
    }
    found["reasons"] = list(found["lacking"])
    if entry.get("value") is None:
        return found
    unit = entry.get("unit") or "N·m"
    found["nm"] = in_nm(entry["value"], unit)
    found["lb_ft"] = out_of_nm(found["nm"], "lb-ft")
    if entry.get("also") is not None:
        pair = pair_check(entry["value"], unit, entry["also"], entry.get("also_unit") or "lb-ft")
        found["pair"] = pair["state"]
        if pair["state"] == "differs":
            differs = {"code": "pair_differs", "apart": pair["apart"], "nm": found["nm"]}
            found["reasons"].append(differs)
    return found


def all_it_lacks(entry: dict, standing: str | None) -> list:
    """What a fastener still lacks, as reasons; one that did not move lacks nothing."""
    if entry.get("due") is True:
        return [{"code": "check_again"}]
    if entry.get("moved") is not None:
        return [{"code": "fastener_moved"}] if entry["moved"] is True else []
    lacking = [
        {"code": "torque_needs", "field": field} for field in NEEDED if entry.get(field) is None
    ]
    hanging = standing == "hanging" or entry.get("on_springs") is False
    if entry.get("rubber") is True and hanging:
        lacking.append({"code": "rubber_off_springs"})
    return lacking
