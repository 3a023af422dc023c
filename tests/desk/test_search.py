"""Search across the log, what can be taken away, the list of jobs, and what is due."""

import csv
import io
import json
from datetime import UTC, date, datetime, timedelta

import pytest
from kit.desk_pages import GRID, VEHICLE, Job, at_desk, handed_in, text_of

from webapp.desk.shop.export import COLUMNS, plain
from webapp.desk.vehicles.calendar import calendar


def filed(phone, **more):
    """A vehicle on file, without a job."""
    job = Job(phone)
    job.file_vehicle(**more)
    return job


@pytest.mark.parametrize("asked", ["hauler", "pulls left", "bushing torn", "K7RM-4TQX"])
def test_search_finds_vehicles_jobs_notes_and_tags(lead, phone, asked):
    job = handed_in(phone)
    job.write("note", {"text": "Bushing is torn at the frame end."})
    job.write("tag", {"code": "K7RM-4TQX"}, job=None)
    job.send()

    page = lead.get("/desk/search", query_string={"q": asked})

    assert "Gray hauler" in text_of(page)
    assert f"/desk/jobs/{job.id}" in page.text or f"/desk/vehicles/{VEHICLE}" in page.text


def test_search_that_finds_nothing_says_so_as_text(lead):
    page = lead.get("/desk/search?q=<tractor>")

    assert "Nothing matches every word of “<tractor>”." in text_of(page)


def test_a_tag_that_was_replaced_leads_to_the_record_and_says_so(lead, phone, log):
    job = filed(phone)
    job.write("tag", {"code": "K7RM-4TQX"}, job=None)
    job.send()
    lead.post(f"/desk/vehicles/{VEHICLE}/tag", data={"code": "K7RM-4TQX", "replace": "yes"})

    fresh = log.vehicle(VEHICLE)["tags"][-1]
    says = text_of(lead.get("/desk/search?q=k7rm-4tqx"))

    assert f"This tag was replaced by {fresh}." in says and "Gray hauler" in says
    assert log.vehicle_by_tag("K7RM-4TQX")["id"] == log.vehicle_by_tag(fresh)["id"] == VEHICLE


def test_a_lost_tag_is_not_printed_again_and_says_that_it_is_lost(lead, phone):
    job = filed(phone)
    job.write("tag", {"code": "K7RM-4TQX"}, job=None)
    job.send()
    lead.post(f"/desk/vehicles/{VEHICLE}/tag", data={"code": "K7RM-4TQX", "lost": "yes"})

    sheet = lead.post("/desk/tags", data={**GRID, "vehicles": [VEHICLE]})

    assert "K7RM-4TQX" not in sheet.location
    assert "was reported lost" in text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))


def test_entries_are_taken_away_as_csv_and_as_json_lines(lead, phone, log):
    handed_in(phone)
    stored = log.pull(0, 1000, own=True)["entries"]

    rows = list(csv.DictReader(io.StringIO(lead.get("/desk/export/entries.csv").text)))
    lines = [json.loads(line) for line in lead.get("/desk/export/entries.jsonl").text.splitlines()]

    assert lines == stored
    assert [row["id"] for row in rows] == [entry["id"] for entry in stored]
    assert json.loads(rows[0]["body"]) == stored[0]["body"]


def table_of(lead, table):
    """An exported table, as its line of names and its rows."""
    reader = csv.DictReader(io.StringIO(lead.get(f"/desk/export/{table}.csv").text))
    rows = list(reader)
    return reader.fieldnames, rows


@pytest.mark.parametrize("table", list(COLUMNS))
def test_a_table_without_rows_has_its_names(lead, table):
    assert table_of(lead, table)[0] == COLUMNS[table].split()
    assert f"/desk/export/{table}.csv" in lead.get("/desk/export").text


def test_a_table_has_every_column_that_the_log_gives_of_it(lead, phone, leads_phone, log):
    filed(leads_phone, rechecks={"rear": {"distance": 800, "unit": "km"}}).send()
    job = Job(phone)
    job.open()
    job.send()
    given = {"entries": log.pull(0, 9)["entries"], "jobs": log.jobs(), "vehicles": log.vehicles()}
    given |= {"people": log.people(), "due": log.due()}

    for table, rows in given.items():
        assert COLUMNS[table].split() == list(rows[0])


def test_house_limits_are_taken_away_as_they_were_set(lead, log):
    for value in ("1/8 in", "2.5"):
        lead.post("/desk/limits/offset", data={"offset-value": value, "offset-reason": "springs"})
    boss = next(row["id"] for row in log.people() if row["role"] == "lead")
    struck = {"target": log.limit_entries()[0]["id"], "reason": "misread"}
    log.write_at_desk(boss, [{"kind": "strike", "body": struck}], "0123456789ab")

    _, rows = table_of(lead, "limits")

    keys = ("name", "value", "typed", "reason", "person", "stands")
    assert [tuple(row[key] for key in keys) for row in rows] == [
        ("offset", "3.175", "1/8 in", "springs", boss, "False"),
        ("offset", "2.5", "2.5", "springs", boss, "True"),
    ]


def test_what_was_set_aside_is_taken_away(lead, phone, log):
    first = phone.entry("note", {"text": "grease"}, vehicle=VEHICLE)
    other = {**first, "body": {"text": "other words"}}
    phone.push(first)
    phone.push(other)

    _, [row] = table_of(lead, "set_aside")

    assert json.loads(row["entry"])["body"] == {"text": "other words"}
    assert row["phone"] == first["phone"]


SIGNS = ("=1+1", "+1", "-1", "@x", "\uff1d1", "\uff0b1", "\uff0d1", "\uff20x")
BEFORE = ("", "\t", "\r", "\n", " ", "\u00a0", "\u3000", "\ufeff", " \u200b ")


@pytest.mark.parametrize("text", [*(b + s for b in BEFORE for s in SIGNS), "\nplain", "\tplain"])
def test_no_cell_is_run_by_a_spreadsheet(text):
    assert plain(text) == f"'{text}"
    assert plain(f"a{text}") == f"a{text}"


@pytest.mark.parametrize("table", ["jobs", "vehicles", "people", "phones", "due"])
def test_every_table_is_taken_away_without_what_lets_anybody_in(lead, phone, table):
    handed_in(phone)

    answer = lead.get(f"/desk/export/{table}.csv")

    assert answer.status_code == 200 and answer.mimetype == "text/csv"
    assert "credential" not in answer.text and "hash" not in answer.text
    assert lead.get("/desk/export/access.csv").status_code == 404


def test_one_job_is_taken_away_with_sheets_findings_and_entries(lead, phone, log):
    job = handed_in(phone)

    held = json.loads(lead.get(f"/desk/jobs/{job.id}/export.json").text)

    assert held["entries"] == log.entries_of_job(job.id)
    assert held["rounds"][0]["findings"]["centering"]["state"] == "outside"
    assert held["rounds"][0]["sheet"]["centering"]["left"] == [214.4, 214.4]


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@sum", "\tx"])
def test_a_cell_is_never_a_formula(text):
    assert plain(text) == f"'{text}"
    assert plain("14 3/8") == "14 3/8" and plain(-3.5) == -3.5


def test_jobs_are_listed_by_what_the_address_says(lead, phone):
    job = handed_in(phone)

    assert f"/desk/jobs/{job.id}" in lead.get("/desk/jobs?state=pending&axle=front").text
    assert "No jobs match." in text_of(lead.get("/desk/jobs?state=accepted"))
    assert "No jobs match." in text_of(lead.get("/desk/jobs?axle=rear"))


def ask(lead, **form):
    return lead.post(f"/desk/vehicles/{VEHICLE}/remeasure", data=form, follow_redirects=True)


def test_what_is_overdue_comes_first(lead, leads_phone):
    before = date.today() - timedelta(days=3)
    overdue = {"front": {"date": before.isoformat()}}
    rechecks = {"rear": {"distance": 800, "unit": "km"}}
    filed(leads_phone, rechecks=rechecks, remeasure=overdue).send()

    says = text_of(lead.get("/desk/due"))

    assert "Overdue" in says and "3 days ago" in says and "Measure the axle again" in says
    assert says.index("Overdue") < says.index("By distance alone") < says.index("after 800 km")


def test_what_was_asked_can_be_taken_back(lead, phone):
    filed(phone).send()
    ask(lead, axle="front", distance="1 000".replace(" ", ""), unit="mi")
    there = text_of(lead.get("/desk/due"))
    ask(lead, axle="front", drop="yes")

    assert "after 1000 mi" in there
    assert "Nothing is due." in text_of(lead.get("/desk/due"))


@pytest.mark.parametrize(
    "wrong", [{}, {"date": "soon"}, {"distance": "far"}, {"distance": "5", "axle": "middle"}]
)
def test_a_plan_that_says_nothing_is_not_kept(lead, phone, log, wrong):
    filed(phone).send()

    assert "Nothing was saved." in text_of(ask(lead, **{"axle": "front", **wrong}))
    assert at_desk(log) == []


def unfolded(text):
    """The content lines of a calendar, by name, without their parameters (RFC 5545, 3.1)."""
    assert text.endswith("\r\n") and "\n" not in text.replace("\r\n", "")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    lines = text.replace("\r\n ", "").split("\r\n")[:-1]
    return [(name.partition(";")[0], value) for name, _, value in (e.partition(":") for e in lines)]


def test_the_calendar_has_a_whole_day_for_each_due_thing(lead, phone):
    name = "Straße, Tür; und ein sehr langer Name, damit die Zeile gefaltet wird"
    filed(phone, name=name).send()
    ask(lead, axle="front", date="2026-12-31")

    answer = lead.get("/desk/due.ics")

    assert answer.mimetype == "text/calendar"
    found = dict(unfolded(answer.text))
    assert (found["DTSTART"], found["DTEND"]) == ("20261231", "20270101")
    assert found["UID"] == f"{VEHICLE}-front-remeasure@axlewright"
    summary = found["SUMMARY"].replace("\\,", ",").replace("\\;", ";")
    assert summary == f"{name}: measure the axle again (front axle)"


def test_a_calendar_without_events_has_the_one_component_that_it_needs():
    lines = unfolded(calendar([], datetime(2026, 1, 1, tzinfo=UTC)))

    begun = [value for name, value in lines if name == "BEGIN"]
    assert lines[0] == ("BEGIN", "VCALENDAR") and lines[-1] == ("END", "VCALENDAR")
    assert begun == ["VCALENDAR", "VTIMEZONE", "STANDARD"]


def test_the_calendar_leads_to_the_address_of_the_shop(lead, phone, app):
    filed(phone).send()
    ask(lead, axle="front", date="2026-12-31")
    # As behind something that takes TLS off before the service.
    app.config["ADDRESS"] = "https://localhost"

    found = dict(unfolded(lead.get("/desk/due.ics").text))

    assert found["URL"] == f"https://localhost/desk/vehicles/{VEHICLE}"


def test_the_calendar_has_everything_that_is_due_on_a_day(lead, log):
    boss = next(row["id"] for row in log.people() if row["role"] == "lead")
    body = {"remeasure": {"front": {"date": "2026-12-31"}, "rear": {"distance": 9, "unit": "km"}}}
    drafts = [
        {"kind": "vehicle", "vehicle": f"{VEHICLE[:-4]}{number:04}", "body": body}
        for number in range(1001)
    ]
    log.write_at_desk(boss, drafts, "0123456789ab")

    events = lead.get("/desk/due.ics").text.count("BEGIN:VEVENT")

    assert events == 1001
