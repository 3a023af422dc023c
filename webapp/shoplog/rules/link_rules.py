"""What the log keeps of the drag link, of changes and of hold points: rules of their entries."""

from collections.abc import Mapping

from webapp.reckon.log import links_of_round
from webapp.reckon.log.changes import CHANGE_ASKS, WAYS
from webapp.reckon.walk.hold_points import FIT_UP_TICKS, TITLES
from webapp.shoplog.rules.values import (
    NUMBER,
    OBJECT,
    POSITIVE,
    REASON,
    SIDE,
    YES_NO,
    Rule,
    either,
    is_number,
    list_of,
    one_of,
    or_null,
    text,
)

LINK_READINGS = (
    *links_of_round.LINK_READINGS,
    *("toe_front", "toe_rear", "toe_span"),
    *("wheelbase_left", "wheelbase_right", "wheelbase_track"),
)
AT_WHEEL: Rule = (
    lambda value: is_number(value) and abs(value) <= 1080,
    "an angle up to 1080 degrees, left positive",
)
LINK_PICKS: Mapping[str, Rule] = {
    "frame_end": SIDE,
    "arm_points": one_of("forward", "rearward"),
    "adjuster": OBJECT,
    "ratio": POSITIVE,
    "carried": YES_NO,
    "wheel_deg": either(AT_WHEEL, list_of(AT_WHEEL)),
}
CHANGE: Mapping[str, Rule] = {
    "what": one_of(*CHANGE_ASKS),
    "turns": or_null(NUMBER),
    "length_change": or_null(NUMBER),
    "moved": or_null(NUMBER),
    "toward": or_null(one_of(*WAYS)),
    "part": or_null(text(120, least=0)),
    "text": or_null(text(1000, least=0)),
}
PASS_OVER: Mapping[str, Rule] = {"hold_point": one_of(*TITLES), "reason": REASON}
SEEN_OPEN: Mapping[str, Rule] = {"open": list_of(REASON)}
TICKS = tuple(FIT_UP_TICKS)
