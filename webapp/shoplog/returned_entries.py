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

from webapp.shoplog import chain
from webapp.shoplog.entries import Entry, Refused, canonical, checked, content_hash
from webapp.shoplog.errors import NotFound
from webapp.shoplog.log import Answer, Batch, ShopLog, answer_for
from webapp.shoplog.people import insert_person, utc_now
from webapp.shoplog.rules.own_kinds import LONGEST_NAME, OWN_KINDS
from webapp.shoplog.rules.values import is_id, is_when

KEY = "seal_key"
NO_SEAL = "This shop never had this entry: its seal is not the shop's."
NOT_HEARD = "It does not say who made it and when it was first received."
NAMELESS = "somebody whose name was lost"

SAVE_PHONE = """
INSERT INTO phones (id, person, kind, name, paired_at, revoked_at, last_local_no)
VALUES (:phone, :person, 'phone', 'a phone not paired here', :now, :now, :number)
ON CONFLICT (id) DO UPDATE SET last_local_no = max(last_local_no, excluded.last_local_no)
"""


def seal_key(log: ShopLog) -> bytes:
    """This shop's key, made at its first use; it is in every backup from then on."""
    try:
        return bytes.fromhex(log.fact(KEY))
    except NotFound:
        return bytes.fromhex(log.fact_or_make(KEY, lambda: secrets.token_hex(32)))


def seal(key: bytes, entry: Mapping[str, Any]) -> str:
    """The shop's word, in 22 letters, that it stored this entry for this person at this time."""
    content = content_hash(dict(entry), canonical(entry["body"]))
    said = f"\n{entry['person']}\n{entry['received_at']}".encode()
    return base64.urlsafe_b64encode(hmac.digest(key, content + said, hashlib.sha256)[:16])[
        :22
    ].decode()


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
            self.must_be_known(entry)
            made = {key: value for key, value in entry.items() if key != "seal"}
            # Only another log brings what its shop PC wrote itself; no phone ever had it.
            kept = checked(made, entry["phone"], own=self.key is None)
            if kept.made["id"] in self.held:
                return self.answer_again(kept)
            if kept.made["kind"] not in OWN_KINDS:
                self.see_to_maker(kept.made)
            return answer_for(kept.made, "stored", seq=self.store(kept))
        except Refused as refusal:
            return answer_for(entry, "refused", reason=str(refusal))

    def must_be_known(self, entry: Any) -> None:
        """Raise Refused unless the entry says who and when, and its seal is right."""
        heard = isinstance(entry, dict) and is_id(entry.get("phone")) and is_id(entry.get("person"))
        if not heard or not is_when(entry.get("received_at")):
            raise Refused(NOT_HEARD)
        if self.key is not None and not is_sealed(self.key, entry):
            raise Refused(NO_SEAL)
        self.phone, self.person, self.now = entry["phone"], entry["person"], entry["received_at"]

    def see_to_maker(self, made: Entry) -> None:
        """Add the entry's person and phone if missing; neither can sign in."""
        name = self.names.get(self.person, "").strip() or NAMELESS
        person = {"id": self.person, "name": name[:LONGEST_NAME], "role": "technician"}
        if insert_person(self.db, person, None):
            # What was written just now lies behind it.
            self.end = chain.last_link(self.db)
        phone = {"phone": self.phone, "person": self.person, "now": utc_now()}
        self.db.execute(SAVE_PHONE, {**phone, "number": made["local_no"]})


def is_sealed(key: bytes, entry: Mapping[str, Any]) -> bool:
    """Whether the entry carries this shop's seal."""
    try:
        right = seal(key, entry)
    except (KeyError, TypeError, ValueError, RecursionError):
        return False
    return hmac.compare_digest(right.encode(), str(entry.get("seal")).encode("utf-8", "replace"))
