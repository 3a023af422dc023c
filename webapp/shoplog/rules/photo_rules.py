"""What the log keeps of a photo: its hash and size, and what it is of."""

from collections.abc import Mapping
from typing import Any

from webapp.shoplog.files.photo_files import HASH
from webapp.shoplog.files.photo_store import MAX_BYTES, MAX_PIXELS
from webapp.shoplog.rules.values import Rule, or_null, text


def from_one_to(most: int) -> Rule:
    """A whole number from 1 to `most`."""
    return lambda value: type(value) is int and 1 <= value <= most, f"a whole number to {most}"


def is_hash(value: Any) -> bool:
    """Whether this is a SHA-256 in hexadecimal, in lower case."""
    return isinstance(value, str) and HASH.fullmatch(value) is not None


PHOTO: Mapping[str, Rule] = {
    "sha256": (is_hash, "the SHA-256 of the photo in 64 hexadecimal digits"),
    "of": text(60),
    "width": from_one_to(MAX_PIXELS),
    "height": from_one_to(MAX_PIXELS),
    "bytes": from_one_to(MAX_BYTES),
}
PHOTO_OPTIONAL: Mapping[str, Rule] = {"text": or_null(text(1000, least=0))}
