"""What tags lead to, and which vehicles are one and the same.

A blank tag becomes a vehicle at its first scan, and the phone that scans it may not have heard that
the tag was given to a vehicle before. The vehicle made at such a scan is then part of the other.
"""

from .fold import standing


def follow(entries: list) -> dict:
    """Tag entries, merging patches and strikes, in log order, as {leads, merged}.

    `leads` is tag code to vehicle; `merged` is vehicle to the one that it is part of, which is
    never part of a further one. A tag leads to the vehicle that it was put on last; a first scan
    (`first` in the entry) takes a tag only when it led nowhere. A vehicle's patch `merged_into`
    is the lead saying that it is another one.
    """
    found: dict = {"leads": {}, "merged": {}}
    held: dict = {}
    for entry in standing(entries):
        if entry["kind"] == "tag":
            put_on(found, held, entry)
        elif entry["kind"] == "vehicle" and entry["body"].get("merged_into") is not None:
            merge(found, entry["vehicle"], entry["body"]["merged_into"])
    return found


def put_on(found: dict, held: dict, entry: dict) -> None:
    """Follow one tag to its vehicle; `held` are the vehicles that were given a tag of their own."""
    code = entry["body"]["code"]
    vehicle = entry["vehicle"]
    holder = found["leads"].get(code)
    if entry["body"].get("first") is True and holder is not None:
        # A vehicle that holds a tag of its own is not made by this scan.
        if holder != vehicle and vehicle not in held:
            merge(found, vehicle, holder)
    else:
        found["leads"].pop(code, None)
        found["leads"][code] = found["merged"].get(vehicle, vehicle)
        held[vehicle] = True


def merge(found: dict, vehicle: str, into: str) -> None:
    """Make a vehicle, with all that is part of it, part of another; nothing when it is already."""
    chief = found["merged"].get(into, into)
    if found["merged"].get(vehicle, vehicle) == chief:
        return
    for part in list(found["merged"]):
        if found["merged"][part] == vehicle:
            found["merged"][part] = chief
    found["merged"][vehicle] = chief
    for code in list(found["leads"]):
        if found["leads"][code] == vehicle:
            found["leads"][code] = chief


def family(vehicle: str, merged: dict) -> list:
    """The ids under which entries of a vehicle may stand: those merged into it, then its own."""
    chief = merged.get(vehicle, vehicle)
    return [part for part in list(merged) if merged[part] == chief] + [chief]


def current_tag(record: dict) -> str | None:
    """The tag code that was put on a vehicle last and was neither replaced nor lost, or None."""
    replaced = record.get("replaced_tags") or {}
    found = None
    for code in record.get("tags") or []:
        if replaced.get(code) is None:
            found = code
    return found
