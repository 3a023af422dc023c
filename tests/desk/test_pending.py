"""The list of what waits for the lead, and who may see the desk at all."""

import re

import pytest
from kit.desk_pages import Job, decision_form, handed_in, text_of
from kit.desk_sessions import sign_in_as
from kit.entries import new_id

PAGES = [
    *("/desk", "/desk/vehicles", "/desk/vehicles/new", "/desk/tags", "/desk/limits", "/desk/jobs"),
    *("/desk/pending/list", "/desk/due", "/desk/due.ics", "/desk/search", "/desk/repeatability"),
    *("/desk/export", "/desk/export/entries.csv", "/desk/export/entries.jsonl"),
]


@pytest.mark.parametrize("page", [*PAGES, "/desk/nowhere"])
def test_whoever_is_signed_out_is_sent_to_the_door(client, page):
    answer = client.get(page)

    assert (answer.status_code, answer.location) == (303, "/door")


@pytest.mark.parametrize("page", PAGES)
def test_a_technician_is_turned_away(app, client, page):
    sign_in_as(app, client, "Dana Reyes")

    assert client.get(page).status_code == 403


@pytest.mark.parametrize("page", PAGES)
def test_the_lead_gets_every_page(lead, page):
    assert lead.get(page).status_code == 200


def test_it_says_that_nothing_waits(lead):
    assert "Nothing is pending review." in text_of(lead.get("/desk"))


def test_a_waiting_job_shows_vehicle_answer_and_who_handed_it_in(lead, phone):
    job = handed_in(phone)

    page = lead.get("/desk")

    says = text_of(page)
    assert "Gray hauler Front axle, as found pulls to the left" in says
    assert "Handed in by Dana Reyes, Nov 25, 2026, 10:42." in says
    assert "The axle sits 5.4 mm to the left. Make the track bar 5.4 mm longer" in says
    assert f"/desk/jobs/{job.id}" in page.text
    assert (
        'data-figure="interval"' in page.text and "&#34;state&#34;: &#34;outside&#34;" in page.text
    )


def test_the_longest_waiting_comes_first(lead, phone):
    ids = [handed_in(phone).id for _ in range(3)]

    page = lead.get("/desk").text

    places = [page.index(f"/desk/jobs/{job}") for job in ids]
    assert places == sorted(places)


def test_it_counts_what_is_open_and_sent_back(lead, phone):
    handed_in(phone)
    job = Job(phone)
    job.open()
    job.send()

    assert "Waiting 1 Sent back 0 Open 1" in text_of(lead.get("/desk"))


def test_it_tells_what_came_after_the_hand_in(lead, phone):
    job = handed_in(phone)
    job.read("centering", "left", 214.0)
    job.send()

    assert "1 entry came in after the hand-in." in text_of(lead.get("/desk"))


def test_it_tells_what_was_missing_at_the_hand_in(lead, phone):
    job = Job(phone)
    job.open()
    job.hand_in(["No reading on the left."], "tape broken")
    job.send()

    says = text_of(lead.get("/desk"))

    assert "Handed in with 1 thing missing: tape broken" in says
    assert "No centering was measured in the last round." in says


def test_a_hanging_axle_has_no_verdict_and_says_so(lead, phone):
    handed_in(phone, standing="hanging")

    assert "No verdict. The axle was hanging" in text_of(lead.get("/desk"))


def test_readings_that_do_not_repeat_are_pointed_out(lead, phone):
    handed_in(phone, left=(214.3, 218.0))

    assert "The left does not repeat" in text_of(lead.get("/desk"))


def test_a_phone_that_still_holds_entries_is_named(lead, phone):
    phone.push(phone.entry(), pending_count=3)

    says = text_of(lead.get("/desk"))

    assert "Dana Reyes: Dana Reyes's phone said less than a minute ago" in says
    assert "that it still has 3 entries." in says


@pytest.mark.parametrize("page", ["/desk/nowhere", "/desk/jobs/none", "/desk/vehicles/none"])
def test_what_is_not_there_is_said_in_a_sentence(lead, page):
    answer = lead.get(page)

    assert answer.status_code == 404
    assert "Not in the log" in text_of(answer) and "<main" in answer.text


def kinds_in(page):
    """The kinds that the page offers to filter by, with how many jobs have each."""
    return dict(re.findall(r'<option value="(\w+)">[^<]*\((\d+)\)', page.text))


def test_the_list_is_filtered_by_what_is_odd_in_the_address(lead, phone):
    outside = handed_in(phone)
    inside = handed_in(phone, new_id(), left=(204.0, 204.0), right=(203.2, 203.2))
    hanging = handed_in(phone, new_id(), standing="hanging")

    page = lead.get("/desk?flag=outside")

    assert kinds_in(lead.get("/desk")) == {"outside": "1", "no_verdict": "1", "none": "1"}
    assert outside.id in page.text
    assert inside.id not in page.text and hanging.id not in page.text
    assert inside.id in lead.get("/desk?flag=none").text
    assert "None of the 3 pending jobs match." in text_of(lead.get("/desk?flag=sum"))


@pytest.mark.parametrize(
    ("left", "state"), [((214.4, 214.4), "outside"), ((210.4,) * 2, "too_close")]
)
def test_a_sum_that_differs_hides_no_verdict(lead, phone, leads_phone, left, state):
    known = {"front": {"rotor": {"sum": 380.0, "u": 0.5}}}
    record = Job(leads_phone)
    record.file_vehicle(known_sums=known)
    record.send()
    job = Job(phone)
    job.open()
    job.measure(left=left)
    job.hand_in()
    job.send()

    for kind in (state, "sum", "held"):
        assert job.id in lead.get(f"/desk?flag={kind}").text
    assert "Do not adjust anything yet, for 1 reason, as found." in text_of(lead.get("/desk"))


def test_the_list_is_filtered_by_who_handed_in(lead, phone, new_phone):
    mine, other = handed_in(phone), handed_in(new_phone("Frank Delgado"))

    page = lead.get(f"/desk?by={phone.person['id']}")

    assert mine.id in page.text and other.id not in page.text


def test_who_did_the_work_and_measured_it_too_is_pointed_out(lead, phone):
    job = Job(phone)
    job.file_vehicle()
    job.open()
    job.measure()
    job.in_round("change", {"what": "bar_turned", "turns": 2, "length_change": 3.2})
    job.round = "as_left"
    job.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    job.hand_in()
    job.send()

    says = text_of(lead.get("/desk"))

    assert "The person who did the work also measured the as left round." in says
    assert "Before the road: Torque what was undone" in says


def test_a_hold_point_that_was_passed_over_is_pointed_out(lead, phone, log):
    job = handed_in(phone)
    seen = {"hold_point": "road", "seen": log.job(job.id)["last_seq"], "reason": "yard only"}
    lead.post(f"/desk/jobs/{job.id}/pass_over", data=seen)

    says = text_of(lead.get("/desk?flag=passed_over"))

    assert "Before the road passed over: yard only" in says
    assert "came in after the hand-in" not in says


def test_the_list_alone_is_sent_again_only_when_it_changed(lead, phone):
    first = lead.get("/desk/pending/list")
    same = lead.get("/desk/pending/list", headers={"If-None-Match": first.headers["ETag"]})
    job = handed_in(phone)
    then = lead.get("/desk/pending/list", headers={"If-None-Match": first.headers["ETag"]})

    assert first.status_code == 200 and "<html" not in first.text
    assert same.status_code == 304 or same.headers["ETag"] != first.headers["ETag"]
    assert then.status_code == 200 and job.id in then.text


def test_after_a_decision_the_list_opens_at_the_next_job(lead, phone):
    jobs = [handed_in(phone) for _ in range(2)]
    page = lead.get(f"/desk/jobs/{jobs[0].id}")
    form = decision_form(page, "sent_back", "again")

    answer = lead.post(f"/desk/jobs/{jobs[0].id}/decision", data=form)

    assert "1 of 2 waiting" in text_of(page)
    assert answer.location == f"/desk#job-{jobs[1].id}"
