"""JPEGs for tests: real pictures, with the segments that a test wants in them."""

import hashlib
import io
import random
from functools import lru_cache

import qrcode
from PIL import Image, ImageFilter

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


def tag(text, dots=8):
    """A printed tag's QR code as a gray picture, so many dots a module."""
    code = qrcode.QRCode(box_size=dots, border=4, error_correction=qrcode.ERROR_CORRECT_M)
    code.add_data(text)
    return code.make_image().get_image().convert("L")


def trial(text, number, side=480):
    """A square picture of a tag as a phone takes it: askew, dim, out of focus, as a small JPEG.

    The same number always gives the same picture.
    """
    chance = random.Random(number)
    size = int(side * chance.uniform(0.45, 0.65))
    label = tag(text).resize((size, size), Image.Resampling.BILINEAR)
    scene = Image.new("L", (side, side), chance.randrange(60, 140))
    # Whoever holds the phone has the whole tag in sight.
    middle = (side - size) // 2
    scene.paste(label, (middle + chance.randrange(-20, 20), middle + chance.randrange(-20, 20)))
    scene = scene.rotate(chance.uniform(-40, 40), Image.Resampling.BILINEAR, fillcolor=100)
    # The phone is held at an angle: the far edge is shorter.
    lean = chance.uniform(0, 0.12) * side
    corners = (-lean, 0, 0, side, side, side, side + lean, 0)
    scene = scene.transform((side, side), Image.Transform.QUAD, corners, fillcolor=100)
    scene = scene.filter(ImageFilter.GaussianBlur(chance.uniform(0.3, 1.5)))
    bright, span = chance.randrange(0, 70), chance.uniform(0.35, 0.8)
    scene = scene.point([int(bright + span * level) for level in range(256)])
    noise = Image.frombytes("L", (side, side), chance.randbytes(side * side))
    scene = Image.blend(scene, noise, chance.uniform(0.02, 0.12))
    out = io.BytesIO()
    scene.convert("RGB").save(out, "JPEG", quality=70)
    return out.getvalue()
