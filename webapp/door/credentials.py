"""How a phone proves which phone it is: a pairing code once, a credential from then on.

Only hashes are stored. Both secrets are random, so a plain SHA-256 needs no salt.
"""

import hashlib
import hmac
import secrets
from datetime import UTC, datetime, timedelta
from typing import Any

from webapp.door.refusals import refuse
from webapp.shoplog import NotFound, ShopLog
from webapp.shoplog.rules.values import is_id

Row = dict[str, Any]

ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # nothing that is read as something else
CODE_LENGTH = 8
CODE_LASTS = timedelta(minutes=10)
UNKNOWN = "This shop does not know this phone: pair it again."
REVOKED = "This phone's pairing was ended by the lead: pair it again."


def phone_by(log: ShopLog, authorization: str) -> Row:
    """The phone whose credential the header carries; refuses unknown and revoked ones."""
    scheme, _, credential = authorization.partition(" ")
    digest = hash_of(credential.strip())
    try:
        phone = log.phone_by_credential(digest)
    except NotFound:
        phone = {"credential_hash": ""}
    if scheme.lower() != "bearer" or not hmac.compare_digest(phone["credential_hash"], digest):
        refuse(401, "unknown_phone", UNKNOWN)
    if phone["revoked_at"] is not None:
        refuse(401, "revoked", REVOKED)
    return phone


def hash_of(secret: str) -> str:
    """What is stored of a secret."""
    return hashlib.sha256(secret.encode("utf-8", "replace")).hexdigest()


def new_code(log: ShopLog, person: str) -> str:
    """A pairing code for this person's next phone: good once, for ten minutes."""
    letters = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    until = datetime.now(UTC) + CODE_LASTS
    log.add_pairing(hash_of(letters), person, until.isoformat(timespec="milliseconds"))
    return f"{letters[:4]}-{letters[4:]}"


def pair(
    log: ShopLog, code: str, known: str | None, holds_for: str | None = None
) -> tuple[Row, Row, str]:
    """(phone, person, credential) for a code as typed; NotFound when it is good no more.

    `known` names the phone when it was paired before: with the same person it stays that phone,
    also where a restored backup does not know it, as the entries that it holds bear its name.
    `holds_for` is whose entries it still holds: it is nobody else's until they are sent, so that
    a code of somebody else is OtherPerson and not used up.
    """
    letters = "".join(letter for letter in code.upper() if letter.isalnum())
    person = log.use_pairing(hash_of(letters), holds_for)
    credential = secrets.token_urlsafe(32)
    return _phone(log, person, known, hash_of(credential)), person, credential


def _phone(log: ShopLog, person: Row, known: str | None, digest: str) -> Row:
    owners = {row["id"]: row["person"] for row in log.phones()}
    if known is not None and owners.get(known) == person["id"]:
        return log.renew_phone(known, digest)
    lost = known if known is not None and is_id(known) and known not in owners else None
    return log.add_phone(person["id"], f"{person['name']}'s phone", digest, lost)
