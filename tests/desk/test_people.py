"""The lead's pages for people, phones and pairing."""

import re

import pytest
from kit.desk_pages import qr_texts, text_of
from kit.entries import stored_ids
from kit.passphrases import PASSPHRASE, give_passphrase
from kit.phones import Phone, asking, code_for


def named(log, name):
    return next(row for row in log.people() if row["name"] == name)


@pytest.fixture
def dana(log):
    return named(log, "Dana Reyes")


@pytest.fixture
def orla(log):
    """The lead, who can sign in with a passphrase."""
    person = named(log, "Orla Bennett")
    give_passphrase(log, person)
    return person


@pytest.fixture
def signed_in(app, orla):
    """A browser in which the lead signed in after choosing the passphrase."""
    client = app.test_client()
    client.post("/door/demo/lead")
    return client


def code_on(page):
    return re.search(r'figure-of"><code>([A-Z0-9-]+)</code>', page.text)[1]


def test_everybody_is_listed_with_their_phones(lead, phone):
    phone.push(phone.entry(), pending_count=3, oldest_pending_at="2026-11-25T10:42:07+01:00")

    page = text_of(lead.get("/desk/people"))

    assert "Dana Reyes's phone: last contact" in page
    assert "3 not sent yet" in page
    assert page.count("no phone") == 2


def test_a_person_is_put_on_the_list_and_can_be_changed(lead, log):
    reply = lead.post("/desk/people", data={"name": " Victor Chen ", "role": "technician"})
    person = named(log, "Victor Chen")

    assert reply.headers["Location"] == f"/desk/people/{person['id']}"
    lead.post(f"/desk/people/{person['id']}", data={"name": "Victor Chen", "role": "lead"})

    assert log.person(person["id"])["role"] == "lead"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ({"name": "", "role": "technician"}, "Enter the name"),
        ({"name": "x" * 81, "role": "technician"}, "under 80"),
        ({"name": "dana REYES", "role": "technician"}, "already works here"),
        ({"name": "Vic", "role": "owner"}, "Not a valid choice"),
    ],
)
def test_what_cannot_be_a_person_is_said_and_kept_out(lead, log, data, says):
    before = log.people()

    reply = lead.post("/desk/people", data=data)

    assert reply.status_code == 400
    assert says in reply.text
    assert log.people() == before


def test_the_last_lead_cannot_become_a_technician_or_be_sent_away(signed_in, orla, log):
    data = {"name": orla["name"], "role": "technician"}

    assert signed_in.post(f"/desk/people/{orla['id']}", data=data).status_code == 409
    signed_in.post(f"/desk/people/{orla['id']}/out")

    assert log.person(orla["id"])["role"] == "lead"
    assert signed_in.get("/desk").status_code == 200


def test_the_pairing_qr_makes_the_phone_that_scans_it_that_persons(lead, app, dana):
    page = lead.post(f"/desk/people/{dana['id']}/pairing")

    [address] = qr_texts(page)
    assert address == f"http://localhost/app#pair={code_on(page)}"
    phone = Phone(asking(app.test_client()), code_on(page))
    assert phone.person == dana


def test_the_page_of_trust_over_plain_http_never_gets_the_pairing_code(lead, app, dana):
    app.config["TRUST_PAGE"] = "http://192.168.1.20:8701/"

    page = lead.post(f"/desk/people/{dana['id']}/pairing")

    first, second = qr_texts(page)
    assert first == "http://192.168.1.20:8701/"
    assert second == f"http://localhost/app#pair={code_on(page)}"


def test_a_phones_row_says_what_it_holds_and_whether_its_app_is_behind(lead, phone, dana):
    phone.push(phone.entry(), pending_count=2, oldest_pending_at="2026-11-25T10:42:07+01:00")

    page = text_of(lead.get(f"/desk/people/{dana['id']}"))

    assert "old version 0123456789ab" in page
    assert "2, oldest Nov 25, 2026, 10:42" in page


def test_f43_a_revoked_phone_gets_nothing_and_hands_over_all_it_holds_when_paired_again(
    lead, phone, dana
):
    held = [phone.entry() for _ in range(3)]

    lead.post(f"/desk/phones/{phone.id}/revoke")
    turned_away = [phone.push(*held), phone.pull()]
    page = text_of(lead.get(f"/desk/people/{dana['id']}"))
    code = code_on(lead.post(f"/desk/people/{dana['id']}/pairing"))
    phone.take(phone.ask("POST", "/door/pair", {"code": code, "phone": phone.id}, phone.headers))
    answers = phone.push(*held).json["answers"]

    assert [(reply.status, set(reply.json)) for reply in turned_away] == [(401, {"error"})] * 2
    assert "revoked" in page
    assert [answer["verdict"] for answer in answers] == ["stored"] * 3


def test_a_person_who_leaves_has_no_way_in_and_stays_in_the_log(signed_in, phone, dana, log):
    phone.push(phone.entry())

    signed_in.post(f"/desk/people/{dana['id']}/out")

    assert phone.pull().status == 401
    assert log.person(dana["id"])["name"] == "Dana Reyes"
    assert len(stored_ids(log)) == 1


def test_no_link_or_code_made_before_lets_somebody_in_who_left(signed_in, app, log):
    ruth = log.add_person("Ruth Calloway", "lead")
    page = signed_in.post(f"/desk/people/{ruth['id']}/passphrase")
    key = page.text.split("/door/link?key=")[1].split('"')[0]
    code = code_for(log, "Ruth Calloway")

    signed_in.post(f"/desk/people/{ruth['id']}/out")

    browser = app.test_client()
    asked = {"key": key, "passphrase": PASSPHRASE, "again": PASSPHRASE}
    assert browser.post("/door/link", data=asked).status_code == 400
    assert browser.get("/desk").status_code == 303
    assert browser.post("/door/pair", json={"code": code}).status_code == 400
    assert log.passphrase_hash_of(ruth["id"]) is None


def test_a_link_for_a_passphrase_lets_another_lead_in(signed_in, app, log):
    signed_in.post("/desk/people", data={"name": "Victor Chen", "role": "lead"})
    person = named(log, "Victor Chen")

    page = signed_in.post(f"/desk/people/{person['id']}/passphrase")
    key = re.search(r"link\?key=([\w-]+)", page.text)[1]
    newcomer = app.test_client()
    data = {"key": key, "passphrase": "tin truck pale moth", "again": "tin truck pale moth"}
    reply = newcomer.post("/door/link", data=data)

    assert reply.headers["Location"] == "/desk"
    assert "Victor Chen" in newcomer.get("/desk").text
    assert newcomer.post("/door/link", data=data).status_code == 400


def test_signing_out_everywhere_ends_every_session(signed_in, app, orla):
    other = app.test_client()
    other.post("/door/demo/lead")
    assert other.get("/desk").status_code == 200

    signed_in.post("/door/sign-out-everywhere")

    assert [client.get("/desk").status_code for client in (signed_in, other)] == [303, 303]
