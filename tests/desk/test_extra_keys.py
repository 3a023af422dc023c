"""Patches of a vehicle with keys that no contract names: every page answers, and nothing moves."""

import pytest
from kit.desk_pages import VEHICLE, handed_in

from webapp.shoplog.rules.kinds import body_schema
from webapp.shoplog.rules.own_kinds import OWN_KINDS

KNOWN = body_schema("vehicle")["properties"]
ODD = [5, ["leans 41.00"], {"front": 5}, None]
# What a record or a job is read by, and names that mean something to Python or JavaScript.
NAMES = [
    *("confirmed", "open_items", "history", "jobs", "keys", "value", "entry", "state", "sheet"),
    *("known_lean", "past", "before", "seq", "person", "body", "kind", "vehicle", "job", "axle"),
    *("__proto__", "constructor", "get", "length", "__class__", *OWN_KINDS),
]
CONFIRM = {"code": "leans", "key": "leans 41.00", "says": "The frame leans."}


@pytest.mark.parametrize("by", ["technician", "lead"])
def test_no_key_of_a_patch_keeps_a_page_from_answering(lead, log, phone, leads_phone, by):
    job = handed_in(phone)
    before = log.vehicle(VEHICLE)["record"]
    writer = {"technician": phone, "lead": leads_phone}[by]
    names = [name for name in NAMES if name not in KNOWN]
    for value in ODD:
        patches = [dict.fromkeys(names, value), {"confirmed": value}]
        for body in patches:
            reply = writer.push(writer.entry("vehicle", body, vehicle=VEHICLE))
            assert reply.status == 200

    pages = ["/desk", f"/desk/vehicles/{VEHICLE}", f"/desk/jobs/{job.id}"]
    pages += [f"/desk/jobs/{job.id}/export.json", "/desk/due", "/log/pull?since=0"]
    replies = [lead.get(path, headers=leads_phone.headers).status_code for path in pages]
    said = leads_phone.entry("confirm", CONFIRM, vehicle=VEHICLE)

    assert replies == [200] * len(pages)
    assert log.vehicle(VEHICLE)["record"] == before
    assert leads_phone.push(said).json["answers"][0]["verdict"] == "stored"
    assert log.vehicle(VEHICLE)["record"] == {**before, "confirmed": [CONFIRM["key"]]}
