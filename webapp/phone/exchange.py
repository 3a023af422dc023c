"""Push and pull: phones hand in what they hold and read what is new in the log."""

import re
from datetime import UTC, datetime
from typing import Any

from flask import Blueprint, Flask, Response, current_app, jsonify, request

from webapp.door import csrf
from webapp.door.current import the_log, the_phone
from webapp.door.health import cert_expires
from webapp.door.refusals import refuse
from webapp.shoplog import ShopLog, forked_log, returned_entries
from webapp.shoplog.own_entries import SHOP_PC
from webapp.shoplog.rules.values import whole_number
from webapp.shoplog.views import missing_numbers

bp = Blueprint("exchange", __name__, url_prefix="/log")

VERSION = 1
MAX_PUSHED = 100
MAX_PULLED = 500
LARGEST = 2**53
NAME = re.compile(r"[0-9A-Za-z._-]{1,100}")

OTHER_SHOP = "This phone is paired with another shop. Nothing was accepted."
NEWER = "This phone's app is newer than the shop PC's: update Axlewright on the shop PC."


def init_app(app: Flask) -> None:
    """Take and give entries under /log; a credential in a header needs no form token."""
    csrf.exempt(bp)
    app.register_blueprint(bp)
    # Made before the first backup, so that a restored shop knows its own seals.
    returned_entries.seal_key(app.extensions["shoplog"])


@bp.post("/push")
def push() -> Response:
    """Take a batch; the answer names what became of each entry."""
    asked = _asked()
    log = the_log()
    if asked.get("server_id") != log.server_id:
        refuse(409, "other_shop", OTHER_SHOP)
    entries = _entries(asked)
    parted = forked_log.notice(log, log.epoch, asked.get("epoch"), asked.get("head"))
    answers = log.append(the_phone()["id"], entries, _report(asked))
    more = {"high_water": log.high_water(), "parted": parted}
    return reply(batch_id=asked["batch_id"], answers=answers, **more)


@bp.get("/pull")
def pull() -> Response:
    """A page of the log from `since` on, with everybody's names."""
    log = the_log()
    most = min(_number("most", MAX_PULLED), MAX_PULLED)
    page = log.pull(_number("since", 0), max(most, 1), _number("recent_until", 0))
    people = {**_people(log), log.server_id: {"name": SHOP_PC, "role": "shop"}}
    own = the_phone()["id"]
    page["entries"] = returned_entries.sealed_for_phones(log, page["entries"], own)
    return reply(**page, people=people)


def _people(log: ShopLog) -> dict[str, dict[str, Any]]:
    """Everybody by id: {name, role}, and the names `before` of whoever was renamed."""
    names = log.names_over_time()
    found: dict[str, dict[str, Any]] = {}
    for row in log.people():
        found[row["id"]] = {"name": row["name"], "role": row["role"]}
        older = dict.fromkeys(name for _, name in names.get(row["id"], []) if name != row["name"])
        if older:
            found[row["id"]]["before"] = list(older)
    return found


@bp.post("/hand_back")
def hand_back() -> Response:
    """Take back entries of others that this shop had before it was restored, by their seals."""
    asked = _asked()
    log = the_log()
    if asked.get("server_id") != log.server_id:
        refuse(409, "other_shop", OTHER_SHOP)
    answers = returned_entries.take_returned(log, _entries(asked), _names(asked))
    return reply(batch_id=asked["batch_id"], answers=answers, high_water=log.high_water())


@bp.get("/missing")
def missing() -> Response:
    """The phones of this phone's person with entries that never arrived, itself left out."""
    phone, log = the_phone(), the_log()
    rows = missing_numbers.made_and_here(log, phone["person"])
    shown = ("id", "name", "made", "here", "missing", "ranges", "pending_count")
    found = [{name: row[name] for name in shown} for row in rows if row["missing"]]
    others = [row for row in found if row["id"] != phone["id"]]
    return reply(phones=others, high_water=log.high_water())


def reply(**more: Any) -> Response:
    log = the_log()
    now = datetime.now(UTC).isoformat(timespec="milliseconds")
    head = {"v": VERSION, "server_id": log.server_id, "epoch": log.epoch, "server_time": now}
    reach = {"cert_expires": cert_expires(), "address": current_app.config.get("ADDRESS")}
    return jsonify(**head, **reach, head=forked_log.head_of(log), usual=usual(log), **more)


def usual(log: ShopLog) -> dict[str, str] | None:
    """What the shop chose for new vehicles, {units, driving_side}; None until it is set up."""
    chosen, names = log.settings(), ("units", "driving_side")
    if not all(f"shop_{name}" in chosen for name in names):
        return None
    return {name: chosen[f"shop_{name}"] for name in names}


def _asked() -> dict[str, Any]:
    """The question as an object of a version that is spoken here, with its batch id."""
    asked = _json()
    if not isinstance(asked, dict):
        refuse(400, "bad_request", "A batch is a JSON object.")
    if asked.get("v") != VERSION:
        refuse(415, "other_version", NEWER)
    if not _is_name(asked.get("batch_id")):
        refuse(400, "bad_request", "The batch has no batch_id.")
    return asked


def _json() -> Any:
    try:
        return request.get_json()
    except RecursionError:
        refuse(400, "bad_request", "The batch is nested too deeply.")


def _entries(asked: dict[str, Any]) -> list[Any]:
    entries = asked.get("entries")
    if not isinstance(entries, list):
        refuse(400, "bad_request", "The batch has no list of entries.")
    if len(entries) > MAX_PUSHED:
        refuse(413, "too_large", f"A batch holds at most {MAX_PUSHED} entries.")
    return entries


def _names(asked: dict[str, Any]) -> dict[str, str]:
    """The names of people as the phone knows them, by id."""
    people = asked.get("people")
    rows = people.items() if isinstance(people, dict) else ()
    return {person: name for person, name in rows if isinstance(name, str)}


def _report(asked: dict[str, Any]) -> dict[str, Any]:
    """What the phone says of itself; what makes no sense is left out, as the entries count more."""
    counts = ("pending_count", "last_local_no")
    report = {name: asked[name] for name in counts if _is_count(asked.get(name))}
    if _is_name(asked.get("build")):
        report["build"] = asked["build"]
    if _is_time(asked.get("oldest_pending_at")):
        report["oldest_pending_at"] = asked["oldest_pending_at"]
    return report


def _is_name(value: Any) -> bool:
    return isinstance(value, str) and NAME.fullmatch(value) is not None


def _is_count(value: Any) -> bool:
    return type(value) is int and 0 <= value < LARGEST


def _is_time(value: Any) -> bool:
    try:
        return isinstance(value, str) and datetime.fromisoformat(value).tzinfo is not None
    except ValueError:
        return False


def _number(name: str, otherwise: int) -> int:
    """A whole number of the query."""
    text = request.args.get(name, str(otherwise))
    number = whole_number(text)
    if number is None or number >= LARGEST:
        refuse(400, "bad_request", f"{name} must be a whole number below {LARGEST}.")
    return number
