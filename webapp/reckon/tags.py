"""What tags lead to, and which vehicles are one and the same.

A blank tag becomes a vehicle at its first scan, and the phone that scans it may not have heard that
the tag was given to a vehicle before. The vehicle made at such a scan is then part of the other.
"""

from .fold import of_kind, standing


def follow(entries: list) -> dict:
    """Tag entries and their strikes, of all vehicles and in log order, as {leads, merged}.

    `leads` is tag code to vehicle; `merged` is vehicle to the one that it is part of, which is
    never part of a further one. A tag leads to the vehicle that it was put on last; a first scan
    (`first` in the entry) takes a tag only when it led nowhere.
    """
    leads: dict = {}
    merged: dict = {}
    held: dict = {}
    for entry in of_kind(standing(entries), "tag"):
        code = entry["body"]["code"]
        vehicle = entry["vehicle"]
        holder = leads.get(code)
        if entry["body"].get("first") is True and holder is not None:
            # A vehicle that holds a tag of its own is not made by this scan.
            if holder != vehicle and vehicle not in held:
                merged[vehicle] = holder
        else:
            leads.pop(code, None)
            leads[code] = merged.get(vehicle, vehicle)
            held[vehicle] = True
    return {"leads": leads, "merged": merged}


def family(vehicle: str, merged: dict) -> list:
    """The ids under which entries of a vehicle may stand: those merged into it, then its own."""
    chief = merged.get(vehicle, vehicle)
    return [part for part in list(merged) if merged[part] == chief] + [chief]
