"""Second readings at the desk, and how well people repeat."""

import re

import pytest
from kit.desk_pages import VEHICLE, Job, at_desk, decision_form, handed_in, text_of


def ask_for_second(lead, job):
    """Ask for a second reading on the job's page; the answer."""
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "second")
    return lead.post(f"/desk/jobs/{job.id}/decision", data=form)


def measured_again(phone, log, first, **measured):
    """The second reading of a job that was asked for, measured and handed in on this phone."""
    second = Job(phone, first.place["vehicle"])
    second.id = log.seconds(first.id)[0]["id"]
    second.place["job"] = second.id
    second.measure(**measured)
    second.hand_in()
    return second.send()


def test_asking_opens_a_job_that_repeats_the_last_round(lead, phone, log):
    job = handed_in(phone)

    answer = ask_for_second(lead, job)

    [(kind, _, _, vehicle, second, body)] = at_desk(log)
    assert answer.location == f"/desk#job-{job.id}"
    assert (kind, vehicle, body["second_of"]) == ("job", VEHICLE, job.id)
    assert (body["axle"], body["round"]) == ("front", "as_found")
    assert log.job(second)["state"] == "open" and log.job(job.id)["state"] == "pending"


def test_a_second_reading_is_asked_for_once_at_a_time(lead, phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)

    answer = ask_for_second(lead, job)

    assert answer.status_code == 409 and len(at_desk(log)) == 1
    assert "already requested" in text_of(answer)


def test_until_it_is_handed_in_nothing_is_compared(lead, phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)

    assert "not handed in yet" in text_of(lead.get(f"/desk/jobs/{job.id}"))


def test_both_pages_compare_the_two_with_their_uncertainty(lead, phone, new_phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)
    second = measured_again(new_phone("Frank Delgado"), log, job, left=(213.6, 213.6))

    says = [text_of(lead.get(f"/desk/jobs/{each}")) for each in (job.id, second.id)]

    sentence = "The second reading finds the axle 0.4 mm further to the right (±1.6 mm)"
    assert all(re.search(re.escape(sentence)[:60], each) for each in says), says[0][:900]
    assert all("the two agree" in each and "Taken together" in each for each in says)
    assert "measured both" not in says[0]


def test_a_second_reading_by_the_same_person_counts_as_no_second_person(lead, phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)
    measured_again(phone, log, job)

    says = text_of(lead.get(f"/desk/jobs/{job.id}"))

    assert (
        "Dana Reyes measured both, so this does not count as a reading by a second person." in says
    )
    assert "the two agree" not in says and "Taken together" not in says
    assert "nobody else has measured yet." in text_of(lead.get("/desk?flag=same_second"))


def test_another_persons_reading_afterward_is_a_second_persons(lead, phone, new_phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)
    measured_again(phone, log, job)
    asked = ask_for_second(lead, job)
    measured_again(new_phone("Frank Delgado"), log, job)

    page = lead.get("/desk?flag=same_second")

    assert asked.status_code == 303 and f'id="job-{job.id}"' not in page.text
    assert "the two agree" in text_of(lead.get(f"/desk/jobs/{job.id}"))


def test_the_list_says_how_a_second_reading_stands(lead, phone, new_phone, log):
    job = handed_in(phone)
    before = text_of(lead.get("/desk"))
    ask_for_second(lead, job)
    asked = text_of(lead.get("/desk?flag=under_way"))
    measured_again(new_phone("Frank Delgado"), log, job)

    says = text_of(lead.get("/desk"))

    assert "Second reading" not in before
    assert "Second reading: a second reading was requested and is not handed in yet." in asked
    assert "Second reading: the second reading agrees." in says
    assert "First reading: the second reading agrees." in says


def test_two_readings_that_do_not_agree_are_odd_on_both_jobs(lead, phone, new_phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)
    second = measured_again(new_phone("Frank Delgado"), log, job, left=(206.0, 206.0))

    page = lead.get("/desk?flag=differ")

    assert f'id="job-{job.id}"' in page.text and f'id="job-{second.id}"' in page.text
    assert "The two readings do not agree (2)" in text_of(page)


def test_a_job_whose_second_reading_is_under_way_is_accepted_when_that_is_ticked(lead, phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted")

    refused = lead.post(f"/desk/jobs/{job.id}/decision", data=form)
    state = log.job(job.id)["state"]
    lead.post(f"/desk/jobs/{job.id}/decision", data={**form, "unread": "y"})

    assert (refused.status_code, state) == (409, "pending")
    assert "Wait for it, or check the box to accept the job without it." in text_of(refused)
    assert 'name="unread"' in refused.text
    assert log.job(job.id)["state"] == "accepted"


def test_the_lead_who_asked_decides_about_both(lead, phone, new_phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)
    second = measured_again(new_phone("Frank Delgado"), log, job)
    for each in (job, second):
        form = decision_form(lead.get(f"/desk/jobs/{each.id}"), "accepted")
        lead.post(f"/desk/jobs/{each.id}/decision", data=form)

    assert log.job(job.id)["state"] == log.job(second.id)["state"] == "accepted"


def test_sending_back_to_a_step_names_it_before_the_reason(lead, phone, log):
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "sent_back", "right side again")

    lead.post(f"/desk/jobs/{job.id}/decision", data={**form, "step": "centering"})

    [(*_, body)] = at_desk(log)
    assert (body["reason"], body["step"]) == ("Centering: right side again", "centering")


VEHICLES = [f"7f1d3f0a-6a52-4c1e-9d55-0a6f0b7a10{number:02}" for number in range(3)]


@pytest.fixture
def studied(lead, phone, new_phone, log):
    """Three vehicles measured by two people."""
    other = new_phone("Frank Delgado")
    for number, vehicle in enumerate(VEHICLES):
        left = (210.0 + number, 211.0 + number)
        job = handed_in(phone, vehicle, left=left, right=(206.0, 206.5))
        ask_for_second(lead, job)
        measured_again(other, log, job, left=left[::-1], right=(206.5, 207.0))


def test_how_well_two_people_repeat_is_told_plainly(lead, studied):
    says = text_of(lead.get("/desk/repeatability"))

    assert "Dana Reyes and Frank Delgado" in says or "Frank Delgado and Dana Reyes" in says
    assert "Our readings are good to ±" in says and "The limit of 3 mm needs ±0.75 mm" in says
    assert "Repeatability" in says and "3 vehicles, 2 readings per side." in says


def test_too_few_vehicles_make_no_study(lead, phone, new_phone, log):
    job = handed_in(phone)
    ask_for_second(lead, job)
    measured_again(new_phone("Frank Delgado"), log, job)

    assert "2 more vehicles measured by both" in text_of(lead.get("/desk/repeatability"))


def test_without_second_readings_it_says_how_to_begin(lead):
    assert "No vehicle has been measured by two people yet." in text_of(
        lead.get("/desk/repeatability")
    )
