"""How a phone proves which phone it is: by the credential that it got when it was paired.

Only hashes are stored. The secrets are random, so a plain SHA-256 needs no salt.
"""

import hashlib
import hmac

from webapp.door.refusals import Refusal, refuse
from webapp.shoplog import LogError, NotFound, ShopLog
from webapp.shoplog.rows import Row

UNKNOWN = "This shop does not know this phone: pair it again."
REVOKED = "The lead revoked this phone: pair it again."


def phone_by(log: ShopLog, authorization: str) -> Row:
    """The phone whose credential the header carries; refuses unknown and revoked ones."""
    scheme, _, credential = authorization.partition(" ")
    digest = hash_secret(credential.strip())
    try:
        phone = log.phone_by_credential(digest)
    except NotFound:
        phone = {"credential_hash": ""}
    if scheme.lower() != "bearer" or not hmac.compare_digest(phone["credential_hash"], digest):
        refuse(401, "unknown_phone", UNKNOWN)
    if phone["revoked_at"] is not None:
        refuse(401, "revoked", REVOKED)
    return phone


def is_known(log: ShopLog, authorization: str) -> bool:
    """Whether the header carries the credential of a phone of this shop that was not revoked.

    While the log cannot be asked nobody is taken for a stranger.
    """
    try:
        phone_by(log, authorization)
    except Refusal:
        return False
    except LogError:
        pass
    return True


def hash_secret(secret: str) -> str:
    """The SHA-256 of a secret in hexadecimal: all that is stored of it."""
    return hashlib.sha256(secret.encode("utf-8", "replace")).hexdigest()
