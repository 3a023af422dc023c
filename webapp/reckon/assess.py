"""A sheet goes in, its findings come out: the one door to the arithmetic."""

from .answer import answer, numbers
from .centring import basis, centring
from .fold import HOUSE_LIMITS
from .sheet import faults
from .track_bar import bar_arc, bar_change
from .words import said

JUDGED = ["inside", "outside", "too_close"]


def assess(sheet: dict) -> dict:
    """The findings of a sheet (design section 7); {"faults": [...]} where it can't be read."""
    wrong = faults(sheet)
    if len(wrong) > 0:
        return {"faults": wrong}
    unit = sheet.get("units") or "mm"
    limits = limits_of(sheet)
    findings: dict = {}
    if sheet.get("centring") is not None:
        findings["centring"] = centring(sheet, limits)
    if sheet.get("track_bar") is not None:
        add_bar(findings, sheet["track_bar"])
    runs = answer(findings, unit)
    findings["answer"] = runs
    findings["says"] = said(runs)
    findings["numbers"] = numbers(findings, unit)
    findings["why"] = why(sheet, findings, limits, unit)
    return findings


def limits_of(sheet: dict) -> dict:
    """The limits of the sheet in mm, those it leaves out as delivered."""
    limits = dict(HOUSE_LIMITS)
    given = sheet.get("limits") or {}
    for name in list(given):
        if given[name] is not None:
            limits[name] = given[name]
    return limits


def add_bar(findings: dict, bar: dict) -> None:
    """Put the bar's arc, and the change that centres the axle, among the findings."""
    found = findings.get("centring")
    if found is not None and found["state"] in JUDGED:
        findings["bar_change"] = bar_change(bar, found["offset"])
    findings["bar_arc"] = bar_arc(bar)


def why(sheet: dict, findings: dict, limits: dict, unit: str) -> list:
    """Everything that stands behind the answer, as sentences."""
    says: list = []
    found = findings.get("centring")
    if found is not None:
        says.extend(found["why"])
        if found.get("offset") is not None:
            says.extend(basis(sheet["centring"], found, limits, unit))
    arc = findings.get("bar_arc")
    if arc is not None:
        says.extend(arc["why"])
    return says
