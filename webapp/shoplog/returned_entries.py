"""Entries that stood in a log before: handed back after a restore, or brought over by an import.

They keep their maker, the person and when they were first received; sequence number and chain are
this log's. A phone that hands back entries of others shows for each the seal that this shop gave
it: without the shop's key nobody can make one up.
"""

import base64
import hashlib
import hmac
import secrets
import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any

from webapp.shoplog import chain, strikes_ahead
from webapp.shoplog.backup import KEY_SINCE, SEAL_KEY, epoch_above, epochs_in
from webapp.shoplog.entries import Entry, Refused, canonical, checked, content_hash
from webapp.shoplog.errors import NotFound
from webapp.shoplog.log import Answer, Batch, ShopLog, answer_for
from webapp.shoplog.own_entries import own_id, record_door
from webapp.shoplog.people import insert_person, keep_facts, utc_now
from webapp.shoplog.rules.kinds import body_faults
from webapp.shoplog.rules.own_kinds import LONGEST_NAME, OWN_KINDS
from webapp.shoplog.rules.values import is_id, is_when

NO_SEAL = (
    "This shop never had this entry, or its keys were changed since: the seal is not the shop's."
)
NOT_HEARD = "It does not say who made it and when it was first received."
# By whether a lead made what was ahead of its target; None for what was not.
BY = {None: "", False: "\nahead", True: "\nahead, by a lead"}
NAMELESS = "somebody whose name was lost"
OTHERS = "SELECT name FROM people WHERE id <> ?"

SAVE_PHONE = """
INSERT INTO phones (id, person, kind, name, paired_at, revoked_at, last_local_no)
VALUES (:phone, :person, 'phone', 'a phone not paired here', :now, :now, :number)
ON CONFLICT (id) DO UPDATE SET last_local_no = max(last_local_no, excluded.last_local_no)
"""


def seal_key(log: ShopLog) -> bytes:
    """This shop's key, made at its first use; it is in every backup from then on."""
    try:
        return bytes.fromhex(log.fact(SEAL_KEY))
    except NotFound:
        return bytes.fromhex(log.fact_or_make(SEAL_KEY, new_key))


def new_key() -> str:
    """256 bits that nobody can guess."""
    return secrets.token_hex(32)


def change_seal_key(log: ShopLog) -> None:
    """Take nothing from here on that was sealed before, in a log that no service has open.

    A new epoch begins, so that phones read the log anew and have the new seals.
    """
    with log.writing() as db:
        epoch = str(epoch_above(epochs_in(db), log.folder))
        keep_facts(db, {SEAL_KEY: new_key(), KEY_SINCE: epoch, "epoch": epoch})
        record_door(db, "keys_changed")


def seal(key: bytes, entry: Mapping[str, Any], ahead_by: str = "") -> str:
    """The shop's word, in 22 letters, that it stored this entry for this person at this time.

    `ahead_by` is one of BY where it was never held against what it strikes or replaces, as that
    was not here: whoever takes it back does that.
    """
    content = content_hash(dict(entry), canonical(entry["body"]))
    said = f"\n{entry['person']}\n{entry['received_at']}{ahead_by}".encode()
    return base64.urlsafe_b64encode(hmac.digest(key, content + said, hashlib.sha256)[:16])[
        :22
    ].decode()


def sealed_for_phones(
    log: ShopLog, entries: Sequence[Entry], own: str | None = None
) -> list[Entry]:
    """The entries as a phone pulls them, with seals on all but those that it made itself.

    What a phone made it can offer again without the shop's word for it.
    """
    key = seal_key(log)
    with log.reading() as db:
        ahead = strikes_ahead.known_ahead(db, entries)
    return [
        entry
        if entry["phone"] == own
        else {**entry, "seal": seal(key, entry, BY.get(ahead.get(entry["id"]), ""))}
        for entry in entries
    ]


def take_returned(
    log: ShopLog, batch: Sequence[Any], names: Mapping[str, str] | None = None
) -> list[Answer]:
    """Take back what this shop lost, each entry with its seal; one answer per entry, in order."""
    key = seal_key(log)
    with log.writing() as db:
        return Returned(db, names or {}, key).take(batch)


def bring_over(log: ShopLog, batch: Sequence[Any], names: Mapping[str, str]) -> list[Answer]:
    """Take over entries of another log, which need no seal; one answer per entry, in order."""
    with log.writing() as db:
        return Returned(db, names, None).take(batch)


class Returned(Batch):
    """A batch of entries by anybody; with a key each needs its seal."""

    def __init__(self, db: sqlite3.Connection, names: Mapping[str, str], key: bytes | None) -> None:
        """Begin a batch; `names` has people's names by id, for those that are not on file."""
        self.begin(db)
        self.names, self.key = names, key

    def answer(self, entry: Any) -> Answer:
        """Store one entry as it was received first, or say why not."""
        try:
            by_lead = self.must_be_known(entry)
            made = {key: value for key, value in entry.items() if key != "seal"}
            # Only another log brings what its shop PC wrote itself; no phone ever had it.
            kept = checked(made, entry["phone"], own=self.key is None)
            if kept.made["id"] in self.held:
                return self.answer_again(kept)
            if kept.made["kind"] not in OWN_KINDS:
                self.see_to_maker(kept.made)
            seq = self.store(kept)
            if by_lead is not None:
                strikes_ahead.note(self.db, kept.made, by_lead, waits_for=kept.made["id"])
            return answer_for(kept.made, "stored", seq=seq)
        except Refused as refusal:
            return answer_for(entry, "refused", reason=str(refusal))

    def must_be_known(self, entry: Any) -> bool | None:
        """Raise Refused unless the entry says who and when, and its seal is right.

        Whether a lead made what was never held against its target; None for any other entry.
        """
        heard = isinstance(entry, dict) and is_id(entry.get("phone")) and is_id(entry.get("person"))
        if not heard or not is_when(entry.get("received_at")):
            raise Refused(NOT_HEARD)
        by_lead = None if self.key is None else ahead_by_its_seal(self.key, entry)
        self.phone, self.person, self.now = entry["phone"], entry["person"], entry["received_at"]
        return by_lead

    def see_to_maker(self, made: Entry) -> None:
        """Add the entry's person and phone if missing; neither can sign in."""
        if self.phone == own_id(self.db):
            return
        person = {"id": self.person, "name": self.name_of_maker(), "role": "technician"}
        if insert_person(self.db, person, None):
            # What was written just now lies behind it.
            self.end = chain.last_link(self.db)
        phone = {"phone": self.phone, "person": self.person, "now": utc_now()}
        self.db.execute(SAVE_PHONE, {**phone, "number": made["local_no"]})

    def name_of_maker(self) -> str:
        """What the entry's person was called, as a name that nobody else here has."""
        name = self.names.get(self.person, "").strip()[:LONGEST_NAME]
        taken = {row["name"].casefold() for row in self.db.execute(OTHERS, [self.person])}
        known_as = {"person": self.person, "name": name, "role": "technician"}
        is_fine = name.casefold() not in taken and not body_faults("person", known_as)
        return name if is_fine else NAMELESS


def ahead_by_its_seal(key: bytes, entry: Mapping[str, Any]) -> bool | None:
    """Whether a lead made an entry whose seal says that it was ahead; None by any other seal.

    Raises Refused where the seal is not the shop's.
    """
    given = str(entry.get("seal")).encode("utf-8", "replace")
    try:
        for by_lead, ahead_by in BY.items():
            if hmac.compare_digest(seal(key, entry, ahead_by).encode(), given):
                return by_lead
    except (KeyError, TypeError, ValueError, RecursionError):
        pass
    raise Refused(NO_SEAL)
