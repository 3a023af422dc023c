"""Play: joint by joint, and what it adds up to at the axle and at the steering wheel.

Play along the bar adds over its joints; the axle moves by play · L / run, because the bar holds it
by the sideways part of its length only.
"""

import math

from ..numbers import total
from .drag_link import link_run, ratio_of
from .repairs import oval_of, repairs
from .track_bar import missing_of, rise_of, run_of

OF = ["track_bar", "drag_link", "other"]
LOOSE = [
    "sleeve_in_rubber", "sleeve_narrow", "bolt_in_sleeve", "bolt_in_hole", "bracket",
    "thread_in_hole",
]  # fmt: skip


def play(joints: list, bar: dict | None, link: dict | None, limit: float | None = None) -> dict:
    """The finding `play`: {joints} and the totals at axle and steering wheel.

    `limit` is the house's for the clearance of a bolt in its hole, in mm.
    """
    totals: dict = {"joints": [joint_found(each, limit, bar, link) for each in joints]}
    totals.update(axle_play(joints, bar, link))
    totals.update(link_play(joints, link))
    return totals


def along_of(joint: dict) -> float | None:
    """The movement along the bar in mm, both ways of a two-way reading together; None if none."""
    along = joint.get("along")
    if isinstance(along, list):
        return total(along)
    return along


def joint_found(
    joint: dict, limit: float | None = None, bar: dict | None = None, link: dict | None = None
) -> dict:
    """The finding of one joint; lengths in mm. Bar and link tell what a repair still lets move."""
    found: dict = {
        "joint": joint.get("joint"),
        "of": joint.get("of") or "track_bar",
        "along": along_of(joint),
        "clearance": less(joint.get("hole_long"), joint.get("bolt")),
        "oval": oval_of(joint),
    }
    found.update(judged(joint, found["along"]))
    found["loose"] = joint.get("loose")
    found["clearance_state"] = against(found["clearance"], limit)
    found["clearance_limit"] = limit
    found["repairs"] = repairs_of(joint, found, bar, link)
    found["reasons"] = reasons_of(joint, found)
    return found


def faults_of(found: dict) -> list:
    """What is outside at a joint that was found: `along`, `clearance`, `loose`."""
    faults: list = []
    if found["state"] == "outside" or found["house_state"] == "outside":
        faults.append("along")
    if found["clearance_state"] == "outside":
        faults.append("clearance")
    if found["loose"] is not None:
        faults.append("loose")
    return faults


def repairs_of(joint: dict, found: dict, bar: dict | None, link: dict | None) -> list:
    """The repair choices of a joint, each with what it still lets move.

    Steering parts are forged and hold a stud by its taper: a bad one is only ever replaced.
    """
    if found["of"] != "track_bar":
        bad = len(faults_of(found)) > 0 or (found["oval"] or 0.0) > 0
        return [{"kind": "replace_part"}] if bad else []
    choices = repairs(joint, found["clearance_limit"])
    for choice in choices:
        choice.update(axle_play([{"along": choice["clearance"]}], bar, link))
    return choices


def less(first: float | None, second: float | None) -> float | None:
    """The first length less the second; None where one is missing."""
    if first is None or second is None:
        return None
    return first - second


def judged(joint: dict, along: float | None) -> dict:
    """`state` against the maker's figure, else the house limit; each limit also by itself."""
    maker = against(along, joint.get("maker_limit"))
    house = against(along, joint.get("house_limit"))
    return {
        "state": maker if joint.get("maker_limit") is not None else house,
        "maker_state": maker,
        "house_state": house,
    }


def against(along: float | None, limit: float | None) -> str:
    """`inside`, `outside`, or `recorded` where no limit is known or nothing was measured."""
    if along is None or limit is None:
        return "recorded"
    return "inside" if along <= limit + 1e-9 else "outside"


def reasons_of(joint: dict, found: dict) -> list:
    """What there is to say of one joint, as reasons."""
    reasons: list = [movement_reason(joint, found)]
    clearance = found["clearance"]
    if clearance is not None and clearance < 0:
        reasons.append({"code": "bolt_larger_than_hole"})
    elif clearance is not None:
        reason = {"code": "bolt_clearance", "clearance": clearance}
        reason["state"] = found["clearance_state"]
        reason["limit"] = found["clearance_limit"]
        reasons.append(reason)
    if found["oval"] is not None and found["oval"] > 0:
        reasons.append({"code": "oval_hole", "oval": found["oval"]})
    if found["loose"] is not None:
        reasons.append({"code": "loose", "loose": found["loose"], "of": found["of"]})
    return reasons


def movement_reason(joint: dict, found: dict) -> dict:
    """The movement along the bar, with each limit that is known and how it stands against that."""
    if found["along"] is None:
        return {"code": "movement_not_recorded", "of": found["of"]}
    reason = {"code": "movement", "of": found["of"], "along": found["along"]}
    for whose in ["maker", "house"]:
        reason[f"{whose}_limit"] = joint.get(f"{whose}_limit")
        reason[f"{whose}_state"] = found[f"{whose}_state"]
    return reason


def play_of(joints: list, name: str) -> float | None:
    """The play of all joints of a bar together, in mm; None where none of them was measured."""
    found: list = []
    for joint in joints:
        along = along_of(joint)
        if along is not None and (joint.get("of") or "track_bar") == name:
            found.append(along)
    return total(found) if len(found) > 0 else None


def axle_play(joints: list, bar: dict | None, link: dict | None) -> dict:
    """How far the axle can move sideways in the bar's joints, and the steering with it."""
    along = play_of(joints, "track_bar")
    moved = None
    if along is not None and bar is not None and len(missing_of(bar)) == 0:
        run = run_of(bar, rise_of(bar))
        moved = None if run is None else along * bar["length"] / run
    found: dict = {"axle_movement": moved}
    found.update(dead_band(moved, link, "steer_deg", "rim_deg"))
    return found


def link_play(joints: list, link: dict | None) -> dict:
    """How far the steering can move in the drag link's joints, in degrees."""
    along = play_of(joints, "drag_link")
    moved = None
    if along is not None and link is not None and link.get("length") is not None:
        known = link.get("frame_height") is not None and link.get("axle_height") is not None
        run = link_run(link) if known else None
        moved = None if run is None else along * link["length"] / run
    return dead_band(moved, link, "link_steer_deg", "link_rim_deg")


def dead_band(moved: float | None, link: dict | None, steer: str, rim: str) -> dict:
    """The steer in degrees that a movement of the ball leaves free, and that at the wheel."""
    found: dict = {steer: None, rim: None}
    arm = link.get("arm") if link is not None else None
    if moved is None or link is None or arm is None or moved > arm:
        return found
    found[steer] = math.degrees(math.asin(moved / arm))
    ratio = ratio_of(link)
    if ratio is not None:
        found[rim] = found[steer] * ratio
    return found
