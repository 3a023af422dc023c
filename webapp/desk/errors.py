"""What the desk shows when something is not there or cannot be taken, in its own look."""

from flask import Response, make_response, render_template
from werkzeug.exceptions import HTTPException, NotFound

from webapp import shoplog
from webapp.desk.blueprint import bp

TITLES = {400: "This could not be saved", 404: "Not in the log", 405: "Not in the log"}
SAYS = {
    404: "There is no page at this address. It may have been mistyped.",
    405: "There is no page at this address. It may have been mistyped.",
    500: "Something went wrong on the shop PC. Nothing from this request was saved.",
}


def page(status: int, says: str) -> Response:
    """An error page with this sentence."""
    title = TITLES.get(status, "This did not work")
    answer = make_response(render_template("desk/error.html", title=title, says=says), status)
    answer.headers["Cache-Control"] = "no-store"
    return answer


@bp.errorhandler(shoplog.NotFound)
def not_in_the_log(error: shoplog.NotFound) -> Response:
    """The log's own sentence about what it does not hold."""
    return page(404, str(error))


@bp.errorhandler(shoplog.LogError)
def log_trouble(error: shoplog.LogError) -> Response:
    """The log's own sentence about why it could not be read or written."""
    return page(503, str(error))


@bp.errorhandler(HTTPException)
def refused(error: HTTPException) -> Response:
    """A plain sentence instead of the protocol's."""
    status = error.code or 500
    return page(status, SAYS.get(status) or error.description or "")


@bp.route("/<path:_rest>")
def nowhere(_rest: str) -> Response:
    """Any other address below the desk's."""
    raise NotFound
