"""A form sent with another session's CSRF token: shown again as filled in, with a new token.

A token ends with its session: a lead who signed out and in again in another tab has old forms open.
"""

from flask import current_app, flash, make_response, request, session
from flask_wtf.csrf import CSRFError
from werkzeug.datastructures import ImmutableMultiDict
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.context import the_log
from webapp.desk.errors import page
from webapp.desk.vehicles.known_form import as_typed
from webapp.desk.vehicles.page import vehicle_page

# Their forms find the old token at fault too, so that they write nothing and show what was typed.
CHECK_FOR_THEMSELVES = {
    *("add_person", "add_vehicle", "change_person", "change_set_up", "change_vehicle"),
    *("decision", "make_tags", "pass_over", "set_limit"),
}
KNOWN = "keep_known_values"
ON_A_VEHICLES_PAGE = {"close_item", KNOWN, "merge", "remeasure"}
AGAIN = (
    "This form was opened in another session. Nothing has been saved yet. What you typed is "
    "still here: check it, then send it again."
)
OLD_BUTTON = "This page was opened in another session. Nothing was done: reload it, then try again."


@bp.errorhandler(CSRFError)
def old_form(_: CSRFError) -> AnyResponse:
    """The page of the form with what was typed; a sentence where nothing could be typed."""
    try:
        return shown_again() or page(400, OLD_BUTTON)
    except Exception as fault:
        # Where the vehicle, say, is not in the log there is a page for that, and no form on it.
        session.pop("_flashes", None)
        return make_response(current_app.handle_user_exception(fault))


def shown_again() -> AnyResponse | None:
    """The page that the form stands on, as it was typed; None for a form of buttons alone."""
    endpoint, named = request.endpoint or "", request.view_args or {}
    name = endpoint.removeprefix("desk.")
    if name in CHECK_FOR_THEMSELVES:
        # None of a form that came here counts, whatever its own check would make of it.
        request.form = ImmutableMultiDict({**request.form.to_dict(flat=False), "csrf_token": [""]})
        flash(AGAIN)
        return make_response(current_app.view_functions[endpoint](**named))
    if name in ON_A_VEHICLES_PAGE:
        flash(AGAIN)
        vehicle = named["vehicle"]
        known = as_typed(the_log().vehicle(vehicle)["record"])[0] if name == KNOWN else None
        return make_response(vehicle_page(vehicle, known=known), 400)
    return None
