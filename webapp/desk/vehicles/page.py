"""The vehicles: list with search, one vehicle's history and file, and the forms that write it."""

import uuid

from flask import flash, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.asked_back import Asked
from webapp.desk.blueprint import bp
from webapp.desk.context import people, the_log
from webapp.desk.each import shown
from webapp.desk.forms import VehicleForm
from webapp.desk.jobs.job_view import JobView, Shelf, history_points
from webapp.desk.vehicles.history import over_time
from webapp.desk.vehicles.known_values import Known, known_values
from webapp.desk.vehicles.left_open import left_open
from webapp.desk.vehicles.manage import parts_of
from webapp.desk.vehicles.on_file import on_file
from webapp.desk.write import write_or_explain
from webapp.reckon.log.tags import current_tag
from webapp.reckon.sentences.decision_words import state_words
from webapp.reckon.sentences.tag_words import replaced_tag_sentence
from webapp.reckon.terms import AXLES
from webapp.shoplog.readable import UNREADABLE
from webapp.shoplog.rows import Row

# A page of the list, and the jobs whose findings a vehicle's page reckons.
MAX_LISTED = 40
MAX_JOBS = 24
FIELDS = ("name", "units", "driving_side", "note")
# So many vehicles with the words of a name are looked through for that very name.
MAX_ALIKE = 100
NAME_IS_TAKEN = (
    "There is a {name} already{tags}. Add what tells the two apart, such as a unit number."
)


@bp.route("/vehicles")
def vehicles() -> str:
    """The vehicles that fit the search, each with its last finding, tags and last job."""
    search = request.args.get("q", "").strip()
    retired, start = request.args.get("retired") == "yes", the_start()
    found = the_log().vehicles(search, retired, start, MAX_LISTED + 1)
    shelf = Shelf(found)
    lines, failed = shown(found[:MAX_LISTED], lambda row: vehicle_line(row, shelf))
    return render_template(
        "desk/vehicles.html",
        search=search,
        retired=retired,
        lines=lines,
        failed=failed,
        start=start,
        following=start + MAX_LISTED if len(found) > MAX_LISTED else None,
    )


def the_start() -> int:
    """How many lines of a list the address leaves out."""
    return min(max(0, request.args.get("from", 0, type=int)), 2**31)


def vehicle_line(row: Row, shelf: Shelf) -> Row:
    """One line of the list."""
    jobs = the_log().jobs(vehicle=row["id"], most=1)
    look = shelf.look_at(jobs[0]).reckoned() if jobs else None
    state = state_words(look.job) if look else None
    return {"vehicle": row, "look": look, "state": state}


@bp.route("/vehicles/<vehicle>")
def vehicle(vehicle: str) -> str:
    """One vehicle: history, what is on file, jobs, tags, and the form."""
    return vehicle_page(vehicle)


@bp.route("/vehicles/<vehicle>", methods=["POST"])
def change_vehicle(vehicle: str) -> AnyResponse:
    """Write what the form changed."""
    row, form = the_log().vehicle(vehicle), VehicleForm()
    if not form.validate() or not is_its_own(form, row["id"]):
        return make_response(vehicle_page(vehicle, form), 400)
    patch = patch_of(row["record"], form)
    if not patch:
        flash("Nothing was changed.")
    elif not write_or_explain([{"kind": "vehicle", "vehicle": vehicle, "body": patch}], form.name):
        return make_response(vehicle_page(vehicle, form), 400)
    else:
        flash("Saved: " + ", ".join(key.replace("_", " ") for key in patch) + ".")
    return redirect(url_for("desk.vehicle", vehicle=vehicle), 303)


@bp.route("/vehicles/new")
def new_vehicle() -> str:
    """The form for a vehicle that the log does not know."""
    return render_template(
        "desk/new_vehicle.html", form=VehicleForm(formdata=None, data=shops_own())
    )


@bp.route("/vehicles/new", methods=["POST"])
def add_vehicle() -> AnyResponse:
    """Put a new vehicle on file."""
    form = VehicleForm()
    vehicle = str(uuid.uuid4())
    body = {key: form[key].data for key in FIELDS}
    draft = {"kind": "vehicle", "vehicle": vehicle, "body": body}
    if form.validate() and is_its_own(form, vehicle) and write_or_explain([draft], form.name):
        flash(f"{form.name.data} was added. Print a tag for it next.")
        return redirect(url_for("desk.vehicle", vehicle=vehicle), 303)
    return make_response(render_template("desk/new_vehicle.html", form=form), 400)


def is_its_own(form: VehicleForm, vehicle: str) -> bool:
    """Whether no other vehicle in use has the name; the field says which one does."""
    name = form.name.data
    found = the_log().vehicles(name, retired=False, most=MAX_ALIKE)
    same = [row for row in found if row["name"].casefold() == name.casefold()]
    others = [row for row in same if row["id"] != vehicle]
    if others:
        tags = f", tag {', '.join(others[0]['tags'])}" if others[0]["tags"] else ""
        form.name.errors = [NAME_IS_TAKEN.format(name=others[0]["name"], tags=tags)]
    return not others


def shops_own() -> Row:
    """What a new vehicle is measured in and where its driver sits, as the shop set itself up."""
    chosen = the_log().settings()
    named = {"units": "shop_units", "driving_side": "shop_driving_side"}
    return {field: chosen[name] for field, name in named.items() if name in chosen}


def patch_of(record: Row, form: VehicleForm) -> Row:
    """What the form says differently from the record."""
    on_record = {"units": "mm", "driving_side": "left", "note": "", **record}
    return {key: form[key].data for key in FIELDS if form[key].data != on_record.get(key)}


def vehicle_page(
    vehicle: str,
    form: VehicleForm | None = None,
    known: list[Known] | None = None,
    far: Asked | None = None,
) -> str:
    """The page, with what was typed where a form is given.

    `far` is what is asked back about the distance after which an axle is to be measured again.
    """
    log, start = the_log(), the_start()
    row = log.vehicle(vehicle)
    shelf = Shelf([row])
    entries = shelf.past(row["id"]).entries
    jobs = log.jobs(vehicle=row["id"], start=start, most=MAX_JOBS + 1)
    looks, failed = shown(jobs[:MAX_JOBS], lambda job: with_history(shelf.look_at(job)))
    return render_template(
        "desk/vehicle.html",
        vehicle=row,
        looks=looks,
        failed=failed,
        unreadable=[entry for entry in entries if entry["kind"] == UNREADABLE],
        following=start + MAX_JOBS if len(jobs) > MAX_JOBS else None,
        histories=histories(looks),
        over_time=over_time(looks),
        left_open=left_open(row["id"], shelf),
        on_file=on_file(shelf.past(row["id"]).with_waiting(shelf.limit_entries), people()),
        parts=parts_of(entries, row["id"]),
        current=current_tag(row["record"]),
        replaced={code: replaced_tag_sentence(row["record"], code) for code in row["tags"]},
        axles=AXLES,
        known=known or known_values(row["record"]),
        far=far,
        form=form or VehicleForm(formdata=None, data=row["record"]),
    )


def with_history(look: JobView) -> JobView:
    """The job, once all that its vehicle's page shows of it was reckoned."""
    over_time([look.reckoned()])
    return look


def histories(looks: list[JobView]) -> list[Row]:
    """Per axle, the points of its history, newest first."""
    found: dict[str, list[Row]] = {}
    for look in looks:
        found.setdefault(look.job["axle"], []).extend(reversed(history_points(look)))
    return [{"axle": axle, "points": points} for axle, points in found.items() if points]
