"""Reads a JPEG's header (ITU-T T.81, annex B); nothing of the picture itself is decoded."""

SOI, EOI = b"\xff\xd8", b"\xff\xd9"
# Start of frame, in all its kinds; C4, C8 and CC are other things.
FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
SCAN = 0xDA
# Within a picture's own data no byte FF is followed by anything but 00 or a restart.
START_OF_SCAN = bytes([0xFF, SCAN])
NOTES = frozenset({*range(0xE1, 0xF0), 0xFE})  # EXIF and its like, and comments
ALONE = frozenset({0x01, *range(0xD0, 0xD8)})  # segments without a length


class BadJpeg(Exception):
    """Not a JPEG the log accepts; the message ends a sentence about it."""


def size_of(body: bytes) -> tuple[int, int]:
    """Width and height of a whole JPEG without notes about place or camera; otherwise BadJpeg."""
    if not body.startswith(SOI) or not body.endswith(EOI):
        raise BadJpeg("is not a whole JPEG")
    at, size = 2, None
    while True:
        marker, start, end = segment_at(body, at)
        if marker in NOTES:
            raise BadJpeg("still carries notes of the camera")
        if marker in FRAMES:
            size = frame_size(body[start:end])
        if marker == SCAN:
            break
        at = end
    if size is None:
        raise BadJpeg("says nothing of its size")
    return size


def segment_at(body: bytes, at: int) -> tuple[int, int, int]:
    """The marker of the segment that begins here, and where its content begins and ends."""
    if body[at : at + 1] != b"\xff":
        raise BadJpeg("is damaged")
    while body[at + 1 : at + 2] == b"\xff":
        at += 1
    if at + 4 > len(body):
        raise BadJpeg("is damaged")
    marker = body[at + 1]
    if marker in ALONE:
        return marker, at + 2, at + 2
    end = at + 2 + int.from_bytes(body[at + 2 : at + 4], "big")
    if end < at + 4 or end > len(body):
        raise BadJpeg("is damaged")
    return marker, at + 4, end


def frame_size(frame: bytes) -> tuple[int, int]:
    """Width and height that a start of frame gives."""
    if len(frame) < 6:
        raise BadJpeg("is damaged")
    height, width = int.from_bytes(frame[1:3], "big"), int.from_bytes(frame[3:5], "big")
    if not width or not height:
        raise BadJpeg("says nothing of its size")
    return width, height
