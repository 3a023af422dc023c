"""Hold points at the desk: shown with what is open, passed over with a reason; what moved it."""

import re

import pytest
from kit.desk_pages import Job, at_desk, handed_in, text_of

ROAD = "Say where the steering wheel sits now: the track bar was turned since then."


def turned(phone):
    """A job outside, its bar turned, measured again inside and handed in."""
    job = Job(phone)
    job.file_vehicle()
    job.open()
    job.measure()
    job.in_round("change", {"what": "bar_turned", "turns": 3.5, "length_change": 5.55625})
    job.round = "as_left"
    job.measure(left=(209.0, 209.0), right=(209.2, 209.2), bar={})
    job.hand_in()
    return job.send()


def pass_over(lead, job, reason="road test goes with the trailer", point="road", **more):
    page = lead.get(f"/desk/jobs/{job.id}")
    seen = re.findall(r'name="(?:seen|last_seq)"[^>]* value="(\d+)"', page.text)[-1]
    form = {"hold_point": point, "reason": reason, "seen": seen, **more}
    return lead.post(f"/desk/jobs/{job.id}/pass_over", data=form)


def test_what_is_open_before_the_road_is_listed(lead, phone):
    says = text_of(lead.get(f"/desk/jobs/{turned(phone).id}"))

    assert "Before the road: 3 open, 1 not looked at" in says
    assert "Not looked at: play at the frame end and the axle end of the bar." in says
    assert ROAD in says and "Torque what was undone" in says
    assert "Before final welding" not in says
    assert "Change: track bar turned" in says
    assert "3 1/2 turns out, 5.6 mm longer" in says


def test_a_plain_check_inside_says_what_it_did_not_look_at(lead, phone):
    job = handed_in(phone, left=(204.0, 204.0), right=(203.2, 203.2))
    says = text_of(lead.get(f"/desk/jobs/{job.id}"))

    assert "Before the road: 4 not looked at" in says
    assert "Not looked at: torque of the fasteners." in says
    assert "nothing open" not in says


def all_looked_at(phone):
    """A job inside in which everything was looked at, handed in."""
    job = Job(phone)
    job.file_vehicle()
    job.open()
    job.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    job.look_all_over()
    job.hand_in()
    return job.send()


def test_where_all_was_looked_at_nothing_is_open_and_it_is_not_called_safe(lead, phone):
    job = all_looked_at(phone)
    says = text_of(lead.get(f"/desk/jobs/{job.id}"))

    assert "Before the road: nothing open" in says
    assert "That does not make it safe." in says
    assert "Pass over" not in says


def test_passing_over_writes_the_reason_and_what_was_open(lead, phone, log):
    job = turned(phone)

    answer = pass_over(lead, job)

    assert (answer.status_code, answer.location) == (303, f"/desk/jobs/{job.id}")
    [(kind, _, _, _, about, body)] = at_desk(log)
    assert (kind, about) == ("pass_over", job.id)
    assert body["hold_point"] == "road"
    assert body["reason"] == "road test goes with the trailer"
    assert ROAD in body["open"] and len(body["open"]) == 4
    says = text_of(lead.get(f"/desk/jobs/{job.id}"))
    assert "Before the road: passed over by the lead" in says
    assert "Passed over by Orla Bennett" in says and "goes with the trailer" in says
    assert "Before the road: passed over, as left" not in says


def test_what_comes_up_afterward_is_open_again(lead, phone, log):
    job = turned(phone)
    pass_over(lead, job)
    job.in_round("change", {"what": "bracket_moved", "part": "axle-end bracket"})
    job.send()

    says = text_of(lead.get(f"/desk/jobs/{job.id}"))

    assert "Before the road: 5 open, 1 not looked at" in says
    assert "Before final welding: 2 open, " in says


def test_passing_over_needs_a_reason(lead, phone, log):
    answer = pass_over(lead, turned(phone), reason="  ")

    assert answer.status_code == 400
    assert "Say why: the record shows it next to your name." in text_of(answer)
    assert pass_over(lead, turned(phone), reason="x" * 1001).status_code == 400
    assert at_desk(log) == []


@pytest.mark.parametrize("seen", ["0", "", "x"])
def test_entries_that_the_lead_has_not_seen_hold_it_back(lead, phone, log, seen):
    answer = pass_over(lead, turned(phone), seen=seen)

    assert answer.status_code == 409
    assert "Entries came in after you opened this page." in text_of(answer)
    assert "road test goes with the trailer" in answer.text
    assert at_desk(log) == []


def test_a_hold_point_with_nothing_open_is_not_passed_over(lead, phone, log):
    job = all_looked_at(phone)

    answer = pass_over(lead, job)

    assert answer.status_code == 409
    assert at_desk(log) == []


def test_a_hold_point_that_the_job_has_not_is_not_found(lead, phone):
    assert pass_over(lead, turned(phone), point="final_welding").status_code == 404


def test_what_moved_it_is_said_against_the_last_accepted_round(lead, phone, log):
    first = Job(phone)
    first.file_vehicle()
    first.open()
    heights(first)
    first.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    first.hand_in()
    first.send()
    accept(lead, first)
    later = Job(phone)
    later.open()
    heights(later)
    later.measure()
    later.hand_in()
    later.send()

    says = text_of(lead.get(f"/desk/jobs/{later.id}"))

    assert "What moved it since the last accepted round" in says
    assert "look for damage or play before adjusting" in says
    assert "What moved it" not in text_of(lead.get(f"/desk/jobs/{first.id}"))


def heights(job):
    for side in ("left", "right"):
        job.read("heights", side, 220.0)


def accept(lead, job):
    page = lead.get(f"/desk/jobs/{job.id}")
    seen = re.findall(r'name="last_seq"[^>]* value="(\d+)"', page.text)[0]
    form = {"verdict": "accepted", "last_seq": seen, "reason": ""}
    assert lead.post(f"/desk/jobs/{job.id}/decision", data=form).status_code == 303


def test_an_accepted_drag_link_stands_on_the_vehicles_page(lead, phone):
    job = Job(phone)
    job.file_vehicle()
    job.open()
    job.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    job.pick("drag_link", "arm_points", "forward")
    job.pick("drag_link", "ratio", 17.5)
    job.pick("drag_link", "adjuster", {"kind": "both_ends", "pitch": 1.5, "step": 0})
    job.read("drag_link", "length", 905)
    job.read("drag_link", "fore_aft", -12)
    job.pick("drag_link", "wheel_deg", -4)
    job.hand_in()
    job.send()
    page = text_of(lead.get(f"/desk/jobs/{job.id}"))
    assert "Drag link: steering wheel 4° to the right" in re.sub(r"\s+", " ", page)
    accept(lead, job)

    says = text_of(lead.get(f"/desk/vehicles/{job.place['vehicle']}"))

    assert "Drag link, front: link length 905.0 mm" in says
    assert "Drag link, front: fore-aft lead 12.0 mm behind" in says
    assert "Drag link, front: steering ratio 17.5: 1" in says.replace("17.5 :", "17.5:")
    assert "Drag link, front: arm points forward" in says
