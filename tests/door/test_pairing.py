"""Pairing: what a code is good for, and for how long."""

from datetime import timedelta

import pytest
from kit.phones import code_for

from webapp.door import pairing


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
