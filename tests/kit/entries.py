"""Entries for tests: valid ones of every kind, to be changed where a test needs it."""

import itertools
import uuid
from dataclasses import dataclass
from typing import Any

VEHICLE = "7f1d3f0a-6a52-4c1e-9d55-0a6f0b7a1001"
JOB = "2b8c5a90-1f44-4a37-8e0b-5c3d9e7f2002"
SOME_ENTRY = "c4a1e7d2-93b6-4f08-a1c5-6e2f8d9b3003"

BODIES: dict[str, dict[str, Any]] = {
    "vehicle": {"name": "Gray hauler", "units": "in", "axles": ["front"]},
    "tag": {"code": "K7RM-4TQX"},
    "limit": {"name": "offset", "value": 2.5, "reason": "long trailers"},
    "job": {"axle": "front", "round": "as_found", "about": "pulls to the left"},
    "reading": {"step": "heights", "field": "left", "value": 221.5, "unit": "mm", "read_to": 1},
    "tick": {"field": "level", "value": True},
    "pick": {"step": "heights", "field": "standing", "value": "on_wheels"},
    "note": {"text": "new bracket on order"},
    "strike": {"target": SOME_ENTRY, "reason": "misread the tape"},
    "hand_in": {"missing": [], "reason": None},
    "decision": {"hand_in": SOME_ENTRY, "verdict": "accepted", "reason": None},
    "confirm": {"code": "leans", "key": "leans 41.00", "says": "The frame leans."},
    "pass_over": {"hold_point": "road", "reason": "road test at the other yard"},
    "close_item": {
        "axle": "front",
        "says": "Track bar, frame end: its hole is oval. Repair it, or let the lead judge it.",
        "reason": "measured by the lead, within the part maker's figure",
    },
    "change": {"length_change": 5.3},
    "photo": {"sha256": "ab" * 32, "of": "weld", "width": 1600, "height": 1200, "bytes": 400_000},
    "plan": {"name": "Higher bracket", "axle_end_up": 40},
}
ABOUT_THE_SHOP = ("limit",)
ABOUT_A_VEHICLE = ("vehicle", "tag", "close_item")
IN_A_ROUND = ("reading", "tick", "pick", "confirm")

running = itertools.count(1)


def new_id():
    """A UUID as a phone makes it."""
    return str(uuid.uuid4())


def make_entry(phone, kind="reading", /, **changes):
    """A valid entry of this kind, made by this phone (its id), with these keys changed."""
    entry = {
        "v": 1,
        "id": new_id(),
        "phone": phone,
        "local_no": next(running),
        "kind": kind,
        "vehicle": None if kind in ABOUT_THE_SHOP else VEHICLE,
        "job": None if kind in ABOUT_THE_SHOP + ABOUT_A_VEHICLE else JOB,
        "round": "as_found" if kind in IN_A_ROUND else None,
        "body": dict(BODIES[kind]),
        "typed": None,
        "made_at": "2026-11-25T10:42:07.120+01:00",
        "build": "ab12cd34ef56",
    }
    return {**entry, **changes}


def reading(phone, value, **changes):
    """A valid height reading of this value in mm."""
    return make_entry(phone, body={**BODIES["reading"], "value": value}, **changes)


def strike(phone, target, **changes):
    """A strike of this entry (its id)."""
    return make_entry(phone, "strike", body={"target": target, "reason": "misread"}, **changes)


def decision(phone, hand_in, verdict="accepted", **changes):
    """A decision on this hand-in (its id)."""
    body = {"hand_in": hand_in, "verdict": verdict, "reason": "measure the right side again"}
    return make_entry(phone, "decision", body=body, **changes)


def verdicts(answers):
    """Just the verdicts, in order."""
    return [answer["verdict"] for answer in answers]


def stored_ids(log):
    """The id of every stored entry, in log order."""
    return [entry["id"] for entry in log.pull(0, 1_000_000)["entries"]]


def a_whole_job(phone, job, vehicle=VEHICLE):
    """The entries that open a job, measure one height and hand it in."""
    where = {"job": job, "vehicle": vehicle}
    return [make_entry(phone, kind, **where) for kind in ("job", "reading", "hand_in")]


# So many lines tell of the crew before its first entry: two people, and the phone of each.
HIRED = 4


@dataclass(frozen=True)
class Crew:
    """The ids of a technician and a lead, and of the phone that each of them carries."""

    technician: str
    lead: str
    phone: str
    leads_phone: str


def add_people(log):
    """A lead and two technicians, all invented."""
    log.add_person("Orla Bennett", "lead")
    log.add_person("Dana Reyes", "technician")
    log.add_person("Frank Delgado", "technician")


def hire(log):
    """A technician and a lead with a phone each, in this log."""
    technician = log.add_person("Orla", "technician")["id"]
    lead = log.add_person("Bram", "lead")["id"]
    phones = [log.add_phone(person, "a phone", f"hash {person}") for person in (technician, lead)]
    return Crew(technician, lead, *(phone["id"] for phone in phones))
