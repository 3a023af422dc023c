"""A phone's credential: what is stored of it, and when it ends."""

import pytest
from kit.phones import code_for


def test_only_hashes_of_codes_and_credentials_are_stored(phone, log):
    code = code_for(log)
    with log.reading() as db:
        stored = "\n".join(db.iterdump())

    assert phone.id in stored
    assert phone.credential not in stored
    assert code not in stored and code.replace("-", "") not in stored


def test_a_credential_holds_256_random_bits(new_phone):
    first, second = new_phone(), new_phone()

    secrets = [each.credential.partition(".")[0] for each in (first, second)]
    assert [len(secret) for secret in secrets] == [43, 43]
    assert secrets[0] != secrets[1]


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
    phone.take(
        phone.ask("POST", "/door/pair", {"code": code_for(log), "phone": phone.id}, phone.headers)
    )
    reply = phone.push(waiting)

    assert (turned_away.status, turned_away.json["error"]["code"]) == (401, "revoked")
    assert [answer["verdict"] for answer in reply.json["answers"]] == ["stored"]


def test_pairing_again_ends_the_credential_before(phone, log):
    before = dict(phone.headers)

    phone.take(
        phone.ask("POST", "/door/pair", {"code": code_for(log), "phone": phone.id}, phone.headers)
    )

    assert phone.ask("GET", "/log/pull", None, before).status == 401
    assert phone.pull().status == 200


def test_a_phone_given_to_another_person_becomes_another_phone(phone, log):
    code = code_for(log, "Frank Delgado")

    reply = phone.ask("POST", "/door/pair", {"code": code, "phone": phone.id}, phone.headers)

    assert reply.json["phone"]["id"] != phone.id
    assert reply.json["person"]["name"] == "Frank Delgado"
