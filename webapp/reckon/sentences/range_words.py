"""What is asked of a value that vehicles do not have: what it is called, what is usual and why."""

from ..joint_terms import show_torque
from ..numbers import THIN, trimmed
from ..typed.length_grammar import INCH
from ..typed.lengths import show_pitch

# What a value is called, and why its range is what it is; by its path in judgment/plausible.py.
HEIGHT = ["a frame-to-axle height", "frames ride that far over axles"]
FACE_TO_RAIL = ["a distance from face to rail", "tires leave that much room"]
SPACER = ["a spacer", "studs reach no further"]
BOLT_HEIGHT = ["a bolt height", "brackets sit that high"]
JOINT_HEIGHT = ["a joint height", "joints sit that high"]
STEP = ["an adjuster step", "an adjuster is set in parts of a turn"]
THREAD = ["a thread left", "adjusters hold no more thread"]
WHEELS_APART = ["a distance between the wheels", "wheels stand that far apart"]
WHEELBASE = ["a wheelbase", "axles lie that far apart"]
HOLE = ["a hole", "such bolts hold the links"]
RANGE_WORDS: dict = {
    "heights.left": HEIGHT,
    "heights.right": HEIGHT,
    "heights.known_lean": ["a known lean", "no frame is built to lean further"],
    "centering.left": FACE_TO_RAIL,
    "centering.right": FACE_TO_RAIL,
    "centering.left_extra": SPACER,
    "centering.right_extra": SPACER,
    "centering.read_to": ["a mark of the tape", "tapes have such marks"],
    "centering.tilt_deg": ["a floor tilt", "on a steeper floor the vehicle moves"],
    "centering.rail_point_height": ["a height on the rail", "rails hang that high"],
    "centering.face_point_height": ["a height on the face", "axles lie that high"],
    "track_bar.length": ["a track bar", "it reaches from the frame rail to the axle end"],
    "track_bar.frame_height": BOLT_HEIGHT,
    "track_bar.axle_height": BOLT_HEIGHT,
    "track_bar.fore_aft": ["a fore-aft lead", "a track bar lies across the vehicle"],
    "track_bar.frame_end_from_center": ["a distance to the center", "rails lie that far out"],
    "track_bar.adjuster.pitch": ["a thread pitch", "rod ends have such threads"],
    "track_bar.adjuster.step": STEP,
    "track_bar.adjuster.thread_left": THREAD,
    "track_bar.bump": ["a bump travel", "springs and stops allow that much"],
    "track_bar.droop": ["a droop travel", "springs and shocks allow that much"],
    "track_bar.axle_tube_height": ["an axle tube height", "axles lie that high"],
    "track_bar.rail_height": ["a rail height", "rails hang that high"],
    "drag_link.length": ["a drag link", "it reaches from the steering box to the knuckle"],
    "drag_link.frame_height": JOINT_HEIGHT,
    "drag_link.axle_height": JOINT_HEIGHT,
    "drag_link.fore_aft": ["a fore-aft lead", "a drag link lies across the vehicle"],
    "drag_link.arm": ["a steering arm", "knuckles have such arms"],
    "drag_link.adjuster.pitch": ["a thread pitch", "drag links have such threads"],
    "drag_link.adjuster.step": STEP,
    "drag_link.adjuster.thread_left": THREAD,
    "drag_link.ratio": ["a steering ratio", "steering boxes have such ratios"],
    "steering.wheel_deg": ["a steering wheel angle", "further off is a missed spline"],
    "play[].along": ["a movement", "a joint that moves further has come apart"],
    "play[].bolt": ["a bolt", "such bolts hold the links"],
    "play[].hole_long": HOLE,
    "play[].hole_short": HOLE,
    "play[].sleeve": ["a sleeve", "such bolts hold the links"],
    "play[].edge": ["an edge distance", "brackets are that wide"],
    "clearance[].gap": ["a gap", "parts further apart never meet"],
    "toe.front": WHEELS_APART,
    "toe.rear": WHEELS_APART,
    "toe.span": ["a span", "wheels are that large"],
    "torque[].value": ["a torque", "fasteners of a link take that much"],
    "wheelbase.left": WHEELBASE,
    "wheelbase.right": WHEELBASE,
    "wheelbase.track": ["a track", "wheels stand that far apart"],
}
FOOT = 12 * INCH


def range_words(reason: dict, unit: str) -> str:
    """A value out of its range, what is usual, and why."""
    name, why = RANGE_WORDS[reason["field"]]
    named = f"{name[:1].upper()}{name[1:]}"
    if reason["value"] == 0:
        return f"{named} of zero is not a reading."
    kind = reason["kind"]
    usual = usual_words(reason["field"], reason["least"], reason["most"], kind, unit)
    return f"{named} of {value_words(reason['value'], kind, unit)}? Usual is {usual}: {why}."


def value_words(value: float, kind: str, unit: str) -> str:
    """The value, with what a length comes to in feet where it is out of all proportion."""
    if kind == "torque":
        return show_torque(value, unit)
    if kind == "pitch":
        return show_pitch(value, unit)
    if kind not in ["length", "offset", "step"]:
        return f"{trimmed(value, 2)}{'°' if kind == 'angle' else ''}"
    if unit != "in":
        return f"{trimmed(value, 2)}{THIN}mm"
    feet = f" ({trimmed(value / FOOT, 1)}{THIN}ft)" if abs(value) > 2 * FOOT else ""
    return f"{trimmed(value / INCH, 3)}{THIN}in{feet}"


def usual_words(field: str, least: float, most: float, kind: str, unit: str) -> str:
    """From where to where values lie, in the unit in use."""
    if kind == "torque":
        return f"{show_torque(least, unit)} to {show_torque(most, unit)}"
    if kind == "pitch" and unit == "in":
        # The coarsest thread has the fewest to the inch.
        return f"{trimmed(INCH / most, 0)} to {trimmed(INCH / least, 0)} threads per inch"
    if kind not in ["length", "offset", "step", "pitch"]:
        return f"{trimmed(least, 2)} to {trimmed(most, 2)}{'°' if kind == 'angle' else ''}"
    if unit != "in":
        return f"{trimmed(least, 2)} to {trimmed(most, 2)}{THIN}mm"
    places = 3 if field.startswith("play") or kind == "step" else 1
    return f"{trimmed(least / INCH, places)} to {trimmed(most / INCH, places)}{THIN}in"
