"""The fields of a sheet: what each may hold.

A rule is a path, a kind, and what the kind needs: choices, or the least and the largest number.
`part[].field` stands for a field of each object in a list.
"""

from .checks.clearance import TOUCHING
from .checks.play import LOOSE, OF
from .checks.torque import ENDS, THREADS
from .joint_terms import LOCKS, STATES
from .terms import AXLES, FACES, METHODS, MOVES, ROUND_WORDS, STANDINGS
from .typed.length_grammar import LONGEST
from .typed.torque_figures import UNITS_IN_NM

SIDES = ["left", "right"]
ADJUSTERS = ["one_end", "both_ends", "fixed"]
LENGTH: list = [0, LONGEST]
EITHER_WAY: list = [-LONGEST, LONGEST]
STEP: list = [0, 100]

ROUND_RULES: list = [
    ["axle", "choice", AXLES],
    ["units", "choice", ["in", "mm"]],
    ["driving_side", "choice", SIDES],
    ["standing", "choice", list(STANDINGS)],
    ["ready.level", "truth", None],
    ["ready.tires", "truth", None],
    ["ready.load", "truth", None],
    ["ready.settled", "truth", None],
    ["ready.straight", "truth", None],
    ["heights.left", "numbers", LENGTH],
    ["heights.right", "numbers", LENGTH],
    ["heights.read_to", "above zero", STEP],
    ["heights.known_lean", "number", EITHER_WAY],
    ["centering.face", "choice", list(FACES)],
    ["centering.method", "choice", list(METHODS)],
    ["centering.left", "numbers", LENGTH],
    ["centering.right", "numbers", LENGTH],
    ["centering.left_extra", "number", EITHER_WAY],
    ["centering.right_extra", "number", EITHER_WAY],
    ["centering.read_to", "above zero", STEP],
    ["centering.known_sum", "number", EITHER_WAY],
    ["centering.known_sum_u", "number", LENGTH],
    ["centering.rail_point_height", "number", LENGTH],
    ["centering.face_point_height", "number", LENGTH],
    ["centering.tilt_deg", "number", [0, 45]],
    ["centering.high_side", "choice", SIDES],
    ["centering.mixed_faces", "texts", None],
]
BAR_RULES: list = [
    ["track_bar.frame_end", "choice", SIDES],
    ["track_bar.length", "above zero", LENGTH],
    ["track_bar.frame_height", "number", EITHER_WAY],
    ["track_bar.axle_height", "number", EITHER_WAY],
    ["track_bar.fore_aft", "number", EITHER_WAY],
    ["track_bar.frame_end_from_center", "number", EITHER_WAY],
    ["track_bar.adjuster.kind", "choice", ADJUSTERS],
    ["track_bar.adjuster.pitch", "above zero", STEP],
    ["track_bar.adjuster.step", "number", STEP],
    ["track_bar.adjuster.thread_left", "along", LENGTH],
    ["track_bar.bump", "number", LENGTH],
    ["track_bar.droop", "number", LENGTH],
    ["track_bar.axle_tube_height", "number", EITHER_WAY],
    ["track_bar.rail_height", "number", EITHER_WAY],
    ["track_bar.read_to", "above zero", STEP],
]
LINK_RULES: list = [
    ["drag_link.frame_end", "choice", SIDES],
    ["drag_link.length", "above zero", LENGTH],
    ["drag_link.frame_height", "number", EITHER_WAY],
    ["drag_link.axle_height", "number", EITHER_WAY],
    ["drag_link.fore_aft", "number", EITHER_WAY],
    ["drag_link.arm", "above zero", LENGTH],
    ["drag_link.arm_points", "choice", ["forward", "rearward"]],
    ["drag_link.adjuster.kind", "choice", ADJUSTERS],
    ["drag_link.adjuster.pitch", "above zero", STEP],
    ["drag_link.adjuster.step", "number", STEP],
    ["drag_link.adjuster.thread_left", "along", LENGTH],
    ["drag_link.ratio", "above zero", STEP],
    ["drag_link.box_ratio", "above zero", STEP],
    ["drag_link.pitman_arm", "above zero", LENGTH],
    ["drag_link.read_to", "above zero", STEP],
]
JOINT_RULES: list = [
    ["play[].joint", "text", None],
    ["play[].of", "choice", list(OF)],
    ["play[].rocked", "text", None],
    ["play[].along", "along", LENGTH],
    ["play[].bolt", "above zero", LENGTH],
    ["play[].hole_long", "above zero", LENGTH],
    ["play[].hole_short", "above zero", LENGTH],
    ["play[].sleeve", "above zero", LENGTH],
    ["play[].edge", "above zero", LENGTH],
    ["play[].read_to", "above zero", STEP],
    ["play[].loose", "choice", list(LOOSE)],
    ["play[].maker_limit", "number", LENGTH],
    ["play[].maker_source", "text", None],
    ["play[].house_limit", "number", LENGTH],
    ["clearance[].between", "pair", None],
    ["clearance[].state", "choice", list(STATES)],
    ["clearance[].lock", "choice", list(LOCKS)],
    ["clearance[].gap", "gap", list(TOUCHING)],
    ["torque[].fastener", "text", None],
    ["torque[].value", "above zero", LENGTH],
    ["torque[].unit", "choice", list(UNITS_IN_NM)],
    ["torque[].also", "above zero", LENGTH],
    ["torque[].also_unit", "choice", list(UNITS_IN_NM)],
    ["torque[].source", "text", None],
    ["torque[].end", "choice", list(ENDS)],
    ["torque[].thread", "choice", list(THREADS)],
    ["torque[].then_deg", "number", [0, 720]],
    ["torque[].rubber", "truth", None],
    ["torque[].tool", "text", None],
    ["torque[].tolerance", "number", LENGTH],
    ["torque[].on_springs", "truth", None],
    ["torque[].moved", "truth", None],
    ["torque[].moved_before", "truth", None],
    ["torque[].due", "truth", None],
    ["recheck.distance", "above zero", LENGTH],
    ["recheck.unit", "choice", ["km", "mi"]],
    ["recheck.date", "text", None],
]
OTHER_RULES: list = [
    ["toe.front", "above zero", LENGTH],
    ["toe.rear", "above zero", LENGTH],
    ["toe.span", "above zero", LENGTH],
    ["toe.read_to", "above zero", STEP],
    ["wheelbase.left", "above zero", LENGTH],
    ["wheelbase.right", "above zero", LENGTH],
    ["wheelbase.track", "above zero", LENGTH],
    ["wheelbase.read_to", "above zero", STEP],
    ["steering.wheel_deg", "number", [-1080, 1080]],
    ["steering.before_deg", "number", [-1080, 1080]],
    ["steering.link_longer", "number", [-1000, 1000]],
    ["steering.after_bumps", "angles", [-1080, 1080]],
    ["changes", "texts", None],
    ["changed_here", "texts", None],
    ["before.round", "choice", list(ROUND_WORDS)],
    ["before.of", "choice", ["this_job", "pending", "accepted"]],
    ["before.offset", "number", EITHER_WAY],
    ["before.expanded", "number", LENGTH],
    ["before.heights.left", "numbers", LENGTH],
    ["before.heights.right", "numbers", LENGTH],
    ["before.length_change", "number", EITHER_WAY],
    ["before.changed", "truth", None],
    ["on_file.heights.left", "number", LENGTH],
    ["on_file.heights.right", "number", LENGTH],
    ["confirmed", "texts", None],
    ["older", "texts", ["track_bar", "drag_link"]],
    ["plans[].name", "text", None],
    ["limits.offset", "above zero", LENGTH],
    ["limits.repeat", "above zero", LENGTH],
    ["limits.face_u", "number", LENGTH],
    ["limits.clearance", "number", LENGTH],
    ["limits.lean", "above zero", LENGTH],
    ["limits.bolt_clearance", "above zero", LENGTH],
    ["limits.bump_steer", "above zero", STEP],
]
FILE_RULES: list = [[f"on_file.{rule[0]}", rule[1], rule[2]] for rule in BAR_RULES + LINK_RULES]
PLAN_RULES: list = [[f"plans[].{name}", "number", [-2000, 2000]] for name in list(MOVES)]
RULES: list = (
    ROUND_RULES + BAR_RULES + LINK_RULES + JOINT_RULES + OTHER_RULES + PLAN_RULES + FILE_RULES
)
