"""Passkeys: made by a lead, and let in by a signature that is right in every part."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.desk_pages import text_of
from kit.desk_sessions import sign_in_as
from kit.passkeys import PRESENT, Device
from kit.passphrases import CHEAP, give_passphrase

from webapp import create_app
from webapp.door import passkeys
from webapp.shoplog import LogBusy

ADDRESS = "https://axlewright.local:8700"
LEAD = "Orla Bennett"


class Desk:
    """A browser at the desk of a shop over TLS."""

    def __init__(self, app):
        self.app = app
        self.client = app.test_client()
        self.log = app.extensions["shoplog"]

    def post(self, path, **data):
        return self.client.post(path, data=data, base_url=ADDRESS)

    def get(self, path):
        return self.client.get(path, base_url=ADDRESS)

    def is_in(self):
        return self.get("/desk/people").status_code == 200

    def come_in(self, name=LEAD):
        sign_in_as(self.app, self.client, name, base_url=ADDRESS)
        return self

    def add(self, device, name="office PC", **changed):
        options = self.post("/desk/access/passkeys/begin").json
        answer = device.make(options, **changed)
        return self.post("/desk/access/passkeys", name=name, answer=answer)

    def enter(self, device, **changed):
        options = self.post("/door/passkey/begin").json
        return self.post("/door/passkey", answer=device.sign(options, **changed))


@pytest.fixture
def app(tmp_path):
    """A shop at an address with a name, with two leads and a technician."""
    config = {"DATA": tmp_path / "data", "ADDRESS": ADDRESS, "WTF_CSRF_ENABLED": False}
    app = create_app({**config, **CHEAP})
    with app.extensions["shoplog"] as log:
        for name in (LEAD, "Victor Chen"):
            give_passphrase(log, log.add_person(name, "lead"))
        log.add_person("Dana Reyes", "technician")
        yield app


@pytest.fixture
def desk(app):
    """The lead at the desk."""
    return Desk(app).come_in()


@pytest.fixture
def device():
    """A device of the lead's."""
    return Device(ADDRESS)


def person(log, name=LEAD):
    return next(row for row in log.people() if row["name"] == name)


def kept(log, name=LEAD):
    return log.passkeys_of(person(log, name)["id"])


def test_a_lead_adds_a_passkey_signs_in_with_it_and_removes_it(app, desk, device):
    assert desk.add(device).headers["Location"] == "/desk/access"
    assert "office PC" in text_of(desk.get("/desk/access"))
    desk.post("/door/sign-out")
    assert 'data-begin="/door/passkey/begin"' in desk.get("/door").text

    assert desk.enter(device).headers["Location"] == "/desk"
    assert "with a passkey" in text_of(desk.get("/desk/access"))
    [row] = kept(desk.log)
    assert row["last_used"]

    desk.post("/desk/access/passkeys/remove", passkey=row["id"])
    assert kept(desk.log) == []
    stranger = Desk(app)
    assert stranger.enter(device).status_code == 400
    assert not stranger.is_in()


@pytest.mark.parametrize(
    "changed",
    [
        {"origin": "https://other.example"},
        {"origin": "http://axlewright.local:8700"},
        {"origin": "https://axlewright.local"},
        {"type": "webauthn.create"},
        {"challenge": "bm90IG91cnM"},
        {"challenge": ""},
    ],
)
def test_a_signature_over_anything_else_lets_nobody_in(app, desk, device, changed):
    desk.add(device)
    stranger = Desk(app)

    reply = stranger.enter(device, **changed)

    assert reply.status_code == 400
    assert "Sign in with your passphrase" in reply.text
    assert not stranger.is_in()


def test_the_key_of_another_device_lets_nobody_in(app, desk, device):
    desk.add(device)
    thief = Device(ADDRESS)
    thief.id = device.id

    assert Desk(app).enter(thief).status_code == 400


def test_a_device_that_did_not_check_who_holds_it_is_not_enough(app, desk, device):
    device.flags = PRESENT
    assert desk.add(device).status_code == 400
    assert kept(desk.log) == []

    unchecked = Device(ADDRESS)
    desk.add(unchecked)
    unchecked.flags = PRESENT
    assert Desk(app).enter(unchecked).status_code == 400


def test_an_answer_lets_in_once_and_no_longer_than_for_a_few_minutes(
    app, desk, device, monkeypatch
):
    desk.add(device)
    options = desk.post("/door/passkey/begin").json
    answer = device.sign(options)
    first, again = Desk(app), Desk(app)

    assert first.post("/door/passkey", answer=answer).status_code == 303
    assert again.post("/door/passkey", answer=answer).status_code == 400
    monkeypatch.setattr(passkeys, "CHALLENGE_SECONDS", -1)
    assert Desk(app).enter(device).status_code == 400


def test_an_answer_of_before_a_restart_lets_nobody_in_again(app, desk, device):
    desk.add(device)
    options = desk.post("/door/passkey/begin").json
    answer = device.sign(options)
    assert Desk(app).post("/door/passkey", answer=answer).status_code == 303

    app.extensions["used_challenges"] = passkeys.Used()

    assert Desk(app).post("/door/passkey", answer=answer).status_code == 400


def test_a_passkey_is_one_persons_alone(app, desk, device):
    desk.add(device)

    reply = Desk(app).come_in("Victor Chen").add(device)

    assert reply.status_code == 400
    assert "could not be checked" in reply.text
    assert kept(desk.log, "Victor Chen") == []


def test_a_copy_of_a_device_is_noticed_by_its_count(app, desk, device):
    device.count = 5
    desk.add(device)
    device.count = 6
    assert Desk(app).enter(device).status_code == 303
    device.count = 6
    assert Desk(app).enter(device).status_code == 400
    device.count = 0
    assert Desk(app).enter(device).status_code == 400


def test_a_challenge_to_sign_in_makes_no_passkey_nor_does_somebody_elses(app, desk, device):
    to_sign_in = desk.post("/door/passkey/begin").json
    other = Desk(app).come_in("Victor Chen").post("/desk/access/passkeys/begin").json
    for options in (to_sign_in, other):
        challenge = options["publicKey"]["challenge"]
        asked = {"challenge": challenge, "rp": {"id": "axlewright.local"}}
        answer = device.make({"publicKey": asked})
        reply = desk.post("/desk/access/passkeys", name="office PC", answer=answer)
        assert reply.status_code == 400
        assert "was not kept" in text_of(reply)
        assert "office PC" in reply.text
    assert kept(desk.log) == []


def test_nobody_removes_the_passkey_of_somebody_else(app, desk, device):
    desk.add(device)
    [row] = kept(desk.log)

    reply = Desk(app).come_in("Victor Chen").post("/desk/access/passkeys/remove", passkey=row["id"])

    assert reply.status_code == 404
    assert kept(desk.log) == [row]


def test_a_new_passphrase_another_role_and_no_access_end_every_passkey(app, desk):
    log, orla = desk.log, person(desk.log)
    ends = [
        lambda: give_passphrase(log, orla),
        lambda: log.set_passphrase(orla["id"], None),
        lambda: log.change_person(orla["id"], LEAD, "technician"),
    ]
    for end in ends:
        device = Device(ADDRESS)
        desk.come_in().add(device)
        assert len(kept(log)) == 1
        end()
        assert kept(log) == []
        assert Desk(app).enter(device).status_code == 400


def test_a_passkey_needs_a_name_and_there_are_not_endless_many(desk):
    assert "Enter a name" in text_of(desk.add(Device(ADDRESS), name=" "))
    for _ in range(passkeys.MAX_OF_PERSON):
        assert desk.add(Device(ADDRESS)).status_code == 303

    assert desk.add(Device(ADDRESS)).status_code == 409
    assert len(kept(desk.log)) == passkeys.MAX_OF_PERSON


@pytest.mark.parametrize(
    ("address", "possible"),
    [
        (ADDRESS, True),
        ("https://log.bennett.example", True),
        ("http://localhost:8700", True),
        ("https://192.168.1.20:8700", False),
        ("https://[fd00::20]:8700", False),
        ("http://axlewright.local:8700", False),
        ("http://127.0.0.1:8700", False),
    ],
)
def test_passkeys_are_offered_only_where_browsers_have_them(app, address, possible):
    app.config["ADDRESS"] = address
    with app.test_request_context():
        assert passkeys.are_possible() is possible


def test_where_browsers_have_no_passkeys_the_page_says_so_and_none_is_asked_for(
    desk, device, monkeypatch
):
    desk.add(device)
    monkeypatch.setattr(passkeys, "are_possible", lambda: False)
    reply = desk.get("/desk/access")

    assert "only at an address that is a name" in text_of(reply)
    assert "data-begin" not in reply.text
    for address in ("/door/passkey/begin", "/door/passkey", "/desk/access/passkeys/begin"):
        assert desk.post(address).status_code == 400


def test_a_log_that_is_busy_is_not_taken_for_a_passkey_that_is_wrong(
    app, desk, device, monkeypatch
):
    def busy(*_):
        raise LogBusy("The shop PC has too much to do.")

    desk.add(device)
    monkeypatch.setattr(desk.log, "passkey", busy)

    assert Desk(app).enter(device).status_code == 503


ANSWERS = st.one_of(
    st.text(max_size=40),
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=20),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner),
        max_leaves=8,
    ).map(json.dumps),
)


def test_no_answer_of_a_stranger_is_an_error_page(app, desk, device):
    desk.add(device)
    whole = json.loads(device.sign(desk.post("/door/passkey/begin").json))

    @given(ANSWERS, st.sampled_from(["clientDataJSON", "authenticatorData", "signature"]))
    def ask(answer, part):
        broken = {**whole, "response": {**whole["response"], part: answer}}
        for text in (answer, json.dumps(broken)):
            assert Desk(app).post("/door/passkey", answer=text).status_code == 400

    ask()
