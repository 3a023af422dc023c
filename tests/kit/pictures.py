"""JPEGs for tests, made of the segments that a test wants."""

import hashlib


def segment(marker, content):
    """One segment of a JPEG."""
    return bytes([0xFF, marker]) + (len(content) + 2).to_bytes(2, "big") + content


def frame(width, height, marker=0xC0):
    """A start of frame of this size."""
    size = height.to_bytes(2, "big") + width.to_bytes(2, "big")
    return segment(marker, b"\x08" + size + b"\x01\x01\x11\x00")


def jpeg(*before, width=1600, height=1200, fill=200):
    """A whole JPEG as far as its head is read; `fill` bytes stand for the picture."""
    head = b"".join([segment(0xE0, b"JFIF\0\x01\x02\0\0\x01\0\x01\0\0"), *before])
    scan = segment(0xDA, b"\x01\x01\x00\x00\x3f\x00") + b"\x55" * fill
    return b"\xff\xd8" + head + frame(width, height) + scan + b"\xff\xd9"


def name_of(body):
    """The hash that a photo is sent under."""
    return hashlib.sha256(body).hexdigest()
