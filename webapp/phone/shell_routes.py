"""The app's page and files over HTTP: the same bytes for everybody, so that phones keep them."""

from pathlib import Path

from flask import Blueprint, Flask, Response, abort, current_app, jsonify, request

from webapp.phone.builds import Builds
from webapp.phone.shell_files import PACKERS, Asset, Shell, packed, static_folder

bp = Blueprint("shell", __name__)

FOR_EVER = "public, max-age=31536000, immutable"


def init_app(app: Flask) -> None:
    """Gather the shell and serve it; templates get `shell_url`."""
    shell = Shell(Path(app.config.get("STATIC") or static_folder()))
    app.extensions["shell"] = shell
    app.extensions["builds"] = Builds(Path(app.config["DATA"]) / "builds")
    app.extensions["builds"].keep(shell)
    app.jinja_env.globals["shell_url"] = shell.url
    app.register_blueprint(bp)


def the_shell() -> Shell:
    """The shell that this service serves."""
    shell: Shell = current_app.extensions["shell"]
    return shell


@bp.get("/app")
def page() -> Response:
    """The app."""
    return _sent(the_shell().page)


@bp.get("/t/<code>")
def tag(code: str) -> Response:
    """The app as a scanned tag opens it: the same bytes, the app reads the code itself."""
    return _sent(the_shell().page)


@bp.get("/sw.js")
def worker() -> Response:
    """The service worker."""
    return _sent(the_shell().worker)


@bp.get("/manifest.webmanifest")
def manifest() -> Response:
    """The web app manifest."""
    return _sent(the_shell().manifest)


@bp.get("/build.json")
def build() -> Response:
    """The id of the build that is served."""
    response = jsonify(build=the_shell().build)
    response.headers["Cache-Control"] = "no-cache"
    return response


@bp.get("/shell/<build>/<path:name>")
def asset(build: str, name: str) -> Response:
    """One file of this build, or of the one before it that pages may still have open."""
    builds: Builds = current_app.extensions["builds"]
    present = build == the_shell().build
    found = (the_shell().assets if present else builds.assets(build)).get(name)
    if found is None:
        abort(404)
    response = _sent(found)
    response.headers["Cache-Control"] = FOR_EVER
    return response


@bp.after_request
def _name_build(response: Response) -> Response:
    response.headers["X-Axlewright-Build"] = the_shell().build
    return response


def _sent(found: Asset) -> Response:
    coding = next((name for name in PACKERS if request.accept_encodings[name] > 0), None)
    body = found.packed.get(coding) or packed(found.body, coding) if coding else found.body
    response = Response(body)
    response.headers["Content-Type"] = found.type
    response.headers["Vary"] = "Accept-Encoding"
    response.headers["Cache-Control"] = "no-cache"
    if coding:
        response.headers["Content-Encoding"] = coding
    response.set_etag(f"{found.etag}-{coding}" if coding else found.etag)
    response.make_conditional(request)
    return response
