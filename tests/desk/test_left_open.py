"""What a job leaves open follows its vehicle and axle until it is measured or a lead closes it."""

import pytest
from kit.desk_pages import VEHICLE, Job, at_desk, decision_form, text_of
from kit.worked_sheets import SAMPLE

JAM_NUTS = "Torque what was undone (jam nuts): the track bar was turned since then."
LINK = SAMPLE["drag_link"]
OVAL = "Track bar, frame end: its hole is oval. Repair it, or let the lead judge it."


def left_undone(phone):
    """A job with the bar turned, its jam nuts not torqued and an oval hole, handed in."""
    job = Job(phone)
    job.file_vehicle()
    job.open()
    job.measure()
    for field, size in (("bolt", 14.1), ("hole_long", 14.8), ("hole_short", 14.4)):
        job.read("play", field, size, joint="frame end", of="track_bar", read_to=0.1)
    job.in_round("change", {"what": "bar_turned", "turns": 3.5, "length_change": 5.55625})
    job.round = "as_left"
    job.measure(left=(209.0, 209.0), right=(209.2, 209.2), bar={})
    job.hand_in(["No ride height on the left."], "the stands were needed elsewhere")
    return job.send()


def recheck(phone, send=True):
    """A second job on the same axle the same day."""
    job = Job(phone)
    job.round = "recheck"
    job.write("job", {"axle": "front", "round": "recheck", "about": "bolts again"})
    return job.send() if send else job


def page_of_job(lead, job):
    return text_of(lead.get(f"/desk/jobs/{job.id}"))


def test_a_new_job_begins_with_what_the_one_before_left_open(lead, phone):
    left_undone(phone)

    says = page_of_job(lead, recheck(phone))

    assert f"{JAM_NUTS} left open by an earlier job" in says
    assert f"{OVAL} left open by an earlier job" in says
    assert "A job was handed in incomplete: No ride height on the left." in says
    assert "nothing open" not in says


def test_what_is_measured_in_the_later_job_is_closed_by_it(lead, phone):
    left_undone(phone)
    job = recheck(phone, send=False)
    told = {"source": "shop manual", "end": "nut", "thread": "dry"}
    job.read("torque", "fastener", 90, fastener="jam nuts", **told)
    for field, size in (("bolt", 14.1), ("hole_long", 14.3), ("hole_short", 14.3)):
        job.read("play", field, size, joint="frame end", of="track_bar", read_to=0.1)
    job.send()

    says = page_of_job(lead, job)

    assert "jam nuts" not in says.split("Every entry")[0].split("Hold points")[1]
    assert OVAL not in says


def test_a_job_that_is_not_handed_in_leaves_only_its_changes(lead, phone):
    first = Job(phone)
    first.file_vehicle()
    first.open()
    first.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    first.look_all_over()
    first.in_round("change", {"what": "bar_turned", "turns": 1})
    first.send()

    says = page_of_job(lead, recheck(phone))

    assert JAM_NUTS in says
    assert "Not looked at: play at the frame end and the axle end of the bar." in says


def close(lead, says=OVAL, reason="0.4 mm, within the part maker's sheet", axle="front"):
    form = {"axle": axle, "says": says, "reason": reason}
    return lead.post(f"/desk/vehicles/{VEHICLE}/close_item", data=form)


def test_a_lead_closes_an_item_with_a_reason_and_the_record_shows_it(lead, phone, log):
    left_undone(phone)
    assert OVAL in text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))

    answer = close(lead)

    assert (answer.status_code, answer.location) == (303, f"/desk/vehicles/{VEHICLE}#left-open")
    [(kind, _, _, vehicle, about, body)] = at_desk(log)
    assert (kind, vehicle, about) == ("close_item", VEHICLE, None)
    assert body["says"] == OVAL and body["axle"] == "front"
    job = recheck(phone)
    for says in (text_of(lead.get(f"/desk/vehicles/{VEHICLE}")), page_of_job(lead, job)):
        assert f"{OVAL} Closed by Orla Bennett" in says
        assert "0.4 mm, within the part maker's sheet" in says
        assert f"{OVAL} left open" not in says
    assert close(lead).status_code == 400


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"reason": "  "}, "Say why it may be closed"),
        ({"reason": "x" * 1001}, "under 1000 characters"),
        ({"says": "The paint is dull."}, "That is not open any more"),
        ({"axle": "rear"}, "That is not open any more"),
    ],
)
def test_nothing_is_closed_without_a_reason_or_that_is_not_open(lead, phone, log, fields, says):
    left_undone(phone)

    answer = close(lead, **fields)

    assert answer.status_code == 400
    assert says in text_of(answer)
    assert "axle" in fields or fields.get("reason", "part maker").strip() in answer.text
    assert at_desk(log) == []


def test_a_technician_closes_nothing(phone):
    body = {"axle": "front", "says": OVAL, "reason": "looks fine"}

    [answer] = phone.push(phone.entry("close_item", body, vehicle=VEHICLE)).json["answers"]

    assert answer["verdict"] == "refused"
    assert "Only a lead can make or strike a close item" in answer["reason"]


def test_the_same_again_after_another_change_is_open_again(lead, phone):
    left_undone(phone)
    assert close(lead, JAM_NUTS).status_code == 303
    assert f"{JAM_NUTS} left" not in page_of_job(lead, recheck(phone))
    again = recheck(phone, send=False)
    again.in_round("change", {"what": "bar_turned", "turns": 0.5})
    again.send()

    assert JAM_NUTS in page_of_job(lead, again)


def accept(lead, job):
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted")
    answer = lead.post(f"/desk/jobs/{job.id}/decision", data=form)
    assert answer.status_code == 303, text_of(answer)
    return job


def accepted_recheck(lead, phone, number):
    job = Job(phone)
    job.round = "recheck"
    job.write("job", {"axle": "front", "round": "recheck", "about": f"visit {number}"})
    job.measure(left=(204.0, 204.0), right=(204.2, 204.2), bar={})
    job.hand_in([], None)
    return accept(lead, job.send())


def test_what_is_open_follows_the_axle_through_all_jobs_until_it_is_measured(lead, phone, log):
    accept(lead, left_undone(phone))
    for number in range(8):
        accepted_recheck(lead, phone, number)

    last = recheck(phone)
    says = page_of_job(lead, last)
    assert f"{JAM_NUTS} left open by an earlier job" in says
    assert f"{OVAL} left open by an earlier job" in says
    assert OVAL in text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))
    assert [
        each["about"]
        for each in log.vehicle(VEHICLE)["record"]["left_open"]["front"]
        if each["says"] == OVAL
    ] == [["hole frame end"]]

    for field, size in (("bolt", 14.1), ("hole_long", 14.3), ("hole_short", 14.3)):
        last.read("play", field, size, joint="frame end", of="track_bar", read_to=0.1)
    last.send()
    assert OVAL not in page_of_job(lead, last)


def test_what_a_lead_closes_stays_closed_beyond_the_jobs_that_are_looked_through(lead, phone, log):
    accept(lead, left_undone(phone))
    close(lead)
    for number in range(8):
        accepted_recheck(lead, phone, number)

    filed = log.vehicle(VEHICLE)["record"]["left_open"]["front"]
    assert OVAL not in [each["says"] for each in filed]
    assert OVAL not in page_of_job(lead, recheck(phone)).split("Closed")[0]


def test_what_earlier_jobs_left_open_is_among_what_the_lead_looks_at_twice(lead, phone):
    accept(lead, left_undone(phone))
    job = recheck(phone, send=False)
    job.measure(left=(204.0, 204.0), right=(204.2, 204.2), bar={})
    job.hand_in([], None)
    job.send()

    says = text_of(lead.get("/desk"))
    assert f"Before the road: {OVAL}" in says


def test_bump_steer_outside_the_house_limit_is_open_before_the_road(lead, phone, leads_phone):
    form = {"bump_steer-value": "0.1", "bump_steer-reason": "our trucks wander"}
    assert lead.post("/desk/limits/bump_steer", data=form).status_code == 303
    record = Job(leads_phone)
    record.file_vehicle(drag_links={"front": LINK})
    record.send()
    job = Job(phone)
    job.open()
    job.measure(left=(204.0, 204.0), right=(204.2, 204.2))
    job.hand_in([], None)
    job.send()
    says = "is outside the house limit of 0.1\u00b0 in 25 mm."
    assert says in page_of_job(lead, job)
    accept(lead, job)

    assert says in page_of_job(lead, recheck(phone))


def test_a_closed_item_that_a_later_job_finds_again_is_open_again_and_stays_so(lead, phone, log):
    accept(lead, left_undone(phone))
    close(lead)
    again = recheck(phone, send=False)
    for field, size in (("bolt", 14.1), ("hole_long", 14.8), ("hole_short", 14.4)):
        again.read("play", field, size, joint="frame end", of="track_bar", read_to=0.1)
    again.measure(left=(204.0, 204.0), right=(204.2, 204.2), bar={})
    again.hand_in([], None)
    accept(lead, again.send())
    for number in range(8):
        accepted_recheck(lead, phone, number)

    assert f"{OVAL} left open by an earlier job" in page_of_job(lead, recheck(phone))
    assert close(lead, reason="seen again, still within").status_code == 303
    assert f"{OVAL} left open" not in page_of_job(lead, recheck(phone))


def test_what_nobody_looked_at_is_closed_for_the_jobs_until_then_only(lead, phone):
    first = Job(phone)
    first.file_vehicle()
    first.open()
    first.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    first.hand_in([], None)
    accept(lead, first.send())
    says = "Not looked at: torque of the fasteners."
    assert close(lead, says).status_code == 303

    closed = "Closed by Orla Bennett"
    assert f"{says} {closed}" in page_of_job(lead, first)
    again = page_of_job(lead, recheck(phone))
    assert says in again and f"{says} {closed}" not in again
