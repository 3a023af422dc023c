"""Changes in words: what was done, by how much, what it reopens and what is to be done again."""

from ..numbers import fixed
from ..terms import turns_words, way_of
from ..typed.lengths import show_amount
from .plan_rows import length_change_words

# What was done, as it is picked.
CHANGE_NAMES = {
    "bar_turned": "Track bar turned",
    "link_turned": "Drag link turned",
    "bar_replaced": "Track bar replaced",
    "bracket_moved": "Bracket moved",
    "pitman_changed": "Pitman arm changed",
    "hole_repaired": "Hole repaired",
    "part_replaced": "Part replaced",
    "link_replaced": "Drag link replaced",
    "springs_changed": "Springs or ride height changed",
    "wheels_changed": "Wheels, tires or spacers changed",
    "toe_set": "Toe set",
    "arm_moved": "Steering arm or tie rod moved",
    "part_removed": "Part removed or cut away",
}
SINCE = {
    "bar_turned": "the track bar was turned",
    "bar_replaced": "the track bar was replaced",
    "bracket_moved": "a bracket was moved",
    "pitman_changed": "the pitman arm was changed",
    "link_turned": "the drag link was turned",
    "hole_repaired": "a hole was repaired",
    "part_replaced": "a part was replaced",
    "link_replaced": "the drag link was replaced",
    "springs_changed": "springs or ride height were changed",
    "wheels_changed": "wheels, tires or spacers were changed",
    "toe_set": "the toe was set",
    "arm_moved": "a steering arm or tie rod was moved",
    "part_removed": "a part was removed or cut away",
}
FINDING_NAMES = {
    "heights": "ride height",
    "centering": "centering",
    "bump_steer": "bump steer",
    "bar_heights": "track bar heights",
    "link_heights": "drag link heights and bump steer",
    "travel": "travel",
    "toe": "toe",
    "wheel": "steering wheel",
    "play": "play",
    "clearance": "clearance",
    "torque": "torque",
}
REDO = {
    "heights": "Measure the ride height again",
    "centering": "Measure the centering again",
    "bar_heights": "Measure the heights of both ends of the track bar again",
    "link_heights": "Measure the heights of both ends of the drag link again",
    "travel": "Measure bump and droop travel again",
    "toe": "Measure the toe again",
    "wheel": "Say where the steering wheel sits now",
    "play": "Check for play again",
    "torque": "Torque what was undone",
}


def change_words(body: dict, unit: str) -> str:
    """A logged change in words, with its amounts."""
    what = body.get("what") or "not said"
    amounts = amounts_words(body, unit)
    name = CHANGE_NAMES.get(what, what.replace("_", " "))
    return name + (f", {amounts}" if len(amounts) > 0 else "")


def amounts_words(body: dict, unit: str) -> str:
    """What a logged change says beside its kind: part, turns, lengths, and its own words."""
    says: list = []
    if body.get("part"):
        says.append(body["part"])
    if body.get("turns"):
        says.append(f"{turns_words(body['turns'])} {way_of(body['turns'])}")
    if body.get("length_change"):
        longer = "longer" if body["length_change"] > 0 else "shorter"
        says.append(f"{show_amount(abs(body['length_change']), unit)} {longer}")
    if body.get("moved"):
        toward = body.get("toward") or "across"
        says.append(f"{show_amount(abs(body['moved']), unit)} {toward}")
    if body.get("text"):
        says.append(body["text"])
    return ", ".join(says)


def length_then_changed(read: str, by: float, unit: str) -> str:
    """A length as it was read, and what changes add to it where the sums count them."""
    if fixed(by, 1) == "0.0":
        return read
    return f"{read}, then {length_change_words(by, unit)} by what was changed"


def listed(names: list) -> str:
    """Names as a list in words: a, b and c."""
    if len(names) == 1:
        return str(names[0])
    return f"{', '.join(names[: len(names) - 1])} and {names[len(names) - 1]}"


def reopened_sentence(findings: list) -> str:
    """What a change reopens, in one sentence."""
    names = [FINDING_NAMES[each] for each in findings]
    if len(names) == 1:
        return f"This reopens the {names[0]}."
    return f"This reopens {listed(names)}."


def redo_words(again: dict) -> str:
    """What is to be done again of a finding, as `stale` gives it, without its period."""
    if again["finding"] == "bump_steer":
        part = "drag link" if again["step"] == "drag_link" else "track bar"
        if again["end"] is None:
            return f"Measure again the height of the {part} end that was moved"
        return f"Measure the {again['end']}-end height of the {part} again"
    if again["finding"] == "clearance":
        return sweep_words(again["places_left"])
    which = f" ({listed(again['names'])})" if len(again["names"]) > 0 else ""
    return REDO[again["finding"]] + which


def sweep_words(places_left: int | None) -> str:
    """That the clearance is to be checked again, with the places left once it was begun."""
    says = "Check the clearance again"
    if places_left is None:
        return says
    return f"{says}, {places_left}{' place is left' if places_left == 1 else ' places are left'}"


def stale_sentence(again: dict) -> str:
    """What is to be done again, and since which change."""
    return f"{redo_words(again)}: {SINCE[again['change']]} since then."
