"""What a patch of a vehicle's record may hold: its parts, sums, limits, torques, what is due."""

from typing import Annotated, Any, NotRequired, Required

from pydantic import ConfigDict, Field, with_config
from typing_extensions import TypedDict

from webapp.reckon.joint_terms import ENDS, LOOSE_NAMES, THREADS
from webapp.reckon.log.last_round import ALL_ENDS
from webapp.reckon.sheet_rules import ADJUSTERS
from webapp.reckon.step_names import HOLD_POINT_TITLES
from webapp.shoplog.rules.values import (
    LONGEST_TEXT,
    AboveZero,
    Angle,
    Axle,
    Body,
    Day,
    DistanceUnit,
    Face,
    FromZero,
    Id,
    LeftOut,
    Method,
    Mm,
    Name,
    RoundName,
    Side,
    Step,
    TagCode,
    Turn,
    Unit,
    Words,
    YesNo,
    name_of,
    one_of,
    text,
    whole,
)

BothWays = Annotated[
    list[FromZero], Field(min_length=2, max_length=2, description="a list of two numbers")
]
ThreadLeft = Annotated[FromZero | BothWays, Field(description="a number, or a list of two numbers")]


@with_config(ConfigDict(extra="forbid"))
class Adjuster(TypedDict, total=False):
    """An adjuster with its kind and the pitch of its thread in mm."""

    kind: Annotated[str, one_of(*ADJUSTERS)] | None
    pitch: Step | None
    step: Turn | None
    thread_left: ThreadLeft | None


class TrackBar(TypedDict, total=False):
    """A track bar as it is on file; lengths in mm."""

    frame_end: Side | None
    length: Mm | None
    frame_height: Mm | None
    axle_height: Mm | None
    fore_aft: Mm | None
    frame_end_from_center: Mm | None
    bump: Mm | None
    droop: Mm | None
    axle_tube_height: Mm | None
    rail_height: Mm | None
    adjuster: Adjuster | None


class DragLink(TypedDict, total=False):
    """A drag link as it is on file; lengths in mm."""

    frame_end: Side | None
    length: Mm | None
    frame_height: Mm | None
    axle_height: Mm | None
    fore_aft: Mm | None
    arm: Mm | None
    arm_points: Annotated[str, one_of("forward", "rearward")] | None
    ratio: Step | None
    adjuster: Adjuster | None


class KnownSum(TypedDict):
    """The sum of both sides of an axle at one face, and its standard uncertainty, in mm."""

    sum: Mm
    u: FromZero


class Limits(TypedDict, total=False):
    """The limits of one joint, in mm."""

    maker_limit: FromZero | None
    maker_source: Words | None
    house_limit: FromZero | None


class LimitsOnFile(Limits):
    """The limits of one joint, in mm."""

    joint: NotRequired[Name]


class JointLimits(Limits):
    """The limits of one joint as they are picked."""

    joint: Name


class Looseness(TypedDict):
    """A joint and what is loose there."""

    joint: Name
    what: NotRequired[Annotated[str, one_of(*LOOSE_NAMES)] | None]


class Torque(TypedDict, total=False):
    """A torque of a fastener in N·m: the figure as printed, its pair in another unit, and how."""

    fastener: Required[Name]
    value: AboveZero | None
    figure: Name | None
    also: AboveZero | None
    also_figure: Name | None
    tolerance: FromZero | None
    source: Words | None
    end: Annotated[str, one_of(*ENDS)] | None
    thread: Annotated[str, one_of(*THREADS)] | None
    then_angle: Angle | None
    tool: Name | None
    rubber: YesNo
    on_springs: YesNo
    moved: YesNo | None


@with_config(ConfigDict(extra="forbid"))
class Recheck(TypedDict, total=False):
    """A day, a distance in km or mi, or both, after which it is done again."""

    distance: AboveZero | None
    unit: DistanceUnit | None
    date: Day | None


@with_config(ConfigDict(extra="forbid"))
class RideHeights(TypedDict):
    """The ride height of both sides, in mm."""

    left: FromZero
    right: FromZero


@with_config(ConfigDict(extra="forbid"))
class HeightReadings(TypedDict, total=False):
    """The readings of the ride height of both sides, in mm."""

    left: Required[list[FromZero]]
    right: Required[list[FromZero]]
    read_to: Step | None
    known_lean: Mm | None


@with_config(ConfigDict(extra="forbid"))
class Before(TypedDict):
    """What a round found, in mm, and what was done to the vehicle since."""

    offset: Mm
    expanded: FromZero
    length_change: Mm
    changed: YesNo
    round: RoundName
    of: Annotated[str, one_of("this_job", "pending", "accepted")]
    heights: NotRequired[HeightReadings | None]


class LastRound(TypedDict):
    """The last round that counts of an axle, and the kinds of change since."""

    before: Before | None
    changes: list[Annotated[str, text(40, least=0)]]


class LeftOpen(TypedDict):
    """What stands open at a hold point of an axle, and what has to be done before it is settled."""

    hold_point: Annotated[str, one_of(*HOLD_POINT_TITLES)]
    step: Annotated[str, text(40)]
    says: Annotated[str, text(1000)]
    unseen: YesNo
    passed: YesNo
    since: NotRequired[Annotated[int, whole(2**53)] | None]
    about: list[Annotated[str, text(400)]]


class ReplacedTag(TypedDict, total=False):
    """The tag that came in place of another; a lost one has none."""

    by: TagCode | None


Filed = Annotated[Any, LeftOut()]


class VehiclePatch(Body, total=False):
    """A patch of a vehicle's record; the later patch wins, key by key."""

    id: Filed
    tags: Filed
    confirmed: Filed
    unaccepted: Filed
    from_job: Id | None
    name: Annotated[str, name_of(120)]
    note: Annotated[str, text(LONGEST_TEXT, least=0)]
    units: Unit
    read_to: Step
    driving_side: Side
    face: Face
    method: Method
    track_bars: dict[Axle, TrackBar]
    drag_links: dict[Axle, DragLink]
    rail_width: AboveZero | None
    track: AboveZero | None
    axles: list[Axle]
    retired: YesNo
    known_sums: dict[Axle, dict[Face, KnownSum]]
    joint_limits: dict[Axle, dict[Name, LimitsOnFile]]
    torques: dict[Axle, list[Torque]]
    rechecks: dict[Axle, Recheck | None]
    remeasure: dict[Axle, Recheck | None]
    ride_heights: dict[Axle, RideHeights]
    known_leans: dict[Axle, Mm]
    left_open: dict[Axle, list[LeftOpen]]
    last_rounds: dict[Axle, LastRound]
    links_older: dict[Axle, list[Annotated[str, one_of(*ALL_ENDS)]]]
    replaced_tags: dict[TagCode, ReplacedTag]
    merged_into: Id
