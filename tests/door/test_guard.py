"""The door: who gets in where, and what becomes of sessions, codes and credentials."""

import re

import pytest
from kit.desk_sessions import sign_in_as

from webapp import create_app
from webapp.door.roles import ANYONE, LEAD, NOBODY, PHONE, who_may

SIGNED_OUT, TECHNICIAN_PHONE, LEAD_SESSION = "signed out", "technician phone", "lead session"
TECHNICIAN_SESSION, REVOKED_PHONE = "technician session", "revoked phone"
VISITORS = [SIGNED_OUT, TECHNICIAN_PHONE, LEAD_SESSION, TECHNICIAN_SESSION, REVOKED_PHONE]
TO_THE_DOOR = {"door.sign_out", "door.sign_out_everywhere", "door.index"}
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

    def opened(visitor, method, path):
        client = app.test_client()
        if visitor == LEAD_SESSION:
            client.post("/door/demo/lead")
        if visitor == TECHNICIAN_SESSION:
            sign_in_as(app, client, "Dana Reyes")
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


def test_a_technicians_session_does_not_open_the_desk(app, client):
    sign_in_as(app, client, "Dana Reyes")

    assert client.get("/desk").status_code == 403


def test_a_lead_who_became_a_technician_is_out_at_once(lead, log):
    assert lead.get("/desk").status_code == 200
    person = next(row for row in log.people() if row["role"] == "lead")

    log.change_person(person["id"], person["name"], "technician")

    assert lead.get("/desk").headers["Location"] == "/door"


def test_the_first_page_leads_to_the_door_or_the_desk(client, lead):
    assert client.get("/").headers["Location"] == "/door"
    assert lead.get("/").headers["Location"] == "/desk"


def test_the_door_names_who_is_in_and_lets_them_leave(lead):
    assert "signed in as Orla Bennett" in lead.get("/door").text

    assert lead.post("/door/sign-out").headers["Location"] == "/door"

    assert "Orla" not in lead.get("/door").text


def with_tokens(folder):
    """The service as it is served, form tokens and all."""
    app = create_app({"DATA": folder, "DEMO": True})
    log = app.extensions["shoplog"]
    if not log.people():
        log.add_person("Orla Bennett", "lead")
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

        assert "signed in as Orla Bennett" in client.get("/door").text
        assert client.post("/door/sign-out", data={"csrf_token": form}).status_code == 303


def test_the_session_cookie_is_kept_from_scripts_and_other_sites(client):
    cookie = client.post("/door/demo/lead").headers["Set-Cookie"]

    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie


def test_another_sites_form_is_turned_away(client):
    reply = client.post("/door/demo/lead", headers={"Origin": "https://other.example"})

    assert reply.status_code == 403
    assert "another web site" in reply.text


@pytest.mark.parametrize("origin", ["https://localhost", "http://localhost:81", "null"])
def test_the_same_host_under_another_scheme_or_port_is_another_site(client, origin):
    answer = client.post("/door/demo/lead", headers={"Origin": origin})

    assert answer.status_code == 403
    own = client.post("/door/demo/lead", headers={"Origin": "http://localhost"})
    assert own.status_code == 303


@pytest.mark.parametrize("path", ["/desk/tags", "/door/sign-in", "/door/link"])
@pytest.mark.parametrize("body", [False, [], {"name": "x"}])
def test_what_a_form_takes_is_not_taken_as_json(lead, path, body):
    assert lead.post(path, json=body).status_code == 415


@pytest.mark.parametrize("path", ["/desk//jobs", "/door//link", "/t//K7RM-4TQX"])
def test_doubled_slashes_lead_nowhere(lead, path):
    reply = lead.get(path, headers={"Host": "other.example"})

    assert reply.status_code == 404
    assert "Location" not in reply.headers
