"""Play in sentences: what there is to say of a joint, and what would repair its worn hole."""

from ..terms import degrees
from ..typed.dial import show_fine
from ..typed.lengths import show_inches, show_limit

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
NAMELESS_JOINT = "A joint"
ALONG = {"track_bar": "along the bar", "drag_link": "along the link", "other": "of movement"}
NOT_RECORDED = {
    "track_bar": "no movement along the bar is recorded.",
    "drag_link": "no movement along the link is recorded.",
    "other": "no movement is recorded.",
}
LOOSE = {
    "sleeve_in_rubber": "the sleeve is loose in its rubber: replace the bushing, not the bolt.",
    "sleeve_narrow": (
        "the sleeve is narrower than the bracket: no torque will clamp it. Fit the right sleeve."
    ),
    "bolt_in_sleeve": "the bolt is loose in the sleeve: compare shank and bore.",
    "bolt_in_hole": "the bolt is loose in the bracket's hole: measure the hole both ways.",
    "bracket": "the bracket itself moves on frame or axle: look for cracks and loose fasteners.",
    "thread_in_hole": "the threads bear in the hole: fit a bolt whose shank goes through the "
    "bracket.",
}
# Said instead of a steering joint, whose holes nobody works on.
LOOSE_STEERING = {
    "bolt_in_hole": "the stud or bolt is loose in its hole.",
    "thread_in_hole": "the threads bear in the hole.",
}
REPLACE = "Replace the worn part. Never drill, ream, heat or weld a steering part."
SOURCES = {
    "iso_273_fine": "ISO 273, fine series",
    "asme_b18_2_8_close": "ASME B18.2.8, close fit",
}
EDGE_SOURCE = "AISC minimum edge distance, standard hole"
WELDER = "Leave the welding to a qualified person, by the vehicle maker's procedure."

# Code of a reason to its sentence, or to what makes one from the reason and the unit.
PLAY_SENTENCES: dict = {
    "movement_not_recorded": lambda reason, unit: NOT_RECORDED[reason["of"]],
    "movement": lambda reason, unit: (
        f"{show_fine(reason['along'], unit)} {ALONG[reason['of']]}, {limit_words(reason, unit)}."
    ),
    "bolt_larger_than_hole": "the bolt measures more than its hole. Measure both again.",
    "bolt_clearance": lambda reason, unit: clearance_sentence(reason, unit),
    "oval_hole": lambda reason, unit: (
        f"its hole is oval: {show_fine(reason['oval'], unit)} more one way than the other. No "
        "published figure makes an oval hole acceptable."
    ),
    "loose": lambda reason, unit: loose_sentence(reason["loose"], reason["of"]),
}


def limit_words(reason: dict, unit: str) -> str:
    """How the movement stands against the limits that are known."""
    words: list = []
    for whose, name in [["maker", "maker's figure"], ["house", "house limit"]]:
        limit = reason[f"{whose}_limit"]
        if limit is not None:
            words.append(f"{reason[whose + '_state']} the {name} of {show_fine(limit, unit)}")
    return " and ".join(words) if len(words) > 0 else "recorded and not judged: no limit is known"


def clearance_sentence(reason: dict, unit: str) -> str:
    """How loose the bolt is in its hole, against the house limit where one is known."""
    amount = f"its bolt has {show_fine(reason['clearance'], unit)} of clearance in the hole"
    if reason["state"] == "recorded":
        return f"{amount}."
    return f"{amount}, {reason['state']} the house limit of {show_fine(reason['limit'], unit)}."


def loose_sentence(loose: str, of: str) -> str:
    """What is loose at a joint, and what to look for or to fit."""
    if of != "track_bar" and loose in LOOSE_STEERING:
        return LOOSE_STEERING[loose]
    return LOOSE[loose]


def repairs_in_words(choices: list, unit: str) -> list:
    """The repair choices with `says`; of the next bolts the one in the unit in use comes first."""
    own = [each for each in choices if each.get("unit") == unit]
    rest = [other for other in choices if other.get("unit") != unit]
    worded: list = []
    offered = False
    for one in own + rest:
        choice = dict(one)
        says = repair_sentence(one, unit)
        if one["kind"] != "replace_part" and not says.startswith("Do not"):
            if offered and one["kind"] != "next_bolt":
                says = f"Or {says[:1].lower()}{says[1:]}"
            says = f"{says} {leaves_sentence(one, unit)}"
            offered = True
        choice["says"] = says
        worded.append(choice)
    return worded


def repair_sentence(choice: dict, unit: str) -> str:
    """What a repair choice asks for."""
    if choice["kind"] == "next_bolt":
        return next_bolt_sentence(choice, unit)
    if choice["kind"] == "weld_washers":
        return (
            f"Weld washers with a {show_fine(choice['hole'], unit)} hole, snug on the shank, "
            f"over both sides, wide enough to cover {show_fine(choice['covers'], unit)} all "
            f"around. {WELDER}"
        )
    if choice["kind"] == "replace_part":
        return REPLACE
    return f"Fit a new bracket with a new bolt, snug in its hole. {WELDER}"


def next_bolt_sentence(choice: dict, unit: str) -> str:
    """What reaming for the next standard bolt asks for."""
    bolt = f"a {choice['bolt']}" if choice["unit"] == "in" else f"an {choice['bolt']}"
    edge = edge_sentence(choice, unit)
    if edge.startswith("Too"):
        return f"Do not drill for {bolt} bolt. {edge}"
    return (
        f"Drill {drill_words(choice['drill'])}, then ream to "
        f"{hole_words(choice['hole'], choice, unit)} for {bolt} bolt, with a sleeve of "
        f"{hole_words(choice['sleeve_bore'], choice, unit)} bore. By "
        f"{SOURCES[choice['source']]}, the hole is {hole_words(choice['free_hole'], choice, unit)}:"
        f" the bolt drops through it, which is too loose here. {edge}"
    )


def hole_words(mm: float, choice: dict, unit: str) -> str:
    """A size that goes with a bolt, in the unit in use; the bolt's own unit behind where another.

    A bolt in the unit in use needs no other beside it.
    """
    own = show_fine(mm, unit).split(" (")[0]
    if choice["unit"] == unit:
        return own
    return f"{own} ({show_fine(mm, choice['unit']).split(' (')[0]})"


def drill_words(drill: dict) -> str:
    """A drill by its own name: 16 mm, 5/8 in, letter U."""
    if drill["letter"] is not None:
        return f"letter {LETTERS[drill['letter']]}"
    if drill["unit"] == "in":
        return show_inches(drill["size"], 64)
    return show_limit(drill["size"], "mm")


def edge_sentence(choice: dict, unit: str) -> str:
    """Whether the bracket has room for the larger hole."""
    left = choice["edge_left"]
    needed = choice["edge_needed"]
    if left is None or needed is None:
        return "Measure from the hole's middle to the bracket's edge before you ream."
    room = f"{show_fine(left, unit)} to the edge is left"
    least = f"{show_fine(needed, unit)} is the least ({EDGE_SOURCE})"
    return (
        f"Too little metal: {room}, {least}." if left < needed else f"{room.capitalize()}, {least}."
    )


def leaves_sentence(choice: dict, unit: str) -> str:
    """What a repair leaves: the clearance, and what it still lets move."""
    leaves = f"It leaves {show_fine(choice['clearance'], unit)} of clearance"
    if choice["axle_movement"] is not None:
        leaves = f"{leaves}, {show_fine(choice['axle_movement'], unit)} at the axle"
    if choice["rim_deg"] is not None:
        leaves = f"{leaves}, {degrees(choice['rim_deg'], 1)} at the steering wheel"
    return f"{leaves}."
