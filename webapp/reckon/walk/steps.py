"""The walk through a job: its steps, what each asks for, its cautions, what is still missing."""

from ..checks.centering import READINGS_A_SIDE, ticks_asked
from ..checks.track_bar import missing_of
from ..joint_terms import CAUTIONS as JOINT_CAUTIONS
from ..sentences.reasons import sentences
from ..terms import FACES, METHODS, TICK_WORDS, TICKS
from .link_steps import link_begun, missing_link
from .missing import missing_clearance, missing_play, missing_torque

# The steps in the order of the walk; a screen shows them in this order.
STEPS = [
    {"step": "heights", "title": "Ride height"},
    {"step": "centering", "title": "Centering"},
    {"step": "track_bar", "title": "Track bar"},
    {"step": "drag_link", "title": "Drag link"},
    {"step": "play", "title": "Play"},
    {"step": "clearance", "title": "Clearance"},
    {"step": "change", "title": "Change"},
    {"step": "torque", "title": "Torque"},
    {"step": "hand_in", "title": "Hand in"},
]
# Steps that a plain check of the centering does without.
ONCE_BEGUN = ["drag_link", "play", "clearance", "change", "torque"]
# Steps in which joint after joint is looked over: one leads on to the next.
LOOKED_OVER = ["play", "clearance", "torque"]
CAUTIONS = {
    "heights": [
        "Chock the wheels. Only rated stands hold a vehicle, never a jack alone.",
        "Springs and a hanging axle can leap. Keep clear while the load goes on them.",
    ],
    "centering": [
        "With a wheel off, the axle rests on rated stands. Check them before you go under.",
        "Keep fingers out of holes and brackets.",
    ],
    "track_bar": [
        "The bar may be loaded sideways. Block axle and frame before its bolt comes out.",
        "After a bar change set the steering wheel before the road: its position will have moved.",
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
        "Block axle and frame before a bolt comes out: the bar may be loaded sideways.",
        "Fingers never in holes or brackets.",
        (
            "Welding is for a qualified person: battery and modules disconnected as the "
            "vehicle's maker says, lines and tanks clear, a fire watch, no breathing what "
            "coatings give off."
        ),
        "Never heat, bend or weld a steering part.",
    ],
    "hand_in": [
        "Road test last, slowly, after full lock both ways standing still.",
        "Local rules and the vehicle maker's procedure come before anything on this screen.",
    ],
}
BAR_ASKS = {
    "length": "Joint center to joint center, along the bar.",
    "frame_height": "Floor to the center of the frame-end bolt.",
    "axle_height": "Floor to the center of the axle-end bolt.",
    "fore_aft": "How far the ends differ fore and aft. 0 if the bar lies straight across.",
    "frame_end_from_center": "Frame-end bolt to the middle of the frame, sideways.",
    "bump": "Up travel from ride height to the bump stop.",
    "droop": "Down travel from ride height to full droop.",
}
BAR_NAMES = {
    "length": "Bar length",
    "frame_height": "Frame-end height",
    "axle_height": "Axle-end height",
    "fore_aft": "Fore-aft lead",
    "frame_end_from_center": "Frame end to middle",
    "bump": "Bump travel",
    "droop": "Droop travel",
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


def missing(sheet: dict, overtaken: list | None = None) -> list:
    """What a round still lacks before it is handed in, as {step, says} in the order of the walk.

    `overtaken` is what changes have made stale (see stale).
    """
    found: list = []
    for says in missing_heights(sheet):
        found.append({"step": "heights", "says": says})
    for says in missing_centering(sheet):
        found.append({"step": "centering", "says": says})
    bar = sheet.get("track_bar")
    for says in sentences(missing_of(bar if bar is not None else {}), "mm"):
        found.append({"step": "track_bar", "says": says})
    for says in missing_link(sheet):
        found.append({"step": "drag_link", "says": says})
    for says in missing_play(sheet):
        found.append({"step": "play", "says": says})
    for says in missing_clearance(sheet):
        found.append({"step": "clearance", "says": says})
    for says in missing_torque(sheet):
        found.append({"step": "torque", "says": says})
    return found + to_do_again(sheet, overtaken or [])


def to_do_again(sheet: dict, overtaken: list) -> list:
    """What has to be made again, as {step, says}; an axle not read anew lacks enough already."""
    found: list = []
    for each in overtaken:
        if each["step"] != "centering" or sheet.get("centering") is not None:
            found.append({"step": each["step"], "says": each["says"]})
    return found


def missing_heights(sheet: dict) -> list:
    """What the ride height still lacks, as sentences."""
    says: list = []
    if sheet.get("standing") is None:
        says.append("Say what the vehicle is standing on.")
    if sheet.get("standing") == "hanging":
        says.append("The axle is hanging: measure again with the load on the springs.")
    ready = sheet.get("ready") or {}
    for name in ticks_asked(sheet):
        if ready.get(name) is not True:
            says.append(f"Not ticked: {TICK_WORDS[name]}.")
    heights = sheet.get("heights")
    for side in ["left", "right"]:
        if heights is None or len(heights.get(side) or []) == 0:
            says.append(f"No ride height on the {side}.")
    return says


def missing_centering(sheet: dict) -> list:
    """What the centering still lacks, as sentences."""
    says: list = []
    part = sheet.get("centering")
    for side in ["left", "right"]:
        count = 0 if part is None else len(part.get(side) or [])
        if count == 0:
            says.append(f"Nothing was read on the {side}.")
        elif count < READINGS_A_SIDE:
            says.append(f"Take a second reading on the {side}.")
    return says


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
            progress = "empty" if state == "open" or state == "sent_back" else "done"
        elif step in again and progress == "begun":
            progress = "stale"
        elif step in again and step in ONCE_BEGUN:
            progress = "asked"
        elif progress == "begun" and count == 0:
            progress = "done"
        found.append({"step": step, "title": each["title"], "state": progress})
    return found


def next_after(found: list, step: str) -> dict:
    """The place to go to from a step: the next that every job needs or this one has begun."""
    names = [place["step"] for place in found]
    for each in found[names.index(step) + 1 :]:
        if each["step"] not in ONCE_BEGUN or each["state"] != "empty":
            return each
        if step in LOOKED_OVER and each["step"] in LOOKED_OVER:
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
    if step == "change" and len(sheet.get("changes") or []) > 0:
        return "begun"
    return "empty"
