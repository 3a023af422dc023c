"""Which values real vehicles have: the one table of ranges, and what is asked where one is not.

`RANGES` are values of a sheet that the advice is worked out from: until it is answered, a question
about one holds the advice. `OTHER_RANGES` are values that hold nothing: a question about one that
was kept unanswered is shown to the lead.

Angles in degrees, torque in N·m, everything else in mm. A range is wide: within it a value may
still be wrong, outside it something is. What is asked is data; the words and the reason of each
range are in sentences/range_words.py.
"""

import math

from ..checks.drag_link import link_rise, link_run, missing_of_link
from ..checks.play import along_of
from ..checks.track_bar import missing_of, rise_of, run_of
from ..numbers import is_number, mean, near_half_up, trimmed
from ..typed.length_grammar import INCH
from ..typed.torque_figures import UNITS_IN_NM

# Path, least, most, kind.
RANGES: list = [
    ["heights.left", 40, 700, "length"],
    ["heights.right", 40, 700, "length"],
    ["heights.known_lean", -60, 60, "offset"],
    ["heights.read_to", 0.05, 7, "step"],
    ["centering.left", 40, 700, "length"],
    ["centering.right", 40, 700, "length"],
    ["centering.left_extra", -20, 120, "length"],
    ["centering.right_extra", -20, 120, "length"],
    ["centering.read_to", 0.05, 7, "step"],
    ["centering.known_sum", 150, 1300, "length"],
    ["centering.known_sum_u", 0, 20, "offset"],
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
    ["drag_link.box_ratio", 8, 40, "ratio"],
    ["drag_link.pitman_arm", 80, 320, "length"],
    ["steering.wheel_deg", -180, 180, "angle"],
    ["steering.after_bumps", -180, 180, "angle"],
    ["play[].along", 0, 12, "gauge"],
    ["play[].bolt", 6, 42, "gauge"],
    ["play[].hole_long", 6, 70, "gauge"],
    ["play[].hole_short", 6, 70, "gauge"],
    ["play[].sleeve", 6, 70, "gauge"],
    ["play[].edge", 5, 200, "gauge"],
    ["clearance[].gap", 0, 900, "length"],
    ["toe.front", 800, 3000, "length"],
    ["toe.rear", 800, 3000, "length"],
    ["toe.span", 200, 1500, "length"],
    ["wheelbase.left", 1500, 9000, "length"],
    ["wheelbase.right", 1500, 9000, "length"],
    ["wheelbase.track", 1000, 2800, "length"],
]
# In N·m, whatever unit a sheet has it in.
TORQUE: list = ["torque[].value", 5, 1500, "torque"]
OTHER_RANGES: list = [
    ["torque[].also", 5, 1500, "torque"],
    ["torque[].tolerance", 0, 300, "torque"],
    ["torque[].then_deg", 5, 360, "angle"],
    ["play[].maker_limit", 0.05, 12, "gauge"],
    ["play[].house_limit", 0.05, 12, "gauge"],
    # In km or miles.
    ["recheck.distance", 20, 8000, "distance"],
    ["remeasure.distance", 200, 60000, "distance"],
    ["change.turns", 0, 30, "turns"],
    ["change.length_change", 0, 120, "length"],
    ["change.moved", 0.5, 250, "length"],
    ["vehicle.rail_width", 500, 1200, "length"],
    ["vehicle.track", 1000, 2800, "length"],
    ["limit.offset", 1, 20, "length"],
    ["limit.repeat", 0.3, 6, "length"],
    ["limit.face_u", 0.1, 3, "length"],
    ["limit.lean", 5, 40, "length"],
    ["limit.bolt_clearance", 0.2, 2, "gauge"],
    ["limit.clearance", 2, 50, "length"],
    ["limit.bump_steer", 0.1, 2, "degrees"],
]
# A gauge of a shop shows no less, mm; what is smaller and not zero is in inches.
LEAST_ON_GAUGE = 0.05
# What the units of each kind come to, those first that it is likelier to have been meant in.
UNITS_OF: dict = {
    "length": {"mm": 1.0, "in": INCH, "cm": 10.0},
    "gauge": {"mm": 1.0, "in": INCH, "thou": INCH / 1000},
    "pitch": {"mm": 1.0},
    "torque": {
        "N·m": 1.0,
        "lb-ft": UNITS_IN_NM["lb-ft"],
        "lb-in": UNITS_IN_NM["lb-in"],
        "kgf·m": UNITS_IN_NM["kgf·m"],
    },
}
# And which of them a value may have been written in.
WRITTEN_IN: dict = {
    "length": ["mm", "in"],
    "gauge": ["mm", "in", "thou"],
    "pitch": ["mm"],
    "torque": ["N·m", "lb-ft"],
}
# What no sheet can hold as zero: measured again it is something else.
NEVER_ZERO = [
    "track_bar.length",
    "track_bar.adjuster.pitch",
    "drag_link.length",
    "drag_link.arm",
    "drag_link.adjuster.pitch",
    "drag_link.ratio",
    "drag_link.box_ratio",
    "drag_link.pitman_arm",
    "play[].bolt",
    "play[].hole_long",
    "play[].hole_short",
    "play[].sleeve",
    "play[].edge",
    "toe.front",
    "toe.rear",
    "toe.span",
    "wheelbase.left",
    "wheelbase.right",
    "wheelbase.track",
]
# Lists of which each value is one of its own.
ONE_BY_ONE = ["left", "right", "thread_left", "after_bumps"]
# Both sides together: faces stand this much further apart than rails, mm.
SUM = [150.0, 1300.0]
# A bar that lies steeper binds; the travel of a lifted vehicle moves an axle less than this.
STEEPEST_DEG = 35.0
FURTHEST_OFF = 45.0
# A frame end may lie a little under the axle end; further down the two were mixed up.
END_BELOW = 40.0
MOST_MISMATCH_DEG = 15.0
# An inch: wheels further from straight ahead scrub so that nobody drives there.
MOST_TOE = 25.4
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
    for row in RANGES + [TORQUE] + OTHER_RANGES:
        if row[0] == path and is_number(value):
            if not is_within(row, value):  # type: ignore[arg-type]
                return [out_of_range(row, value)]  # type: ignore[arg-type]
    return []


def is_within(row: list, value: float) -> bool:
    """Whether a value lies in its range; what no gauge shows does not."""
    return value >= row[1] and value <= row[2] and not is_tiny(row, value)


def is_tiny(row: list, value: float) -> bool:
    """Whether a value is less than a gauge shows, and not zero."""
    return row[3] == "gauge" and value != 0 and abs(value) < LEAST_ON_GAUGE


def other_asks(sheet: dict) -> list:
    """What has to be asked of the values of a sheet that hold nothing."""
    found: list = []
    for each in sheet.get("torque") or []:
        scale = UNITS_IN_NM[each.get("unit") or "N·m"]
        for field, factor in [["tolerance", scale], ["then_deg", 1.0]]:
            if each.get(field) is not None:
                found.extend(ask_of(f"torque[].{field}", each[field] * factor))
        if each.get("also") is not None:
            nm = each["also"] * UNITS_IN_NM[each.get("also_unit") or "N·m"]
            found.extend(ask_of("torque[].also", nm))
    for joint in sheet.get("play") or []:
        for field in ["maker_limit", "house_limit"]:
            found.extend(ask_of(f"play[].{field}", joint.get(field)))
    return found + ask_of("recheck.distance", (sheet.get("recheck") or {}).get("distance"))


def out_of_range(row: list, value: float) -> dict:
    """The question about a value out of its range."""
    ask = {"field": row[0], "code": "range", "value": value, "least": row[1], "most": row[2]}
    ask["kind"] = row[3]
    ask["tiny"] = is_tiny(row, value)
    ask["never"] = value == 0 and row[0] in NEVER_ZERO
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
    row = ["", least, most, kind]
    unit, digits = as_written(value, kind)
    meant: list = []
    if kind not in ["angle", "offset", "step"]:
        factors = UNITS_OF.get(kind, {})
        for name in list(factors):
            if name != unit:
                meant.append([name, digits, digits * factors[name]])
        scale = factors.get(unit, 1.0)
        for moved in [digits / 10, digits * 10]:
            meant.append([unit, moved, moved * scale])
    if kind == "pitch":
        by_inch = ["to_inch", value, INCH / value if value > 0 else 0.0]
        meant.append(["mm", value / INCH, value / INCH])
        # Threads to the inch are whole numbers.
        whole = abs(value - near_half_up(value)) < 1e-6
        meant = [by_inch] + meant if whole else meant + [by_inch]
    found: list = []
    for name, number, is_value in meant:
        known = [each for each in found if abs(each["value"] - is_value) < 1e-6]
        if len(known) == 0 and is_value != 0 and is_within(row, is_value):
            found.append({"unit": name, "number": number, "value": is_value})
    return found


def as_written(value: float, kind: str) -> tuple:
    """The unit and the number in which a value was most likely written: the plainest one."""
    factors = UNITS_OF.get(kind, {})
    plainest = kind
    digits = value
    for unit in WRITTEN_IN.get(kind, []):
        number = value / factors[unit]
        exact = abs(number * 1e4 - near_half_up(number * 1e4)) < 1e-3
        if plainest == kind or (exact and len(trimmed(number, 4)) < len(trimmed(digits, 4))):
            plainest = unit
            digits = number
    return plainest, digits


def asks_of_torque(sheet: dict) -> list:
    """What has to be asked of torques, whichever unit they are in."""
    found: list = []
    for each in sheet.get("torque") or []:
        if each.get("value") is not None:
            unit = each.get("unit") or "N·m"
            found.extend(ask_of(TORQUE[0], each["value"] * UNITS_IN_NM[unit]))
    return found


def asks_of_parts(sheet: dict) -> list:
    """What has to be asked where values do not fit each other."""
    found = asks_of_sides(sheet)
    if sheet.get("axle") == "rear" and sheet.get("drag_link") is not None:
        found.append(ask_about("axle", "rear_link", "rear", [choice("front")]))
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
