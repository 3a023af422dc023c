"""What play, clearance and torque still lack, once they were begun or a change calls for them."""

from ..checks.clearance import clearance
from ..checks.torque import torque
from ..joint_terms import joint_title
from ..sentences.joint_answers import capital, unchecked_words
from ..sentences.reasons import in_words

BAR_ENDS = ["frame end", "axle end"]


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
