"""What the body of each kind of entry may hold, and what is wrong with one that holds otherwise.

A key that no type names is kept as it is, so that a newer app may say more.
"""

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any, NotRequired

from pydantic import Field, TypeAdapter, ValidationError, create_model
from typing_extensions import TypedDict

from webapp.reckon.entry_rules import rules_broken
from webapp.reckon.judgment.confirmations import ANSWERABLE
from webapp.reckon.log.changes import CHANGE_ASKS, WAYS
from webapp.reckon.photo_bounds import MOST_BYTES, MOST_PIXELS
from webapp.reckon.step_names import FIT_UP_TICKS, HOLD_POINT_TITLES, SCOPES
from webapp.reckon.terms import TICKS
from webapp.shoplog.rules import sentences
from webapp.shoplog.rules.json_schema import Schema, schema_of
from webapp.shoplog.rules.own_kinds import OWN_KINDS
from webapp.shoplog.rules.readings import PICKS, READINGS, Reading
from webapp.shoplog.rules.record import VehiclePatch
from webapp.shoplog.rules.values import (
    LONGEST_TEXT,
    AboveZero,
    AnyReason,
    Axle,
    Body,
    Day,
    Hash,
    Id,
    Mm,
    Move,
    Name,
    Reason,
    RoundName,
    TagCode,
    When,
    Word,
    Words,
    YesNo,
    one_of,
    text,
    whole,
)

# Beyond this a phone, whose numbers are all floating point, cannot tell two whole numbers apart.
LARGEST_WHOLE = 2**53
# More than a phone can make in its life. A higher number is an error or a prank, and would name
# everything up to it as missing.
LARGEST_LOCAL_NO = 10_000_000
MAX_BODY_BYTES = 16 * 1024


class Head(TypedDict):
    """What every entry says of itself; `typed` is the text exactly as it was typed."""

    id: Id
    phone: Id
    local_no: Annotated[
        int, Field(ge=1, le=LARGEST_LOCAL_NO, description="a number from 1 to 10,000,000")
    ]
    vehicle: Id | None
    job: Id | None
    round: RoundName | None
    body: Annotated[
        dict[str, Any],
        Field(description="an object", json_schema_extra={"maxBytes": MAX_BODY_BYTES}),
    ]
    typed: Annotated[str, text(LONGEST_TEXT, least=0)] | None
    made_at: When
    build: Annotated[str, text(64)]


class Tag(Body):
    """A tag leads to the vehicle; `first` where the vehicle was made at its first scan."""

    code: TagCode
    first: NotRequired[YesNo]


# Its field `from` is a word of Python, which a class cannot name.
Limit = TypedDict(
    "Limit",
    {
        "name": Annotated[
            str,
            one_of(
                "offset", "repeat", "face_u", "lean", "bolt_clearance", "clearance", "bump_steer"
            ),
        ],
        "value": AboveZero,
        "reason": Reason,
        "from": NotRequired[Day],
        "replaces": NotRequired[Id | None],
    },
)


class Job(Body):
    """Opens a job for a `scope` of the walk; `second_of` is the job that is measured again."""

    axle: Axle
    round: RoundName
    about: Annotated[str, text(120, least=0)]
    scope: NotRequired[Annotated[str, one_of(*SCOPES)] | None]
    second_of: NotRequired[Id | None]


class Tick(Body):
    """Something was seen to before measuring; `as_last` where one touch said that of all ticks."""

    field: Annotated[str, one_of(*TICKS, *FIT_UP_TICKS)]
    value: YesNo
    as_last: NotRequired[YesNo]


class Note(Body):
    """A note."""

    text: Annotated[str, text(LONGEST_TEXT)]


class Strike(Body):
    """Crosses out the entry that it names."""

    target: Id
    reason: Reason


class HandIn(Body):
    """Hands the job in, with what is missing and why."""

    missing: Annotated[list[Reason], Field(description="a list of texts")]
    reason: AnyReason | None


class Decision(Body):
    """The lead's word on a hand-in; `step` is where the job is sent back to.

    `own_reason` is why somebody decides on their own work. After entries that came in behind an
    acceptance, `before` names that acceptance, and `keeps` says that it stays as it is.
    """

    hand_in: Id
    verdict: Annotated[str, one_of("accepted", "sent_back")]
    reason: AnyReason | None
    step: NotRequired[Word]
    own_reason: NotRequired[AnyReason | None]
    before: NotRequired[Id | None]
    keeps: NotRequired[YesNo]


class PassOver(Body):
    """The lead passes a hold point over; `open` is what was open at the time."""

    hold_point: Annotated[str, one_of(*HOLD_POINT_TITLES)]
    reason: Reason
    open: NotRequired[Annotated[list[Reason], Field(description="a list of texts")]]


class CloseItem(Body):
    """The lead closes what stands open before the road or the welding, by its sentence."""

    axle: Axle
    says: Reason
    reason: Reason


class Confirm(Body):
    """What answers one reason, by its values, that holds the advice: it was measured again."""

    code: Annotated[str, one_of(*ANSWERABLE)]
    key: Words
    says: Reason


class Change(Body, total=False):
    """What was done to the vehicle; lengths in mm."""

    what: Annotated[str, one_of(*CHANGE_ASKS)]
    turns: Mm | None
    length_change: Move | None
    moved: Move | None
    toward: Annotated[str, one_of(*WAYS)] | None
    part: Annotated[str, text(120, least=0)] | None
    text: AnyReason | None


class Photo(Body):
    """A photo by the hash of its bytes, what it shows, and its size."""

    sha256: Hash
    of: Name
    width: Annotated[int, whole(MOST_PIXELS)]
    height: Annotated[int, whole(MOST_PIXELS)]
    bytes: Annotated[int, whole(MOST_BYTES)]
    text: NotRequired[AnyReason | None]


class Plan(Body):
    """A what-if plan: moves in mm."""

    name: Name
    axle_end_up: NotRequired[Move]
    frame_end_down: NotRequired[Move]
    pitman_down: NotRequired[Move]
    link_axle_end_up: NotRequired[Move]
    height_change: NotRequired[Move]


KINDS: Mapping[str, Any] = {
    "vehicle": VehiclePatch,
    "tag": Tag,
    "limit": Limit,
    "job": Job,
    "reading": Reading,
    "tick": Tick,
    "pick": Reading,
    "note": Note,
    "strike": Strike,
    "hand_in": HandIn,
    "decision": Decision,
    "pass_over": PassOver,
    "close_item": CloseItem,
    "confirm": Confirm,
    "change": Change,
    "photo": Photo,
    "plan": Plan,
}


def bodies() -> dict[str, Any]:
    """The type of each body by its name: the kind, `reading.step` or `pick.step.field`.

    `entry` is what stands around the body.
    """
    readings = {f"reading.{step}": body for step, body in READINGS.items()}
    picks = {
        f"pick.{step}.{field}": pick_of(value)
        for step, fields in PICKS.items()
        for field, value in fields.items()
    }
    return {"entry": Head, **KINDS, **readings, **picks}


def pick_of(value: Any) -> Any:
    """The body of a pick of such a value."""
    return create_model(
        "Pick",
        step=(Word, ...),
        field=(Word, ...),
        value=(value, ...),
        as_last=(YesNo, False),
        replaces=(Id | None, None),
    )


BODIES: Mapping[str, Any] = bodies()


def name_of_body(kind: str, body: Mapping[str, Any]) -> str:
    """The name under which BODIES has the type of this body; the kind where step or field lack."""
    if kind not in UNKNOWN:
        return kind
    name = f"{kind}.{body.get('step')}"
    name = f"{name}.{body.get('field')}" if kind == "pick" else name
    return name if name in BODIES else kind


@cache
def checker(name: str) -> Any:
    """What checks the body of this name."""
    return TypeAdapter(type_of(name)).validator


@cache
def body_schema(name: str) -> Schema:
    """The JSON Schema of the body of this name."""
    return schema_of(type_of(name))


def type_of(name: str) -> Any:
    """The type of the body of this name, also of what the shop PC writes itself."""
    return OWN_KINDS[name] if name in OWN_KINDS else BODIES[name]


# What is said where a kind goes by step and field, and these are none that the log knows.
UNKNOWN = {
    "reading": "There is no reading {field} in the step {step}.",
    "pick": "There is nothing to pick called {field} in the step {step}.",
}


def entry_faults(made: Mapping[str, Any]) -> list[str]:
    """A sentence for everything that is wrong with what stands around an entry's body."""
    return faults_by("entry", "entry", made)


def body_faults(kind: str, body: Mapping[str, Any]) -> list[str]:
    """A sentence for everything that is wrong with this body; none when it can be kept."""
    name = name_of_body(kind, body)
    faults = faults_by(name, kind, body)
    if not faults and name in UNKNOWN:
        return [UNKNOWN[name].format(**body)]
    return faults or list(rules_broken(kind, dict(body)))


def faults_by(name: str, kind: str, body: Mapping[str, Any]) -> list[str]:
    """A sentence for each fault that the type of this name finds."""
    try:
        checker(name).validate_python(body, strict=True)
    except ValidationError as error:
        return sentences.of_faults(kind, body, error, body_schema(name))
    return []
