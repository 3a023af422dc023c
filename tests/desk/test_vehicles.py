"""Vehicles: the list with its search, a vehicle's page, and what the forms write."""

import re

import pytest
from kit.desk_pages import VEHICLE, Job, at_desk, decision_form, handed_in, text_of

FORM = {"name": "Gray hauler", "units": "mm", "driving_side": "left", "note": ""}


def filed(phone, **more):
    """A vehicle on file."""
    job = Job(phone)
    job.file_vehicle(**more)
    return job.send()


def test_the_list_shows_name_tags_last_finding_and_last_job(lead, phone):
    job = handed_in(phone)
    job.write("tag", {"code": "K7RM-4TQX"}, job=None)
    job.send()

    page = lead.get("/desk/vehicles")

    says = text_of(page)
    assert "Gray hauler K7RM-4TQX outside front axle, as found" in says
    assert "Last job pending review, Nov 25, 2026" in says
    assert 'data-figure="interval"' in page.text


@pytest.mark.parametrize("search", ["hauler", "GRAY", "plow", "k7rm"])
def test_search_finds_name_note_and_tag_code(lead, phone, search):
    job = filed(phone, note="plow in winter")
    job.write("tag", {"code": "K7RM-4TQX"}, job=None)
    job.send()

    assert "Gray hauler" in text_of(lead.get(f"/desk/vehicles?q={search}"))


def test_search_that_finds_nothing_says_so_and_keeps_what_was_asked(lead, phone):
    filed(phone)

    page = lead.get("/desk/vehicles?q=<tractor>")

    assert "No vehicle has “<tractor>” in its name, note or tag code." in text_of(page)
    assert 'value="&lt;tractor&gt;"' in page.text


def test_a_long_list_is_turned_page_by_page(lead, phone, log):
    names = [f"Truck {number:03}" for number in range(45)]
    boss = next(row for row in log.people() if row["role"] == "lead")
    for number, name in enumerate(names):
        vehicle = f"{VEHICLE[:-3]}{number:03}"
        draft = {"kind": "vehicle", "vehicle": vehicle, "body": {"name": name}}
        log.write_at_desk(boss["id"], [draft], "0123456789ab")

    first = lead.get("/desk/vehicles").text
    [following] = re.findall(r'href="([^"]*from=40[^"]*)"', first)
    rest = lead.get(following).text

    assert re.findall(r"Truck \d+", first) == names[:40]
    assert re.findall(r"Truck \d+", rest) == names[40:]


def test_a_vehicle_shows_its_history_with_the_newest_first(lead, phone):
    job = Job(phone)
    job.file_vehicle()
    job.open()
    job.measure()
    job.round = "as_left"
    job.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    job.send()

    page = lead.get(f"/desk/vehicles/{VEHICLE}")

    says = text_of(page)
    assert says.index("as left 0.4 ±") < says.index("as found 5.4 ±")
    assert 'data-figure="history"' in page.text


def test_what_is_on_file_names_the_job_it_came_from(lead, phone):
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted")
    lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    page = lead.get(f"/desk/vehicles/{VEHICLE}")

    says = text_of(page)
    assert "Front axle: frame end left Accepted by Orla Bennett," in says
    assert "Front axle: bar length 862.0 mm" in says
    assert "Front axle: adjuster one threaded end, pitch 1.588 mm" in says
    assert page.text.count(f"/desk/jobs/{job.id}") == 4


def test_what_is_handed_in_and_not_accepted_yet_is_shown_as_such(lead, phone):
    job = handed_in(phone)

    says = text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))
    assert "Front axle: bar length 862.0 mm" in says
    assert re.search(r"Handed in by [^,]+, [^,]+, \d{4}, not accepted yet", says)

    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted")
    lead.post(f"/desk/jobs/{job.id}/decision", data=form)
    says = text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))
    assert "Front axle: bar length 862.0 mm" in says
    assert "not accepted yet" not in says


def test_what_was_sent_back_is_not_shown_as_on_file(lead, phone):
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "sent_back", "read the left again")
    lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    says = text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))
    assert "not accepted yet" not in says and "bar length" not in says


def test_the_form_writes_only_what_changed(lead, phone, log):
    filed(phone)
    boss = next(row for row in log.people() if row["role"] == "lead")

    answer = lead.post(
        f"/desk/vehicles/{VEHICLE}", data={**FORM, "name": "Gray hauler 2", "units": "in"}
    )

    assert answer.status_code == 303
    patch = {"name": "Gray hauler 2", "units": "in"}
    assert at_desk(log) == [("vehicle", 1, boss["id"], VEHICLE, None, patch)]
    assert log.vehicle(VEHICLE)["name"] == "Gray hauler 2"


def test_nothing_is_written_when_nothing_changed(lead, phone, log):
    filed(phone)

    answer = lead.post(f"/desk/vehicles/{VEHICLE}", data=FORM, follow_redirects=True)

    assert "Nothing was changed." in text_of(answer)
    assert at_desk(log) == []


def test_the_desk_counts_its_entries_on(lead, phone, log):
    filed(phone)
    for name in ("One", "Two"):
        lead.post(f"/desk/vehicles/{VEHICLE}", data={**FORM, "name": name})

    assert [(entry[1], entry[5]) for entry in at_desk(log)] == [
        (1, {"name": "One"}),
        (2, {"name": "Two"}),
    ]


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"name": " "}, "Enter the name the shop uses for the vehicle."),
        ({"name": "x" * 121}, "Keep the name under 120 characters."),
        ({"note": "x" * 4001}, "Keep the note under 4000 characters."),
        ({"units": "ells"}, "Not a valid choice"),
    ],
)
@pytest.mark.parametrize("page", ["/desk/vehicles/new", f"/desk/vehicles/{VEHICLE}"])
def test_a_bad_form_keeps_what_was_typed(lead, phone, log, page, changed, says):
    filed(phone)

    answer = lead.post(page, data={**FORM, "note": "kept <note>", **changed})

    assert answer.status_code == 400
    assert says in text_of(answer)
    assert "kept &lt;note&gt;" in answer.text or "note" in changed
    assert at_desk(log) == []


def test_a_new_vehicle_is_put_on_file(lead, log):
    answer = lead.post("/desk/vehicles/new", data={**FORM, "note": "winter only"})

    [(kind, number, _, vehicle, job, body)] = at_desk(log)
    assert answer.location == f"/desk/vehicles/{vehicle}"
    assert (kind, number, job, body) == ("vehicle", 1, None, {**FORM, "note": "winter only"})
    assert "Gray hauler was added." in text_of(lead.get(answer.location))


def test_older_jobs_are_a_page_further(lead, phone):
    job = filed(phone)
    for number in range(26):
        job.place["job"] = f"2b8c5a90-1f44-4a37-8e0b-5c3d9e7f20{number:02}"
        job.open(about=f"visit {number:02}")
    job.send()

    first = lead.get(f"/desk/vehicles/{VEHICLE}").text
    [following] = re.findall(r'href="([^"]*from=24)"', first)
    rest = lead.get(following).text

    assert re.findall(r"visit (\d+)", first) == [f"{number:02}" for number in range(25, 1, -1)]
    assert re.findall(r"visit (\d+)", rest) == ["01", "00"]


def test_a_name_that_another_vehicle_in_use_has_is_refused_at_its_field(lead, phone, log):
    handed_in(phone)
    form = {"name": "gray HAULER", "units": "in", "driving_side": "left", "note": "the new one"}

    refused = lead.post("/desk/vehicles/new", data=form)

    assert refused.status_code == 400 and len(log.vehicles()) == 1
    assert "There is a Gray hauler already. Add what tells the two apart" in text_of(refused)
    assert "the new one" in refused.text
    lead.post("/desk/vehicles/new", data={**form, "name": "Gray hauler 2"})
    [second] = [row["id"] for row in log.vehicles() if row["name"] == "Gray hauler 2"]
    assert lead.post(f"/desk/vehicles/{second}", data=form).status_code == 400
    lead.post(f"/desk/vehicles/{VEHICLE}/retire")
    assert lead.post("/desk/vehicles/new", data=form).status_code == 303


def test_the_desk_is_found_with_a_slash_behind_it_too(lead):
    for address in ("/desk/", "/desk"):
        found = lead.get(address)
        assert found.status_code == 200
        assert 'href="/desk"' in found.text and 'href="/desk/"' not in found.text
