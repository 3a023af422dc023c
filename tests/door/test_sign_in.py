"""Coming in at the desk: passphrases, links that open once, guessing slowed down."""

import re
import threading
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from kit.page_forms import forms_of
from kit.passphrases import CHEAP, PASSPHRASE, give_passphrase

from webapp import create_app
from webapp.door import one_time_links, passphrases
from webapp.door.pairing import new_pairing_code
from webapp.door.throttle import (
    MAX_KEYS,
    MAX_OF_PERSON,
    MAX_OF_SOURCE,
    MAX_OF_STRANGERS,
    WINDOW,
    Throttle,
)
from webapp.door.throttle import limits_of_try as limits

ELSEWHERE = {"REMOTE_ADDR": "192.0.2.66"}


@pytest.fixture
def app(tmp_path):
    """A shop's own service, with a lead who has a passphrase and a technician who has none."""
    app = create_app(
        {"DATA": tmp_path / "data", "TESTING": True, "WTF_CSRF_ENABLED": False, **CHEAP}
    )
    with app.extensions["shoplog"] as log:
        lead = log.add_person("Orla Bennett", "lead")
        log.add_person("Dana Reyes", "technician")
        give_passphrase(log, lead)
        yield app


@pytest.fixture
def log(app):
    return app.extensions["shoplog"]


def pair(client, name="Orla Bennett", passphrase=PASSPHRASE, **more):
    return client.post("/door/sign-in", data={"name": name, "passphrase": passphrase}, **more)


def test_f41_an_old_form_of_the_door_keeps_the_name_and_never_the_passphrase(app, client):
    app.config["WTF_CSRF_ENABLED"] = True

    reply = pair(client)

    assert reply.status_code == 400
    [fields] = forms_of(reply, "/door/sign-in")
    assert fields["name"] == "Orla Bennett"
    assert PASSPHRASE not in reply.text
    fields["passphrase"] = PASSPHRASE
    assert client.post("/door/sign-in", data=fields).headers["Location"] == "/desk"


def test_the_right_passphrase_opens_the_desk(client):
    assert pair(client, " orla bennett ").headers["Location"] == "/desk"
    assert client.get("/desk").status_code == 200


@pytest.mark.parametrize(
    ("name", "passphrase"),
    [
        ("Orla Bennett", "seven cold bolts rang"),
        ("Orla Bennett", ""),
        ("Nobody Here", PASSPHRASE),
        ("Dana Reyes", PASSPHRASE),
        ("", ""),
        ("Orla Bennett", "x" * 10_000),
    ],
)
def test_a_wrong_name_and_a_wrong_passphrase_get_the_same_words(client, name, passphrase):
    reply = pair(client, name, passphrase)

    assert reply.status_code == 400
    assert "Wrong name or passphrase." in reply.text
    assert client.get("/desk").headers["Location"] == "/door"


def test_an_unknown_name_costs_the_same_work(client, monkeypatch):
    derived = []
    real = passphrases._derived
    monkeypatch.setattr(passphrases, "_derived", lambda *of: derived.append(1) or real(*of))

    pair(client, "Nobody Here")
    pair(client, "Orla Bennett", "wrong wrong wrong")

    assert len(derived) == 2


def test_the_stored_hash_is_scrypt_with_a_salt_of_its_own():
    cost = CHEAP["SCRYPT_N"]
    first, second = (passphrases.hash_passphrase(PASSPHRASE, cost) for _ in range(2))

    assert first.startswith("scrypt$") and first != second
    assert passphrases.is_right(PASSPHRASE, first, cost)
    assert not passphrases.is_right(PASSPHRASE, None, cost)


def test_a_shop_pays_the_full_cost_and_what_it_stored_stays_right(tmp_path):
    stored = (
        "scrypt$ln=14,r=8,p=5$TJWSj/DbKro9hwMrLvct/g==$KcviUE8h0OLHbf+9KFRjvyldb8CS/YlaQH0myx8CcVoaswkMa52W7drCea2D"
        "3u/ambzMbLmcmMuSHQlwp5PhxQ=="
    )

    app = create_app({"DATA": tmp_path})
    app.extensions["shoplog"].close()

    assert app.config["SCRYPT_N"] == 2**14
    assert passphrases.is_right(PASSPHRASE, stored, app.config["SCRYPT_N"])
    assert not passphrases.is_right(PASSPHRASE + "s", stored, app.config["SCRYPT_N"])


def test_what_was_stored_at_a_lower_cost_is_made_anew_at_the_next_sign_in(app, client, log):
    [lead] = [row for row in log.people() if row["role"] == "lead"]
    before = log.passphrase_hash_of(lead["id"])
    app.config["SCRYPT_N"] = 4

    assert pair(client, passphrase="wrong wrong wrong").status_code == 400
    assert log.passphrase_hash_of(lead["id"]) == before
    assert pair(client).status_code == 303
    after = log.passphrase_hash_of(lead["id"])

    assert before.startswith("scrypt$ln=1,r=8,p=5$")
    assert after.startswith("scrypt$ln=2,r=8,p=5$")
    assert client.get("/desk").status_code == 200
    assert pair(client).status_code == 303
    assert log.passphrase_hash_of(lead["id"]) == after
    app.config["SCRYPT_N"] = 2
    assert pair(client).status_code == 303
    assert log.passphrase_hash_of(lead["id"]) == after


def test_a_passphrase_that_was_changed_meanwhile_is_not_changed_back(log):
    [lead] = [row for row in log.people() if row["role"] == "lead"]
    before = log.passphrase_hash_of(lead["id"])
    log.set_passphrase(lead["id"], "another")

    log.strengthen_passphrase(lead["id"], before, "stronger")

    assert log.passphrase_hash_of(lead["id"]) == "another"


@pytest.mark.parametrize(
    ("passphrase", "says"),
    [
        ("", "at least 12"),
        ("short", "at least 12"),
        ("x" * 201, "at most 200"),
        ("aaaaaaaaaaaaaaaa", "anybody tries"),
        ("password1234", "anybody tries"),
        ("qwertyuiop123", "anybody tries"),
        ("iloveyou1234567", "anybody tries"),
        ("1q2w3e4r5t6y", "anybody tries"),
        ("letmein letmein", "anybody tries"),
        ("Orla BennettOrla Bennett", "name of a person"),
        ("Kowalczyk2026", "name of a person"),
        ("Zelenograd Axleworks", "name of a person"),
    ],
)
def test_a_poor_passphrase_is_said_to_be_one(passphrase, says):
    names = ["Orla Bennett", "Orla Kowalczyk", "Zelenograd Axleworks"]

    assert says in passphrases.fault_in(passphrase, names)


@pytest.mark.parametrize(
    "passphrase",
    [PASSPHRASE, "tin truck pale moth", "fjP4!kd0-wTz8", "gelber Ofen bellt im Moor"],
)
def test_a_good_passphrase_is_taken(passphrase):
    assert passphrases.fault_in(passphrase, ["Orla Bennett"]) is None


@pytest.mark.parametrize("character", ["a", "@", "4@8({[<3690!|1", "é", "\u4e2d"])
def test_a_long_passphrase_is_looked_at_within_a_moment(character):
    before = time.process_time()

    passphrases.fault_in((character * 200)[:200], ["Orla Bennett"] * 20)

    assert time.process_time() - before < 5


def test_guessing_from_one_place_is_slowed_down(client):
    for _ in range(MAX_OF_SOURCE):
        assert pair(client, passphrase="wrong wrong wrong").status_code == 400

    reply = pair(client)

    assert reply.status_code == 429
    assert 0 < int(reply.headers["Retry-After"]) <= WINDOW + 1


def test_whoever_hammers_a_name_locks_nobody_out(app):
    known = app.test_client()
    pair(known, environ_base=ELSEWHERE)
    known.post("/door/sign-out")
    for number in range(MAX_OF_PERSON // MAX_OF_SOURCE):
        for _ in range(MAX_OF_SOURCE):
            source = {"REMOTE_ADDR": f"192.0.2.{100 + number}"}
            pair(app.test_client(), passphrase="wrong wrong", environ_base=source)

    stranger = pair(app.test_client(), environ_base={"REMOTE_ADDR": "192.0.2.200"})
    from_known_browser = pair(known, environ_base=ELSEWHERE)
    at_the_shop_pc = pair(app.test_client())

    assert stranger.status_code == 429
    assert from_known_browser.status_code == at_the_shop_pc.status_code == 303


def test_a_flood_of_strangers_locks_out_nobody_who_is_known(app):
    known = app.test_client()
    pair(known, environ_base=ELSEWHERE)
    known.post("/door/sign-out")
    throttle = app.extensions["throttle"]
    for number in range(MAX_OF_STRANGERS):
        assert throttle.take(limits(f"198.51.100.{number}", f"person {number}", None)) == 0

    stranger = pair(app.test_client(), environ_base={"REMOTE_ADDR": "192.0.2.200"})
    from_known_browser = pair(known, environ_base=ELSEWHERE)
    at_the_shop_pc = pair(app.test_client())

    assert stranger.status_code == 429
    assert from_known_browser.status_code == at_the_shop_pc.status_code == 303


def test_a_network_of_ipv6_addresses_is_one_source():
    throttle = Throttle(lambda: 0.0)
    taken = [
        throttle.take(limits(f"2001:db8::{number:x}", f"person {number}", None))
        for number in range(MAX_OF_SOURCE + 1)
    ]

    assert [wait == 0 for wait in taken] == [True] * MAX_OF_SOURCE + [False]
    assert throttle.take(limits("2001:db8:0:1::1", "orla", None)) == 0


def at_once(count, ask):
    """What each of so many threads gets that ask at the same moment: ask(number)."""
    gate = threading.Barrier(count)

    def one(number):
        gate.wait()
        return ask(number)

    with ThreadPoolExecutor(count) as pool:
        return list(pool.map(one, range(count)))


def test_tries_that_come_at_once_cannot_pass_a_limit_together(app):
    replies = at_once(
        3 * MAX_OF_SOURCE,
        lambda _: pair(app.test_client(), passphrase="wrong wrong", environ_base=ELSEWHERE),
    )

    counts = Counter(reply.status_code for reply in replies)
    assert counts == {400: MAX_OF_SOURCE, 429: 2 * MAX_OF_SOURCE}


def test_pairing_codes_that_come_at_once_cannot_pass_the_limit_together(app):
    replies = at_once(
        30,
        lambda number: app.test_client().post("/door/pair", json={"code": f"AAAA-{number:04}"}),
    )

    assert Counter(reply.status_code for reply in replies) == {400: 20, 429: 10}


def test_many_people_sign_in_at_once(app):
    sources = [{"REMOTE_ADDR": f"192.0.2.{number}"} for number in range(12)]
    replies = at_once(12, lambda number: pair(app.test_client(), environ_base=sources[number]))

    assert {reply.status_code for reply in replies} == {303}
    assert not any(app.extensions["throttle"].counted.values())


def test_a_made_up_token_makes_no_browser_known(app):
    client = app.test_client()
    client.set_cookie("axlewright-known", "eyJwZXJzb24iOiJ4In0.forged", path="/door")

    assert pair(client).status_code == 303


def test_the_count_fades_after_a_quarter_of_an_hour():
    now = [0.0]
    throttle = Throttle(lambda: now[0])
    for _ in range(MAX_OF_SOURCE):
        throttle.take(limits("192.0.2.9", "orla", None))

    assert throttle.take(limits("192.0.2.9", "orla", None)) == WINDOW + 1
    assert throttle.take(limits("192.0.2.10", "orla", None)) == 0
    now[0] = WINDOW + 1
    assert throttle.take(limits("192.0.2.9", "orla", None)) == 0


def test_getting_in_clears_the_count_of_that_place():
    throttle = Throttle(lambda: 0.0)
    keys = limits("192.0.2.9", "orla", "token")
    for _ in range(MAX_OF_SOURCE):
        assert throttle.take(keys) == 0
    throttle.succeed(keys)

    assert [throttle.take(keys) for _ in range(MAX_OF_SOURCE)] == [0] * MAX_OF_SOURCE
    assert throttle.take(keys) > 0


def test_a_flood_of_sources_is_not_kept_for_ever():
    throttle = Throttle(lambda: 0.0)
    for number in range(MAX_KEYS + 500):
        throttle.take({f"source {number}": 10})

    assert len(throttle.counted) <= MAX_KEYS + 1


def test_guessing_pairing_codes_is_slowed_down_for_the_guesser_only(client):
    tries = [client.post("/door/pair", json={"code": f"AAAA-{n:04}"}) for n in range(21)]
    other = client.post("/door/pair", json={"code": "AAAA-AAAA"}, environ_base=ELSEWHERE)

    assert [reply.status_code for reply in tries] == [400] * 20 + [429]
    assert tries[-1].json["error"]["code"] == "too_often"
    assert other.status_code == 400


def test_the_door_of_a_shop_that_is_not_set_up_points_to_the_link(tmp_path):
    app = create_app({"DATA": tmp_path / "new"})
    with app.extensions["shoplog"]:
        page = app.test_client().get("/door").text

    assert "not set up yet" in page
    assert "axlewright setup-link" in page
    assert "<form" not in page


@pytest.fixture
def fresh(tmp_path):
    """A shop that nobody has set up yet."""
    app = create_app({"DATA": tmp_path / "new", "TESTING": True, "WTF_CSRF_ENABLED": False})
    with app.extensions["shoplog"]:
        yield app


def first_lead(app, **typed):
    key = one_time_links.make(app.extensions["shoplog"].folder, one_time_links.SET_UP)
    data = {"key": key, "name": "Victor Chen", "passphrase": PASSPHRASE, "again": PASSPHRASE}
    client = app.test_client()
    return client, client.post("/door/link", data={**data, **typed})


def test_the_set_up_link_makes_the_first_lead_and_opens_once(fresh):
    log = fresh.extensions["shoplog"]

    client, reply = first_lead(fresh)

    assert reply.headers["Location"] == "/desk/set-up"
    assert client.get("/desk/set-up").status_code == 200
    assert [person["name"] for person in log.people()] == ["Victor Chen"]
    assert list((log.folder / "links").iterdir()) == []


def test_a_lead_whom_an_import_brought_is_set_up_as_that_lead(fresh):
    log = fresh.extensions["shoplog"]
    orla = log.add_person("Orla Bennett", "lead")

    first_lead(fresh, name="orla bennett")

    assert [row["id"] for row in log.people()] == [orla["id"]]
    assert pair(fresh.test_client()).headers["Location"] == "/desk"


def test_a_namesake_whom_an_import_brought_locks_no_lead_out(app, log):
    for _ in range(8):
        log.add_person("Orla Bennett", "lead")

    assert pair(app.test_client()).headers["Location"] == "/desk"


def test_a_set_up_link_opens_nothing_once_a_lead_can_sign_in(app, log):
    before = log.people()
    key = one_time_links.make(log.folder, one_time_links.SET_UP)

    shown = app.test_client().get(f"/door/link?key={key}")
    client, used = first_lead(app)

    assert (shown.status_code, used.status_code) == (400, 400)
    assert "is set up already" in shown.text and "is set up already" in used.text
    assert client.get("/desk").headers["Location"] == "/door"
    assert log.people() == before


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"name": " "}, "Enter your name"),
        ({"again": "something else"}, "passphrases do not match"),
        ({"passphrase": "short", "again": "short"}, "at least 12"),
        ({"passphrase": "victor chen 2026", "again": "victor chen 2026"}, "name of a person"),
    ],
)
def test_a_faulty_set_up_keeps_the_link_and_what_was_typed(fresh, typed, says):
    log = fresh.extensions["shoplog"]

    _, reply = first_lead(fresh, **typed)

    assert reply.status_code == 400
    assert says in reply.text
    assert PASSPHRASE not in reply.text
    assert log.people() == []
    assert len(list((log.folder / "links").iterdir())) == 1


@pytest.mark.parametrize("key", ["", "x", "../../shop", "é" * 50])
def test_a_key_that_opens_nothing_is_refused(client, key):
    asked = client.get("/door/link", query_string={"key": key})
    sent = client.post("/door/link", data={"key": key, "name": "Ulf", "passphrase": PASSPHRASE})

    assert asked.status_code == sent.status_code == 400
    assert "was used, has expired or was mistyped" in asked.text


def test_a_set_up_link_ends_after_an_hour_also_while_nobody_can_come_in(fresh, monkeypatch):
    assert one_time_links.LASTS[one_time_links.SET_UP] == timedelta(hours=1)
    monkeypatch.setitem(one_time_links.LASTS, one_time_links.SET_UP, timedelta(seconds=-1))

    _, reply = first_lead(fresh)

    assert reply.status_code == 400
    assert "axlewright setup-link" in reply.text
    assert fresh.extensions["shoplog"].people() == []


def test_a_link_for_a_passphrase_ends_after_half_an_hour(app, log, monkeypatch):
    [lead] = [row for row in log.people() if row["role"] == "lead"]
    assert one_time_links.LASTS[one_time_links.PASSPHRASE] == timedelta(minutes=30)
    monkeypatch.setitem(one_time_links.LASTS, one_time_links.PASSPHRASE, timedelta(seconds=-1))

    key = one_time_links.make(log.folder, one_time_links.PASSPHRASE, lead["id"])

    assert app.test_client().get(f"/door/link?key={key}").status_code == 400


def test_only_the_last_link_for_a_person_opens(log):
    first, second = (
        one_time_links.make(log.folder, one_time_links.PASSPHRASE, "someone") for _ in range(2)
    )

    assert one_time_links.find(log.folder, first) is None
    assert one_time_links.find(log.folder, second) is not None


def test_a_new_passphrase_signs_out_everywhere_else(app, client, log):
    pair(client)
    [lead] = [row for row in log.people() if row["role"] == "lead"]
    key = one_time_links.make(log.folder, one_time_links.PASSPHRASE, lead["id"])
    new = "tin truck pale moth"

    other = app.test_client()
    other.post("/door/link", data={"key": key, "passphrase": new, "again": new})

    assert client.get("/desk").headers["Location"] == "/door"
    assert other.get("/desk").status_code == 200
    assert pair(client).status_code == 400
    assert pair(client, passphrase=new).status_code == 303


def test_f42_a_session_survives_a_restart_of_browser_and_service(client):
    cookie = pair(client).headers["Set-Cookie"]

    assert re.search(r"Expires=", cookie)


def over_tls(tmp_path):
    address = "https://axlewright.local:8700"
    config = {"DATA": tmp_path / "tls", "ADDRESS": address, "WTF_CSRF_ENABLED": False, **CHEAP}
    return create_app(config), address


def test_over_tls_the_session_cookie_is_for_this_host_and_tls_only(tmp_path):
    app, address = over_tls(tmp_path)
    with app.extensions["shoplog"] as log:
        lead = log.add_person("Orla Bennett", "lead")
        give_passphrase(log, lead)
        cookies = pair(app.test_client(), base_url=address).headers.getlist("Set-Cookie")

    [session] = [each for each in cookies if each.startswith("__Host-axlewright=")]
    assert "Secure" in session and "Path=/" in session and "HttpOnly" in session
    assert all("Secure" in each for each in cookies)


@pytest.mark.parametrize("path", ["/", "/door", "/app", "/t/K7RM-4TQX", "/desk", "/sw.js"])
def test_f29_f40_another_host_name_shows_only_where_the_shop_lives(tmp_path, path):
    app, address = over_tls(tmp_path)
    with app.extensions["shoplog"]:
        reply = app.test_client().get(path, base_url="https://192.168.1.20:8700")

    assert reply.status_code == 421
    assert f'href="{address}/"' in reply.text
    assert "<form" not in reply.text


@pytest.mark.parametrize("path", ["/log/pull?since=0", "/log/missing"])
def test_f29_under_another_host_name_a_phone_is_shown_nothing_of_the_log(tmp_path, path):
    app, address = over_tls(tmp_path)
    with app.extensions["shoplog"] as log:
        headers = {"Authorization": f"Bearer {a_phones_credential(app, log, address)}"}
        there, elsewhere = (
            app.test_client().get(path, base_url=base, headers=headers)
            for base in (address, "https://192.168.1.20:8700")
        )

    assert there.status_code == 200
    assert (elsewhere.status_code, elsewhere.json["error"]["code"]) == (421, "other_address")
    assert address in elsewhere.json["error"]["says"]


def a_phones_credential(app, log, address):
    person = log.add_person("Dana Reyes", "technician")
    asked = {"json": {"code": new_pairing_code(log, person["id"])}, "base_url": address}
    return app.test_client().post("/door/pair", **asked).json["credential"]


def test_f40_no_phone_is_paired_under_another_host_name(tmp_path):
    app, address = over_tls(tmp_path)
    with app.extensions["shoplog"]:
        asked = {"json": {"code": "AAAA-AAAA"}, "base_url": "https://192.168.1.20:8700"}
        reply = app.test_client().post("/door/pair", **asked)

    assert (reply.status_code, reply.json["error"]["code"]) == (421, "other_address")
    assert address in reply.json["error"]["says"]
