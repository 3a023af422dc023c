"""Reads the QR code in a phone's picture, for browsers that have no reader of their own."""

import threading

from flask import Blueprint, Flask, Response, request

from webapp.door import csrf
from webapp.door.current import the_log
from webapp.door.refusals import SAYS, refuse
from webapp.phone.exchange import reply
from webapp.shoplog.files.pictures import NoPicture, from_picture

bp = Blueprint("tag_pictures", __name__, url_prefix="/log")

# The app sends squares of 480 pixels, some 30 kB each.
MOST_PIXELS = 800
MOST_BYTES = 200_000
READ_AT_ONCE = 2
# A picture that waited longer shows what the camera saw long ago.
PATIENCE = 2.0
# Reading one takes a fraction of a second. What takes longer keeps others from their turn.
MOST_SECONDS = 5.0

turn = threading.BoundedSemaphore(READ_AT_ONCE)


def init_app(app: Flask) -> None:
    """Read pictures at /log/read_tag; a credential in a header needs no form token."""
    csrf.exempt(bp)
    app.register_blueprint(bp)


@bp.post("/read_tag")
def read_tag() -> Response:
    """What the QR code in a JPEG says, null where none can be read; nothing is kept."""
    if request.mimetype != "image/jpeg":
        refuse(415, "not_jpeg", "A picture is sent as image/jpeg.")
    if (request.content_length or 0) > MOST_BYTES:
        refuse(413, "too_large", "A picture of a tag is at most 200 kB large.")
    request.max_content_length = MOST_BYTES
    body = request.get_data()
    if not turn.acquire(timeout=PATIENCE):
        refuse(503, *SAYS[503])
    try:
        read = from_picture("read_tag", body, MOST_PIXELS, MOST_SECONDS)
    except NoPicture:
        refuse(400, "bad_picture", "The picture could not be decoded.")
    finally:
        turn.release()
    return reply(text=read.decode("utf-8", "replace") or None, high_water=the_log().high_water())
