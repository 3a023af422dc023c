"""The door's pages: coming in and leaving at the desk, and pairing a phone."""

from typing import Any

from flask import (
    Blueprint,
    abort,
    current_app,
    jsonify,
    redirect,
    render_template,
    request,
    url_for,
)
from werkzeug.wrappers import Response

from webapp.door import credentials
from webapp.door.here import Row, sign_in, sign_out, the_log, the_person
from webapp.door.refusals import refuse
from webapp.shoplog import NotFound

bp = Blueprint("door", __name__, template_folder="templates")


@bp.get("/")
def index() -> Response:
    """On to the desk for whoever is signed in, to the door for everybody else."""
    return redirect("/desk" if the_person() else url_for("door.enter"), 303)


@bp.get("/door")
def enter() -> str:
    """The door: how to come in."""
    return render_template("door.html", person=the_person(), demo=current_app.config["DEMO"])


@bp.post("/door/demo/lead")
def demo_lead() -> Response:
    """Come in as the demo's lead."""
    sign_in(_first("lead"))
    return redirect("/desk", 303)


@bp.post("/door/demo/technician")
def demo_technician() -> Response:
    """Open the app as a phone of one of the demo's technicians."""
    code = credentials.new_code(the_log(), _first("technician")["id"])
    return redirect(f"/app#pair={code}", 303)


def _first(role: str) -> Row:
    """The first of the demo's people with this role; there is none where no demo runs."""
    found = [person for person in the_log().people() if person["role"] == role]
    if not current_app.config["DEMO"] or not found:
        abort(404)
    return found[0]


@bp.post("/door/leave")
def leave() -> Response:
    """Sign out."""
    sign_out()
    return redirect(url_for("door.enter"), 303)


@bp.post("/door/pair")
def pair() -> Response:
    """A credential for a pairing code: {v, server_id, epoch, phone, person, credential}."""
    asked = _asked()
    log = the_log()
    try:
        phone, person, credential = credentials.pair(log, asked["code"], asked.get("phone"))
    except NotFound as error:
        refuse(400, "bad_code", str(error))
    answer = {"v": 1, "server_id": log.server_id, "epoch": log.epoch, "credential": credential}
    return jsonify(**answer, phone={"id": phone["id"]}, person=person)


def _asked() -> dict[str, Any]:
    asked = request.get_json()
    if not isinstance(asked, dict) or not isinstance(asked.get("code"), str):
        refuse(400, "bad_request", "A pairing code is missing.")
    return asked
