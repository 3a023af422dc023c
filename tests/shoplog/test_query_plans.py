"""No page of the desk and no pull reads the whole log, or any table that grows with it."""

import pytest
from kit.desk_pages import VEHICLE, handed_in, queries_of

# Tables that stay as small as the shop is.
SMALL = {"people", "phones", "facts", "access", "json_each", "quarantine", "words_index_config"}
PAGES = {
    "pending": "/desk",
    "pending list": "/desk/pending/list",
    "job": "/desk/jobs/{job}",
    "jobs": "/desk/jobs?state=accepted",
    "all jobs": "/desk/jobs",
    "vehicles": "/desk/vehicles",
    "vehicles found": "/desk/vehicles?q=gray",
    "vehicle": "/desk/vehicles/{vehicle}",
    "due": "/desk/due",
    "calendar": "/desk/due.ics",
    "tags": "/desk/tags",
    "search": "/desk/search?q=gray",
    "repeat": "/desk/repeatability",
    "limits": "/desk/limits",
    "access log": "/desk/door",
    "door of one person": "/desk/door?person={person}",
    "missing": "/desk/missing",
    "people": "/desk/people",
    "person": "/desk/people/{person}",
    "set-up": "/desk/set-up",
    "health": "/desk/health",
    "new vehicle": "/desk/vehicles/new",
    "export": "/desk/export",
    "job to take away": "/desk/jobs/{job}/export.json",
}


def steps_of(log, ask):
    """(query, step) of the query plan of everything that one request asks of the database."""
    selects = {query for query in queries_of(log, ask) if query.lstrip().startswith("SELECT")}
    with log.reading() as db:
        return [
            (query, row["detail"])
            for query in selects
            for row in db.execute(f"EXPLAIN QUERY PLAN {query}")
        ]


def reads_all(query, step):
    """Whether a step of a plan goes through a whole table; a page along an index does not.

    Going through everything that one phone made is no better: in a small shop that is the log.
    """
    if "entries_of_phone" in step and "LIMIT" not in query:
        return True
    # Its lines tell of people alone: as few as the shop has people.
    if "USING INDEX person_lines" in step:
        return False
    if not step.startswith("SCAN"):
        return "USE TEMP B-TREE FOR ORDER BY" in step and "LIMIT" in query and "MATCH" not in query
    table = step.split()[1].removeprefix("main.")
    # The table itself lies in the order of its sequence numbers.
    in_order = "USING INDEX" in step or " ORDER BY seq " in query
    along_an_index = in_order and "LIMIT" in query
    return table not in SMALL and not along_an_index and "VIRTUAL TABLE" not in step


@pytest.mark.parametrize("page", PAGES)
def test_no_page_goes_through_a_table_that_grows(lead, phone, log, page):
    job = handed_in(phone)
    person = log.people()[0]["id"]
    address = PAGES[page].format(job=job.id, vehicle=VEHICLE, person=person)

    plans = steps_of(log, lambda: lead.get(address).status_code)

    assert plans
    assert [each for each in plans if reads_all(*each)] == []


@pytest.mark.parametrize("more", [{}, {"recent_until": 1000}])
def test_no_pull_goes_through_a_table_that_grows(phone, log, more):
    handed_in(phone)

    plans = steps_of(log, lambda: phone.pull(1, **more).status)

    assert plans
    assert [each for each in plans if reads_all(*each)] == []
