"""The door's pages: the door itself, leaving, the demo's two ways in, pairing, health."""

from typing import Any

from flask import abort, current_app, jsonify, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.door import credentials
from webapp.door.blueprint import bp, on_to
from webapp.door.current import Row, sign_in, sign_out, the_log, the_person
from webapp.door.health import health as the_health
from webapp.door.refusals import SAYS, refuse
from webapp.door.throttle import Throttle
from webapp.shoplog import NotFound, OtherPerson

MOST_CODES_TRIED = 20


@bp.get("/")
def index() -> Response:
    """On to the desk for whoever is signed in, to the door for everybody else."""
    return on_to("/desk" if the_person() else url_for("door.enter"))


@bp.get("/door")
def enter() -> str:
    """The door: how to come in."""
    return door_page()


def door_page(name: str = "", says: str | None = None) -> str:
    """The door, with what was typed and what was wrong with it."""
    log = the_log()
    return render_template(
        "door.html",
        person=the_person(),
        demo=current_app.config["DEMO"],
        set_up=log.has_lead(),
        shop_name=log.settings().get("shop_name"),
        name=name,
        says=says,
    )


@bp.post("/door/demo/lead")
def demo_lead() -> Response:
    """Come in as the demo's lead."""
    sign_in(_first("lead"))
    return on_to("/desk")


@bp.post("/door/demo/technician")
def demo_technician() -> Response:
    """Open the app as a phone of one of the demo's technicians."""
    code = credentials.new_code(the_log(), _first("technician")["id"])
    return on_to(f"/app#pair={code}")


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
    return on_to(url_for("door.enter"))


@bp.post("/door/pair")
def pair() -> Response:
    """A credential for a pairing code: {v, server_id, epoch, phone, person, credential}."""
    asked = _asked()
    throttle: Throttle = current_app.extensions["throttle"]
    limits = {f"pairing {request.remote_addr}": MOST_CODES_TRIED}
    if throttle.wait(limits):
        refuse(429, *SAYS[429])
    log = the_log()
    try:
        known = asked.get("phone"), asked.get("holds_for")
        phone, person, credential = credentials.pair(log, asked["code"], *known)
    except OtherPerson as error:
        refuse(409, "holds_others", str(error))
    except NotFound as error:
        throttle.fail(limits)
        refuse(400, "bad_code", str(error))
    answer = {"v": 1, "server_id": log.server_id, "epoch": log.epoch, "credential": credential}
    return jsonify(**answer, phone={"id": phone["id"]}, person=person)


def _asked() -> dict[str, Any]:
    try:
        asked = request.get_json()
    except RecursionError:
        refuse(400, "bad_request", "The request is nested too deeply.")
    if not isinstance(asked, dict) or not isinstance(asked.get("code"), str):
        refuse(400, "bad_request", "A pairing code is missing.")
    if not isinstance(asked.get("phone"), str | None):
        refuse(400, "bad_request", "The phone is named by its id.")
    if not isinstance(asked.get("holds_for"), str | None):
        refuse(400, "bad_request", "The person is named by their id.")
    return asked


@bp.get("/health")
def health() -> Response:
    """How the service fares, for a monitor: 200 when all is well, 503 when somebody must act."""
    found = the_health()
    response = jsonify(found)
    response.status_code = 200 if found["state"] == "ok" else 503
    return response


@bp.get("/trusted")
def trusted() -> Response:
    """Nothing, to whoever trusts the shop's certificate enough to ask; other pages may ask too."""
    headers = {"Cross-Origin-Resource-Policy": "cross-origin"}
    return Response(status=204, headers=headers)
