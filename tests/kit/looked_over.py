"""Rounds of a vehicle on which everything was looked over, and what is open before the road."""

from kit.worked_sheets import SAMPLE, changed, entry
from webapp.reckon.assess import assess
from webapp.reckon.joint_terms import FASTENERS
from webapp.reckon.walk.hold_points import hold_points

OPENED = entry("o", "job", {"axle": "front", "round": "as_found"})
PLACES = [
    {"state": state, "lock": lock}
    for state in ("ride", "full_bump", "full_droop", "crossed_up")
    for lock in ("left", "straight", "right")
]


def swept(gap=12.0, places=PLACES, between=("track bar", "oil pan")):
    return [{"between": list(between), "gap": gap, **each} for each in places]


def tight(joint, **more):
    return {"joint": joint, "of": "track_bar", "along": 0.1, "house_limit": 1.0, **more}


def torqued(name, **more):
    told = {"unit": "N·m", "source": "the maker", "end": "nut", "thread": "dry"}
    return {"fastener": name, "value": 90, **told, **more}


BOLTS = [torqued(name) for name in FASTENERS]
CENTERED = changed(
    SAMPLE,
    centering={"left": [204.0, 204.0], "right": [204.0, 204.2]},
    steering={"wheel_deg": 0},
    clearance=swept(),
    play=[tight("frame end"), tight("axle end")],
    torque=BOLTS,
)
OVAL = tight("frame end", bolt=14.1, hole_long=14.8, hole_short=14.4)


def seen(name="as_found", **parts):
    sheet = changed(CENTERED, **parts)
    return {"name": name, "sheet": sheet, "findings": assess(sheet)}


def points(entries, *rounds):
    found = hold_points([OPENED, *entries], list(rounds) or [seen()])
    return {each["hold_point"]: each for each in found}


def says(point):
    return [each["says"] for each in point["open"]]


def change(what, id="c", round="as_found"):
    return entry(id, "change", {"what": what}, round=round)
