"""The adjuster of a bar or link in words: which ends are threaded, and the pitch."""

from ..checks.adjuster import thread_ends
from ..typed.length_grammar import INCH
from ..typed.lengths import show_amount, show_pitch

ADJUSTER_KINDS = {
    "one_end": "One threaded end",
    "both_ends": "Opposite hands at both ends",
    "fixed": "Fixed length",
}
# Common threads of bar ends and sleeves, by name and pitch in mm.
THREADS: list = [
    {"name": "1/2-20", "pitch": INCH / 20},
    {"name": "5/8-18", "pitch": INCH / 18},
    {"name": "3/4-16", "pitch": INCH / 16},
    {"name": "7/8-14", "pitch": INCH / 14},
    {"name": "1-14", "pitch": INCH / 14},
    {"name": "1 1/4-12", "pitch": INCH / 12},
    {"name": "M14 × 1.5", "pitch": 1.5},
    {"name": "M16 × 1.5", "pitch": 1.5},
    {"name": "M18 × 1.5", "pitch": 1.5},
    {"name": "M20 × 1.5", "pitch": 1.5},
    {"name": "M22 × 1.5", "pitch": 1.5},
    {"name": "M24 × 2", "pitch": 2.0},
    {"name": "M27 × 2", "pitch": 2.0},
    {"name": "M30 × 2", "pitch": 2.0},
]
# How the thread left is measured.
THREAD_ASK = (
    "From the witness hole to the inner end of the thread: that is how far it may still come out"
    " before the hole shows."
)
NO_THREAD = "no thread left"
PAST_THREAD = "The adjuster has less thread left than that: check the turns and the witness hole."


def adjuster_words(adjuster: dict, unit: str) -> str:
    """An adjuster in words, with its pitch and a common thread of that pitch where there is one."""
    words = ADJUSTER_KINDS.get(adjuster.get("kind") or "", "Thread not known").lower()
    pitch = adjuster.get("pitch")
    ends = thread_ends(adjuster)
    left = f", {thread_words(ends, unit)}" if len(ends) > 0 else ""
    if adjuster.get("kind") == "fixed" or pitch is None:
        return words + left
    as_known = [each["name"] for each in THREADS if abs(each["pitch"] - pitch) < 1e-3]
    like = f" ({as_known[0]})" if len(as_known) > 0 else ""
    thread = show_pitch(pitch, unit)
    return f"{words}, {'pitch ' + thread if thread.endswith('mm') else thread}{like}{left}"


def thread_words(ends: list, unit: str) -> str:
    """The thread left in an adjuster: `12 mm of thread left`; of two ends the frame end first."""
    said = [f"{show_amount(end, unit)} of thread left" if end > 0 else NO_THREAD for end in ends]
    return said[0] if len(said) == 1 else f"{said[0]} at the frame end, {said[1]} at the axle end"
