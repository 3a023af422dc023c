"""Entries that no longer fit, and jobs that cannot be reckoned: told, and in nobody else's way."""

import logging

import pytest
from kit.desk_pages import VEHICLE, Job

from webapp.reckon import job_view

OLD = {"known_sums": {"front": {"rotor": 1}}, "track_bars": {"front": None}}
PAGES = ["/desk", "/desk/vehicles", f"/desk/vehicles/{VEHICLE}", "/desk/due", "/desk/repeatability"]


@pytest.fixture
def jobs(phone):
    """Two jobs on one vehicle, both handed in."""
    first = Job(phone)
    first.file_vehicle()
    first.open("pulls to the left")
    first.measure()
    first.write("hand_in", {"missing": [], "reason": None})
    second = Job(phone)
    second.open("the other one")
    second.measure()
    second.write("hand_in", {"missing": [], "reason": None})
    return first.send(), second.send()


@pytest.fixture
def as_an_older_build(monkeypatch):
    """The shop takes what an older build of it took: bodies were not looked into."""
    with monkeypatch.context() as patched:
        patched.setattr("webapp.shoplog.entries.body_faults", lambda *_: [])
        yield patched


def test_f68_an_entry_that_no_longer_fits_is_told_at_the_vehicle_and_counts_for_nothing(
    leads_phone, lead, jobs, as_an_older_build
):
    old = leads_phone.entry("vehicle", OLD, vehicle=VEHICLE)
    [answer] = leads_phone.push(old).json["answers"]

    page = lead.get(f"/desk/vehicles/{VEHICLE}").text

    assert answer["verdict"] == "stored"
    assert "This entry cannot be read: The vehicle&#39;s track bars, front must be" in page
    assert "Gray hauler" in page
    assert [lead.get(path).status_code for path in PAGES] == [200] * len(PAGES)
    assert lead.get(f"/desk/jobs/{jobs[0].id}").status_code == 200


def test_an_entry_that_no_longer_fits_is_a_line_of_its_job_and_in_no_sheet(
    phone, lead, jobs, as_an_older_build
):
    body = {"step": "centering", "field": "left", "value": "far", "unit": "mm", "read_to": 1}
    jobs[0].in_round("reading", body)
    jobs[0].send()

    page = lead.get(f"/desk/jobs/{jobs[0].id}").text

    assert "Not readable: reading" in page
    assert "This entry cannot be read: The reading&#39;s value must be a number" in page
    assert "not readable" not in page


def test_an_entry_that_no_longer_fits_is_pulled_and_exported_as_it_was_made(
    leads_phone, lead, jobs, as_an_older_build
):
    old = leads_phone.entry("vehicle", OLD, vehicle=VEHICLE)
    leads_phone.push(old)

    pulled = leads_phone.pull().json["entries"][-1]
    exported = lead.get("/desk/export/entries.jsonl").text

    assert pulled["kind"] == "vehicle"
    assert pulled["body"] == OLD
    assert '"known_sums": {"front": {"rotor": 1}}' in exported


def test_a_lead_can_strike_what_cannot_be_read(leads_phone, lead, log, jobs, as_an_older_build):
    old = leads_phone.entry("vehicle", OLD, vehicle=VEHICLE)
    leads_phone.push(old)
    person = next(row["id"] for row in log.people() if row["role"] == "lead")
    strike = {"target": old["id"], "reason": "from an older version"}

    [answer] = log.write_at_desk(
        person, [{"kind": "strike", "vehicle": VEHICLE, "body": strike}], "x"
    )

    assert answer["verdict"] == "stored"
    assert lead.get(f"/desk/vehicles/{VEHICLE}").status_code == 200


@pytest.fixture
def first_fails(jobs, monkeypatch):
    """The first job cannot be reckoned."""
    made = job_view.sheet_for

    def sheet_for(entries, *more):
        if entries[0]["job"] == jobs[0].id:
            raise KeyError("sum")
        return made(entries, *more)

    monkeypatch.setattr(job_view, "sheet_for", sheet_for)
    return jobs


@pytest.mark.parametrize("path", ["/desk", "/desk/pending/list", f"/desk/vehicles/{VEHICLE}"])
def test_a_page_shows_the_other_jobs_and_names_the_one_that_fails(lead, first_fails, path, caplog):
    with caplog.at_level(logging.ERROR, "axlewright"):
        reply = lead.get(path)

    assert reply.status_code == 200
    assert "the other one" in reply.text
    assert f'/desk/jobs/{first_fails[0].id}">pulls to the left</a> cannot be shown' in reply.text
    assert "KeyError: 'sum'" in caplog.text


def test_the_vehicles_are_listed_though_a_job_fails(lead, first_fails, phone, caplog):
    other = Job(phone, vehicle="11111111-2222-4333-8444-555555555556")
    other.file_vehicle(name="Blue dumper")
    other.open()
    other.measure()
    other.send()

    page = lead.get("/desk/vehicles")

    assert page.status_code == 200
    assert "Blue dumper" in page.text


def test_a_job_that_fails_shows_its_entries(lead, first_fails, caplog):
    page = lead.get(f"/desk/jobs/{first_fails[0].id}")

    assert page.status_code == 200
    assert "This job cannot be shown or decided" in page.text
    assert "hand in" in page.text


def test_a_second_reading_of_a_job_that_is_not_here_yet_is_shown(lead, log):
    person = next(row["id"] for row in log.people() if row["role"] == "lead")
    job = "22222222-2222-4333-8444-555555555556"
    body = {"axle": "front", "round": "as_found", "about": "again", "second_of": VEHICLE}
    place = {"vehicle": VEHICLE, "job": job}
    handed = {"kind": "hand_in", "body": {"missing": [], "reason": None}, **place}

    log.write_at_desk(person, [{"kind": "job", "body": body, **place}, handed], "x")

    assert lead.get(f"/desk/jobs/{job}").status_code == 200
    page = lead.get("/desk")
    assert page.status_code == 200
    assert "the other reading cannot be shown" in page.text
