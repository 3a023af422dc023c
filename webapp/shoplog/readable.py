"""Entries as they are read: one that does not fit the contract is set apart.

An older build may have stored it, or somebody changed it in the file itself.
"""

from webapp.shoplog.entries import MADE, Entry
from webapp.shoplog.rules.kinds import KINDS, body_faults, entry_faults
from webapp.shoplog.rules.own_kinds import OWN_KINDS
from webapp.shoplog.rules.values import is_id, is_when

# What an entry counts as that cannot be read: nothing that is folded or shown asks for this kind.
UNREADABLE = "unreadable"
# In place of a time that is none.
NO_TIME = "1970-01-01T00:00:00.000+00:00"


def readable(entry: Entry) -> Entry:
    """The entry, or in its place one of the kind `unreadable` that says what it was and why.

    It stays in the log as it is; whoever pulls or exports it gets it as it is.
    """
    faults = faults_of(entry)
    if not faults:
        return entry
    says = f"This entry cannot be read: {' '.join(faults)}"
    times = {at: entry[at] if is_when(entry[at]) else NO_TIME for at in ("made_at", "received_at")}
    return {**entry, **times, "kind": UNREADABLE, "body": {"was": entry["kind"], "says": says}}


def faults_of(entry: Entry) -> list[str]:
    """A sentence for each thing that keeps an entry of the log from being read."""
    kind, body = entry["kind"], entry["body"]
    if (kind not in KINDS and kind not in OWN_KINDS) or not isinstance(body, dict):
        return [f"Nothing here knows the kind {kind}, or its body is no object."]
    if not is_when(entry["received_at"]) or not is_id(entry["person"]):
        return ["When it was received, or from whom, was changed in the file."]
    return entry_faults({key: entry[key] for key in MADE}) or body_faults(kind, body)
