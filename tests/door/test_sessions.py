"""Sessions at the desk: kept on the server, listed, and ended for good."""

from datetime import UTC, datetime, timedelta

import pytest
from kit.desk_pages import text_of
from kit.desk_sessions import sign_in_as
from kit.page_forms import forms_of
from kit.passphrases import PASSPHRASE, give_passphrase

from webapp.door import sessions
from webapp.door.browsers import browser_called
from webapp.shoplog import LogFull
from webapp.shoplog.backup import back_up, restore
from webapp.shoplog.log import ShopLog

LEAD = "Orla Bennett"
FIREFOX = "Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:140.0) Gecko/20100101 Firefox/140.0"
SAFARI = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like "
    "Gecko) Version/18.0 Mobile/15E148 Safari/604.1"
)
EDGE = (
    "Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/140.0.0.0 Safari/537.36 Edg/140.0.0.0"
)


class Clock(datetime):
    """A clock that the test sets."""

    ahead = timedelta()

    @classmethod
    def now(cls, tz=None):
        return datetime.now(tz) + cls.ahead


@pytest.fixture
def later(monkeypatch):
    """Lets time pass for sessions: later(hours=13)."""
    monkeypatch.setattr(sessions, "datetime", Clock)
    monkeypatch.setattr(Clock, "ahead", timedelta())

    def pass_by(**time):
        Clock.ahead += timedelta(**time)

    return pass_by


@pytest.fixture
def orla(log):
    """The lead, who has a passphrase."""
    person = next(row for row in log.people() if row["name"] == LEAD)
    give_passphrase(log, person)
    return person


def is_in(client):
    return client.get("/desk/people").status_code == 200


def a_copy_of(client, app):
    """Another browser with the same cookies."""
    thief = app.test_client()
    thief.set_cookie("axlewright", client.get_cookie("axlewright").value)
    return thief


def kept_in(log):
    with log.reading() as db:
        return [dict(row) for row in db.execute("SELECT * FROM sessions")]


def test_signing_out_ends_the_session_on_the_server(app, lead, log):
    thief = a_copy_of(lead, app)
    assert is_in(thief)

    lead.post("/door/sign-out")

    assert not is_in(thief)
    assert kept_in(log) == []


def test_the_cookie_holds_a_key_and_the_log_its_hash_alone(app, lead, log, orla):
    sign_in_as(app, lead, LEAD)
    with lead.session_transaction() as held:
        key, names, tell = held["key"], set(held), held.get("tell", True)

    [row] = kept_in(log)
    # `tell`: the next page has yet to say what others changed; as with a message shown once.
    assert names <= {"_permanent", "csrf_token", "key", "tell"} and tell is True
    assert len(key) >= 43 and key not in str(row)


@pytest.mark.parametrize("key", ["", "x", 7, None, ["a"], {"a": 1}])
def test_a_key_of_no_session_opens_nothing(client, key):
    with client.session_transaction() as held:
        held["key"] = key

    assert client.get("/desk").headers["Location"] == "/door"


def test_a_session_ends_after_a_night_without_use(lead, later):
    later(hours=11)
    assert is_in(lead)
    later(hours=11)
    assert is_in(lead)
    later(hours=12, minutes=6)
    assert not is_in(lead)


def test_a_session_ends_after_a_week_however_much_it_is_used(lead, later):
    for _ in range(16):
        later(hours=10)
        assert is_in(lead)
    later(hours=10)

    assert not is_in(lead)


def test_a_page_that_is_left_open_keeps_nobody_signed_in(lead, later):
    for _ in range(11):
        later(hours=1)
        assert lead.get("/desk/pending/list").status_code == 200
    later(hours=1, minutes=6)

    assert lead.get("/desk/pending/list").status_code == 303


def test_a_page_that_is_read_writes_nothing(lead, log, later, monkeypatch):
    written = []
    real = log.use_session
    monkeypatch.setattr(log, "use_session", lambda *of: written.append(of) or real(*of))

    for _ in range(5):
        later(seconds=50)
        assert is_in(lead)
    assert written == []
    later(minutes=5)
    assert is_in(lead) and is_in(lead)

    assert len(written) == 1


def test_a_log_that_cannot_be_written_still_shows_its_pages(lead, log, later, monkeypatch):
    def full(*_):
        raise LogFull("The disk is full.")

    monkeypatch.setattr(log, "use_session", full)
    later(hours=1)

    assert is_in(lead)


def test_a_new_passphrase_another_role_and_no_access_end_every_session(app, client, log, orla):
    ends = [
        lambda: give_passphrase(log, orla),
        lambda: log.set_passphrase(orla["id"], None),
        lambda: log.change_person(orla["id"], LEAD, "technician"),
        lambda: log.change_person(orla["id"], LEAD, "lead"),
    ]
    for end in ends:
        sign_in_as(app, client, LEAD)
        assert len(kept_in(log)) == 1
        end()
        assert kept_in(log) == []


def test_another_name_ends_nothing(lead, log, orla):
    lead.post("/door/demo/lead")

    log.change_person(orla["id"], "Orla Ann Bennett", "lead")

    assert "Orla Ann Bennett" in lead.get("/desk").text


def test_a_restored_backup_brings_no_session_back(app, lead, log, tmp_path):
    back_up(log, tmp_path / "copy.db")
    lead.post("/door/sign-out")

    restore(tmp_path / "copy.db", tmp_path / "restored")

    with ShopLog(tmp_path / "restored") as restored:
        assert kept_in(restored) == []
        assert restored.people() == log.people()


def test_the_sessions_of_a_person_are_bounded_and_those_over_are_dropped(app, client, log, later):
    first = app.test_client()
    sign_in_as(app, first, LEAD)
    later(hours=1)
    for _ in range(sessions.MAX_OF_PERSON):
        sign_in_as(app, client, LEAD)
        later(seconds=1)

    assert len(kept_in(log)) == sessions.MAX_OF_PERSON
    assert is_in(client) and not is_in(first)

    later(hours=13)
    sign_in_as(app, client, LEAD)
    assert len(kept_in(log)) == 1


def test_a_lead_sees_where_they_are_signed_in_and_ends_one(app, lead, log):
    other = app.test_client()
    away = {"REMOTE_ADDR": "192.0.2.7", "HTTP_USER_AGENT": FIREFOX}
    other.post("/door/demo/lead", environ_overrides=away)
    page = lead.get("/desk/access")

    assert "Firefox on Windows, at 192.0.2.7" in text_of(page)
    assert "now, here" in text_of(page)
    listed = forms_of(page, "/desk/access/end")
    away = next(row["key_hash"] for row in kept_in(log) if row["browser"] != "A browser")
    mine, theirs = sorted(listed, key=lambda form: form["session"] == away)
    assert lead.post("/desk/access/end", data=theirs).headers["Location"] == "/desk/access"
    assert is_in(lead) and not is_in(other)
    reply = lead.post("/desk/access/end", data=mine)
    assert (reply.headers["Location"], is_in(lead)) == ("/door", False)


def test_nobody_ends_the_session_of_somebody_else(app, lead, client, log):
    sign_in_as(app, client, "Dana Reyes")
    theirs = next(row for row in kept_in(log) if row["way"] == "passphrase")

    assert lead.post("/desk/access/end", data={"session": theirs["key_hash"]}).status_code == 404
    assert theirs in kept_in(log)


@pytest.mark.parametrize("address", ["/door/sign-out", "/door/sign-out-everywhere"])
def test_a_browser_forgets_the_pages_when_it_signs_out(lead, address):
    assert lead.post(address).headers["Clear-Site-Data"] == '"cache"'


def test_a_browser_forgets_the_pages_once_the_session_ended_by_itself(lead, later):
    later(days=8)

    assert lead.get("/desk").headers["Clear-Site-Data"] == '"cache"'
    assert "Clear-Site-Data" not in lead.get("/desk").headers


@pytest.mark.parametrize("address", ["/desk", "/desk/pending/list", "/desk/access", "/desk/people"])
def test_no_browser_stores_a_page_of_the_desk(lead, address):
    assert lead.get(address).headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize(
    ("header", "name"),
    [
        (FIREFOX, "Firefox on Windows"),
        (SAFARI, "Safari on an iPhone"),
        (EDGE, "Edge on Windows"),
        ("<script>alert(1)</script>", "A browser"),
        ("", "A browser"),
    ],
)
def test_of_a_browser_only_known_words_are_kept(header, name):
    assert browser_called(header) == name


def test_signing_in_again_ends_the_session_before(app, client, log, orla):
    for _ in range(2):
        client.post("/door/sign-in", data={"name": LEAD, "passphrase": PASSPHRASE})

    assert len(kept_in(log)) == 1
    assert kept_in(log)[0]["begun_at"] <= datetime.now(UTC).isoformat()
