"""The demo's two ways in, with no passphrase: as the lead, and as a technician's phone."""

from flask import abort, current_app
from werkzeug.wrappers import Response

from webapp.door.blueprint import bp, on_to
from webapp.door.current import the_log
from webapp.door.pairing import new_pairing_code
from webapp.door.sessions import start_session
from webapp.shoplog.rows import Row


@bp.post("/door/demo/lead")
def demo_lead() -> Response:
    """Come in as the demo's lead."""
    start_session(_first("lead"), "demo")
    return on_to("/desk")


@bp.post("/door/demo/technician")
def demo_technician() -> Response:
    """Open the app as a phone of one of the demo's technicians."""
    code = new_pairing_code(the_log(), _first("technician")["id"])
    return on_to(f"/app#pair={code}")


def _first(role: str) -> Row:
    """The first of the demo's people with this role; there is none where no demo runs."""
    found = [person for person in the_log().people() if person["role"] == role]
    if not current_app.config["DEMO"] or not found:
        abort(404)
    return found[0]
