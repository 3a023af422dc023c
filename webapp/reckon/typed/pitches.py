"""Pitches of threads as people write them: in millimeters a turn, or in threads per inch."""

from .length_grammar import INCH
from .lengths import parse_length
from .tokens import count_of, refused, words_of

THREAD_WORDS = ["tpi", "thread", "threads"]
PER_INCH = ["", "per inch", "/ inch", "per in", "/ in", "to the inch", "an inch"]


def parse_pitch(text: str, unit: str) -> dict:
    """A pitch as written, in mm: 1.5, 1.5 mm, 16 tpi or 16 threads per inch; or why not."""
    pieces = words_of(text)
    for index, piece in enumerate(pieces):
        if piece in THREAD_WORDS:
            return answer(pieces[:index], pieces[index + 1 :])
    found = parse_length(text, unit)
    return found if found["ok"] or len(found["choices"]) > 0 else refused("pitch_unclear")


def answer(before: list, behind: list) -> dict:
    """The answer to a number of threads, and what stands behind the word for them."""
    threads = count_of(before) if len(before) > 0 else None
    if threads is None or threads <= 0 or " ".join(behind) not in PER_INCH:
        return refused("pitch_unclear")
    return {"ok": True, "value": INCH / threads}
