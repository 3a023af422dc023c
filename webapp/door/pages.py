"""The door's pages: signing in, signing out, health."""

from flask import current_app, jsonify, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.door.blueprint import bp, on_to
from webapp.door.current import the_log
from webapp.door.health import health as the_health
from webapp.door.localhost import is_this_computer
from webapp.door.passkeys import are_possible
from webapp.door.sessions import end_session, signed_out, the_person


@bp.get("/")
def index() -> Response:
    """A redirect: to the desk if somebody is signed in, otherwise to the sign-in page."""
    return on_to("/desk" if the_person() else url_for("door.enter"))


@bp.get("/door")
def enter() -> str:
    """The sign-in page."""
    return door_page()


def door_page(name: str = "", says: str | None = None) -> str:
    """The sign-in page, with what was typed and what was wrong with it."""
    log = the_log()
    return render_template(
        "door.html",
        person=the_person(),
        demo=current_app.config["DEMO"],
        set_up=log.has_lead(),
        passkeys=are_possible() and log.has_passkeys(),
        shop_name=log.settings().get("shop_name"),
        name=name,
        says=says,
    )


@bp.post("/door/sign-out")
def sign_out() -> Response:
    """Sign out."""
    end_session()
    return signed_out(on_to(url_for("door.enter")))


@bp.get("/health")
def health() -> Response:
    """The state of the service for a monitor: 200 if all is well, 503 if somebody must act.

    What the matter is, is told to this computer and to leads; strangers learn the state alone.
    """
    found = the_health()
    person = the_person()
    may_know = is_this_computer(request.remote_addr or "") or (person or {}).get("role") == "lead"
    response = jsonify(found if may_know else {"state": found["state"]})
    response.status_code = 200 if found["state"] == "ok" else 503
    return response


@bp.get("/trusted")
def trusted() -> Response:
    """An empty answer, which a browser gets only if it trusts the certificate; any site may ask."""
    headers = {"Cross-Origin-Resource-Policy": "cross-origin"}
    return Response(status=204, headers=headers)
