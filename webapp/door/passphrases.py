"""Passphrases of people at the desk: only a slow, salted hash is stored (scrypt, RFC 7914)."""

import base64
import hashlib
import hmac
import secrets
import threading

LEAST_LENGTH = 12
MAX_LENGTH = 200
# 16 MiB and about a tenth of a second for each try. A service may be made with another one, but
# the passphrases that were set at one cost are wrong at every other.
SCRYPT_N = 2**14
SCRYPT_REST = {"r": 8, "p": 5, "maxmem": 64 * 1024 * 1024}
AT_ONCE = threading.BoundedSemaphore(2)
TOO_SHORT = f"A passphrase has at least {LEAST_LENGTH} characters: four or five words work well."
TOO_LONG = f"A passphrase has at most {MAX_LENGTH} characters."
TOO_PLAIN = (
    "This passphrase is too easy to guess: use words that have nothing to do with each other."
)


def fault_in(passphrase: str, name: str = "") -> str | None:
    """Why this cannot be somebody's passphrase, or None."""
    if len(passphrase) < LEAST_LENGTH:
        return TOO_SHORT
    if len(passphrase) > MAX_LENGTH:
        return TOO_LONG
    plain = passphrase.casefold()
    if len(set(plain)) < 5 or plain.replace(name.casefold(), "").strip() == "":
        return TOO_PLAIN
    return None


def hash_passphrase(passphrase: str, scrypt_n: int) -> str:
    """What is stored of a passphrase: salt and hash, at this cost."""
    salt = secrets.token_bytes(16)
    return f"scrypt${_text(salt)}${_text(_derived(passphrase, salt, scrypt_n))}"


def is_right(passphrase: str, stored: str | None, scrypt_n: int) -> bool:
    """Whether this is the passphrase; takes as long where none is stored, to give nothing away."""
    _, salt, digest = (stored or NOBODYS).split("$")
    found = _derived(passphrase[:MAX_LENGTH], base64.b64decode(salt), scrypt_n)
    return hmac.compare_digest(found, base64.b64decode(digest)) and stored is not None


def _derived(passphrase: str, salt: bytes, scrypt_n: int) -> bytes:
    typed = passphrase.encode("utf-8", "replace")
    # Two at once bound the memory that a flood of tries can take.
    with AT_ONCE:
        return hashlib.scrypt(typed, salt=salt, n=scrypt_n, **SCRYPT_REST)


def _text(raw: bytes) -> str:
    return base64.b64encode(raw).decode("ascii")


NOBODYS = f"scrypt${_text(bytes(16))}${_text(bytes(64))}"
