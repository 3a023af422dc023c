"""Entries as they are read: one that an older build stored and that no longer fits is set apart."""

from webapp.shoplog.entries import Entry
from webapp.shoplog.rules.kinds import KINDS, body_faults
from webapp.shoplog.rules.own_kinds import OWN_KINDS

# What an entry counts as that cannot be read: nothing that is folded or shown asks for this kind.
UNREADABLE = "unreadable"


def readable(entry: Entry) -> Entry:
    """The entry, or in its place one of the kind `unreadable` that says what it was and why.

    It stays in the log as it is; whoever pulls or exports it gets it as it is.
    """
    kind, body = entry["kind"], entry["body"]
    known = (kind in KINDS or kind in OWN_KINDS) and isinstance(body, dict)
    faults = body_faults(kind, body) if known else [f"Nothing here knows the kind {kind}."]
    if not faults:
        return entry
    says = f"This entry cannot be read: {' '.join(faults)}"
    return {**entry, "kind": UNREADABLE, "body": {"was": kind, "says": says}}
