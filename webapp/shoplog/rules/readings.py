"""What readings and picks of each step may hold."""

from collections.abc import Mapping
from typing import Annotated, Any, NotRequired

from pydantic import Field
from typing_extensions import TypedDict

from webapp.reckon.joint_terms import LOCK_NAMES, OF_WORDS, PLAY_NAMES, STATE_NAMES
from webapp.reckon.log import links_of_round
from webapp.reckon.terms import STANDINGS
from webapp.shoplog.rules.record import Adjuster, BothWays, JointLimits, Looseness, Recheck, Torque
from webapp.shoplog.rules.values import (
    AtWheel,
    Body,
    Face,
    FromZero,
    Method,
    Mm,
    Name,
    Side,
    Step,
    Tilt,
    Unit,
    Word,
    Words,
    YesNo,
    one_of,
)

SIDES = ("left", "right")
BAR_READINGS = tuple(links_of_round.BAR_READINGS)
LINK_READINGS = (
    *links_of_round.LINK_READINGS,
    *("toe_front", "toe_rear", "toe_span"),
    *("wheelbase_left", "wheelbase_right", "wheelbase_track"),
)
Pair = Annotated[list[Name], Field(min_length=2, max_length=2, description="a list of two parts")]


class Reading(Body):
    """What every reading says of itself."""

    step: Word
    field: Word


class Measured(Reading):
    """A length, in mm."""

    value: Mm
    unit: Unit
    read_to: Step
    face: NotRequired[Face]
    method: NotRequired[Method]


class HeightReading(Measured):
    """A ride height of one side."""

    field: Annotated[str, one_of(*SIDES)]


class CenteringReading(Measured):
    """The distance from a rail to a face of one side."""

    field: Annotated[str, one_of(*SIDES)]


class BarReading(Measured):
    """A length of the track bar."""

    field: Annotated[str, one_of(*BAR_READINGS)]


class LinkReading(Measured):
    """A length of the drag link, the toe or the wheelbase."""

    field: Annotated[str, one_of(*LINK_READINGS)]


class PlayReading(Reading):
    """A movement or a size at a joint; `pair` is a movement both ways."""

    field: Annotated[str, one_of(*PLAY_NAMES)]
    joint: Name
    of: Annotated[str, one_of(*OF_WORDS)]
    value: FromZero
    unit: Unit
    read_to: Step
    how: NotRequired[Words | None]
    pair: NotRequired[BothWays | None]


class ClearanceReading(Reading):
    """A gap between two parts, or the mark that they left."""

    field: Annotated[str, one_of("gap")]
    between: Pair
    state: Annotated[str, one_of(*STATE_NAMES)]
    lock: Annotated[str, one_of(*LOCK_NAMES)]
    value: NotRequired[FromZero | None]
    mark: NotRequired[Annotated[str, one_of("touches", "witness mark")] | None]
    unit: NotRequired[Unit]
    read_to: NotRequired[Step]


class Apart(TypedDict):
    """Two parts, and whether they never come near each other."""

    between: Pair
    apart: YesNo


class TorqueReading(Torque, Reading):
    """A torque that was set, or what a re-check found."""

    field: Annotated[str, one_of("fastener")]


READINGS: Mapping[str, Any] = {
    "heights": HeightReading,
    "centering": CenteringReading,
    "track_bar": BarReading,
    "drag_link": LinkReading,
    "play": PlayReading,
    "clearance": ClearanceReading,
    "torque": TorqueReading,
}
PICKS: Mapping[str, Mapping[str, Any]] = {
    "heights": {"standing": Annotated[str, one_of(*STANDINGS)]},
    "centering": {
        "face": Face,
        "method": Method,
        "left_extra": Mm | None,
        "right_extra": Mm | None,
        "rail_point_height": FromZero | None,
        "face_point_height": FromZero | None,
        "tilt_deg": Tilt | None,
        "high_side": Side | None,
    },
    "track_bar": {"frame_end": Side, "adjuster": Adjuster, "carried": YesNo},
    "drag_link": {
        "frame_end": Side,
        "arm_points": Annotated[str, one_of("forward", "rearward")],
        "adjuster": Adjuster,
        "ratio": Step,
        "carried": YesNo,
        "wheel_deg": Annotated[
            AtWheel | list[AtWheel],
            Field(description="an angle up to 1080 degrees, left positive, or a list of them"),
        ],
    },
    "play": {"limit": JointLimits, "loose": Looseness},
    "clearance": {"apart": Apart},
    "torque": {"recheck": Recheck},
}
