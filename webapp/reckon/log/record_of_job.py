"""The vehicle's record as a job found it, with what earlier jobs left that are not accepted yet.

A job counts once it is handed in and while it is not sent back. Until it is accepted, what it will
put on file stands at the place of its hand-in, and the record says from which job that is.
"""

from ..checks.centering import centering
from ..limits import limits_of_sheet
from .accepted import accepted_patch
from .fold import as_accepted, precedes, record_at
from .sheet_of_round import sheet_for


def record_of_job(vehicle_entries: list, others: list, job: dict, limits: dict) -> dict:
    """The record of a folded job; `others` are other jobs of the vehicle, each {entries, job}."""
    counted: list = []
    for other in others:
        if is_counted(other["job"], job):
            counted.append(other)
    return record_at(with_jobs(vehicle_entries, counted, limits), job)


def with_waiting(vehicle_entries: list, others: list, limits: dict) -> list:
    """The entries of a vehicle, with what its jobs that wait for the lead will put on file.

    `others` are jobs of the vehicle, each {entries, job}. An entry of such a job names it in
    `unaccepted`, by axle.
    """
    waiting: list = []
    for other in others:
        if other["job"]["state"] == "pending" and other["job"]["accepted"] is None:
            waiting.append(other)
    return with_jobs(vehicle_entries, waiting, limits)


def with_jobs(vehicle_entries: list, counted: list, limits: dict) -> list:
    """The entries of a vehicle, with what these jobs put on file, each at its hand-in."""
    filed = list(vehicle_entries)
    for each in in_hand_in_order(counted):
        made = entry_of_job(filed, each["entries"], each["job"], limits)
        filed.insert(index_in_log(filed, made), made)
    return filed


def index_in_log(filed: list, made: dict) -> int:
    """Where an entry stands in log order among these."""
    at = 0
    for entry in filed:
        if precedes(entry, made):
            at = at + 1
    return at


def is_counted(other: dict, job: dict) -> bool:
    """Whether a folded job counts for another and is not on file for it already.

    It was handed in before that one was opened. A second reading is not held against the first.
    """
    if other["job"] == job["job"] or other["job"] == job.get("second_of"):
        return False
    if other["axle"] != job["axle"] or other["state"] not in ["pending", "accepted"]:
        return False
    opened = job["opened"]
    if not precedes(other["handed_in"], opened):
        return False
    return other["accepted"] is None or not precedes(other["accepted"], opened)


def in_hand_in_order(found: list) -> list:
    """Jobs by when they were handed in; those that have not reached the shop yet come last."""
    sent = [each for each in found if each["job"]["handed_in"].get("seq") is not None]
    kept = [each for each in found if each["job"]["handed_in"].get("seq") is None]
    return sorted(sent, key=lambda one: one["job"]["handed_in"]["seq"]) + kept


def entry_of_job(filed: list, entries: list, job: dict, limits: dict) -> dict:
    """What a job will put on file, as an entry of its vehicle in the place of its hand-in."""
    record = record_at(filed, job)
    last = job["rounds"][len(job["rounds"]) - 1]
    counted = as_accepted(entries, job["accepted"])
    sheet = sheet_for(counted, last, record, limits)
    findings: dict = {}
    if sheet.get("centering") is not None:
        findings["centering"] = centering(sheet, limits_of_sheet(sheet))
    patch = accepted_patch(counted, record, limits, findings)
    if job["accepted"] is None:
        waiting = dict(record.get("unaccepted", {}))
        waiting[job["axle"]] = job["job"]
        patch["unaccepted"] = waiting
    hand_in = job["handed_in"]
    entry = {"id": f"filed_by:{hand_in['id']}", "kind": "vehicle", "vehicle": job["vehicle"]}
    entry["body"] = patch
    entry["person"] = hand_in.get("person")
    entry["made_at"] = hand_in.get("made_at")
    if hand_in.get("seq") is not None:
        entry["seq"] = hand_in["seq"]
    return entry
