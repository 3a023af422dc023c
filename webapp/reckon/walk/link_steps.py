"""The walk's drag link step: what it asks for, its names, and whether it was begun."""

from ..step_names import together
from ..typed.lengths import show_length

LINK_ASKS = {
    "length": "Ball center to ball center, along the link.",
    "frame_height": "Floor to the center of the ball at the pitman arm.",
    "axle_height": "Floor to the center of the ball at the axle end.",
    "fore_aft": "How far the axle-end ball lies ahead of or behind the other. 0 if they are level.",
    "arm": "Steering axis to the center of the axle-end ball, seen from above, fore and aft.",
}
TOE_ASKS = {
    "toe_front": "Between the wheels ahead of the axle, at hub height.",
    "toe_rear": "Between the wheels behind the axle, at the same height and the same marks.",
    "toe_span": "How far fore and aft the two measurements lie apart.",
}
BASE_ASKS = {
    "wheelbase_left": "Front wheel center to rear wheel center, left side.",
    "wheelbase_right": "Front wheel center to rear wheel center, right side.",
    "wheelbase_track": "Middle of one tire to the middle of the other, across the axle.",
}
READING_ASKS = together([LINK_ASKS, TOE_ASKS, BASE_ASKS])
STEERING_ORDER = [
    "Center the axle with the track bar.",
    "Set the toe.",
    "Center the steering wheel with the drag link.",
    "Clamp, torque, road test.",
]


def lead_words(value: float, unit: str, typed: str | None) -> str:
    """The fore-aft lead of a drag link in words, as typed where it was."""
    if value == 0:
        return "level"
    amount = typed if typed is not None else show_length(abs(value), unit)
    return amount + (" ahead" if value > 0 else " behind")


def link_begun(sheet: dict) -> bool:
    """Whether anything of the drag link's step is there."""
    parts = ["drag_link", "toe", "wheelbase", "steering"]
    return len([name for name in parts if sheet.get(name) is not None]) > 0
