"""The house limits: as delivered, as the lead set them, and as a sheet gives them; in mm."""

from .log.fold import of_kind, precedes, standing

HOUSE_LIMITS = {
    "offset": 3.0,
    "repeat": 1.5,
    "face_u": 0.5,
    "lean": 15.0,
    "bolt_clearance": 0.8,
}


def in_force(entries: list, day: str) -> list:
    """Of house limits and what crosses them out, what counts on a day such as 2026-12-24."""
    return [each for each in entries if (each["body"].get("from") or "") <= day]


def fold_limits(entries: list) -> dict:
    """The house limits: those the lead set, the rest as delivered."""
    limits = dict(HOUSE_LIMITS)
    for entry in of_kind(standing(entries), "limit"):
        limits[entry["body"]["name"]] = entry["body"]["value"]
    return limits


def limits_at(entries: list, job: dict, day: str) -> dict:
    """The limits of a folded job: those of its hand-in, of today's day until then.

    A job that was sent back goes by today's again.
    """
    handed_in = job["handed_in"] if job["state"] in ["pending", "accepted"] else None
    return fold_limits(counting_at(entries, handed_in, day))


def counting_at(entries: list, entry: dict | None, day: str) -> list:
    """Of house limits and what crosses them out, what counted at an entry; today without one."""
    on = day if entry is None else entry["made_at"][:10]
    return in_force([each for each in entries if precedes(each, entry) is True], on)


def limits_of_sheet(sheet: dict) -> dict:
    """The limits that a sheet gives, those it leaves out as delivered."""
    limits = dict(HOUSE_LIMITS)
    given = sheet.get("limits") or {}
    for name in list(given):
        if given[name] is not None:
            limits[name] = given[name]
    return limits
