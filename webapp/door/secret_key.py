"""The key that cookies and forms are signed with: made once, kept in the log, and changed.

Whoever knows it can make a form of another site look like the desk's own, and a browser look like
one that is known: one that leaked is changed, and counts no more.
"""

import secrets
from datetime import UTC, datetime, timedelta

from webapp.shoplog import NotFound, ShopLog

KEY = "secret_key"
BEFORE = "secret_key_before"
# Longer than any session lasts, and any form lies open.
OLD_KEY_LASTS = timedelta(days=30)


def keys_of(log: ShopLog, now: datetime | None = None) -> list[str]:
    """The keys whose signatures count, oldest first; the last of them signs."""
    key = log.fact_or_make(KEY, new_key)
    try:
        until, _, before = log.fact(BEFORE).partition(" ")
    except NotFound:
        return [key]
    counts = (now or datetime.now(UTC)) < datetime.fromisoformat(until)
    return [before, key] if counts else [key]


def change(log: ShopLog, keep_sessions: bool, now: datetime | None = None) -> None:
    """Sign with a new key; what the one before signed counts for 30 days more, or not at all."""
    before = log.fact_or_make(KEY, new_key)
    lasts = OLD_KEY_LASTS if keep_sessions else timedelta()
    until = ((now or datetime.now(UTC)) + lasts).isoformat(timespec="seconds")
    kept = before if keep_sessions else ""
    log.set_facts({BEFORE: f"{until} {kept}", KEY: new_key()})


def new_key() -> str:
    """256 bits that nobody can guess."""
    return secrets.token_hex(32)
