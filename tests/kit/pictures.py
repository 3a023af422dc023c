"""JPEGs for tests: real pictures, with the segments that a test wants in them."""

import hashlib
import io
from functools import lru_cache

from PIL import Image

MAX_SEGMENT = 65_533
SMALL = (16, 16)


def segment(marker, content):
    """One segment of a JPEG."""
    return bytes([0xFF, marker]) + (len(content) + 2).to_bytes(2, "big") + content


def frame(width, height, marker=0xC0):
    """A start of frame of this size."""
    size = height.to_bytes(2, "big") + width.to_bytes(2, "big")
    return segment(marker, b"\x08" + size + b"\x01\x01\x11\x00")


@lru_cache(maxsize=32)
def picture(width, height):
    """A gray picture of this size; one that is none, or too large, only says its size."""
    real = 0 < width <= 1600 and 0 < height <= 1600
    out = io.BytesIO()
    Image.new("RGB", (width, height) if real else SMALL, "gray").save(out, "JPEG")
    body = out.getvalue()
    if real:
        return body
    at = body.index(b"\xff\xc0") + 5
    return body[:at] + height.to_bytes(2, "big") + width.to_bytes(2, "big") + body[at + 4 :]


def jpeg(*before, width=1600, height=1200, fill=200):
    """A whole JPEG with these segments at its head, and so many bytes more."""
    padding = [
        segment(0xE0, b"\x55" * min(MAX_SEGMENT, fill - at)) for at in range(0, fill, MAX_SEGMENT)
    ]
    body = picture(width, height)
    return body[:2] + b"".join([*before, *padding]) + body[2:]


def name_of(body):
    """The hash that a photo is sent under."""
    return hashlib.sha256(body).hexdigest()
