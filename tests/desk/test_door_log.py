"""The access log at the desk, and what a lead is told of it; names as they were."""

import pytest
from kit.desk_pages import handed_in, text_of
from kit.entries import make_entry, new_id, verdicts
from kit.passphrases import PASSPHRASE

from webapp.desk.shop.door_log import SAYS
from webapp.shoplog.rules.own_kinds import EVENTS


@pytest.fixture
def two_leads(log):
    """The ids of two leads: Orla, who is signed in by `lead`, and Ruth."""
    orla = next(row["id"] for row in log.people() if row["role"] == "lead")
    return orla, log.add_person("Ruth Calloway", "lead", orla)["id"]


def link_on(page):
    return page.text.split("/door/link?key=")[1].split('"')[0]


def use(app, key):
    """A browser in which somebody chose a passphrase by this link, on its first page."""
    client = app.test_client()
    asked = {"key": key, "passphrase": PASSPHRASE, "again": PASSPHRASE}
    return client, text_of(client.post("/door/link", data=asked, follow_redirects=True))


def sign_in(app, name):
    client = app.test_client()
    asked = {"name": name, "passphrase": PASSPHRASE}
    return client, text_of(client.post("/door/sign-in", data=asked, follow_redirects=True))


def test_every_event_has_its_sentence():
    assert set(SAYS) == set(EVENTS)


def test_a_lead_who_became_another_is_told_to_that_other_at_every_sign_in(
    app, lead, log, two_leads
):
    """Orla makes a link for Ruth, uses it herself, and reads what stands there."""
    _, ruth = two_leads
    key = link_on(lead.post(f"/desk/people/{ruth}/passphrase"))
    _, as_ruth = use(app, key)
    link = "Orla Bennett made a link for Ruth Calloway to choose a passphrase."
    used = "The link that Orla Bennett made for Ruth Calloway was used"
    assert link in as_ruth and used in as_ruth

    for _ in range(2):
        browser, first = sign_in(app, "Ruth Calloway")
        assert link in first and used in first
        assert link not in text_of(browser.get("/desk"))


def test_a_lead_is_told_of_codes_roles_names_and_revocations_by_others(app, lead, log, two_leads):
    _, ruth = two_leads
    use(app, link_on(lead.post(f"/desk/people/{ruth}/passphrase")))
    lead.post(f"/desk/people/{ruth}/pairing")
    lead.post(f"/desk/people/{ruth}", data={"name": "Ruth Hale", "role": "lead"})

    _, first = sign_in(app, "Ruth Hale")

    assert "made a code to pair a phone for Ruth Calloway (today Ruth Hale)." in first
    assert "Orla Bennett changed the name Ruth Calloway to Ruth Hale." in first


def test_what_a_lead_did_alone_is_not_told(app, lead, log, two_leads):
    orla, _ = two_leads
    lead.post(f"/desk/people/{orla}/pairing")
    lead.post(f"/desk/people/{orla}", data={"name": "Orla B", "role": "lead"})

    page = text_of(app.test_client().post("/door/demo/lead", follow_redirects=True))

    assert "Somebody else changed" not in page


def test_the_page_says_who_did_what_and_is_asked_by_person_and_day(lead, log, two_leads):
    _, ruth = two_leads
    lead.post(f"/desk/people/{ruth}", data={"name": "Ruth Hale", "role": "lead"})
    log.change_person(ruth, "Ruth Hale", "technician")
    lead.post("/desk/set-up", data={"name": "North yard", "units": "mm", "driving_side": "left"})
    log.count_failed_sign_in("Eve", "192.0.2.7")

    page = text_of(lead.get("/desk/door"))
    of_ruth = text_of(lead.get(f"/desk/door?person={ruth}"))

    for says in (
        "Orla Bennett added Ruth Calloway as a lead.",
        "Orla Bennett changed the name Ruth Calloway to Ruth Hale.",
        "The shop PC made Ruth Hale a technician.",
        "Orla Bennett signed in by the demo's button, on the shop PC.",
        "1 failed sign-in from",
        "Names tried: an unknown name. From: 192.0.2.7.",
    ):
        assert says in page
    assert "Ruth Hale a technician" in of_ruth and "by the demo's button" not in of_ruth
    assert "Nothing on these days." in text_of(lead.get("/desk/door?until=2020-01-01"))
    for odd in ("person=x", "since=tomorrow", "until=99999-01-01", "before=x"):
        assert lead.get(f"/desk/door?{odd}").status_code == 200


def test_many_lines_come_page_by_page(lead, log, two_leads):
    for _ in range(150):
        log.record_at_door("signed_out", two_leads[1], two_leads[1])

    first = lead.get("/desk/door").text
    before = first.split("before=")[1].split("&")[0]

    assert first.count("signed out") == 100
    assert lead.get(f"/desk/door?before={before}").text.count("signed out") == 50


def test_the_page_answers_whatever_line_it_is_asked_from(lead):
    assert lead.get("/desk/door?before=9999999999999999999").status_code == 200


def test_failed_sign_ins_without_their_counts_are_a_sentence_too(lead, log):
    log.record_at_door("sign_in_failed")

    assert "1 failed sign-in from" in text_of(lead.get("/desk/door"))


def test_the_log_of_the_door_is_for_leads(client, phone):
    assert client.get("/desk/door").status_code == 303
    asked = phone.ask("GET", "/desk/door", None, phone.headers)
    assert asked.status == 303


def test_exports_have_the_log_of_the_door(lead, log):
    text = lead.get("/desk/export/entries.jsonl").text

    assert '"event": "signed_in"' in text
    assert "signed_in" in lead.get("/desk/export/entries.csv").text


def test_pages_show_the_name_of_the_time_and_todays_beside_it(lead, phone, log):
    job = handed_in(phone)
    log.change_person(phone.person["id"], "Frank Delgado the Second", "technician")

    for path in ("/desk", f"/desk/jobs/{job.id}", "/desk/jobs"):
        assert "Dana Reyes (today Frank Delgado the Second)" in text_of(lead.get(path)), path


def test_a_renamed_person_is_called_by_the_new_name_from_then_on(lead, phone, log):
    log.change_person(phone.person["id"], "Dana Novak", "technician")
    phone.push(phone.entry("note", {"text": "later"}, made_at="2999-01-01T00:00:00Z"))
    handed_in(phone)
    page = text_of(lead.get(f"/desk/vehicles/{phone.vehicle}"))

    assert "Dana Reyes (today" not in page


def test_a_lead_on_a_phone_writes_nothing_at_the_door(shop, crew):
    made = make_entry(crew.leads_phone, "note", kind="door", vehicle=None, job=None, id=new_id())
    assert verdicts(shop.append(crew.leads_phone, [made])) == ["refused"]
