"""A sheet goes in, its findings come out: the one door to the arithmetic."""

from .checks.bump_steer import bump_steer_found, steer
from .checks.centering import JUDGED, centering
from .checks.clearance import clearance
from .checks.lean import lean
from .checks.moved import moved
from .checks.play import play
from .checks.steering_wheel import steering, wheel_angle_of
from .checks.toe_and_wheelbase import square, toe
from .checks.torque import torque
from .checks.track_bar import bar_arc, bar_change
from .checks.what_if import what_if, what_if_held
from .checks.wheel_after_move import wheel
from .judgment.advice import advice
from .limits import limits_of_sheet
from .sentences.advice_words import asks_with_words, with_words
from .sentences.answer import answer
from .sentences.centering_reasons import centering_basis
from .sentences.number_rows import numbers
from .sentences.reasons import in_words, sentences
from .sheet_faults import faults
from .terms import said
from .typed_sheet import read_sheet

# Parts that tell somebody to set something, with the advice under which they may; and their codes.
ORDERS = {"bar_change": ["adjust"], "wheel": ["adjust"], "what_if": ["adjust", "leave", "none"]}
ORDERING = [
    "adjuster_missing", "bar_change_steers", "wheel_off_center", "steer_known_to", "raises",
]  # fmt: skip
SAID_BY_THEMSELVES = [
    "bar_arc", "steer", "wheel", "moved", "what_if", "play", "clearance", "torque", "toe", "square",
    "steering",
]  # fmt: skip


def assess(sheet: dict) -> dict:
    """The findings of a sheet; {"faults": [...]} where it can't be read."""
    read = read_sheet(sheet)
    return {"faults": read["faults"]} if len(read["faults"]) > 0 else findings_of(read["sheet"])


def assess_numbers(sheet: dict) -> dict:
    """The same of a sheet without texts to be read, such as the log gives."""
    found = faults(sheet)
    return {"faults": found} if len(found) > 0 else findings_of(sheet)


def findings_of(sheet: dict) -> dict:
    """The findings of a sheet that has numbers for its texts, and nothing at fault."""
    unit = sheet.get("units") or "mm"
    limits = limits_of_sheet(sheet)
    findings = checked(sheet, limits)
    if sheet.get("drag_link") is not None:
        bar = sheet.get("track_bar")
        findings["steer"] = steer(bar, sheet["drag_link"], limits.get("bump_steer"))
    add_what_if(findings, sheet)
    advised = advice(sheet, findings, limits)
    obey(findings, advised)
    for name in list(findings):
        findings[name] = in_words(findings[name], unit)
    findings["units"] = unit
    findings["advice"] = with_words(advised, unit)
    findings["asks"] = asks_with_words(findings["advice"]["reasons"], unit)
    runs = answer(findings, unit)
    findings["answer"] = runs
    findings["says"] = said(runs)
    findings["numbers"] = numbers(findings, unit)
    findings["why"] = why(sheet, findings, limits, unit)
    return findings


def judged(sheet: dict) -> dict:
    """What lists show of a sheet without texts: centering, bar and advice as data, or its faults.

    The curves and raises of a drag link take most of a sheet's time, and bear on no advice.
    """
    found = faults(sheet)
    if len(found) > 0:
        return {"faults": found}
    limits = limits_of_sheet(sheet)
    findings = checked(sheet, limits)
    findings["advice"] = advice(sheet, findings, limits)
    return findings


def assess_left(sheet: dict) -> dict:
    """What a round can leave open, with its sentences, of a sheet without texts; or its faults.

    Curves, raises and the rows of a screen leave nothing open, and take most of a sheet's time.
    """
    findings = judged(sheet)
    if findings.get("faults") is not None:
        return findings
    unit = sheet.get("units") or "mm"
    advised = findings.pop("advice")
    for name in list(findings):
        findings[name] = in_words(findings[name], unit)
    findings["advice"] = with_words(advised, unit)
    return findings


def checked(sheet: dict, limits: dict) -> dict:
    """The findings that the advice rests on, as data."""
    findings: dict = {}
    if sheet.get("centering") is not None:
        findings["centering"] = centering(sheet, limits)
    if sheet.get("track_bar") is not None:
        add_bar(findings, sheet["track_bar"])
    if sheet.get("drag_link") is not None:
        add_link(findings, sheet, limits)
    add_others(findings, sheet, limits)
    return findings


def add_bar(findings: dict, bar: dict) -> None:
    """Put the bar's arc, and the change that centers the axle, among the findings."""
    found = findings.get("centering")
    if found is not None and found["state"] in JUDGED:
        findings["bar_change"] = bar_change(bar, found["offset"], found["expanded"] / 2)
    findings["bar_arc"] = bar_arc(bar)


def add_link(findings: dict, sheet: dict, limits: dict) -> None:
    """Put the bump steer, and what the bar's change does to the wheel, among the findings."""
    link = sheet["drag_link"]
    steered = bump_steer_found(sheet.get("track_bar"), link, limits.get("bump_steer"))
    if steered is not None:
        findings["bump_steer"] = steered
    change = findings.get("bar_change")
    if change is not None and change.get("move") is not None:
        now = wheel_angle_of(sheet.get("steering") or {}) or 0.0
        findings["wheel"] = wheel(change, link, findings["centering"]["expanded"] / 2, now)


def add_what_if(findings: dict, sheet: dict) -> None:
    """Put the plans and the raises among the findings, where there is a bar that can be moved."""
    bar = sheet.get("track_bar")
    link = sheet.get("drag_link")
    plans = sheet.get("plans") or []
    if bar is None or (link is None and len(plans) == 0):
        return
    held = what_if_held(bar, link)
    findings["what_if"] = held if held is not None else what_if(bar, link, plans)


def add_others(findings: dict, sheet: dict, limits: dict) -> None:
    """Put what the remaining parts of the sheet say among the findings."""
    if sheet.get("before") is not None:
        findings["moved"] = moved(sheet, findings.get("centering") or {})
    if sheet.get("play") is not None:
        loosest = limits["bolt_clearance"]
        bar = sheet.get("track_bar")
        findings["play"] = play(sheet["play"], bar, sheet.get("drag_link"), loosest)
    if lean(sheet.get("heights") or {}, limits, sheet.get("track_bar")) is not None:
        findings["lean"] = lean(sheet["heights"], limits, sheet.get("track_bar"))
    if sheet.get("clearance") is not None:
        findings["clearance"] = clearance(sheet["clearance"], limits)
    if sheet.get("torque") is not None:
        findings["torque"] = torque(sheet["torque"], sheet.get("standing"))
    if wheel_angle_of(sheet.get("steering") or {}) is not None:
        findings["steering"] = steering(sheet["steering"], sheet.get("drag_link"))
    if sheet.get("toe") is not None:
        findings["toe"] = toe(sheet["toe"])
    if sheet.get("wheelbase") is not None:
        findings["square"] = square(sheet["wheelbase"], sheet.get("axle") or "front")


def obey(findings: dict, advised: dict) -> None:
    """Let no part give orders against the state of the advice; its numbers stay as they are.

    Where the bar is to be changed, the drag link is set once, for both causes together. What moved
    the axle is not told from heights that a change has overtaken.
    """
    state = advised["state"]
    older = [one for one in advised["reasons"] if one["code"] == "links_older"]
    if len(older) > 0 and findings.get("moved") is not None:
        findings["moved"]["reasons"] = []
    steered = findings.get("steering")
    ahead = findings.get("wheel") or {}
    if steered is not None and state == "adjust" and ahead.get("state") == "known":
        steered["link_length_change"] = ahead["link_length_change"]
        steered["turns"] = ahead["turns"]
        steered["counted_turns"] = ahead["counted_turns"]
    for name in list(ORDERS):
        found = findings.get(name)
        if found is not None and state not in ORDERS[name]:
            found["reasons"] = without_orders(found["reasons"])


def without_orders(reasons: list) -> list:
    """The reasons that tell nobody to set anything, but what is missing or in the way."""
    return [each for each in reasons if each["code"] not in ORDERING]


def why(sheet: dict, findings: dict, limits: dict, unit: str) -> list:
    """Everything that stands behind the answer, as sentences."""
    says: list = [each["says"] for each in findings["advice"]["reasons"]]
    says.extend([flag["says"] for flag in findings["advice"]["flags"]])
    found = findings.get("centering")
    if found is not None:
        says.extend([each for each in found["why"] if each not in says])
        if found.get("offset") is not None:
            says.extend(centering_basis(sheet["centering"], found, limits, unit))
    change = findings.get("bar_change") or {}
    if change.get("improve") is not None and findings["advice"]["state"] == "adjust":
        known = {"code": "change_known_to", "expanded": change["expanded"]}
        says.extend(sentences([known, change["improve"]], unit))
    for name in SAID_BY_THEMSELVES:
        if findings.get(name) is not None:
            says.extend([line for line in findings[name]["why"] if line not in says])
    return says
