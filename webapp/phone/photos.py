"""Photos from phones, apart from the entries that name them."""

from base64 import b64encode

from flask import Blueprint, Flask, Response, request

from webapp.door import csrf
from webapp.door.current import the_log
from webapp.door.refusals import refuse
from webapp.phone.exchange import reply
from webapp.reckon.photo_bounds import MOST_BYTES
from webapp.shoplog import NotFound
from webapp.shoplog.files.photo_store import TOO_LARGE, BadPhoto

bp = Blueprint("photos", __name__, url_prefix="/log/photos")

LENGTH_MISSING = "A photo is sent with its length."


def init_app(app: Flask) -> None:
    """Take and give photos under /log/photos; a credential in a header needs no form token."""
    csrf.exempt(bp)
    app.register_blueprint(bp)
    app.extensions["shoplog"].photos.tidy()


@bp.put("/<name>")
def take(name: str) -> Response:
    """Keep a JPEG under its hash; sent again, it is simply there already."""
    if request.mimetype != "image/jpeg":
        refuse(415, "not_jpeg", "A photo is sent as image/jpeg.")
    if request.content_length is None:
        refuse(411, "no_length", LENGTH_MISSING)
    if request.content_length > MOST_BYTES:
        refuse(413, "too_large", TOO_LARGE)
    request.max_content_length = MOST_BYTES
    try:
        the_log().photos.keep(name, request.get_data())
    except BadPhoto as error:
        refuse(400, "bad_photo", str(error))
    return reply(sha256=name, high_water=the_log().high_water())


@bp.get("/<name>")
def give(name: str) -> Response:
    """A photo for a phone that shows its job, as base64 in `jpeg`; None while it is not here."""
    log = the_log()
    try:
        jpeg = b64encode(log.photos.path(name).read_bytes()).decode()
    except NotFound:
        jpeg = None
    return reply(sha256=name, jpeg=jpeg, high_water=log.high_water())
