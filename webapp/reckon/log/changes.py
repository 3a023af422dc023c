"""Changes: what can be done to a vehicle in a job, in words, and what it does to a length."""

from ..checks.track_bar import per_turn
from ..terms import turns_words, way_of
from ..typed.lengths import show_amount

# What was done, as it is picked.
CHANGES = {
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
# What a change needs to be told: turns of an adjuster, a length, a distance, a part.
ASKS = {
    "bar_turned": ["turns"],
    "link_turned": ["turns"],
    "bar_replaced": ["longer"],
    "bracket_moved": ["moved", "part"],
    "pitman_changed": ["part"],
    "hole_repaired": ["part"],
    "part_replaced": ["part"],
    "link_replaced": ["longer"],
    "springs_changed": ["part"],
    "wheels_changed": ["part"],
    "toe_set": [],
    "arm_moved": ["part"],
    "part_removed": ["part"],
}
WAYS = ["up", "down", "left", "right", "forward", "rearward"]


def length_of_turns(turns: float, adjuster: dict | None) -> float | None:
    """By how much these turns (out positive) lengthen a bar, in mm; None without its thread."""
    advance = per_turn(adjuster or {})
    return None if advance is None else turns * advance


def change_words(body: dict, unit: str) -> str:
    """A logged change in words, with its amounts."""
    what = body.get("what") or "not said"
    amounts = amounts_words(body, unit)
    name = CHANGES.get(what, what.replace("_", " "))
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
