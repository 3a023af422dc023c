"""The access log: who came in and how, and who changed that, in words for every lead."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

from flask import render_template, request, session

from webapp.desk.blueprint import bp
from webapp.desk.context import Names, current_person, people, the_log
from webapp.desk.formats import shop_time, when
from webapp.door.localhost import is_this_computer
from webapp.door.sessions import TELL
from webapp.reckon.numbers import counted
from webapp.shoplog.rows import Row
from webapp.shoplog.rules.values import is_id, whole_number

PAGE = 100
# Whoever made a link in somebody's name can sign in with it first: reading must not end the notice.
TOLD_FOR = timedelta(days=30)
MOST_TOLD = 8
WAYS = {
    "passphrase": "with a passphrase",
    "passkey": "with a passkey",
    "link": "with a link",
    "demo": "by the demo's button",
}
# What a line says at least that another version wrote without these fields.
UNCOUNTED: Row = {"count": 1, "names": ["unknown"], "sources": ["unknown"]}
ROLES = {"lead": "a lead", "technician": "a technician"}
SAYS = {
    "signed_in": "{who} signed in {how}, {place}.",
    "signed_out": "{who} signed out.",
    "signed_out_everywhere": "{who} signed out everywhere.",
    "sign_in_failed": "{tries} from {since} on. Names tried: {names}. From: {sources}.",
    "link_made": "{who} made a link for {whom} to choose a passphrase.",
    "link_used": "The link that {who} made for {whom} was used, {place}.",
    "passphrase_set": "A passphrase was chosen for {whom}.",
    "passphrase_removed": "{who} took away the passphrase of {whom}.",
    "passkey_added": "{who} added the passkey {called}.",
    "passkey_removed": "{who} removed the passkey {called}.",
    "pairing_code_made": "{who} made a code to pair a phone for {whom}.",
    "phone_paired": "{called} was paired for {whom}.",
    "phone_revoked": "{who} revoked {called} of {whom}.",
    "restored": "A backup of the log was put back.",
    "keys_changed": "The keys of cookies, forms and seals were changed.",
}


@bp.route("/door")
def door_log() -> str:
    """The access log, the last first, by person and days."""
    asked = {name: request.args.get(name, "") for name in ("person", "since", "until")}
    person = asked["person"] if is_id(asked["person"]) else None
    days = {name: asked[name] for name in ("since", "until") if is_day(asked[name])}
    before = whole_number(request.args.get("before", ""))
    failed = the_log().failed_sign_ins()
    found = the_log().door_entries(person, before=before, most=PAGE, **days)
    return render_template(
        "desk/door_log.html",
        asked=asked,
        everybody=the_log().people(),
        lines=lines_of(found),
        failed=None if failed is None or before or person else failed_sentence(failed),
        older=found[-1]["seq"] if len(found) == PAGE else None,
    )


def lines_of(entries: list[Row]) -> list[Row]:
    """Each entry as {at, says}."""
    names, earlier = people(), the_log().own_before()
    return [
        {"at": entry["made_at"], "says": capital(sentence_of(entry, names, earlier))}
        for entry in entries
    ]


def told_at_sign_in() -> list[str]:
    """What others did to this lead's ways in, on the first page after each sign-in."""
    if not session.pop(TELL, False):
        return []
    own = current_person()["id"]
    since = (datetime.now(UTC) - TOLD_FOR).date().isoformat()
    names, earlier = people(), the_log().own_before()
    entries = the_log().door_entries(own, since=since)
    theirs = [entry for entry in entries if is_by_others(entry, own, earlier)]
    return [
        f"{when(entry['made_at'])}: {capital(sentence_of(entry, names, earlier))}"
        for entry in theirs[:MOST_TOLD]
    ]


def is_by_others(entry: Row, own: str, earlier: Callable[[Row], Row | None]) -> bool:
    """Whether somebody else did this to a person's name, role or ways in."""
    body = entry["body"]
    if entry["kind"] == "person":
        return bool(body["person"] == own and own != entry["person"]) and earlier(entry) is not None
    return bool(entry["kind"] == "door" and body.get("about") == own != entry["person"])


def sentence_of(entry: Row, names: Names, earlier: Callable[[Row], Row | None]) -> str:
    """What one entry of the door says; names are those of that time."""
    body, at = entry["body"], entry["made_at"]
    who = names.then(entry["person"], at)
    if entry["kind"] == "person":
        return person_sentence(entry, who, earlier(entry))
    if entry["kind"] == "setting":
        name = body["name"].removeprefix("shop_").replace("_", " ")
        return f"{who} set {name} to {body['value'] or 'nothing'}."
    if entry["kind"] != "door":
        return str(body["says"])
    if body["event"] == "sign_in_failed":
        return failed_sentence({**UNCOUNTED, "since": entry["received_at"], **body})
    words = {
        "who": who,
        "whom": names.then(body["about"], at) if body.get("about") else "nobody",
        "how": WAYS.get(body.get("how", ""), body.get("how", "")),
        "place": place_of(body.get("source", "")),
        "called": body.get("called", "a phone"),
    }
    return SAYS[body["event"]].format(**words)


def capital(sentence: str) -> str:
    """A sentence with its first letter as one."""
    return sentence[:1].upper() + sentence[1:]


def person_sentence(entry: Row, who: str, was: Row | None) -> str:
    """That somebody was added, is called otherwise, or may do more or less."""
    body = entry["body"]
    if was is None:
        return f"{who} added {body['name']} as {ROLES[body['role']]}."
    told = []
    if was["name"] != body["name"]:
        told.append(f"{who} changed the name {was['name']} to {body['name']}.")
    if was["role"] != body["role"]:
        told.append(f"{who} made {body['name']} {ROLES[body['role']]}.")
    return " ".join(told) or f"{body['name']} is {ROLES[body['role']]}, as before."


def failed_sentence(counts: Any) -> str:
    """How many sign-ins failed since when, under which names and from where."""
    return SAYS["sign_in_failed"].format(
        tries=counted(counts["count"], "failed sign-in"),
        since=when(shop_time(counts["since"])),
        names=", ".join(name or "none" for name in counts["names"]),
        sources=", ".join(counts["sources"]),
    )


def place_of(source: str) -> str:
    """From where somebody came."""
    return "on the shop PC" if is_this_computer(source) else f"at {source or 'an unknown address'}"


def is_day(text: str) -> bool:
    """Whether this is a day as a form sends it."""
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2026-11-25")
