"""What a study of repeatability comes to, in one answer in runs (see terms)."""

from ..typed.dial import show_fine
from ..typed.lengths import show_limit, show_step

HELPS = {
    "people_differ": (
        "people differ too much for more readings to help. Measure one vehicle together"
    ),
    "finer_tape": "read to {read_to}",
    "more_readings": "take {count} readings on each side",
    "tape_and_play": "use a finer tape, and look for play before you measure",
}


def repeatability_answer(found: dict, unit: str) -> list:
    """How good the readings are, what the limit needs, and what would get there, in runs."""
    begin = ["Our readings are good to ", f"±{show_fine(found['good_to'], unit)}", ". "]
    need = f"±{show_fine(found['needed'], unit)}"
    needs = f"The limit of {show_limit(found['limit'], unit)} needs {need}"
    if len(found["helps"]) == 0:
        return begin + [f"{needs}, so they are good enough.", ""]
    return begin + [f"{needs}: ", helps_words(found["helps"]), "."]


def helps_words(helps: list) -> str:
    """The ways to better readings, as the end of a sentence."""
    return " or ".join([help_words(way) for way in helps])


def help_words(way: dict) -> str:
    """One way to better readings."""
    words = HELPS[way["code"]]
    if way["code"] == "finer_tape":
        return words.replace("{read_to}", show_step(way["read_to"]))
    return words.replace("{count}", str(way.get("count") or ""))
