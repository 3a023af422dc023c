"""Push and pull over HTTP: each entry gets its own answer, and nothing is stored twice or lost."""

import uuid
from datetime import UTC, datetime

import pytest

from webapp.network.certificates.keyring import Keyring
from webapp.shoplog import LogBusy, LogFull
from webapp.shoplog.views.missing_numbers import made_and_here


def verdicts(reply):
    return [answer["verdict"] for answer in reply.json["answers"]]


def stored_ids(phone):
    return [entry["id"] for entry in phone.pull().json["entries"]]


def test_a_push_answers_for_every_entry(phone):
    entries = [phone.entry(), phone.entry()]

    reply = phone.push(*entries)

    assert reply.status == 200
    assert [(each["id"], each["verdict"]) for each in reply.json["answers"]] == [
        (entries[0]["id"], "stored"),
        (entries[1]["id"], "stored"),
    ]
    first, second = (each["seq"] for each in reply.json["answers"])
    assert (second, reply.json["high_water"]) == (first + 1, first + 1)


def test_f25_an_answer_names_the_version_the_shop_and_the_batch(phone, log):
    batch = phone.batch(phone.entry())

    reply = phone.ask("POST", "/log/push", batch, phone.headers)

    named = {name: reply.json[name] for name in ["v", "batch_id", "server_id", "epoch"]}
    shop = {"server_id": log.server_id, "epoch": 1}
    assert named == {"v": 1, "batch_id": batch["batch_id"], **shop}
    assert reply.headers["Content-Type"] == "application/json"
    assert reply.headers["Cache-Control"] == "no-store"


def test_f26_a_batch_sent_five_times_is_stored_once(phone):
    batch = phone.batch(phone.entry(), phone.entry())

    replies = [phone.ask("POST", "/log/push", batch, phone.headers) for _ in range(5)]

    assert [verdicts(reply) for reply in replies] == [["stored"] * 2] + [["already"] * 2] * 4
    [seqs] = {tuple(each["seq"] for each in reply.json["answers"]) for reply in replies}
    assert seqs[1] == seqs[0] + 1
    assert stored_ids(phone) == [entry["id"] for entry in batch["entries"]]


@pytest.mark.skipif("sys.platform == 'win32'")
def test_f26_a_crash_between_commit_and_reply_neither_loses_nor_doubles(start_server):
    server, phone = start_server(target="kit.crashing:app")
    batch = phone.batch(phone.entry())

    with pytest.raises(OSError):
        phone.ask("POST", "/log/push", batch, phone.headers)
    server.wait_until_it_answers()
    reply = phone.ask("POST", "/log/push", batch, phone.headers)

    assert verdicts(reply) == ["already"]
    assert stored_ids(phone) == [batch["entries"][0]["id"]]


def test_f27_one_bad_and_one_clashing_entry_hold_nothing_up(phone):
    first = phone.entry()
    phone.push(first)
    entries = [phone.entry() for _ in range(48)]
    entries.insert(20, phone.entry(kind="gossip"))
    entries.insert(30, {**first, "body": {"text": "something else"}})

    reply = phone.push(*entries)

    found = {answer["id"]: answer for answer in reply.json["answers"]}
    assert found[entries[20]["id"]]["verdict"] == "refused"
    assert found[first["id"]]["verdict"] == "differs"
    assert found[entries[20]["id"]]["reason"] and found[first["id"]]["reason"]
    assert verdicts(reply).count("stored") == 48
    assert len(stored_ids(phone)) == 49


def test_f28_a_batch_above_the_limit_is_told_so(phone):
    reply = phone.push(phone.entry(body={"text": "x" * 300_000}))

    assert (reply.status, reply.json["error"]["code"]) == (413, "too_large")
    assert phone.push(*[phone.entry() for _ in range(101)]).status == 413


@pytest.mark.parametrize("size", [3_000_000, 5_000_000, 20_000_000])
def test_f28_a_real_server_answers_413_instead_of_dropping_the_connection(real_server, size):
    _, phone = real_server

    reply = phone.push(phone.entry(body={"text": "x" * size}))

    assert (reply.status, reply.json["error"]["code"]) == (413, "too_large")
    assert phone.push(phone.entry()).status == 200


def test_f40_a_phone_of_another_shop_sends_nothing_here(phone):
    reply = phone.push(phone.entry(), server_id=str(uuid.uuid4()))

    assert (reply.status, reply.json["error"]["code"]) == (409, "other_shop")
    assert stored_ids(phone) == []


def test_f41_a_push_needs_no_cookie_and_no_form_token(app, phone):
    app.config["WTF_CSRF_ENABLED"] = True

    assert phone.push(phone.entry()).status == 200


def test_a_pull_hands_out_pages_and_names(phone):
    phone.push(*[phone.entry() for _ in range(5)])

    first = phone.pull(0, most=3).json
    second = phone.pull(first["next"], most=3).json

    assert [len(first["entries"]), first["more"]] == [3, True]
    assert [len(second["entries"]), second["more"]] == [2, False]
    assert second["next"] == first["high_water"] == second["entries"][-1]["seq"]
    assert first["entries"][0]["person"] == phone.person["id"]
    assert first["people"][phone.person["id"]] == {"name": "Dana Reyes", "role": "technician"}
    assert {"v", "server_id", "epoch", "server_time"} <= set(first)


def test_a_pull_tells_the_names_before_of_whoever_was_renamed(phone, log):
    dana = phone.person["id"]
    for name in ("Dana Novak", "Dana Reyes", "Dana Novak"):
        log.change_person(dana, name, "technician")

    people = phone.pull().json["people"]

    assert people[dana] == {"name": "Dana Novak", "role": "technician", "before": ["Dana Reyes"]}
    assert [each for each in people if "before" in people[each]] == [dana]


def test_one_phone_reads_what_another_sent(new_phone):
    sender, reader = new_phone(), new_phone("Frank Delgado")
    entry = sender.entry(kind="note", body={"text": "½ turn"}, typed="½")

    sender.push(entry)

    pulled = reader.pull().json["entries"][0]
    assert {name: pulled[name] for name in entry} == entry


def test_the_shop_keeps_what_a_phone_says_it_still_holds(phone, log):
    pending = "2026-11-25T09:00:00+01:00"

    phone.push(pending_count=7, oldest_pending_at=pending, last_local_no=9, build="ab12cd34ef56")

    row = log.phone(phone.id)
    assert [row["pending_count"], row["oldest_pending_at"]] == [7, pending]
    assert [row["last_local_no"], row["build"]] == [9, "ab12cd34ef56"]
    assert row["last_contact"] is not None


@pytest.mark.parametrize(
    "nonsense",
    [
        {"pending_count": -1},
        {"pending_count": True},
        {"last_local_no": 2**53 - 1},
        {"last_local_no": 2**60},
        {"oldest_pending_at": "yesterday"},
        {"oldest_pending_at": 5},
        {"build": "\ud800"},
        {"build": ["x"]},
    ],
)
def test_nonsense_a_phone_says_of_itself_does_not_hold_its_entries_up(phone, nonsense):
    assert verdicts(phone.push(phone.entry(), **nonsense)) == ["stored"]


def test_a_number_that_no_phone_reaches_names_nothing_as_missing(phone, log):
    phone.push(phone.entry(), last_local_no=2**53 - 1)

    [row] = [row for row in made_and_here(log) if row["id"] == phone.id]
    assert [row["made"], row["missing"], row["ranges"]] == [1, 0, []]


@pytest.mark.parametrize(
    ("change", "status"),
    [
        ({"v": 2}, 415),
        ({"v": None}, 415),
        ({"batch_id": None}, 400),
        ({"batch_id": "no <b>such</b> thing"}, 400),
        ({"entries": None}, 400),
        ({"entries": {"0": {}}}, 400),
    ],
)
def test_a_batch_that_makes_no_sense_is_refused_whole(phone, change, status):
    reply = phone.push(phone.entry(), **change)

    assert reply.status == status
    assert set(reply.json["error"]) == {"code", "says"}
    assert stored_ids(phone) == []


@pytest.mark.parametrize(
    ("body", "kind", "status"),
    [
        (b"{", "application/json", 400),
        (b"[]", "application/json", 400),
        (b'"text"', "application/json", 400),
        (b"\xff\xfe", "application/json", 400),
        (b"[" * 100_000, "application/json", 400),
        (b"v=1", "application/x-www-form-urlencoded", 415),
        (b"{}", "text/plain", 415),
    ],
)
def test_what_is_no_json_is_refused_in_the_one_shape(client, phone, body, kind, status):
    reply = client.post("/log/push", data=body, headers={**phone.headers, "Content-Type": kind})

    assert reply.status_code == status
    assert set(reply.json) == {"error"}
    assert set(reply.json["error"]) == {"code", "says"}


@pytest.mark.parametrize(
    "query",
    ["since=-1", "since=x", "most=1.5", "recent_until=²", "since=9e9"]
    + [
        f"{name}={'9' * digits}"
        for name in ("since", "most", "recent_until")
        for digits in (50, 5000)
    ],
)
def test_a_pull_from_nowhere_is_refused(phone, query):
    reply = phone.ask("GET", f"/log/pull?{query}", None, phone.headers)

    assert (reply.status, reply.json["error"]["code"]) == (400, "bad_request")


def test_a_pull_is_never_larger_than_the_shop_allows(phone):
    assert phone.pull(most=10**6).status == 200
    assert phone.pull(most=0).status == 200


@pytest.mark.parametrize(
    ("trouble", "status", "code"),
    [(LogBusy("Busy."), 503, "busy"), (LogFull("Full."), 507, "shop_full")],
)
def test_trouble_with_the_log_acknowledges_nothing(phone, log, monkeypatch, trouble, status, code):
    def fail(*_):
        raise trouble

    monkeypatch.setattr(log, "append", fail)

    reply = phone.push(phone.entry())

    assert (reply.status, reply.json["error"]) == (status, {"code": code, "says": str(trouble)})
    assert ("Retry-After" in reply.headers) is (status == 503)


def test_a_fault_of_the_shop_is_told_in_the_one_shape(app, phone, log, monkeypatch):
    app.config.update(TESTING=False)
    monkeypatch.setattr(log, "append", lambda *_: 1 / 0)

    reply = phone.push(phone.entry())

    assert (reply.status, reply.json["error"]["code"]) == (500, "fault")


@pytest.mark.parametrize(
    ("method", "path", "status", "code"),
    [
        ("GET", "/log/nowhere", 404, "not_found"),
        ("GET", "/log/push", 405, "wrong_method"),
        ("DELETE", "/log/pull", 405, "wrong_method"),
        ("GET", "/door/pair", 405, "wrong_method"),
    ],
)
def test_every_json_error_has_one_shape(phone, method, path, status, code):
    reply = phone.ask(method, path, None, phone.headers)

    assert (reply.status, reply.json["error"]["code"]) == (status, code)
    assert set(reply.json) == {"error"}
    assert set(reply.json["error"]) == {"code", "says"}


@pytest.mark.parametrize(
    "headers",
    [
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Origin": "https://a.example"},
    ],
)
def test_another_sites_page_can_neither_read_nor_write(phone, headers):
    for method, path in [("POST", "/log/push"), ("GET", "/log/pull")]:
        body = phone.batch(phone.entry()) if method == "POST" else None
        reply = phone.ask(method, path, body, {**phone.headers, **headers})
        assert (reply.status, reply.json["error"]["code"]) == (403, "other_site")

    assert stored_ids(phone) == []


@pytest.mark.parametrize(
    "headers", [{"Sec-Fetch-Site": "same-origin"}, {"Origin": "http://localhost"}]
)
def test_the_shops_own_page_may(phone, headers):
    reply = phone.ask("POST", "/log/push", phone.batch(phone.entry()), {**phone.headers, **headers})

    assert reply.status == 200


def test_f21_every_answer_says_when_the_certificate_ends_and_where_the_shop_lives(
    app, phone, tmp_path
):
    keyring = Keyring(tmp_path)
    keyring.make_ready("", ["axlewright.local"], datetime(2026, 11, 27, tzinfo=UTC))
    app.config.update(CERTIFICATE=keyring.keys.certificate, ADDRESS="http://localhost")

    answers = [phone.push().json, phone.pull().json]

    assert {answer["cert_expires"] for answer in answers} == {"2027-11-27T00:00:00+00:00"}
    assert {answer["address"] for answer in answers} == {"http://localhost"}


def test_every_answer_says_what_the_shop_chose_for_new_vehicles(phone, log):
    before = phone.push().json
    log.set_settings({"shop_units": "in", "shop_driving_side": "right"})

    assert before["usual"] is None
    for answer in (phone.push().json, phone.pull().json):
        assert answer["usual"] == {"units": "in", "driving_side": "right"}
