"""The door: who gets in where, and what becomes of sessions, codes and credentials."""

import re
from datetime import timedelta

import pytest
from kit.phones import Phone, asking

from webapp import create_app
from webapp.door import credentials
from webapp.door.roles import ANYONE, LEAD, NOBODY, PHONE, who_may

SIGNED_OUT, TECHNICIAN_PHONE, LEAD_SESSION = "signed out", "technician phone", "lead session"
TECHNICIAN_SESSION, REVOKED_PHONE = "technician session", "revoked phone"
VISITORS = [SIGNED_OUT, TECHNICIAN_PHONE, LEAD_SESSION, TECHNICIAN_SESSION, REVOKED_PHONE]
TO_THE_DOOR = {"door.leave", "door.leave_everywhere", "door.index"}
LET_IN = {
    ANYONE: {*VISITORS},
    PHONE: {TECHNICIAN_PHONE},
    LEAD: {LEAD_SESSION},
    NOBODY: set(),
}


def routes(app):
    """Every (endpoint, method, path) with its parameters filled in."""
    for rule in app.url_map.iter_rules():
        path = re.sub(r"<[^>]*>", "0", rule.rule)
        for method in sorted(rule.methods - {"HEAD", "OPTIONS"}):
            yield rule.endpoint, method, path


def is_turned_away(reply):
    to_the_door = reply.status_code == 303 and reply.headers["Location"] == "/door"
    return to_the_door or reply.status_code in {401, 403}


@pytest.fixture
def visit(app, log, new_phone):
    """Opens an address as one of the visitors."""
    phones = {TECHNICIAN_PHONE: new_phone(), REVOKED_PHONE: new_phone()}
    log.revoke_phone(phones[REVOKED_PHONE].id)
    technician = next(row for row in log.people() if row["role"] == "technician")

    def opened(visitor, method, path):
        client = app.test_client()
        if visitor == LEAD_SESSION:
            client.post("/door/demo/lead")
        if visitor == TECHNICIAN_SESSION:
            with client.session_transaction() as session:
                session["person"] = technician["id"]
        headers = phones[visitor].headers if visitor in phones else {}
        return client.open(path, method=method, headers=headers)

    return opened


@pytest.mark.parametrize("visitor", VISITORS)
def test_the_roles_table_holds_for_every_route_and_visitor(app, visit, visitor):
    for endpoint, method, path in routes(app):
        reply = visit(visitor, method, path)
        may = visitor in LET_IN[who_may(endpoint)]
        if endpoint in TO_THE_DOOR:
            # These lead to the door for everybody whom they let in.
            assert may or is_turned_away(reply), path
        else:
            assert is_turned_away(reply) is not may, path


def test_the_visitors_are_who_they_are_called(visit):
    replies = {visitor: visit(visitor, "GET", "/log/pull") for visitor in VISITORS}
    codes = {
        visitor: reply.get_json()["error"]["code"]
        for visitor, reply in replies.items()
        if reply.status_code == 401
    }

    assert codes[REVOKED_PHONE] == "revoked"
    assert TECHNICIAN_PHONE not in codes
    assert codes[TECHNICIAN_SESSION] == "unknown_phone"
    assert visit(TECHNICIAN_SESSION, "GET", "/desk").status_code == 403
    assert visit(LEAD_SESSION, "GET", "/desk").status_code == 200


def test_every_route_has_a_row_in_the_roles_table(app):
    assert [name for name, _, _ in routes(app) if who_may(name) == NOBODY] == []


def test_a_technicians_session_does_not_open_the_desk(client, log):
    technician = next(row for row in log.people() if row["role"] == "technician")
    with client.session_transaction() as session:
        session["person"] = technician["id"]

    assert client.get("/desk").status_code == 403


def test_a_lead_who_became_a_technician_is_out_at_once(lead, log):
    assert lead.get("/desk").status_code == 200
    person = next(row for row in log.people() if row["role"] == "lead")

    log.change_person(person["id"], person["name"], "technician")

    assert lead.get("/desk").status_code == 403


def test_the_first_page_leads_to_the_door_or_the_desk(client, lead):
    assert client.get("/").headers["Location"] == "/door"
    assert lead.get("/").headers["Location"] == "/desk"


def test_the_demo_says_that_it_is_one(client):
    page = client.get("/door").text

    assert "This is a demo." in page
    assert page.count("<button>") == 2


def test_the_door_names_who_is_in_and_lets_them_leave(lead):
    assert "signed in as Orla Bexwick" in lead.get("/door").text

    assert lead.post("/door/leave").headers["Location"] == "/door"

    assert "Orla" not in lead.get("/door").text


def test_without_a_demo_the_demos_doors_are_shut(tmp_path):
    app = create_app({"DATA": tmp_path / "data", "WTF_CSRF_ENABLED": False})
    with app.extensions["shoplog"] as log:
        log.add_person("Orla Bexwick", "lead")
        client = app.test_client()

        assert client.post("/door/demo/lead").status_code == 404
        assert client.post("/door/demo/technician").status_code == 404
        page = client.get("/door").text

    assert "demo" not in page
    assert "<button>" not in page


def test_the_technicians_button_opens_the_app_with_a_code_for_it(app, client):
    address = client.post("/door/demo/technician").headers["Location"]

    path, _, code = address.partition("#pair=")
    phone = Phone(asking(app.test_client()), code)
    assert path == "/app"
    assert phone.person["name"] == "Dana Thrupp"


def code_for(log, name="Dana Thrupp"):
    return credentials.new_code(log, next(row["id"] for row in log.people() if row["name"] == name))


def pair(client, code, **more):
    return client.post("/door/pair", json={"code": code, **more})


def test_a_code_pairs_one_phone_only(client, log):
    code = code_for(log)

    assert pair(client, code).status_code == 200
    again = pair(client, code)

    assert (again.status_code, again.json["error"]["code"]) == (400, "bad_code")


def test_a_code_stays_good_while_the_phone_holds_entries_of_somebody_else(client, log):
    code = code_for(log)
    dana, other = (
        next(row["id"] for row in log.people() if (row["name"] == "Dana Thrupp") == is_dana)
        for is_dana in (True, False)
    )

    refused = pair(client, code, holds_for=other)

    assert (refused.status_code, refused.json["error"]["code"]) == (409, "holds_others")
    assert pair(client, code, holds_for=7).status_code == 400
    assert pair(client, code, holds_for=dana).status_code == 200
    assert pair(client, code, holds_for=other).json["error"]["code"] == "bad_code"


def test_a_code_is_good_for_ten_minutes(client, log, monkeypatch):
    assert timedelta(minutes=10) == credentials.CODE_LASTS
    monkeypatch.setattr(credentials, "CODE_LASTS", timedelta(seconds=-1))

    assert pair(client, code_for(log)).json["error"]["code"] == "bad_code"


def test_a_code_may_be_typed_carelessly(client, log):
    code = code_for(log)

    assert pair(client, f" {code.lower().replace('-', ' ')} ").status_code == 200


@pytest.mark.parametrize("body", [{}, [], {"code": 5}, {"code": None}])
def test_pairing_without_a_code_is_refused_in_the_one_shape(client, body):
    reply = client.post("/door/pair", json=body)

    assert reply.status_code == 400
    assert set(reply.json["error"]) == {"code", "says"}


def test_only_hashes_of_codes_and_credentials_are_stored(phone, log):
    code = code_for(log)
    with log.reading() as db:
        stored = "\n".join(db.iterdump())

    assert phone.id in stored
    assert phone.credential not in stored
    assert code not in stored and code.replace("-", "") not in stored


def test_a_credential_holds_256_random_bits(new_phone):
    first, second = new_phone(), new_phone()

    assert len(first.credential) == 43
    assert first.credential != second.credential


@pytest.mark.parametrize(
    "header",
    ["", "Bearer", "Bearer ", "Bearer wrong", "Basic {}", "{}", "Bearer \ud800", "Bearer é"],
)
def test_a_call_without_the_right_credential_is_turned_away(phone, header):
    given = header.format(phone.credential).encode("utf-8", "surrogatepass").decode("latin-1")

    reply = phone.ask("GET", "/log/pull", None, {"Authorization": given})

    assert (reply.status, reply.json["error"]["code"]) == (401, "unknown_phone")


def test_a_revoked_phone_is_turned_away_and_loses_nothing_by_pairing_again(app, phone, log):
    waiting = phone.entry()
    log.revoke_phone(phone.id)

    turned_away = phone.push(waiting)
    phone.take(phone.ask("POST", "/door/pair", {"code": code_for(log), "phone": phone.id}))
    reply = phone.push(waiting)

    assert (turned_away.status, turned_away.json["error"]["code"]) == (401, "revoked")
    assert [answer["verdict"] for answer in reply.json["answers"]] == ["stored"]


def test_pairing_again_ends_the_credential_before(phone, log):
    before = dict(phone.headers)

    phone.take(phone.ask("POST", "/door/pair", {"code": code_for(log), "phone": phone.id}))

    assert phone.ask("GET", "/log/pull", None, before).status == 401
    assert phone.pull().status == 200


def test_a_phone_given_to_another_person_becomes_another_phone(phone, log):
    code = code_for(log, "Fenn Garrowby")

    reply = phone.ask("POST", "/door/pair", {"code": code, "phone": phone.id})

    assert reply.json["phone"]["id"] != phone.id
    assert reply.json["person"]["name"] == "Fenn Garrowby"


def with_tokens(folder):
    """The service as it is served, form tokens and all."""
    app = create_app({"DATA": folder, "DEMO": True})
    log = app.extensions["shoplog"]
    if not log.people():
        log.add_person("Orla Bexwick", "lead")
    return app, log


def token(client):
    return re.search(r'name="csrf_token" value="([^"]+)"', client.get("/door").text)[1]


def test_a_form_without_its_token_changes_nothing(tmp_path):
    app, log = with_tokens(tmp_path)
    with log:
        client = app.test_client()

        assert client.post("/door/demo/lead").status_code == 400
        assert "signed in" not in client.get("/door").text
        assert client.post("/door/demo/lead", data={"csrf_token": token(client)}).status_code == 303


def test_f42_a_restart_between_page_and_form_signs_nobody_out(tmp_path):
    app, log = with_tokens(tmp_path)
    with log:
        client = app.test_client()
        client.post("/door/demo/lead", data={"csrf_token": token(client)})
        form = token(client)
        cookie = client.get_cookie("axlewright").value
    app, log = with_tokens(tmp_path)
    with log:
        client = app.test_client()
        client.set_cookie("axlewright", cookie)

        assert "signed in as Orla Bexwick" in client.get("/door").text
        assert client.post("/door/leave", data={"csrf_token": form}).status_code == 303


def test_the_session_cookie_is_kept_from_scripts_and_other_sites(client):
    cookie = client.post("/door/demo/lead").headers["Set-Cookie"]

    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie


def test_another_sites_form_is_turned_away(client):
    reply = client.post("/door/demo/lead", headers={"Origin": "https://other.example"})

    assert reply.status_code == 403
    assert "another site" in reply.text


@pytest.mark.parametrize("path", ["/desk/tags", "/door/sign-in", "/door/link"])
@pytest.mark.parametrize("body", [False, [], {"name": "x"}])
def test_what_a_form_takes_is_not_taken_as_json(lead, path, body):
    assert lead.post(path, json=body).status_code == 415


@pytest.mark.parametrize("path", ["/desk//jobs", "/door//link", "/t//K7RM-4TQX"])
def test_doubled_slashes_lead_nowhere(lead, path):
    reply = lead.get(path, headers={"Host": "other.example"})

    assert reply.status_code == 404
    assert "Location" not in reply.headers


@pytest.mark.parametrize(
    "path", ["/door", "/app", "/nowhere", "/build.json", "/log/pull", "/sw.js"]
)
def test_every_answer_carries_the_strict_headers(client, path):
    headers = client.get(path).headers

    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cache-Control"]
