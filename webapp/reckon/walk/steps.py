"""The walk through a job: its steps, what each asks for, its cautions, how far each is."""

from ..joint_terms import CAUTIONS as JOINT_CAUTIONS
from ..log.fold import is_open
from ..step_names import STEP_TITLES
from ..terms import FACES, METHODS, TICKS
from .link_steps import link_begun
from .missing import missing

# The steps in the order of the walk; a screen shows them in this order.
STEPS = [{"step": name, "title": STEP_TITLES[name]} for name in list(STEP_TITLES)]
# Steps that a plain check of the centering does without.
ONCE_BEGUN = ["drag_link", "play", "clearance", "change", "torque"]
# The steps that jobs of each scope want; a whole job wants them all in its first round.
WANTED = {
    "centering": ["heights", "centering"],
    "recheck": ["heights", "centering", "torque"],
    "again": ["heights", "centering", "track_bar", "torque"],
}
# Steps in which joint after joint is looked over: one leads on to the next.
LOOKED_OVER = ["play", "clearance", "torque"]
CAUTIONS = {
    "heights": [
        "Chock the wheels. Only rated stands hold a vehicle, never a jack alone.",
        "Springs and a hanging axle can jump. Stay clear while weight goes onto them.",
    ],
    "centering": [
        "With a wheel off, the axle rests on rated stands. Check them before you go under.",
        "Keep fingers out of holes and brackets.",
    ],
    "track_bar": [
        "The bar may be under side load. Block the axle and frame before its bolt comes out.",
        "After a bar change, center the steering wheel before the road: it will no longer sit "
        "straight.",
        "Jam nuts tight, witness holes covered, torque from the vehicle's or part's maker.",
    ],
    "play": JOINT_CAUTIONS["play"],
    "clearance": JOINT_CAUTIONS["clearance"],
    "torque": JOINT_CAUTIONS["torque"],
    "drag_link": [
        "Never heat, bend or weld a steering part.",
        "Count the threads that are left in each end. Clamps and jam nuts tight before the road.",
        "Keep hands out of the linkage while anybody can turn the wheel.",
    ],
    "change": [
        "Block the axle and frame before a bolt comes out: the bar may be under side load.",
        "Keep fingers out of holes and brackets.",
        (
            "Welding is for a qualified person: battery and modules disconnected by the vehicle "
            "maker's procedure, lines and tanks clear, a fire watch, and no breathing of fumes "
            "from coatings."
        ),
        "Never heat, bend or weld a steering part.",
    ],
    "hand_in": [
        "Road test last and slowly, after turning lock to lock while parked.",
        "Local rules and the vehicle maker's procedure come before anything on this screen.",
    ],
}
PLUMB_ASK = (
    "Vehicle and floor tilt, the lines hang straight down: the line from the higher point lands"
    " further to the low side. Both heights and the tilt take that out of the reading."
)
BAR_ASKS = {
    "length": "Joint center to joint center, along the bar.",
    "frame_height": "Floor to the center of the frame-end bolt.",
    "axle_height": "Floor to the center of the axle-end bolt.",
    "fore_aft": "How far apart the ends are fore and aft. 0 if the bar lies straight across.",
    "frame_end_from_center": "Frame-end bolt to the middle of the frame, sideways.",
    "bump": "Up travel from ride height to the bump stop.",
    "droop": "Down travel from ride height to full droop.",
    "axle_tube_height": (
        "Floor to the center of the axle tube, next to the axle-end bracket. Only needed "
        "to compare lever arms."
    ),
    "rail_height": (
        "Floor to the underside of the rail, next to the frame-end bracket. Only needed "
        "to compare lever arms."
    ),
}


def ask_heights(side: str) -> str:
    """What to measure for the ride height of a side."""
    return f"Underside of the frame to the top of the axle tube, {side} side."


def ask_centering(face: str, method: str) -> str:
    """What to measure for the centering."""
    start = FACES.get(face, "face")
    if method == "plumb_bob":
        return f"{start.capitalize()} and rail dropped to the floor, measured between the marks."
    return f"{start.capitalize()} to the outer face of the rail, {METHODS['square_to_rail']}."


def face_refused(face: str) -> str:
    """Why another face can't be taken while readings from this one stand."""
    return (
        f"Readings from the {FACES.get(face, 'face')} stand in this round, and faces "
        "are never mixed. Strike them first, or go on with that face."
    )


def places(sheet: dict, state: str, overtaken: list | None = None) -> list:
    """Each step of the walk with how far it is: {step, title, state}.

    A state is done, begun, empty, stale where a change has overtaken what is there, or asked where
    a change asks for a step that a plain check does without.
    """
    lacking = missing(sheet)
    again = [overrun["step"] for overrun in overtaken or []]
    found: list = []
    for each in STEPS:
        step = each["step"]
        count = len([one for one in lacking if one["step"] == step])
        progress = begun(sheet, step)
        if step == "hand_in":
            progress = "empty" if is_open(state) else "done"
        elif step in again and progress == "begun":
            progress = "stale"
        elif step in again and step in ONCE_BEGUN:
            progress = "asked"
        elif progress == "begun" and count == 0:
            progress = "done"
        found.append({"step": step, "title": each["title"], "state": progress})
    return found


def wanted_in(job: dict, round_name: str, asked: list) -> list | None:
    """The steps that a folded job wants measured in a round; None where it has no scope.

    What was sent back wants the step that the lead named, and a recheck also the steps `asked` of
    what stands open.
    """
    named = None
    if job["state"] == "sent_back":
        named = job["decision"]["body"].get("step")
    if named is not None:
        return [named]
    scope = job["scope"]
    if scope is None:
        return None
    if scope != "whole":
        return WANTED[scope] + (asked if scope == "recheck" else [])
    if job["opened"]["body"].get("round") != round_name:
        return WANTED["again"]
    # A rear axle has no drag link, and a change is logged from the answer that asks for it.
    left_out = ["change", "drag_link"] if job["axle"] == "rear" else ["change"]
    return [each["step"] for each in STEPS if each["step"] not in left_out]


def is_wanted(place: dict, wanted: list | None) -> bool:
    """Whether the walk leads to a place, because its step is wanted or is begun and not done."""
    state = place["state"]
    if place["step"] == "hand_in" or state == "begun" or state == "stale" or state == "asked":
        return True
    if wanted is None:
        return place["step"] not in ONCE_BEGUN or state != "empty"
    return place["step"] in wanted


def next_after(found: list, step: str, wanted: list | None = None) -> dict:
    """The place to go to from a step: the next of those that are `wanted` (see wanted_in)."""
    names = [place["step"] for place in found]
    for each in found[names.index(step) + 1 :]:
        if is_wanted(each, wanted):
            return each
        if wanted is None and step in LOOKED_OVER and each["step"] in LOOKED_OVER:
            return each
    return found[len(found) - 1]


def begun(sheet: dict, step: str) -> str:
    """`begun` when anything of an unfinished step is there, else `empty`."""
    if sheet.get(step) is not None:
        return "begun"
    if step == "heights":
        ready = sheet.get("ready") or {}
        ticked = [name for name in TICKS if ready.get(name) is True]
        if len(ticked) > 0 or sheet.get("standing") is not None:
            return "begun"
    if step == "drag_link" and link_begun(sheet):
        return "begun"
    if step == "change" and len(sheet.get("changed_here") or []) > 0:
        return "begun"
    return "empty"
