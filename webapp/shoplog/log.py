"""The shop log: entries go in, each with its own answer, and nothing ever goes out."""

import json
import sqlite3
import uuid
from collections.abc import Collection, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, TypedDict

from webapp.shoplog import chain, strikes_ahead
from webapp.shoplog.desk_access import DeskAccess
from webapp.shoplog.door_log import DoorLog
from webapp.shoplog.entries import Checked, Entry, Refused, canonical, checked
from webapp.shoplog.files.photo_store import Photos
from webapp.shoplog.own_entries import is_begun, record_restore
from webapp.shoplog.people import NO_PHONE, found, utc_now, utc_text
from webapp.shoplog.permissions import leads, must_be_allowed
from webapp.shoplog.rules.kinds import LARGEST_LOCAL_NO
from webapp.shoplog.rules.values import is_id
from webapp.shoplog.views import own_rows, projections
from webapp.shoplog.views.queries import Records

DIFFERS = (
    "The log already has an entry with this ID but different content. The first one counts; "
    "this one is set aside for the lead. Record it again if it is the right one."
)

HELD = """
SELECT id, seq, content_hash FROM entries WHERE id IN (SELECT value FROM json_each(?))
"""

SET_ASIDE = """
INSERT INTO quarantine (id, phone, content, content_hash, received_at) VALUES (?, ?, ?, ?, ?)
ON CONFLICT (id, content_hash) DO NOTHING
"""

HEARD_FROM = """
UPDATE phones SET last_contact = :now, build = coalesce(:build, build),
    pending_count = coalesce(:pending_count, pending_count),
    oldest_pending_at = iif(:pending_count IS NULL, oldest_pending_at, :oldest_pending_at),
    last_local_no = max(last_local_no, :last_local_no)
WHERE id = :phone
"""


class Answer(TypedDict):
    """What became of one entry: stored, already, differs or refused."""

    id: str | None
    verdict: str
    seq: int | None
    reason: str | None


class ShopLog(DeskAccess, Records, DoorLog):
    """The log of one shop, in one folder, held by one process."""

    def __init__(self, folder: Path, busy_seconds: float = 5.0) -> None:
        """Open or create the log in `folder`; raises LogInUse, LogBusy or LogFull."""
        super().__init__(folder, busy_seconds)
        self.photos = Photos(folder)
        self.server_id = self.fact("server_id")
        self.epoch = int(self.fact("epoch"))
        with self.writing() as db:
            projections.bring_up_to_date(db)
            record_restore(db)
            if not is_begun(db):
                own_rows.tell_what_is_kept(db)

    def append(
        self,
        phone: str,
        batch: Sequence[Any],
        report: Mapping[str, Any] | None = None,
        received_at: datetime | None = None,
    ) -> list[Answer]:
        """Take a batch in one transaction; one answer per entry, in its order.

        `report` is what the phone says of itself: build, pending_count, oldest_pending_at,
        last_local_no. `received_at` is this moment unless entries come from elsewhere with a time
        of their own. Raises NotFound for an unknown phone; after LogBusy or LogFull nothing of
        the batch was kept.
        """
        with self.writing() as db:
            return Batch(db, phone, received_at).take(batch, report or {})

    def write_at_desk(
        self, person: str, drafts: Sequence[Mapping[str, Any]], build: str
    ) -> list[Answer]:
        """Record entries at the desk for this person, in one transaction.

        A draft holds kind and body, and any of vehicle, job, round, typed.
        """
        desk = self.desk_of(person)["id"]
        with self.writing() as db:
            last = db.execute("SELECT last_local_no FROM phones WHERE id = ?", [desk]).fetchone()[0]
            made_at = datetime.now().astimezone().isoformat(timespec="milliseconds")
            head = {"v": 1, "phone": desk, "made_at": made_at, "build": build}
            entries = [
                {**head, "id": str(uuid.uuid4()), "local_no": number, **draft}
                for number, draft in enumerate(drafts, last + 1)
            ]
            return Batch(db, desk).take(entries, {"pending_count": 0, "build": build})

    def other_deciders(self, workers: Collection[str], person: str) -> list[str]:
        """The names of leads, this person left out, who did none of the work on a job."""
        with self.reading() as db:
            rows = leads(db)
        return [row["name"] for row in rows if row["id"] not in {*workers, person}]

    def check(self) -> list[str]:
        """A sentence for everything wrong with the database or its chain; none when sound."""
        return chain.check_folder(self.folder)

    def rebuild(self) -> None:
        """Make every projection afresh from the entries, and people and settings what they say."""
        with self.writing() as db:
            projections.rebuild(db)
            own_rows.put_back(db)


class Batch:
    """One phone's batch within one transaction."""

    def __init__(
        self, db: sqlite3.Connection, phone: str, received_at: datetime | None = None
    ) -> None:
        """Begin a batch of this phone, or raise NotFound."""
        self.begin(db)
        self.phone = phone
        row = found(db, "SELECT person FROM phones WHERE id = ?", [phone], NO_PHONE)
        self.person: str = row["person"]
        self.now = utc_text(received_at) if received_at else utc_now()

    def begin(self, db: sqlite3.Connection) -> None:
        """Go on from the last line of the log."""
        self.db = db
        self.end = chain.last_link(db)
        self.stored: list[Entry] = []
        self.held: dict[str, tuple[int, bytes]] = {}

    def take(self, batch: Sequence[Any], report: Mapping[str, Any] | None = None) -> list[Answer]:
        """Store what can be stored, keep the projections up, and answer for each entry.

        A `report` is what the phone that sends says of itself.
        """
        self.held = self.held_of(batch)
        answers = [self.answer(entry) for entry in batch]
        undone = strikes_ahead.settle(self.db, self.stored)
        projections.keep_up(self.db, [*self.stored, *undone])
        if report is not None:
            self.heard_from(report)
        return answers

    def held_of(self, batch: Sequence[Any]) -> dict[str, tuple[int, bytes]]:
        """Sequence number and content hash of those entries that the log has, by id."""
        names = [entry.get("id") for entry in batch if isinstance(entry, dict)]
        rows = self.db.execute(HELD, [json.dumps([name for name in names if is_id(name)])])
        return {row["id"]: (row["seq"], row["content_hash"]) for row in rows}

    def answer(self, entry: Any) -> Answer:
        """Store one entry, or say why not."""
        try:
            kept = checked(entry, self.phone)
            if kept.made["id"] in self.held:
                return self.answer_again(kept)
            must_be_allowed(self.db, kept.made, self.person, self.stored)
            seq = self.store(kept)
            strikes_ahead.note_if_ahead(self.db, self.stored[-1])
            return answer_for(kept.made, "stored", seq=seq)
        except Refused as refusal:
            return answer_for(entry, "refused", reason=str(refusal))

    def answer_again(self, kept: Checked) -> Answer:
        """The answer for an entry whose id the log has: already, or differs and set aside."""
        made, now = kept.made, self.now
        seq, content = self.held[made["id"]]
        if content == kept.content:
            return answer_for(made, "already", seq=seq)
        self.db.execute(SET_ASIDE, [made["id"], self.phone, canonical(made), kept.content, now])
        return answer_for(made, "differs", reason=DIFFERS)

    def store(self, kept: Checked) -> int:
        """Insert an entry and link it into the chain; its sequence number."""
        made, self.end = chain.add(self.db, kept, self.end, self.person, self.now)
        self.stored.append(made)
        self.held[made["id"]] = (made["seq"], kept.content)
        return int(made["seq"])

    def heard_from(self, report: Mapping[str, Any]) -> None:
        """Keep when the phone was last heard from, and what it says it still holds."""
        stored_no = max((entry["local_no"] for entry in self.stored), default=0)
        said = {
            "phone": self.phone,
            "now": self.now,
            "build": text_or_none(report.get("build")),
            "pending_count": count_or_none(report.get("pending_count")),
            "oldest_pending_at": text_or_none(report.get("oldest_pending_at")),
            "last_local_no": max(stored_no, count_or_none(report.get("last_local_no")) or 0),
        }
        self.db.execute(HEARD_FROM, said)


def count_or_none(value: Any) -> int | None:
    """A count as a phone can know it; None for anything else, which must not hold up a batch."""
    return value if type(value) is int and 0 <= value <= LARGEST_LOCAL_NO else None


def text_or_none(value: Any) -> str | None:
    """A short ASCII text, such as a build or a time; None for anything else."""
    return value if isinstance(value, str) and len(value) <= 64 and value.isascii() else None


def answer_for(
    entry: Any, verdict: str, seq: int | None = None, reason: str | None = None
) -> Answer:
    """The answer for one entry, by its id where it has one."""
    name = entry.get("id") if isinstance(entry, dict) else None
    return {
        "id": name if isinstance(name, str) else None,
        "verdict": verdict,
        "seq": seq,
        "reason": reason,
    }
