"""What is not here: entries that phones made and never sent, clashes, and how old the backup is."""

from datetime import UTC, datetime

from flask import render_template

from webapp.desk.blueprint import bp
from webapp.desk.context import Names, build, people, phones, the_log
from webapp.desk.formats import span
from webapp.maintenance import backups
from webapp.reckon.numbers import counted
from webapp.reckon.sentences.entry_words import entry_sentence
from webapp.shoplog.rows import Row
from webapp.shoplog.views.missing_numbers import made_and_here

STALE_AFTER_DAYS = 2
NO_BACKUP = "No backup has been made yet. Run `axlewright backup` on the shop PC."
SAME_DISK = (
    "Every copy is on the disk of the log itself, and gone with it: have one made on another disk "
    "with `axlewright serve --backup-also FOLDER`."
)


@bp.route("/missing")
def missing() -> str:
    """Every phone with what it made and what is here, what was set aside, and the last backup."""
    return render_template("desk/missing.html", **what_is_missing())


def what_is_missing() -> Row:
    """{phones, aside, backup}: rows and sentences for the page, or for a part of another one."""
    log, now = the_log(), datetime.now(UTC)
    names, called = people(), phones()
    return {
        "phones": [phone_row(row, now) for row in made_and_here(log) if row["made"]],
        "aside": [aside_row(row, names, called) for row in log.quarantined()],
        "backup": backup_says(backups.last(log.folder), now),
    }


def phone_row(row: Row, now: datetime) -> Row:
    """One phone's row, with what is missing and what it says of that in words."""
    desk = row["kind"] == "desk"
    heard = span(row["last_contact"], now) if row["last_contact"] and not desk else None
    return {
        **row,
        "name": "the desk" if desk else row["name"],
        "heard": heard,
        "numbers": numbers_in_words(row["ranges"]),
        "says": held_says(row),
        "behind": bool(row["build"]) and not desk and row["build"] != build(),
    }


def numbers_in_words(ranges: list[list[int]]) -> str:
    """Running numbers as people list them: 4, 7 to 8."""
    spans = [str(a) if a == b else f"{a} to {b}" for a, b in ranges]
    return ", ".join(spans)


def held_says(row: Row) -> str:
    """What becomes of the missing ones: still on the phone, or not even there as far as it says."""
    if not row["missing"]:
        return "All received."
    held = min(row["pending_count"] or 0, row["missing"])
    waits = f"It reported that it still has {held}." if held else ""
    lost = row["missing"] - held
    gone = (
        f"It does not mention {counted(lost, 'entry', 'entries')}: not accepted here, or lost with "
        "the phone's storage. Ask, and measure again."
        if lost
        else ""
    )
    return " ".join(filter(None, [waits, gone]))


def aside_row(row: Row, names: Names, called: dict[str, str]) -> Row:
    """An entry that came with the id of a stored one and other content, beside that one."""
    log = the_log()
    first = log.entry(row["entry"]["id"])
    second = {**row["entry"], "person": first["person"], "received_at": row["received_at"]}
    return {
        "phone": called.get(row["phone"], "an unknown phone"),
        "who": names.then(first["person"], first["made_at"]),
        "at": row["received_at"],
        "first": in_words(first),
        "second": in_words(second),
    }


def in_words(entry: Row) -> str:
    """What an entry says, and what was typed for it."""
    says = str(entry_sentence(entry, None, "mm"))
    return f"{says}, typed {entry['typed']}" if entry["typed"] else says


def backup_says(last: Row | None, now: datetime) -> Row:
    """How old the last good backup is, and whether somebody has to act."""
    if last is None or (last["good"] is None and last["fault"] is None):
        return {"says": NO_BACKUP, "act": True}
    fault = f"The last try failed: {last['fault']}" if last["fault"] else ""
    if last["good"] is None:
        return {"says": fault, "act": True}
    age = f"The last backup was made {span(last['good'], now)} ago."
    old = (now - datetime.fromisoformat(last["good"])).days >= STALE_AFTER_DAYS
    near = SAME_DISK if last.get("same_disk") else ""
    return {"says": " ".join(filter(None, [age, fault, near])), "act": bool(fault) or old}
