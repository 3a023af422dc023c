"""What is asked of a value that vehicles do not have: what it is called, what is usual and why."""

from ..joint_terms import show_torque
from ..numbers import THIN, trimmed
from ..typed.length_grammar import INCH
from ..typed.lengths import show_pitch

# What a value is called, and why its range is what it is; by its path in judgment/plausible.py.
HEIGHT = ["a frame-to-axle height", "frames ride that far over axles"]
FACE_TO_RAIL = ["a distance from face to rail", "tires leave that much room"]
MARK = ["a mark of the tape", "tapes have such marks"]
WHEEL = ["a steering wheel angle", "further off is a missed spline"]
RATIO = ["a steering ratio", "steering boxes have such ratios"]
TORQUE = ["a torque", "fasteners of a link take that much"]
PLAY_LIMIT = ["a play limit", "a joint that moves further has come apart"]
TRACK = ["a track", "wheels stand that far apart"]
SPACER = ["a spacer", "studs reach no further"]
BOLT_HEIGHT = ["a bolt height", "brackets sit that high"]
JOINT_HEIGHT = ["a joint height", "joints sit that high"]
STEP = ["an adjuster step", "an adjuster is set in parts of a turn"]
THREAD = ["thread left", "adjusters hold no more thread"]
WHEELS_APART = ["a distance between the wheels", "wheels stand that far apart"]
WHEELBASE = ["a wheelbase", "axles lie that far apart"]
HOLE = ["a hole", "such bolts hold the links"]
RANGE_WORDS: dict = {
    "heights.left": HEIGHT,
    "heights.right": HEIGHT,
    "heights.known_lean": ["a known lean", "no frame is built to lean further"],
    "heights.read_to": MARK,
    "centering.left": FACE_TO_RAIL,
    "centering.right": FACE_TO_RAIL,
    "centering.left_extra": SPACER,
    "centering.right_extra": SPACER,
    "centering.read_to": MARK,
    "centering.known_sum": ["a sum of both sides", "faces and rails lie that far apart"],
    "centering.known_sum_u": ["an uncertainty of the sum", "tapes are read more finely"],
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
    "drag_link.ratio": RATIO,
    "drag_link.box_ratio": RATIO,
    "drag_link.pitman_arm": ["a pitman arm", "steering boxes have such arms"],
    "steering.wheel_deg": WHEEL,
    "steering.after_bumps": WHEEL,
    "play[].along": ["a movement", "a joint that moves further has come apart"],
    "play[].bolt": ["a bolt", "such bolts hold the links"],
    "play[].hole_long": HOLE,
    "play[].hole_short": HOLE,
    "play[].sleeve": ["a sleeve", "such bolts hold the links"],
    "play[].edge": ["an edge distance", "brackets are that wide"],
    "play[].maker_limit": PLAY_LIMIT,
    "play[].house_limit": PLAY_LIMIT,
    "clearance[].gap": ["a gap", "parts further apart never meet"],
    "toe.front": WHEELS_APART,
    "toe.rear": WHEELS_APART,
    "toe.span": ["a span", "wheels are that large"],
    "torque[].value": TORQUE,
    "torque[].also": TORQUE,
    "torque[].tolerance": ["a tolerance", "no figure is that loose"],
    "torque[].then_deg": ["a further angle", "bolts are turned that far"],
    "recheck.distance": ["a distance to the re-check", "by then bolts have settled"],
    "remeasure.distance": ["a distance to the next measurement", "joints wear in that distance"],
    "change.turns": ["an adjustment", "threads are no longer"],
    "change.length_change": ["a change of length", "adjusters and other bars reach that far"],
    "change.moved": ["a move of a bracket", "brackets have that much room"],
    "limit.offset": ["an offset limit", "vehicles drive straight within that"],
    "limit.repeat": ["a repeat limit", "a tape held square repeats within that"],
    "limit.face_u": ["an uncertainty of a face", "faces are that true"],
    "limit.lean": ["a lean limit", "sound springs stand within that"],
    "limit.bolt_clearance": ["a bolt clearance limit", "holes are drilled that close"],
    "limit.clearance": ["a clearance limit", "parts move that much under load"],
    "limit.bump_steer": ["a bump steer limit", "linkages of trucks keep to that"],
    "vehicle.rail_width": ["a width of the frame", "frames are that wide"],
    "vehicle.track": TRACK,
    "wheelbase.left": WHEELBASE,
    "wheelbase.right": WHEELBASE,
    "wheelbase.track": TRACK,
}
FOOT = 12 * INCH
# Lengths in mm, and what stands behind the other numbers.
LENGTHS = ["length", "offset", "step", "gauge"]
BEHIND = {"angle": "°", "degrees": "°", "turns": " turns", "ratio": " : 1"}


def range_words(reason: dict, unit: str) -> str:
    """A value out of its range, what is usual, and why."""
    name, why = RANGE_WORDS[reason["field"]]
    named = f"{name[:1].upper()}{name[1:]}"
    kind = reason["kind"]
    if reason["value"] == 0 and not reason["field"].endswith("limit"):
        return f"{named} of zero is not a reading."
    if reason["tiny"]:
        shown = value_words(reason["value"], kind, unit)
        return f"{named} of {shown}? No gauge of a shop shows that little."
    usual = usual_words(reason["least"], reason["most"], kind, unit)
    return f"{named} of {value_words(reason['value'], kind, unit)}? Usual is {usual}: {why}."


def value_words(value: float, kind: str, unit: str) -> str:
    """The value, with what a length comes to in feet where it is out of all proportion."""
    if kind == "torque":
        return show_torque(value, unit)
    if kind == "pitch":
        return show_pitch(value, unit)
    if kind not in LENGTHS:
        return f"{trimmed(value, 2)}{BEHIND.get(kind, '')}"
    if unit != "in":
        return f"{trimmed(value, 3 if kind == 'gauge' else 2)}{THIN}mm"
    feet = f" ({trimmed(value / FOOT, 1)}{THIN}ft)" if abs(value) > 2 * FOOT else ""
    return f"{trimmed(value / INCH, 4 if kind == 'gauge' else 3)}{THIN}in{feet}"


def usual_words(least: float, most: float, kind: str, unit: str) -> str:
    """From where to where values lie, in the unit in use."""
    if kind == "torque":
        return f"{show_torque(least, unit)} to {show_torque(most, unit)}"
    if kind == "pitch" and unit == "in":
        # The coarsest thread has the fewest to the inch.
        return f"{trimmed(INCH / most, 0)} to {trimmed(INCH / least, 0)} threads per inch"
    if kind not in LENGTHS and kind != "pitch":
        return f"{trimmed(least, 2)} to {trimmed(most, 2)}{BEHIND.get(kind, '')}"
    if unit != "in":
        return f"{trimmed(least, 2)} to {trimmed(most, 2)}{THIN}mm"
    places = 3 if kind == "gauge" or most < INCH else 1
    return f"{trimmed(least / INCH, places)} to {trimmed(most / INCH, places)}{THIN}in"
