"""What the lead settles about a vehicle's record: retired, tags replaced, two made one."""

from flask import flash, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.tags.codes import new_code
from webapp.desk.write import Draft, NotWritten, write
from webapp.reckon.log import fold
from webapp.reckon.sentences.tag_words import replaced_tag_sentence
from webapp.shoplog import NotFound
from webapp.shoplog.rows import Row

NO_OTHER = "No other vehicle has that tag code or exactly that name. Nothing was merged."
SEVERAL = "Several vehicles have that name: enter the tag code of the one you mean."


def settle(vehicle: str, drafts: list[Draft], says: str) -> AnyResponse:
    """Write the drafts, say what was done or the log's reason, and show the vehicle."""
    try:
        write(drafts)
        flash(says)
    except NotWritten as error:
        flash(str(error))
    return redirect(url_for("desk.vehicle", vehicle=vehicle), 303)


def back_with(vehicle: str, says: str) -> AnyResponse:
    """Show the vehicle with a sentence about why nothing was written."""
    flash(says)
    return redirect(url_for("desk.vehicle", vehicle=vehicle), 303)


def patch(vehicle: str, body: Row) -> Draft:
    """A patch of the vehicle's record."""
    return {"kind": "vehicle", "vehicle": vehicle, "body": body}


@bp.route("/vehicles/<vehicle>/retire", methods=["POST"])
def retire(vehicle: str) -> AnyResponse:
    """Retire the vehicle, or take it back; its record and its jobs stay."""
    row = the_log().vehicle(vehicle)
    back = request.form.get("retired") == "no"
    says = "back in use." if back else "retired. Its record and its jobs stay."
    return settle(row["id"], [patch(row["id"], {"retired": not back})], f"{row['name']}: {says}")


@bp.route("/vehicles/<vehicle>/tag", methods=["POST"])
def replace_tag(vehicle: str) -> AnyResponse:
    """Give the vehicle another tag in place of one, or note that one is lost."""
    row, code = the_log().vehicle(vehicle), request.form.get("code", "")
    if code not in row["tags"]:
        return back_with(row["id"], f"{row['name']} has no tag {code}.")
    counts_no_more = replaced_tag_sentence(row["record"], code)
    if counts_no_more:
        return back_with(row["id"], f"{code}: nothing was changed. {counts_no_more}")
    lost = "lost" in request.form
    fresh = None if lost else new_code()
    replaced = {**row["record"].get("replaced_tags", {}), code: {"by": fresh}}
    drafts = [patch(row["id"], {"replaced_tags": replaced})]
    if fresh is None:
        return settle(
            row["id"], drafts, f"{code} is marked as lost. Anyone who scans it is told so."
        )
    drafts.append({"kind": "tag", "vehicle": row["id"], "body": {"code": fresh}})
    return settle(row["id"], drafts, f"{fresh} replaces {code}. Print it next.")


@bp.route("/vehicles/<vehicle>/merge", methods=["POST"])
def merge(vehicle: str) -> AnyResponse:
    """Make another record part of this vehicle: both were the same vehicle all along."""
    row = the_log().vehicle(vehicle)
    others = others_named(request.form.get("other", "").strip(), row["id"])
    if len(others) != 1:
        return back_with(row["id"], SEVERAL if others else NO_OTHER)
    other = others[0]
    says = f"{other['name'] or 'The other record'} and {row['name']} are now one vehicle."
    return settle(row["id"], [patch(other["id"], {"merged_into": row["id"]})], says)


def others_named(text: str, own: str) -> list[Row]:
    """The other vehicles with this tag code or exactly this name."""
    log = the_log()
    try:
        found = [log.vehicle_by_tag(text)]
    except NotFound:
        found = [row for row in log.vehicles(text, most=100) if row["name"] == text]
    return [row for row in found if text and row["id"] != own]


@bp.route("/vehicles/<vehicle>/part", methods=["POST"])
def part(vehicle: str) -> AnyResponse:
    """Part two records again that were made one: the entry that said so is struck."""
    log = the_log()
    row, entry = log.vehicle(vehicle), log.entry(request.form.get("entry", ""))
    if "merged_into" not in entry["body"] or entry["vehicle"] == row["id"]:
        return back_with(row["id"], "That record was not merged into this vehicle.")
    body = {"target": entry["id"], "reason": "They are two vehicles after all."}
    draft = {"kind": "strike", "vehicle": entry["vehicle"], "body": body}
    return settle(row["id"], [draft], "They are two vehicles again.")


def parts_of(entries: list[Row], vehicle: str) -> list[Row]:
    """The records that the lead made part of a vehicle: {entry, name}."""
    stand = fold.standing(entries)
    merging = [e for e in fold.of_kind(stand, "vehicle") if e["body"].get("merged_into")]
    return [
        {"entry": each["id"], "name": name_under(stand, each["vehicle"])}
        for each in merging
        if each["vehicle"] != vehicle
    ]


def name_under(stand: list[Row], vehicle: str) -> str:
    """What a record was called that is part of another now."""
    own = [entry for entry in stand if entry["vehicle"] == vehicle]
    return str(fold.fold_vehicle(own).get("name") or "an unnamed record")
