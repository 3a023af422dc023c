"""Clearance and torque in sentences: what there is to say of pairs and fasteners."""

from ..checks.clearance import places_of
from ..joint_terms import RUBBER_LOADED, show_torque, where_words
from ..numbers import fixed
from ..typed.lengths import show_amount

TOUCHING = {"touches": "they touch", "witness_mark": "there is a witness mark"}
TORQUE_NEEDS = {
    "value": "no figure is recorded. Take it from the vehicle's or part's maker.",
    "source": "say where the figure comes from.",
    "end": "say which end was turned.",
    "thread": "say whether the thread was dry or oiled.",
}
MOVED = "it moved. Fit a new bolt and nut where the maker says so, then torque it again."

# Code of a reason to its sentence, or to what makes one from the reason and the unit.
JOINT_SENTENCES: dict = {
    "check_again": "say whether it moved.",
    "fastener_moved": MOVED,
    "torque_needs": lambda reason, unit: TORQUE_NEEDS[reason["field"]],
    "rubber_off_springs": RUBBER_LOADED,
    "pair_differs": lambda reason, unit: (
        f"the two printed figures are {fixed(100 * reason['apart'], 0)}% apart: "
        f"{show_torque(reason['nm'], unit)} is what the first one comes to. Ask the maker which "
        "one is meant before you use either."
    ),
}


def pair_sentences(pair: dict, unit: str) -> str:
    """How one pair of parts stands, where, and how much of it was looked at."""
    name = " to ".join(pair["between"] or ["one part", "another"]).capitalize()
    places = places_of(pair["between"] or [])
    so_far = f"{places - len(pair['unchecked'])} of {places} places checked."
    if pair["least"] is None:
        return f"{name}: no gap recorded. {so_far}"
    where = where_words(pair["at"])
    if pair["state"] == "contact":
        touching = TOUCHING.get(pair["gap"], "no gap is left")
        return f"{name}: {touching} {where}. Make room before the road. {so_far}"
    return f"{least_sentence(name, pair, where, unit)} {so_far}"


def least_sentence(name: str, pair: dict, where: str, unit: str) -> str:
    """The least gap of a pair that does not touch."""
    says = f"{name}: least {show_amount(pair['least'], unit)} {where}"
    if pair["state"] == "tight":
        return f"{says}, under the house limit of {show_amount(pair['limit'], unit)}. Make room."
    if pair["state"] == "recorded":
        return f"{says}. No limit is known, so it is recorded and not judged."
    return f"{says}."
