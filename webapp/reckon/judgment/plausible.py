"""Which values real vehicles have: the one table of ranges, and what is asked where one is not.

Angles in degrees, torque in N·m, everything else in mm. A range is wide: within it a value may
still be wrong, outside it something is. What is asked is data; the words and the reason of each
range are in sentences/range_words.py.
"""

import math

from ..checks.drag_link import link_rise, link_run, missing_of_link
from ..checks.play import along_of
from ..checks.track_bar import missing_of, rise_of, run_of
from ..numbers import is_number, mean, near_half_up
from ..typed.length_grammar import INCH
from ..typed.torque_figures import UNITS_IN_NM

# Path, least, most, kind.
RANGES: list = [
    ["heights.left", 40, 700, "length"],
    ["heights.right", 40, 700, "length"],
    ["heights.known_lean", -60, 60, "offset"],
    ["centering.left", 40, 700, "length"],
    ["centering.right", 40, 700, "length"],
    ["centering.left_extra", -20, 120, "length"],
    ["centering.right_extra", -20, 120, "length"],
    ["centering.read_to", 0.05, 7, "step"],
    ["centering.tilt_deg", 0, 6, "angle"],
    ["centering.rail_point_height", 100, 1400, "length"],
    ["centering.face_point_height", 100, 1200, "length"],
    ["track_bar.length", 450, 1500, "length"],
    ["track_bar.frame_height", 200, 1300, "length"],
    ["track_bar.axle_height", 150, 1200, "length"],
    ["track_bar.fore_aft", -250, 250, "offset"],
    ["track_bar.frame_end_from_center", 100, 800, "length"],
    ["track_bar.adjuster.pitch", 0.7, 4, "pitch"],
    ["track_bar.adjuster.step", 0, 1, "turns"],
    ["track_bar.adjuster.thread_left", 0, 120, "length"],
    ["track_bar.bump", 10, 400, "length"],
    ["track_bar.droop", 10, 500, "length"],
    ["track_bar.axle_tube_height", 150, 1000, "length"],
    ["track_bar.rail_height", 200, 1500, "length"],
    ["drag_link.length", 300, 1500, "length"],
    ["drag_link.frame_height", 200, 1300, "length"],
    ["drag_link.axle_height", 150, 1200, "length"],
    ["drag_link.fore_aft", -350, 350, "offset"],
    ["drag_link.arm", 80, 320, "length"],
    ["drag_link.adjuster.pitch", 0.7, 4, "pitch"],
    ["drag_link.adjuster.step", 0, 1, "turns"],
    ["drag_link.adjuster.thread_left", 0, 120, "length"],
    ["drag_link.ratio", 8, 40, "ratio"],
    ["steering.wheel_deg", -360, 360, "angle"],
    ["play[].along", 0, 12, "length"],
    ["play[].bolt", 6, 42, "length"],
    ["play[].hole_long", 6, 70, "length"],
    ["play[].hole_short", 6, 70, "length"],
    ["play[].sleeve", 6, 70, "length"],
    ["play[].edge", 5, 200, "length"],
    ["clearance[].gap", 0, 900, "length"],
    ["toe.front", 800, 3000, "length"],
    ["toe.rear", 800, 3000, "length"],
    ["toe.span", 200, 1500, "length"],
    ["wheelbase.left", 1500, 9000, "length"],
    ["wheelbase.right", 1500, 9000, "length"],
    ["wheelbase.track", 1000, 2800, "length"],
]
# Lists of which each number is a value by itself; those of other fields add up.
ONE_BY_ONE = ["left", "right", "thread_left"]
# What a torque on a link or its bracket comes to, N·m.
TORQUE = [5.0, 1500.0]
# Both sides together: faces stand this much further apart than rails, mm.
SUM = [150.0, 1300.0]
# A bar that lies steeper binds; the travel of a lifted vehicle moves an axle less than this.
STEEPEST_DEG = 35.0
FURTHEST_OFF = 45.0
# A frame end may lie a little under the axle end; further down the two were mixed up.
END_BELOW = 40.0
MOST_MISMATCH_DEG = 15.0
MOST_TOE = 45.0
MOST_APART = 80.0


def asks(sheet: dict) -> list:
    """What has to be asked back of a sheet: {field, code, value, choices, ...}; often nothing."""
    found: list = []
    for row in RANGES:
        for value in values_at(sheet, row[0].split(".")):
            found.extend(ask_of(row[0], value))
    return found + asks_of_torque(sheet) + asks_of_parts(sheet)


def ask_of(path: str, value: object) -> list:
    """What has to be asked of one value of a sheet, by its path; none where it is plausible."""
    for row in RANGES:
        if row[0] == path and is_number(value):
            if value < row[1] or value > row[2]:
                return [out_of_range(row, value)]  # type: ignore[arg-type]
    return []


def out_of_range(row: list, value: float) -> dict:
    """The question about a value out of its range."""
    ask = {"field": row[0], "code": "range", "value": value, "least": row[1], "most": row[2]}
    ask["kind"] = row[3]
    ask["choices"] = likely(value, row[3], row[1], row[2])
    return ask


def values_at(part: object, names: list) -> list:
    """The numbers that a sheet has at a path: one, those of a list, or those of a list of parts."""
    if len(names) == 0:
        if isinstance(part, list):
            return [along_of({"along": part})]
        return [part]
    if not isinstance(part, dict):
        return []
    name = names[0].replace("[]", "")
    inner = part.get(name)
    if inner is None:
        return []
    if names[0].endswith("[]"):
        found: list = []
        for each in inner:
            found.extend(values_at(each, names[1:]))
        return found
    if len(names) == 1 and isinstance(inner, list) and name in ONE_BY_ONE:
        return list(inner)
    return values_at(inner, names[1:])


def likely(value: float, kind: str, least: float, most: float) -> list:
    """What a value out of its range may have meant, as {unit, number, value}, the likeliest first.

    `number` is what was written: the same digits in another unit, or with the point elsewhere.
    """
    tried: list = []
    if kind == "length":
        tried = [["mm", value / INCH, value / INCH], ["in", value, value * INCH]]
        tried = tried + [["cm", value, value * 10], ["mm", value / 10, value / 10]]
        tried.append(["mm", value * 10, value * 10])
    if kind == "pitch":
        by_inch = ["to_inch", value, INCH / value if value > 0 else 0.0]
        tried = [["mm", value / 10, value / 10], ["mm", value / INCH, value / INCH]]
        # Threads to the inch are whole numbers.
        whole = abs(value - near_half_up(value)) < 1e-6
        tried = [by_inch] + tried if whole else tried + [by_inch]
    if kind == "ratio":
        tried = [["", value / 10, value / 10], ["", value * 10, value * 10]]
    found: list = []
    for unit, number, meant in tried:
        if meant >= least and meant <= most and meant != 0:
            found.append({"unit": unit, "number": number, "value": meant})
    return found


def asks_of_torque(sheet: dict) -> list:
    """What has to be asked of torques, whichever unit they are in."""
    found: list = []
    for each in sheet.get("torque") or []:
        if each.get("value") is not None:
            unit = each.get("unit") or "N·m"
            nm = each["value"] * UNITS_IN_NM[unit]
            if nm < TORQUE[0] or nm > TORQUE[1]:
                row = ["torque[].value", TORQUE[0], TORQUE[1], "torque"]
                found.append(out_of_range(row, nm))
    return found


def asks_of_parts(sheet: dict) -> list:
    """What has to be asked where values do not fit each other."""
    found = asks_of_sides(sheet)
    bar = sheet.get("track_bar") or {}
    link = sheet.get("drag_link") or {}
    if len(missing_of(bar)) == 0:
        found.extend(asks_of_rod("track_bar", bar, rise_of(bar), run_of(bar, rise_of(bar))))
    if len(missing_of_link(link)) == 0:
        found.extend(asks_of_rod("drag_link", link, link_rise(link), link_run(link)))
    if len(missing_of(bar)) == 0 and len(missing_of_link(link)) == 0:
        found.extend(asks_of_both(bar, link))
    for joint in sheet.get("play") or []:
        found.extend(asks_of_joint(joint))
    return found + asks_of_stance(sheet)


def ask_about(field: str, code: str, value: object, choices: list) -> dict:
    """One question about values that do not fit each other."""
    return {"field": field, "code": code, "value": value, "choices": choices}


def choice(value: object) -> dict:
    """Another value that may have been meant: a side, or a length in mm."""
    return {"unit": "side" if isinstance(value, str) else "length", "number": value, "value": value}


def asks_of_sides(sheet: dict) -> list:
    """What has to be asked of the distances of both sides together, and of plumb lines."""
    part = sheet.get("centering") or {}
    found: list = []
    rail = part.get("rail_point_height")
    face = part.get("face_point_height")
    if rail is not None and face is not None and face > rail:
        found.append(ask_about("centering.rail_point_height", "points", rail, [choice(face)]))
    if len(part.get("left") or []) == 0 or len(part.get("right") or []) == 0:
        return found
    left = mean(part["left"]) - (part.get("left_extra") or 0.0)
    right = mean(part["right"]) - (part.get("right_extra") or 0.0)
    if left + right < SUM[0] or left + right > SUM[1]:
        found.append(ask_about("centering", "sum", left + right, []))
    if abs(left - right) / 2 > FURTHEST_OFF:
        found.append(ask_about("centering", "offset", (left - right) / 2, []))
    return found


def asks_of_rod(name: str, rod: dict, rise: float, run: float | None) -> list:
    """What has to be asked of the geometry of track bar or drag link."""
    if run is None or run <= 0:
        return [ask_about(f"{name}.length", "reach", rod["length"], [])]
    swapped = [choice(rod["axle_height"])]
    if math.degrees(math.atan2(abs(rise), run)) > STEEPEST_DEG:
        return [ask_about(f"{name}.frame_height", "steep", rod["frame_height"], [])]
    if rise < -END_BELOW:
        return [ask_about(f"{name}.frame_height", "below", rod["frame_height"], swapped)]
    return []


def asks_of_both(bar: dict, link: dict) -> list:
    """What has to be asked where bar and link lie in no way that would steer straight."""
    if bar["frame_end"] != link["frame_end"]:
        return [
            ask_about("track_bar.frame_end", "ends", bar["frame_end"], [choice(link["frame_end"])])
        ]
    bar_run = run_of(bar, rise_of(bar)) or 1.0
    steeper = math.atan2(rise_of(bar), bar_run) - math.atan2(link_rise(link), link_run(link) or 1.0)
    if abs(math.degrees(steeper)) > MOST_MISMATCH_DEG:
        return [ask_about("drag_link.frame_height", "mismatch", link["frame_height"], [])]
    return []


def asks_of_joint(joint: dict) -> list:
    """What has to be asked of a bolt and its hole."""
    hole = joint.get("hole_long")
    room = joint.get("read_to") or 0.1
    short = joint.get("hole_short")
    if hole is not None and short is not None and short > hole + room:
        return [ask_about("play[].hole_short", "hole", short, [choice(hole)])]
    if hole is not None and joint.get("bolt") is not None and joint["bolt"] > hole + room:
        return [ask_about("play[].bolt", "bolt", joint["bolt"], [])]
    return []


def asks_of_stance(sheet: dict) -> list:
    """What has to be asked of toe and wheelbase."""
    found: list = []
    toe = sheet.get("toe") or {}
    if toe.get("front") is not None and toe.get("rear") is not None:
        if abs(toe["front"] - toe["rear"]) > MOST_TOE:
            found.append(ask_about("toe.front", "toe", toe["front"] - toe["rear"], []))
    base = sheet.get("wheelbase") or {}
    if base.get("left") is not None and base.get("right") is not None:
        if abs(base["left"] - base["right"]) > MOST_APART:
            found.append(ask_about("wheelbase.left", "wheelbase", base["left"] - base["right"], []))
    return found
