"""Tags: choosing which to print, giving vehicles their codes, and the sheet of labels."""

import re
from typing import Any
from urllib.parse import urlsplit

from flask import abort, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse
from wtforms import SelectChoice

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.forms import GridForm, TagForm
from webapp.desk.tags.codes import new_code, vehicle_name
from webapp.desk.tags.labels import PAPERS, Grid, pages
from webapp.desk.write import NotWritten, write
from webapp.door.address import canonical
from webapp.reckon.log.tags import current_tag
from webapp.shoplog.rows import Row

CODE = re.compile(r"[0-9A-Z]{4}-[0-9A-Z]{4}")
MAX_TAGS = 400
# Vehicles to choose from at once; the search finds the others.
MAX_LISTED = 200
ONLY_HERE = ("localhost", "127.0.0.1", "::1")
GRID_FIELDS = ("paper", "columns", "rows", "side", "top", "across", "down", "skip")


@bp.route("/tags")
def tags() -> str:
    """The form: which vehicles, how many blank tags, and the label sheet."""
    return tags_page(tag_form(formdata=None, data={"vehicles": request.args.getlist("vehicle")}))


@bp.route("/tags", methods=["POST"])
def make_tags() -> AnyResponse:
    """Give codes to vehicles without one and to blank tags; on to the sheet of labels."""
    form = tag_form()
    if "find" in request.form:
        return make_response(tags_page(form))
    if not (form.validate() and grid_holds(form) and something_chosen(form)):
        return make_response(tags_page(form), 400)
    try:
        codes = codes_for(form.vehicles.data) + [new_code() for _ in range(form.blank.data)]
    except NotWritten as error:
        form.vehicles.errors = [str(error)]
        return make_response(tags_page(form), 400)
    grid = {name: form[name].data for name in GRID_FIELDS}
    return redirect(url_for("desk.tag_sheet", tag=codes, **grid), 303)


@bp.route("/tags/sheet")
def tag_sheet() -> str:
    """The labels of the codes in the address, ready to print."""
    codes = request.args.getlist("tag")[:MAX_TAGS]
    form = GridForm(formdata=request.args, meta={"csrf": False})
    if not all(CODE.fullmatch(code) for code in codes) or not form.validate():
        abort(400, "This address does not describe a sheet of labels. Start again from Tags.")
    grid = grid_of(form)
    if grid.fault:
        abort(400, grid.fault)
    return render_template(
        "desk/tag_sheet.html",
        pages=pages(grid, [tag_of(code) for code in codes], form.skip.data or 0),
        grid=grid,
        size=PAPERS[grid.paper],
        address=canonical(),
        only_here=urlsplit(canonical()).hostname in ONLY_HERE,
    )


def tag_form(**options: Any) -> TagForm:
    """The form, with the chosen vehicles as choices before those that fit the search."""
    form = TagForm(**options)
    log = the_log()
    chosen = [log.vehicle(row["id"]) for row in log.vehicles_named(form.vehicles.data or [])]
    found = log.vehicles(request.values.get("q", ""), retired=False, most=MAX_LISTED + 1)
    ids = {row["id"] for row in chosen}
    listed = [*chosen, *(row for row in found[:MAX_LISTED] if row["id"] not in ids)]
    form.vehicles.choices = [SelectChoice(row["id"], row["name"] or "unnamed") for row in listed]
    form.codes = {row["id"]: row["tags"] for row in listed}
    form.there_are_more = len(found) > MAX_LISTED
    return form


def tags_page(form: TagForm) -> str:
    """The page around the form."""
    search = request.values.get("q", "").strip()
    return render_template("desk/tags.html", form=form, address=canonical(), search=search)


def grid_of(form: GridForm) -> Grid:
    """The label sheet that the form describes."""
    return Grid(*(form[name].data for name in GRID_FIELDS[:-1]))


def grid_holds(form: TagForm) -> bool:
    """Whether labels of this grid are large enough; says so at the columns when not."""
    fault = grid_of(form).fault
    if fault:
        form.columns.errors = [fault]
    return fault is None


def something_chosen(form: TagForm) -> bool:
    """Whether there is anything to print, and not too much; says so at the vehicles when not."""
    number: int = len(form.vehicles.data) + form.blank.data
    if number == 0:
        form.vehicles.errors = ["Choose a vehicle, or enter how many blank tags to print."]
    if number > MAX_TAGS:
        form.vehicles.errors = [f"That is {number} tags: print at most {MAX_TAGS} at once."]
    return 0 < number <= MAX_TAGS


def codes_for(vehicles: list[str]) -> list[str]:
    """The tag code of each vehicle that counts now; those without one are given one."""
    log = the_log()
    codes = {vehicle: current_tag(log.vehicle(vehicle)["record"]) for vehicle in vehicles}
    drafts = []
    for vehicle in [vehicle for vehicle, code in codes.items() if code is None]:
        codes[vehicle] = new_code()
        drafts.append({"kind": "tag", "vehicle": vehicle, "body": {"code": codes[vehicle]}})
    if drafts:
        write(drafts)
    return [code for code in codes.values() if code is not None]


def tag_of(code: str) -> Row:
    """What a label shows of a code."""
    address = f"{canonical()}/t/{code}"
    return {"code": code, "name": vehicle_name(code) or "", "address": address}
