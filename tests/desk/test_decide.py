"""Accepting a job and sending it back."""

import json
import re

import pytest
from kit.desk_pages import at_desk, decision_form, handed_in, text_of
from kit.phones import Phone, asking

from webapp import create_app
from webapp.door.pairing import new_pairing_code


@pytest.fixture
def boss(log):
    """The lead who is signed in."""
    return next(row for row in log.people() if row["role"] == "lead")


def decide(lead, job, verdict, reason="", **changed):
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), verdict, reason)
    return lead.post(f"/desk/jobs/{job.id}/decision", data={**form, **changed})


def hand_in_of(log, job):
    return next(e for e in log.entries_of_job(job.id) if e["kind"] == "hand_in")["id"]


def test_accepting_writes_the_decision_and_what_goes_on_file(lead, phone, log, boss):
    job = handed_in(phone, left=(204.0, 204.0), right=(203.2, 203.2))

    answer = decide(lead, job, "accepted")

    assert (answer.status_code, answer.location) == (303, "/desk")
    decision, patch = at_desk(log)
    decided = {"hand_in": hand_in_of(log, job), "verdict": "accepted", "reason": None}
    decided["own_reason"] = None
    place = (boss["id"], job.place["vehicle"])
    assert decision == ("decision", 1, *place, job.id, decided)
    assert patch[:5] == ("vehicle", 2, *place, None)
    assert patch[5]["from_job"] == job.id
    assert patch[5]["track_bars"]["front"]["length"] == 862
    assert patch[5]["known_sums"]["front"]["rotor"]["sum"] == pytest.approx(407.2)
    assert log.job(job.id)["state"] == "accepted"


def test_the_next_page_says_what_was_done(lead, phone):
    job = handed_in(phone)
    decide(lead, job, "accepted")

    says = text_of(lead.get("/desk"))

    assert "Gray hauler: accepted." in says and "Nothing is pending review." in says


def test_sending_back_writes_its_reason_and_nothing_on_file(lead, phone, log, boss):
    job = handed_in(phone)

    decide(lead, job, "sent_back", "  measure the right side again ")

    reason = "measure the right side again"
    body = {"hand_in": hand_in_of(log, job), "verdict": "sent_back", "reason": reason}
    body["own_reason"] = None
    place = (boss["id"], job.place["vehicle"], job.id)
    assert at_desk(log) == [("decision", 1, *place, body)]
    assert log.job(job.id)["state"] == "sent_back"


def test_sending_back_without_a_reason_is_refused_at_the_field(lead, phone, log):
    answer = decide(lead, handed_in(phone), "sent_back", "  ")

    assert answer.status_code == 400
    assert 'aria-describedby="reason-fault"' in answer.text
    assert "Say what has to be done: the technician will read this." in text_of(answer)
    assert at_desk(log) == []


def test_what_was_typed_is_still_there_after_a_refusal(lead, phone, log):
    answer = decide(lead, handed_in(phone), "sent_back", "again & again" * 100)

    assert answer.status_code == 400
    assert "again &amp; again" in answer.text
    assert "Keep the reason under 1000 characters." in text_of(answer)
    assert at_desk(log) == []


def test_a_refused_decision_comes_back_at_its_field_with_the_focus_there(lead, phone, new_phone):
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted", "looks fine")
    for refused in (decide(lead, job, "sent_back"), decide(lead, job, "accepted", last_seq="0")):
        # The browser stays at the anchor of the form's own address.
        assert f'action="/desk/jobs/{job.id}/decision#decide"' in refused.text
        assert refused.text.count(" autofocus") == 1
        assert re.search(
            r'<(textarea|p)[^>]*(aria-invalid="true"|role="alert")[^>]* autofocus|'
            r'<textarea[^>]* autofocus[^>]*aria-invalid="true"',
            refused.text,
        )
    lead.post(
        f"/desk/jobs/{job.id}/decision",
        data=decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted"),
    )

    late = lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    assert late.status_code == 409 and " autofocus" in late.text
    assert "What you wrote is not in the log: looks fine" in text_of(late)


def test_entries_that_the_lead_has_not_seen_hold_a_decision_back(lead, phone, log):
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted", "looks fine")
    job.read("centering", "right", 203.9)
    job.send()

    answer = lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    assert answer.status_code == 409
    assert "1 entry came in after you opened this page." in text_of(answer)
    assert "looks fine" in answer.text
    assert at_desk(log) == []
    assert (
        lead.post(
            f"/desk/jobs/{job.id}/decision", data=decision_form(answer, "accepted")
        ).status_code
        == 303
    )


@pytest.mark.parametrize("seen", ["", "x", "-1", "0", "0" * 5000])
def test_a_decision_that_saw_nothing_is_held_back(lead, phone, log, seen):
    assert decide(lead, handed_in(phone), "accepted", last_seq=seen).status_code == 409
    assert at_desk(log) == []


def test_a_verdict_that_is_none_is_refused(lead, phone, log):
    assert decide(lead, handed_in(phone), "maybe").status_code == 400
    assert at_desk(log) == []


def test_a_job_is_decided_once(lead, phone, log):
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "sent_back", "again")
    lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    answer = lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    assert answer.status_code == 409
    assert "This job is no longer pending review" in text_of(answer)
    assert len(at_desk(log)) == 1


def test_nobody_accepts_their_own_job(lead, new_phone, log):
    log.set_passphrase(log.add_person("Bram Osei", "lead")["id"], "a hash")
    job = handed_in(new_phone("Orla Bennett"))
    page = lead.get(f"/desk/jobs/{job.id}")
    last = log.job(job.id)["last_seq"]

    answer = lead.post(
        f"/desk/jobs/{job.id}/decision", data={"verdict": "accepted", "last_seq": last}
    )

    assert "so another lead decides on it" in text_of(page) and "Send back" not in page.text
    assert answer.status_code == 409
    assert "so another lead decides on it" in text_of(answer)
    assert at_desk(log) == []


@pytest.fixture
def alone(tmp_path):
    """A service whose shop has one person, the lead."""
    config = {"DATA": tmp_path / "alone", "DEMO": True, "WTF_CSRF_ENABLED": False}
    app = create_app(config)
    app.extensions["shoplog"].add_person("Uma Patel", "lead")
    yield app
    app.extensions["shoplog"].close()


def test_in_a_shop_of_one_the_lead_accepts_their_own_job(alone):
    log = alone.extensions["shoplog"]
    code = new_pairing_code(log, log.people()[0]["id"])
    job = handed_in(Phone(asking(alone.test_client()), code))
    lead = alone.test_client()
    lead.post("/door/demo/lead")

    page = lead.get(f"/desk/jobs/{job.id}")
    bare = decide(lead, job, "accepted")
    given = decide(lead, job, "accepted", "Nobody else works here.")

    assert "nobody else can decide on it" in text_of(page)
    assert bare.status_code == 400 and "say why you accept it" in text_of(bare)
    assert given.status_code == 303
    assert log.job(job.id)["state"] == "accepted"
    says = "Accepted by the person who did the work, because: Nobody else works here."
    assert says in text_of(lead.get(f"/desk/jobs/{job.id}"))


def test_one_lead_beside_technicians_accepts_their_own_job_with_a_reason(lead, new_phone, log):
    job = handed_in(new_phone("Orla Bennett"))

    assert decide(lead, job, "accepted").status_code == 400
    assert decide(lead, job, "accepted", "The only lead.").status_code == 303
    assert log.job(job.id)["state"] == "accepted"


def accepted_then(lead, phone, log, later):
    """An accepted job, and what came in behind that."""
    job = handed_in(phone, left=(204.0, 204.0), right=(203.2, 203.2))
    decide(lead, job, "accepted")
    later(job, log)
    job.send()
    return job


def late_reading(job, _):
    job.read("centering", "right", 193.2)


def strike_of_the_hand_in(job, log):
    job.write("strike", {"target": hand_in_of(log, job), "reason": "not yet"})


@pytest.mark.parametrize("later", [late_reading, strike_of_the_hand_in])
def test_what_was_accepted_stays_and_the_job_is_back_before_the_lead(lead, phone, log, later):
    job = accepted_then(lead, phone, log, later)
    page = lead.get(f"/desk/jobs/{job.id}")
    held = json.loads(lead.get(f"/desk/jobs/{job.id}/export.json").text)

    assert log.job(job.id)["state"] == "pending" and log.job(job.id)["accepted_seq"]
    assert "1 entry came in after this job was accepted." in text_of(page)
    assert "1 entry came in after this job was accepted." in text_of(lead.get("/desk"))
    assert "pending review, accepted before" in text_of(lead.get("/desk/jobs"))
    assert "pending review, accepted before" in text_of(
        lead.get(f"/desk/vehicles/{job.place['vehicle']}")
    )
    assert held["rounds"][0]["findings"]["centering"]["offset"] == pytest.approx(0.4)
    assert log.vehicle(job.place["vehicle"])["record"]["known_sums"]["front"]["rotor"]["sum"] == (
        pytest.approx(407.2)
    )


def test_the_lead_keeps_a_job_as_it_was_accepted(lead, phone, log):
    job = accepted_then(lead, phone, log, late_reading)

    assert decide(lead, job, "kept").status_code == 303

    held = json.loads(lead.get(f"/desk/jobs/{job.id}/export.json").text)
    assert log.job(job.id)["state"] == "accepted"
    assert held["rounds"][0]["findings"]["centering"]["offset"] == pytest.approx(0.4)
    assert [e["kind"] for e in log.entries_of_vehicle(job.place["vehicle"])].count("vehicle") == 2


def test_the_lead_accepts_a_job_anew_with_what_came_in(lead, phone, log):
    job = accepted_then(lead, phone, log, late_reading)

    assert decide(lead, job, "accepted").status_code == 303

    held = json.loads(lead.get(f"/desk/jobs/{job.id}/export.json").text)
    assert log.job(job.id)["state"] == "accepted"
    assert held["rounds"][0]["sheet"]["centering"]["right"] == [203.2, 203.2, 193.2]
    assert [e["kind"] for e in log.entries_of_vehicle(job.place["vehicle"])].count("vehicle") == 3
