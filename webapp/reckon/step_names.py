"""The names of the walk's steps, of what is measured and ticked in them, and of hold points."""

# In the order of the walk.
STEP_TITLES = {
    "heights": "Ride height",
    "centering": "Centering",
    "track_bar": "Track bar",
    "drag_link": "Drag link",
    "play": "Play",
    "clearance": "Clearance",
    "change": "Change",
    "torque": "Torque",
    "hand_in": "Hand in",
}
# How much of the walk a job is opened for.
SCOPES = {"centering": "just centering", "whole": "whole job", "recheck": "recheck"}
BAR_NAMES = {
    "length": "Bar length",
    "frame_height": "Frame-end height",
    "axle_height": "Axle-end height",
    "fore_aft": "Fore-aft lead",
    "frame_end_from_center": "Frame end to middle",
    "bump": "Bump travel",
    "droop": "Droop travel",
    "axle_tube_height": "Axle tube height",
    "rail_height": "Rail height",
}
LINK_NAMES = {
    "length": "Link length",
    "frame_height": "Frame-end height",
    "axle_height": "Axle-end height",
    "fore_aft": "Fore-aft lead",
    "arm": "Steering arm",
    "frame_end": "Frame end on the",
    "arm_points": "Arm points",
    "adjuster": "Adjuster",
    "ratio": "Steering ratio",
}
TOE_NAMES = {"toe_front": "Toe ahead", "toe_rear": "Toe behind", "toe_span": "Toe span"}
BASE_NAMES = {
    "wheelbase_left": "Wheelbase left",
    "wheelbase_right": "Wheelbase right",
    "wheelbase_track": "Track",
}
FIT_UP_TICKS = {
    "bar_fitted": "Bar installed as it will run",
    "swung": "Steering turned lock to lock",
}
HOLD_POINT_TITLES = {"final_welding": "Before final welding", "road": "Before the road"}


def together(parts: list) -> dict:
    """All keys of these dicts in one."""
    joined: dict = {}
    for part in parts:
        for name in list(part):
            joined[name] = part[name]
    return joined


# What the drag link's step measures and picks.
LINK_STEP_NAMES = together(
    [LINK_NAMES, TOE_NAMES, BASE_NAMES, {"wheel_deg": "Steering wheel sits"}]
)
