"""What was measured against what is on file: what differs without a change logged.

Lengths in mm. A change that is logged takes out of the comparison what it may have changed.
"""

from ..checks.moved import higher_since

# What two tapes and two floors make of the same bolt, mm.
ROOM = 6.0
# A lead is read off two lines on the floor, twice as roughly as a length.
LEAD_ROOM = 12.0
# Boxes of one maker differ by more; measured arms put a ratio off by less.
RATIO_ROOM = 1.0
PITCH_ROOM = 0.02
# A floor or a set of tires that lies so much higher moves both ends of a link alike.
ALIKE = 30.0
# What each kind of change may change of a link on file.
CHANGES_LENGTH = ["bar_replaced", "link_replaced", "part_replaced"]
CHANGES_HEIGHTS = [
    "bracket_moved", "hole_repaired", "pitman_changed", "part_replaced", "springs_changed",
    "wheels_changed", "arm_moved",
]  # fmt: skip
CHANGES_STEERING = ["arm_moved", "pitman_changed", "part_replaced"]
CHANGES_STANCE = ["springs_changed", "wheels_changed"]
LINKS = ["track_bar", "drag_link"]


def logged(sheet: dict) -> list:
    """The kinds of change that are logged since the round on file."""
    return list(sheet.get("changes") or [])


def any_of(kinds: list, names: list) -> bool:
    """Whether one of these kinds is among the names."""
    return len([each for each in kinds if each in names]) > 0


def unnamed(sheet: dict) -> bool:
    """Whether work is logged of which it is not said what it was."""
    return (sheet.get("before") or {}).get("changed") is True and len(logged(sheet)) == 0


def differing(sheet: dict) -> list:
    """What of bar and link differs from the file, as {link, field, now, filed}.

    A length has `logged` too where turns of its adjuster are: by how much they made it longer.
    """
    found: list = []
    filed = sheet.get("on_file") or {}
    if unnamed(sheet):
        return found
    for name in LINKS:
        now = sheet.get(name)
        then = filed.get(name)
        if now is not None and then is not None:
            for field in fields_differing(sheet, name, now, then):
                each = {"link": name, "field": field}
                each.update({"now": at(now, field), "filed": at(then, field)})
                if field == "length" and longer_by_log(sheet, name) != 0:
                    each["logged"] = longer_by_log(sheet, name)
                found.append(each)
    return found


def at(link: dict, field: str):  # type: ignore[no-untyped-def]
    """A field of a link, that of its adjuster for pitch and kind."""
    if field in ["pitch", "kind"]:
        return (link.get("adjuster") or {}).get(field)
    return link.get(field)


def longer_by_log(sheet: dict, name: str) -> float:
    """By how much logged turns made a link longer, in mm; those of the drag link are not summed."""
    if name != "track_bar":
        return 0.0
    return (sheet.get("before") or {}).get("length_change") or 0.0


def fields_differing(sheet: dict, name: str, now: dict, then: dict) -> list:
    """The fields of one link that differ from the file with no change to explain it."""
    names = logged(sheet)
    found: list = []
    if differs(now, then, "frame_end"):
        found.append("frame_end")
    if not any_of(CHANGES_LENGTH, names):
        unsaid = name == "track_bar" or "link_turned" not in names
        if unsaid and further(now, then, "length", longer_by_log(sheet, name), ROOM):
            found.append("length")
        found.extend(thread_differing(now, then))
    if not any_of(CHANGES_HEIGHTS, names):
        found.extend(heights_differing(sheet, now, then))
    if not any_of(CHANGES_LENGTH + CHANGES_HEIGHTS, names):
        if further(now, then, "fore_aft", 0.0, LEAD_ROOM):
            found.append("fore_aft")
    return found + steering_differing(now, then, names)


def steering_differing(now: dict, then: dict, names: list) -> list:
    """`arm`, `arm_points` and `ratio`, where they differ; a track bar has none of them."""
    found: list = []
    if "arm_moved" not in names:
        if further(now, then, "arm", 0.0, ROOM):
            found.append("arm")
        if differs(now, then, "arm_points"):
            found.append("arm_points")
    if not any_of(CHANGES_STEERING, names) and further(now, then, "ratio", 0.0, RATIO_ROOM):
        found.append("ratio")
    return found


def differs(now: dict, then: dict, field: str) -> bool:
    """Whether both know a field and say another thing."""
    if now.get(field) is None or then.get(field) is None:
        return False
    same: bool = now[field] == then[field]
    return not same


def further(now: dict, then: dict, field: str, expected: float, room: float) -> bool:
    """Whether both know a number and it changed by other than expected, by more than `room`."""
    if now.get(field) is None or then.get(field) is None:
        return False
    by: float = abs(now[field] - then[field] - expected)
    return by > room


def thread_differing(now: dict, then: dict) -> list:
    """`pitch` and `kind`, where the adjuster is another one than on file."""
    first = now.get("adjuster") or {}
    second = then.get("adjuster") or {}
    found: list = []
    if first.get("pitch") is not None and second.get("pitch") is not None:
        if abs(first["pitch"] - second["pitch"]) > PITCH_ROOM:
            found.append("pitch")
    return found + (["kind"] if differs(first, second, "kind") else [])


def heights_differing(sheet: dict, now: dict, then: dict) -> list:
    """`frame_height` or `axle_height`, where neither tires nor ride height explain the change.

    Both ends alike: another floor or other tires. The frame end alone: the ride height.
    """
    known = [one.get(end) for one in [now, then] for end in ["frame_height", "axle_height"]]
    if len([each for each in known if each is None]) > 0:
        return []
    frame = now["frame_height"] - then["frame_height"]
    axle = now["axle_height"] - then["axle_height"]
    higher = higher_since(sheet)
    ride = 0.0 if higher is None else (higher["left"] + higher["right"]) / 2
    explained = abs(frame - axle) <= ROOM or abs(frame - axle - ride) <= ROOM
    if explained and abs(axle) <= ALIKE:
        return []
    return ["frame_height" if abs(frame) >= abs(axle) else "axle_height"]


def not_measured_since(sheet: dict) -> list:
    """The links whose heights are older than a logged change of springs, tires or ride height."""
    older = [each for each in sheet.get("older") or [] if each in LINKS]
    filed = sheet.get("on_file") or {}
    higher = higher_since(sheet)
    if higher is None or not any_of(CHANGES_STANCE, logged(sheet)):
        return older
    if abs(higher["left"] + higher["right"]) / 2 <= ROOM:
        return older
    for name in LINKS:
        now = sheet.get(name) or {}
        then = filed.get(name) or {}
        same = [
            each
            for each in ["frame_height", "axle_height"]
            if now.get(each) is not None and now.get(each) == then.get(each)
        ]
        if len(same) == 2 and name not in older:
            older.append(name)
    return older
