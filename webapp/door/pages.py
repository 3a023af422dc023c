"""The door's pages: signing in, signing out, health."""

from flask import current_app, jsonify, render_template, url_for
from werkzeug.wrappers import Response

from webapp.door.blueprint import bp, on_to
from webapp.door.current import the_log, the_person
from webapp.door.health import health as the_health
from webapp.door.sessions import end_session

MAX_CODES_TRIED = 20


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


@bp.post("/door/leave")
def leave() -> Response:
    """Sign out."""
    end_session()
    return on_to(url_for("door.enter"))


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
