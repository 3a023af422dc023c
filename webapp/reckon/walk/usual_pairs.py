"""Which parts are to be held apart after a change: the usual pairs of the part that was changed."""

from ..checks.clearance import HOSES, pair_name
from ..joint_terms import PAIRS
from ..log.fold import of_kind, standing
from ..log.stale import changes_of, reopens, since_change

BAR = "track bar"
BRACKET = "bracket"
LINK = "drag link"
# What stands around the ends of a bar, on any axle and on a steered one.
AROUND = ["spring bucket", "bump stop", "shock", HOSES]
AROUND_STEERED = ["tie-rod joint", "drag-link joint", "knuckle yoke"]
STEERED_ONLY = ["oil pan", "tie rod", "drag link"] + AROUND_STEERED
PART_OF = {
    "bar_turned": BAR,
    "bar_replaced": BAR,
    "bracket_moved": BRACKET,
    "hole_repaired": BRACKET,
    "pitman_changed": LINK,
}


def changed_parts(entries: list) -> list:
    """The parts that a job's changes set where something may touch, each once."""
    found: list = []
    for entry in changes_of(entries):
        if reopens(entry["body"].get("what"), "clearance"):
            part = changed_part(entry["body"])
            if part is not None and part not in found:
                found.append(part)
    return found


def changed_part(change: dict) -> str | None:
    """The part that one change is about; None where it says nothing of bar, bracket or link."""
    part = PART_OF.get(change.get("what") or "")
    if part is not None:
        return part
    words = (change.get("part") or "").lower()
    for word, name in [["bracket", BRACKET], ["link", LINK], ["bar", BAR]]:
        if word in words:
            return name
    return None


def pairs_of_part(part: str, axle: str) -> list:
    """The usual pairs in which a part takes part, on this axle."""
    pairs = [each for each in PAIRS if part in each]
    others = AROUND + AROUND_STEERED if part != LINK else ["tie rod", HOSES]
    pairs = pairs + [[part, other] for other in others]
    return [one for one in pairs if axle == "front" or not is_steered(one)]


def is_steered(pair: list) -> bool:
    """Whether a pair is there on a steered axle only."""
    return len([part for part in pair if part in STEERED_ONLY]) > 0


def pairs_asked(parts: list, axle: str) -> list:
    """The usual pairs of these parts, each once."""
    found: list = []
    names: list = []
    for part in parts:
        for pair in pairs_of_part(part, axle):
            name = pair_name({"between": pair})
            if name not in names:
                names.append(name)
                found.append(pair)
    return found


def pairs_to_show(entries: list, axle: str) -> list:
    """The pairs that the clearance step offers: those that the changes ask for, then the usual."""
    asked = pairs_asked(changed_parts(entries), axle)
    names = [pair_name({"between": each}) for each in asked]
    usual = [one for one in PAIRS if axle == "front" or not is_steered(one)]
    return asked + [pair for pair in usual if pair_name({"between": pair}) not in names]


def is_apart(entries: list, between: list) -> bool:
    """Whether these two parts were said never to come near each other."""
    return pair_name({"between": between}) in kept_apart(entries)


def kept_apart(entries: list) -> list:
    """The names of the pairs that were said never to come near each other, as `pair_name` has them.

    The last word since the last change that moved anything counts.
    """
    said: dict = {}
    for entry in of_kind(since_change(standing(entries), "clearance"), "pick"):
        if entry["body"]["step"] == "clearance" and entry["body"]["field"] == "apart":
            value = entry["body"]["value"]
            said[pair_name(value)] = value["apart"]
    return [name for name in list(said) if said[name] is True]
