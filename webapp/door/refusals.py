"""Every refusal in one of two shapes: JSON for the phone, a page in words for people."""

from typing import NoReturn

from flask import Flask, Response, jsonify, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from webapp.shoplog import LogBusy, LogFull, NotFound

SAYS = {
    400: ("bad_request", "The service could not understand this request."),
    401: ("signed_out", "You are signed out."),
    403: ("not_allowed", "You are not allowed to do this."),
    404: ("not_found", "There is nothing at this address."),
    405: ("wrong_method", "This address does not accept that method."),
    413: ("too_large", "That is too large: send it in smaller parts."),
    408: ("too_slow", "The request did not arrive completely in time."),
    415: ("not_json", "The service accepts only JSON here."),
    429: ("too_often", "Too many tries. Wait a moment, then try again."),
    503: ("busy", "The shop PC has too much to do. Wait a moment, then try again."),
    500: ("fault", "Something went wrong on the shop PC. Nothing from this request was saved."),
}
OLD_FORM = "This form was opened in another session. Go back, reload the page and send it again."


class Refusal(Exception):
    """A request that is turned away: status, code for the program, sentence for the person."""

    def __init__(self, status: int, code: str, says: str) -> None:
        super().__init__(says)
        self.status = status
        self.code = code
        self.says = says


def refuse(status: int, code: str, says: str) -> NoReturn:
    """Turn the request away."""
    raise Refusal(status, code, says)


def init_app(app: Flask) -> None:
    """Answer everything that goes wrong in one of the two shapes."""
    app.register_error_handler(Refusal, lambda error: answer(error.status, error.code, error.says))
    app.register_error_handler(CSRFError, lambda _: answer(400, "old_form", OLD_FORM))
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(NotFound, lambda error: answer(404, "not_found", str(error)))
    app.register_error_handler(LogFull, lambda error: answer(507, "shop_full", str(error)))
    app.register_error_handler(LogBusy, _busy)


def answer(status: int, code: str, says: str) -> Response:
    """The refusal in the shape that fits whoever asked."""
    if request.path.startswith("/log/") or request.path == "/door/pair":
        response = jsonify(error={"code": code, "says": says})
    else:
        typed = typed_in() if code == "signed_out" else []
        response = Response(render_template("refused.html", says=says, typed=typed))
    response.status_code = status
    return response


def typed_in() -> list[tuple[str, str]]:
    """(field, value) of a form that was sent, to be sent again; nothing where it cannot be read."""
    try:
        return [pair for pair in request.form.items(multi=True) if pair[0] != "csrf_token"]
    except HTTPException:
        return []


def _http(error: HTTPException) -> Response:
    status = error.code or 500
    response = answer(status, *SAYS.get(status, SAYS[400 if status < 500 else 500]))
    for name, value in error.get_headers():
        if name == "Allow":
            response.headers[name] = value
    return response


def _busy(error: LogBusy) -> Response:
    response = answer(503, "busy", str(error))
    response.headers["Retry-After"] = "2"
    return response
