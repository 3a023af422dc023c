"""The list of what waits for the lead, and who may see the desk at all."""

import pytest
from desk_kit import Job, handed_in, text_of

PAGES = ["/desk", "/desk/vehicles", "/desk/vehicles/new", "/desk/tags", "/desk/limits"]


@pytest.mark.parametrize("page", [*PAGES, "/desk/nowhere"])
def test_whoever_is_signed_out_is_sent_to_the_door(client, page):
    answer = client.get(page)

    assert (answer.status_code, answer.location) == (303, "/door")


@pytest.mark.parametrize("page", PAGES)
def test_a_technician_is_turned_away(client, log, page):
    technician = next(row for row in log.people() if row["role"] == "technician")
    with client.session_transaction() as session:
        session["person"] = technician["id"]

    assert client.get(page).status_code == 403


@pytest.mark.parametrize("page", PAGES)
def test_the_lead_gets_every_page(lead, page):
    assert lead.get(page).status_code == 200


def test_it_says_that_nothing_waits(lead):
    assert "Nothing waits for review." in text_of(lead.get("/desk"))


def test_a_waiting_job_shows_vehicle_answer_and_who_handed_it_in(lead, phone):
    job = handed_in(phone)

    page = lead.get("/desk")

    says = text_of(page)
    assert "Grey hauler Front axle, as found pulls to the left" in says
    assert "Handed in by Dana Thrupp, 25 Nov 2026, 10:42." in says
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
    job.read("centring", "left", 214.0)
    job.send()

    assert "1 entry came in after the hand-in." in text_of(lead.get("/desk"))


def test_it_tells_what_was_missing_at_the_hand_in(lead, phone):
    job = Job(phone)
    job.open()
    job.hand_in(["Nothing was read on the left."], "tape broken")
    job.send()

    says = text_of(lead.get("/desk"))

    assert "Handed in with 1 thing missing: tape broken" in says
    assert "No centring was measured in the last round." in says


def test_a_hanging_axle_has_no_verdict_and_says_so(lead, phone):
    handed_in(phone, standing="hanging")

    assert "No verdict. The axle was hanging" in text_of(lead.get("/desk"))


def test_readings_that_do_not_repeat_are_pointed_out(lead, phone):
    handed_in(phone, left=(214.3, 218.0))

    assert "The left does not repeat" in text_of(lead.get("/desk"))


def test_a_phone_that_still_holds_entries_is_named(lead, phone):
    phone.push(phone.entry(), pending_count=3)

    says = text_of(lead.get("/desk"))

    assert "Dana Thrupp: Dana Thrupp's phone said under a minute ago" in says
    assert "that it still holds 3 entries." in says


@pytest.mark.parametrize("page", ["/desk/nowhere", "/desk/jobs/none", "/desk/vehicles/none"])
def test_what_is_not_there_is_said_in_a_sentence(lead, page):
    answer = lead.get(page)

    assert answer.status_code == 404
    assert "Not in the log" in text_of(answer) and "<main" in answer.text
