"""Pairing: what a code is good for, and for how long."""

from datetime import timedelta

import pytest
from kit.passphrases import CHEAP
from kit.phones import asking, code_for

from webapp import create_app
from webapp.door import pairing
from webapp.shoplog.backup import back_up, restore
from webapp.shoplog.full_check import check_all


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
        next(row["id"] for row in log.people() if (row["name"] == "Dana Reyes") == is_dana)
        for is_dana in (True, False)
    )

    refused = pair(client, code, holds_for=other)

    assert (refused.status_code, refused.json["error"]["code"]) == (409, "holds_others")
    assert pair(client, code, holds_for=7).status_code == 400
    assert pair(client, code, holds_for=dana).status_code == 200
    assert pair(client, code, holds_for=other).json["error"]["code"] == "bad_code"


def test_a_code_is_good_for_ten_minutes(client, log, monkeypatch):
    assert timedelta(minutes=10) == pairing.CODE_LASTS
    monkeypatch.setattr(pairing, "CODE_LASTS", timedelta(seconds=-1))

    assert pair(client, code_for(log)).json["error"]["code"] == "bad_code"


def test_a_code_may_be_typed_carelessly(client, log):
    code = code_for(log)

    assert pair(client, f" {code.lower().replace('-', ' ')} ").status_code == 200


@pytest.mark.parametrize("body", [{}, [], {"code": 5}, {"code": None}])
def test_pairing_without_a_code_is_refused_in_the_one_shape(client, body):
    reply = client.post("/door/pair", json=body)

    assert reply.status_code == 400
    assert set(reply.json["error"]) == {"code", "says"}


def pair_again(phone, log, credential, **more):
    """Pair with a new code as the phone that it was, showing this credential, if any."""
    headers = {} if credential is None else {"Authorization": f"Bearer {credential}"}
    asked = {"code": code_for(log), "phone": phone.id, **more}
    return phone.ask("POST", "/door/pair", asked, headers)


def test_a_phone_that_shows_its_credential_stays_the_same_also_when_it_was_revoked(phone, log):
    for _ in range(2):
        reply = pair_again(phone, log, phone.credential, holds_for=phone.person["id"])
        assert reply.json["phone"]["id"] == phone.id
        phone.take(reply)
        log.revoke_phone(phone.id)


@pytest.mark.parametrize(
    "credential", [None, "", "guess", ".", "guess.AAAAAAAAAAAAAAAAAAAAAA", "\xe9.\xe9"]
)
def test_an_id_alone_does_not_make_a_phone_that_phone(phone, log, credential):
    reply = pair_again(phone, log, credential)

    assert reply.status == 200
    assert reply.json["phone"]["id"] != phone.id
    assert phone.pull().status == 200


def test_the_credential_of_another_phone_proves_nothing(new_phone, log):
    mine, other = new_phone(), new_phone()

    reply = pair_again(mine, log, other.credential)

    assert reply.json["phone"]["id"] not in (mine.id, other.id)


@pytest.mark.parametrize("credential", [None, "guess"])
def test_a_phone_that_holds_entries_and_proves_nothing_keeps_them_and_the_code(
    phone, log, credential
):
    code = code_for(log)
    holds = {"code": code, "phone": phone.id, "holds_for": phone.person["id"]}
    headers = {"Authorization": f"Bearer {credential}"} if credential else {}

    refused = phone.ask("POST", "/door/pair", holds, headers)

    assert (refused.status, refused.json["error"]["code"]) == (409, "not_proven")
    assert "stay on it" in refused.json["error"]["says"]
    taken = phone.ask("POST", "/door/pair", holds, phone.headers)
    assert taken.json["phone"]["id"] == phone.id


@pytest.mark.parametrize("made_up", ["7b0c2d0e-5a35-4f0a-9c39-1f1f64a1c0de", "", "K7RM-4TQX"])
def test_an_id_that_the_shop_never_gave_is_not_taken(client, log, made_up):
    reply = pair(client, code_for(log), phone=made_up)

    assert reply.status_code == 200
    assert reply.json["phone"]["id"] != made_up


def test_a_phone_of_one_person_does_not_stay_the_same_with_a_code_of_another(phone, log):
    code = code_for(log, "Frank Delgado")

    reply = phone.ask("POST", "/door/pair", {"code": code, "phone": phone.id}, phone.headers)

    assert reply.json["phone"]["id"] != phone.id


def test_a_restored_shop_knows_a_phone_again_that_it_lost_and_takes_what_it_holds(
    app, new_phone, log, tmp_path
):
    """The phone was paired, or paired again, after the backup was made."""
    early = new_phone()
    back_up(log, tmp_path / "backup.db")
    late, folder = new_phone(), log.folder
    early.take(pair_again(early, log, early.credential))
    log.close()
    restore(tmp_path / "backup.db", folder)
    config = {"DATA": folder, "DEMO": True, "TESTING": True, "WTF_CSRF_ENABLED": False}
    app = create_app({**config, **CHEAP})
    log = app.extensions["shoplog"]
    for phone in (early, late):
        phone.ask = asking(app.test_client())
        held = phone.entry()
        assert phone.push(held).status == 401
        reply = pair_again(phone, log, phone.credential, holds_for=phone.person["id"])
        assert reply.json["phone"]["id"] == phone.id
        phone.take(reply)
        answers = phone.push(held).json["answers"]
        assert [answer["verdict"] for answer in answers] == ["stored"]
    assert check_all(folder) == []
    log.close()
