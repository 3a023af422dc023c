"""What a round still lacks before it is handed in, step by step."""

from ..checks.centering import READINGS_A_SIDE, ticks_asked
from ..checks.clearance import clearance
from ..checks.drag_link import missing_of_link
from ..checks.toe_and_wheelbase import BASE_NEEDED, TOE_NEEDED
from ..checks.torque import torque
from ..checks.track_bar import missing_fields, missing_of
from ..joint_terms import joint_title
from ..sentences.change_words import stale_sentence
from ..sentences.joint_answers import capital, unchecked_words
from ..sentences.reasons import in_words, sentences
from ..terms import TICK_WORDS

BAR_ENDS = ["frame end", "axle end"]


def missing(sheet: dict, overtaken: list | None = None, scope: str | None = None) -> list:
    """What a round still lacks before it is handed in, as {step, says} in the order of the walk.

    `overtaken` is what changes have made stale (see stale). A track bar of which nothing is known
    is no lack in a job whose `scope` does without.
    """
    found: list = []
    for says in missing_heights(sheet):
        found.append({"step": "heights", "says": says})
    for says in missing_centering(sheet):
        found.append({"step": "centering", "says": says})
    bar = sheet.get("track_bar")
    if bar is not None or scope is None or scope == "whole":
        for says in sentences(missing_of(bar if bar is not None else {}), "mm"):
            found.append({"step": "track_bar", "says": says})
    for says in missing_link(sheet):
        found.append({"step": "drag_link", "says": says})
    for says in missing_play(sheet):
        found.append({"step": "play", "says": says})
    for says in missing_clearance(sheet):
        found.append({"step": "clearance", "says": says})
    for says in missing_torque(sheet):
        found.append({"step": "torque", "says": says})
    return found + to_do_again(sheet, overtaken or [])


def to_do_again(sheet: dict, overtaken: list) -> list:
    """What has to be made again, as {step, says}; an axle not read anew lacks enough already."""
    found: list = []
    for each in overtaken:
        if each["step"] != "centering" or sheet.get("centering") is not None:
            found.append({"step": each["step"], "says": stale_sentence(each)})
    return found


def missing_heights(sheet: dict) -> list:
    """What the ride height still lacks, as sentences."""
    says: list = []
    if sheet.get("standing") is None:
        says.append("Say what the vehicle is standing on.")
    if sheet.get("standing") == "hanging":
        says.append("The axle is hanging: measure again with the load on the springs.")
    ready = sheet.get("ready") or {}
    for name in ticks_asked(sheet):
        if ready.get(name) is not True:
            says.append(f"Not checked: {TICK_WORDS[name]}.")
    heights = sheet.get("heights")
    for side in ["left", "right"]:
        if heights is None or len(heights.get(side) or []) == 0:
            says.append(f"No ride height on the {side}.")
    return says


def missing_centering(sheet: dict) -> list:
    """What the centering still lacks, as sentences."""
    says: list = []
    part = sheet.get("centering")
    for side in ["left", "right"]:
        count = 0 if part is None else len(part.get(side) or [])
        if count == 0:
            says.append(f"No reading on the {side}.")
        elif count < READINGS_A_SIDE:
            says.append(f"Take a second reading on the {side}.")
    return says


def missing_link(sheet: dict) -> list:
    """What the drag link's step still lacks, as sentences; nothing until it was begun."""
    lacks: list = []
    if sheet.get("drag_link") is not None:
        lacks.extend(missing_of_link(sheet["drag_link"]))
    if sheet.get("toe") is not None:
        lacks.extend(missing_fields(sheet["toe"], TOE_NEEDED, "toe"))
    if sheet.get("wheelbase") is not None:
        lacks.extend(missing_fields(sheet["wheelbase"], BASE_NEEDED, "wheelbase"))
    return sentences(lacks, sheet.get("units") or "mm")


def missing_play(sheet: dict) -> list:
    """What the play still lacks, as sentences; nothing until it was begun."""
    joints = sheet.get("play")
    if joints is None:
        return []
    says: list = []
    names = [one.get("joint") for one in joints]
    for end in BAR_ENDS:
        if end not in names:
            says.append(f"{joint_title(end)}: not looked at.")
    for each in joints:
        if each.get("along") is None:
            says.append(f"{joint_title(each['joint'])}: no movement along the bar.")
    return says


def missing_clearance(sheet: dict) -> list:
    """What was not looked at of the pairs that were begun, as sentences."""
    entries = sheet.get("clearance")
    if entries is None:
        return []
    pairs = clearance(entries, {})["pairs"]
    return [unchecked_words(each) for each in pairs if len(each["unchecked"]) > 0]


def missing_torque(sheet: dict) -> list:
    """What the fasteners still lack, as sentences; nothing until the step was begun."""
    entries = sheet.get("torque")
    if entries is None:
        return []
    found = in_words(torque(entries, sheet.get("standing")), sheet.get("units") or "mm")
    says: list = []
    for each in found["fasteners"]:
        for why in each["lacks"]:
            says.append(f"{capital(each['fastener'])}: {why}")
    torqued = [one for one in found["fasteners"] if one["moved"] is None and not one["due"]]
    if len(torqued) > 0 and sheet.get("recheck") is None:
        says.append("Say when the fasteners are to be checked again.")
    return says
