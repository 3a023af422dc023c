"""Passphrases of people at the desk: only a slow, salted hash is stored (scrypt, RFC 7914).

A stored one says at what cost it was made, so that the cost can be raised: `is_weaker` tells when
to make it anew, at the next sign-in.
"""

import base64
import hashlib
import hmac
import re
import secrets
import threading
from collections.abc import Iterable
from typing import NamedTuple

LEAST_LENGTH = 12
MAX_LENGTH = 200
# A guess takes 16 MiB and about a tenth of a second (r and p below).
SCRYPT_N = 2**14
SCRYPT_R = 8
SCRYPT_P = 5
MAX_MEMORY = 64 * 1024 * 1024
AT_ONCE = threading.BoundedSemaphore(2)
# Looking at more takes ever longer, and these alone must be hard enough to guess.
LOOKED_AT = 40
# Of five marks, the one for more than ten billion guesses.
LEAST_SCORE = 4
LEAST_OF_NAME = 3
OWN_WORDS = ("axlewright", "axle", "track bar", "trackbar")
TOO_SHORT = f"A passphrase has at least {LEAST_LENGTH} characters: four or five words work well."
TOO_LONG = f"A passphrase has at most {MAX_LENGTH} characters."
TOO_COMMON = (
    "This passphrase is among the first that anybody tries, such as a common password, a row of "
    "keys or something repeated: use four or five words that have nothing to do with each other."
)
TOO_NEAR = (
    "This passphrase is mostly the name of a person, of the shop or of this app: use four or five "
    "words that have nothing to do with them."
)


class Stored(NamedTuple):
    """A passphrase as it is kept: what it cost to make, its salt, its hash."""

    n: int
    r: int
    p: int
    salt: bytes
    digest: bytes


def fault_in(passphrase: str, names: Iterable[str] = ()) -> str | None:
    """Why this cannot be somebody's passphrase, or None; `names` are of the person and the shop."""
    if len(passphrase) < LEAST_LENGTH:
        return TOO_SHORT
    if len(passphrase) > MAX_LENGTH:
        return TOO_LONG
    near = [*names, *OWN_WORDS]
    words = {word for name in near for word in re.split(r"\W+", name) if len(word) >= LEAST_OF_NAME}
    score = _score(passphrase, [*near, *words])
    if score >= LEAST_SCORE:
        return None
    return TOO_NEAR if score < _score(passphrase, []) else TOO_COMMON


def hash_passphrase(passphrase: str, scrypt_n: int) -> str:
    """What is stored of a passphrase, made at this cost: `scrypt$ln=14,r=8,p=5$salt$hash`."""
    made = Stored(scrypt_n, SCRYPT_R, SCRYPT_P, secrets.token_bytes(16), b"")
    cost = f"ln={scrypt_n.bit_length() - 1},r={made.r},p={made.p}"
    return f"scrypt${cost}${_text(made.salt)}${_text(_derived(passphrase, made))}"


def is_right(passphrase: str, stored: str | None, scrypt_n: int) -> bool:
    """Whether this is the passphrase; takes as long where none is stored, to give nothing away."""
    nobodys = Stored(scrypt_n, SCRYPT_R, SCRYPT_P, bytes(16), bytes(64))
    kept = nobodys if stored is None else _read(stored)
    found = _derived(passphrase[:MAX_LENGTH], kept)
    return hmac.compare_digest(found, kept.digest) and stored is not None


def is_weaker(stored: str, scrypt_n: int) -> bool:
    """Whether what is stored was made at a lower cost than new ones are."""
    return _read(stored).n < scrypt_n


def _read(stored: str) -> Stored:
    _, cost, salt, digest = stored.split("$")
    log_n, r, p = (int(each.partition("=")[2]) for each in cost.split(","))
    return Stored(2**log_n, r, p, base64.b64decode(salt), base64.b64decode(digest))


def _derived(passphrase: str, made: Stored) -> bytes:
    typed = passphrase.encode("utf-8", "replace")
    # Two at once bound the memory that a flood of tries can take.
    with AT_ONCE:
        return hashlib.scrypt(
            typed, salt=made.salt, n=made.n, r=made.r, p=made.p, maxmem=MAX_MEMORY
        )


def _score(passphrase: str, near: list[str]) -> int:
    """How hard it is to guess, from 0 to 4, beside lists of common passwords, words and names."""
    # Its lists take a moment to read in, and only whoever chooses a passphrase needs them.
    from zxcvbn import zxcvbn

    return int(zxcvbn(passphrase[:LOOKED_AT], user_inputs=near)["score"])


def _text(raw: bytes) -> str:
    return base64.b64encode(raw).decode("ascii")
