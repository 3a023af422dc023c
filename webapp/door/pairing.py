"""Pairing: a code that is good once makes a phone somebody's, and gives it its credential."""

import secrets
from datetime import UTC, datetime, timedelta
from typing import Any

from flask import current_app, jsonify, request
from werkzeug.wrappers import Response

from webapp.door.blueprint import bp
from webapp.door.credentials import hash_secret
from webapp.door.current import the_log
from webapp.door.refusals import SAYS, refuse
from webapp.door.throttle import Throttle, network_of
from webapp.shoplog import NotFound, OtherPerson, ShopLog
from webapp.shoplog.rows import Row
from webapp.shoplog.rules.values import is_id

ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # nothing that is read as something else
CODE_LENGTH = 8
CODE_LASTS = timedelta(minutes=10)
MAX_CODES_TRIED = 20


def new_pairing_code(log: ShopLog, person: str, by: str | None = None) -> str:
    """A pairing code for this person's next phone: good once, for ten minutes; `by` makes it."""
    letters = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    until = datetime.now(UTC) + CODE_LASTS
    log.add_pairing(hash_secret(letters), person, until.isoformat(timespec="milliseconds"), by)
    return f"{letters[:4]}-{letters[4:]}"


def pair_phone(
    log: ShopLog, code: str, known: str | None, holds_for: str | None = None
) -> tuple[Row, Row, str]:
    """(phone, person, credential) for a code as typed; NotFound when it is no longer good.

    `known` names the phone when it was paired before: with the same person it stays that phone,
    also where a restored backup does not know it, as the entries that it holds bear its name.
    `holds_for` is whose entries it still holds: it is nobody else's until they are sent, so that
    a code of somebody else is OtherPerson and not used up.
    """
    letters = "".join(letter for letter in code.upper() if letter.isalnum())
    person = log.use_pairing(hash_secret(letters), holds_for)
    credential = secrets.token_urlsafe(32)
    return _phone(log, person, known, hash_secret(credential)), person, credential


def _phone(log: ShopLog, person: Row, known: str | None, digest: str) -> Row:
    owners = {row["id"]: row["person"] for row in log.phones()}
    if known is not None and owners.get(known) == person["id"]:
        return log.renew_phone(known, digest)
    lost = known if known is not None and is_id(known) and known not in owners else None
    return log.add_phone(person["id"], f"{person['name']}'s phone", digest, lost)


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
        known = asked.get("phone"), asked.get("holds_for")
        phone, person, credential = pair_phone(log, asked["code"], *known)
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
