"""What an entry may do, given who made it and what the log already holds.

`WHO_WRITES` is the one table of it, by kind and field; what strikes, replaces or moves something is
judged by what it touches.
"""

import sqlite3
from collections.abc import Iterable, Mapping

from webapp.reckon.log.fold import crossed_out_by, standing, workers
from webapp.shoplog.entries import Entry, Refused, from_row
from webapp.shoplog.rules.own_kinds import OWN_KINDS
from webapp.shoplog.views import projections
from webapp.shoplog.views.merged_vehicles import chief_of

ANYONE = "anyone"  # every paired phone and the desk
LEADS = "leads"

# Who may write a field of a kind of entry; `*` is every field that is not named. A kind without a
# row is the leads'.
WHO_WRITES: Mapping[str, Mapping[str, str]] = {
    "vehicle": {
        # For a blank tag a technician gives the name, units, driving side and axles.
        "*": ANYONE,
        # What a job measured goes on file once a lead accepts it.
        "drag_links": LEADS,
        "from_job": LEADS,
        "joint_limits": LEADS,
        "known_sums": LEADS,
        "last_rounds": LEADS,
        "links_older": LEADS,
        "rechecks": LEADS,
        "ride_heights": LEADS,
        "torques": LEADS,
        "track_bars": LEADS,
        # Written by no screen of a phone; readings bring their own face, method and tape.
        "face": LEADS,
        "method": LEADS,
        "rail_width": LEADS,
        "read_to": LEADS,
        "track": LEADS,
        "known_leans": LEADS,
        "left_open": LEADS,
        "remeasure": LEADS,
        "retired": LEADS,
        "replaced_tags": LEADS,
        "merged_into": LEADS,
    },
    "tag": {"*": ANYONE},
    "limit": {"*": LEADS},
    "job": {"*": ANYONE, "second_of": LEADS},
    "reading": {"*": ANYONE},
    "tick": {"*": ANYONE},
    "pick": {"*": ANYONE},
    "note": {"*": ANYONE},
    "confirm": {"*": ANYONE},
    "strike": {"*": ANYONE},
    "hand_in": {"*": ANYONE},
    "decision": {"*": LEADS},
    "pass_over": {"*": LEADS},
    "close_item": {"*": LEADS},
    "change": {"*": ANYONE},
    "photo": {"*": ANYONE},
    "plan": {"*": ANYONE},
}
REPLACEABLE = ("vehicle", "reading", "tick", "pick", "note", "change", "photo")
# Nobody strikes a strike of a strike that often; each one has to be followed to its end.
MAX_STRIKES = 50

# Whoever has no way in, never had one or lost it, decides nothing.
LEADS_HERE = """
SELECT id, name FROM people WHERE role = 'lead' AND (
    id IN (SELECT person FROM access WHERE passphrase_hash IS NOT NULL)
    OR id IN (SELECT person FROM passkeys)
    OR id IN (SELECT person FROM phones WHERE credential_hash IS NOT NULL AND revoked_at IS NULL)
) ORDER BY name
"""
MADE_ELSEWHERE = "SELECT 1 FROM entries WHERE vehicle = ? AND phone <> ? LIMIT 1"

TOO_OFTEN = (
    f"This was struck and brought back more than {MAX_STRIKES} times: record it again instead."
)
SHOP_PCS = "What the shop PC wrote itself stands: nobody strikes or replaces it."
OWN_WORK = "You opened, measured or handed in this job yourself"
TAG_IS_TAKEN = "The tag {code} is on another vehicle already: ask your lead to move it."


def must_be_allowed(
    db: sqlite3.Connection,
    entry: Entry,
    person: str,
    batch: Iterable[Entry] = (),
    as_lead: bool | None = None,
) -> None:
    """Raise Refused when this person may not do what the entry does.

    `batch` are the entries that came just before it and that no projection knows of yet, `as_lead`
    whether the person was a lead as it came in, where that was not just now.
    """
    must_replace_its_like(db, entry)
    settled = what_it_settles(db, entry)
    if not (is_lead(db, person) if as_lead is None else as_lead):
        must_be_for_anyone(entry, settled)
        must_leave_tags(db, entry, settled, batch)
    if any(each["kind"] == "decision" for each in settled):
        must_be_anothers_job(db, entry, person)


def who_writes(kind: str, field: str) -> str:
    """Who may write this field of an entry of this kind."""
    fields = WHO_WRITES.get(kind, {"*": LEADS})
    return fields.get(field, fields["*"])


def what_it_settles(db: sqlite3.Connection, entry: Entry) -> list[Entry]:
    """The entry, and each that it takes away or brings back, however many strikes lie between."""
    found, seen = [entry], {entry["id"]}
    target = crossed_out_by(entry)
    while target is not None and target not in seen:
        if len(found) > MAX_STRIKES:
            raise Refused(TOO_OFTEN)
        row = db.execute("SELECT * FROM entries WHERE id = ?", [target]).fetchone()
        if row is None:
            break
        if row["kind"] in OWN_KINDS:
            raise Refused(SHOP_PCS)
        seen.add(target)
        found.append(from_row(row))
        target = crossed_out_by(found[-1])
    return found


def is_lead(db: sqlite3.Connection, person: str) -> bool:
    """Whether this person is a lead at this moment."""
    row = db.execute("SELECT role FROM people WHERE id = ?", [person]).fetchone()
    return row is not None and row["role"] == "lead"


def must_be_for_anyone(entry: Entry, settled: list[Entry]) -> None:
    """Raise Refused when any of this is a lead's to write, or to take away or bring back."""
    for each in settled:
        kind = named(each["kind"])
        if each["kind"] == "confirm" and not each["job"]:
            raise Refused("Only a lead can confirm what is on file: ask yours.")
        if who_writes(each["kind"], "*") == LEADS:
            raise Refused(f"Only a lead can make or strike a {kind}: ask your lead.")
        for field in each["body"]:
            if who_writes(each["kind"], field) == LEADS and not is_empty(each, field):
                raise Refused(
                    f"Only a lead can set or strike a {kind}'s {named(field)}: ask yours."
                )


def is_empty(entry: Entry, field: str) -> bool:
    """Whether a job names no job that it is a second reading of, as older phones say by null."""
    return entry["kind"] == "job" and entry["body"][field] is None


def named(name: str) -> str:
    """A kind or a field as a sentence names it."""
    return name.replace("_", " ")


def must_leave_tags(
    db: sqlite3.Connection, entry: Entry, settled: list[Entry], batch: Iterable[Entry]
) -> None:
    """Raise Refused when a tag would be moved from one vehicle to another, or be taken off one.

    The first scan of a tag makes a vehicle where the phone knew of none, and that vehicle is then
    part of the one that the tag is on; a vehicle that others know already is not made by a scan.
    """
    for tag in settled:
        if tag["kind"] != "tag":
            continue
        if tag is not entry:
            if tag["phone"] != entry["phone"]:
                raise Refused("Only a lead takes off a tag that somebody else put on.")
            continue
        holder = holder_of(db, tag["body"]["code"], batch)
        if holder is None or holder == chief_of(db, tag["vehicle"]):
            continue
        known = db.execute(MADE_ELSEWHERE, [tag["vehicle"], tag["phone"]]).fetchone()
        if not tag["body"].get("first") or known is not None:
            raise Refused(TAG_IS_TAKEN.format(code=tag["body"]["code"]))


def holder_of(db: sqlite3.Connection, code: str, batch: Iterable[Entry]) -> str | None:
    """The vehicle that a tag leads to, also by an entry that came just now; None for a blank."""
    just_now = [e for e in batch if e["kind"] == "tag" and e["body"]["code"] == code]
    row = db.execute("SELECT vehicle FROM tags WHERE code = ?", [code]).fetchone()
    if row is not None:
        return str(row["vehicle"])
    return chief_of(db, just_now[0]["vehicle"]) if just_now else None


def must_be_anothers_job(db: sqlite3.Connection, entry: Entry, person: str) -> None:
    """Raise Refused when the person worked on this job and somebody else could decide.

    Where nobody else can, a decision gives its `own_reason`.
    """
    who = workers(standing(projections.entries_of_job(db, entry["job"])))
    others = [row["name"] for row in leads(db) if row["id"] not in {*who, person}]
    own_reason = (entry["body"].get("own_reason") or "").strip()
    if person not in who:
        return
    if others:
        raise Refused(f"{OWN_WORK}: let another lead decide, such as {others[0]}.")
    if entry["kind"] == "decision" and not own_reason:
        raise Refused(f"{OWN_WORK}, and nobody else can decide: say why it is accepted.")


def leads(db: sqlite3.Connection) -> list[dict[str, str]]:
    """The leads who can sign in or have a phone, by name: {id, name}."""
    return [dict(row) for row in db.execute(LEADS_HERE)]


def must_replace_its_like(db: sqlite3.Connection, entry: Entry) -> None:
    """Raise Refused when `replaces` names an entry of another kind, or one that needs a strike."""
    target = entry["body"].get("replaces")
    if target is None:
        return
    row = db.execute("SELECT kind FROM entries WHERE id = ?", [target]).fetchone()
    if entry["kind"] not in REPLACEABLE or (row is not None and row["kind"] != entry["kind"]):
        raise Refused(
            "An entry replaces only one of its own kind: strike the other one, "
            "then record this one without replacing."
        )
