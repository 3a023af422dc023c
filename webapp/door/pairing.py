"""Pairing: a code that is good once makes a phone somebody's, and gives it its credential."""

import base64
import hmac
import secrets
import uuid
from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple

from flask import current_app, jsonify, request
from werkzeug.wrappers import Response

from webapp.door.blueprint import bp
from webapp.door.credentials import hash_secret
from webapp.door.current import the_log
from webapp.door.refusals import SAYS, refuse
from webapp.door.throttle import Throttle, network_of
from webapp.shoplog import NotFound, OtherPerson, ShopLog
from webapp.shoplog.returned_entries import seal_key
from webapp.shoplog.rows import Row
from webapp.shoplog.rules.values import is_id

ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # nothing that is read as something else
CODE_LENGTH = 8
CODE_LASTS = timedelta(minutes=10)
MAX_CODES_TRIED = 20
NOT_PROVEN = (
    "This phone cannot show that it was paired here before, and still has entries that were not "
    "sent. They stay on it: save them to a file and bring that in on the shop PC, or ask whoever "
    "keeps it. The code stays valid."
)


def new_pairing_code(log: ShopLog, person: str, by: str | None = None) -> str:
    """A pairing code for this person's next phone: good once, for ten minutes; `by` makes it."""
    letters = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    until = datetime.now(UTC) + CODE_LASTS
    log.add_pairing(hash_secret(letters), person, until.isoformat(timespec="milliseconds"), by)
    return f"{letters[:4]}-{letters[4:]}"


class NotProven(Exception):
    """A phone says which one it is and cannot show it, and still holds entries of that phone."""


class Known(NamedTuple):
    """What a phone says of itself: its id, whose entries it still holds, its last credential."""

    phone: str | None = None
    holds_for: str | None = None
    credential: str = ""


def pair_phone(log: ShopLog, code: str, known: Known) -> tuple[Row, Row, str]:
    """(phone, person, credential) for a code as typed; NotFound when it is no longer good.

    A phone that was paired before, with the same person, stays that phone, also where it was
    revoked or a restored backup does not know it, as the entries that it holds bear its id. It
    proves that by the credential that it had; without, it is a new phone. NotProven where it then
    could not send what it holds, and OtherPerson where that is somebody else's: neither uses the
    code up.
    """
    letters = "".join(letter for letter in code.upper() if letter.isalnum())
    holds, holder = known.phone is not None, known.holds_for
    if holds and holder is not None and not is_proven(log, known, holder):
        raise NotProven(NOT_PROVEN)
    person = log.use_pairing(hash_secret(letters), holder)
    proven = known.phone if is_proven(log, known, person["id"]) else None
    phone = proven or str(uuid.uuid4())
    credential = new_credential(log, phone, person["id"])
    digest = hash_secret(credential)
    if phone in {row["id"] for row in log.phones()}:
        return log.renew_phone(phone, digest), person, credential
    name = f"{person['name']}'s phone"
    return log.add_phone(person["id"], name, digest, phone), person, credential


def new_credential(log: ShopLog, phone: str, person: str) -> str:
    """A credential of this person's phone, which carries the shop's mark that it is theirs."""
    secret = secrets.token_urlsafe(32)
    return f"{secret}.{mark_of(log, phone, person, secret)}"


def mark_of(log: ShopLog, phone: str, person: str, secret: str) -> str:
    """The shop's word, in 22 letters, that it gave this secret to this phone of this person.

    Its key is in every backup, so a shop that was restored knows phones again that it lost.
    """
    said = f"credential\n{phone}\n{person}\n{secret}".encode("utf-8", "replace")
    mark = hmac.digest(seal_key(log), said, "sha256")[:16]
    return base64.urlsafe_b64encode(mark).decode().rstrip("=")


def is_proven(log: ShopLog, known: Known, person: str) -> bool:
    """Whether a phone shows a credential that was given to this person's phone of its id."""
    if known.phone is None or not is_id(known.phone):
        return False
    secret, _, mark = known.credential.partition(".")
    right = mark_of(log, known.phone, person, secret)
    kept = [row for row in log.phones() if row["id"] == known.phone]
    if not hmac.compare_digest(right.encode(), mark.encode("utf-8", "replace")):
        # The mark of a phone that is on file may be from before the shop's keys were changed.
        digest = hash_secret(known.credential)
        kept = [row for row in kept if row["credential_hash"] == digest]
        if not kept:
            return False
    # In a log that was put together by an import it may be somebody else's by now, or a desk.
    return all(row["person"] == person and row["kind"] == "phone" for row in kept)


@bp.post("/door/pair")
def pair() -> Response:
    """A credential for a pairing code: {v, server_id, epoch, phone, person, credential}."""
    asked = _asked()
    throttle: Throttle = current_app.extensions["throttle"]
    limits = {f"pairing {network_of(request.remote_addr or '')}": MAX_CODES_TRIED}
    if throttle.take(limits):
        refuse(429, *SAYS[429])
    log = the_log()
    try:
        before = request.headers.get("Authorization", "").partition(" ")[2].strip()
        known = Known(asked.get("phone"), asked.get("holds_for"), before)
        phone, person, credential = pair_phone(log, asked["code"], known)
    except NotProven as error:
        refuse(409, "not_proven", str(error))
    except OtherPerson as error:
        refuse(409, "holds_others", str(error))
    except NotFound as error:
        refuse(400, "bad_code", str(error))
    throttle.succeed(limits)
    answer = {"v": 1, "server_id": log.server_id, "epoch": log.epoch, "credential": credential}
    return jsonify(**answer, phone={"id": phone["id"]}, person=person)


def _asked() -> dict[str, Any]:
    try:
        asked = request.get_json()
    except RecursionError:
        refuse(400, "bad_request", "The request is nested too deeply.")
    if not isinstance(asked, dict) or not isinstance(asked.get("code"), str):
        refuse(400, "bad_request", "A pairing code is missing.")
    if not isinstance(asked.get("phone"), str | None):
        refuse(400, "bad_request", "The phone is named by its id.")
    if not isinstance(asked.get("holds_for"), str | None):
        refuse(400, "bad_request", "The person is named by their id.")
    return asked
