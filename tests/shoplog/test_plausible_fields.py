"""Every number of an entry has a range in which it is plausible, or a reason why it needs none."""

import pytest

from webapp.reckon.judgment.plausible import NEVER_ZERO, OTHER_RANGES, RANGES, TORQUE
from webapp.reckon.sentences.range_words import RANGE_WORDS
from webapp.reckon.sheet_rules import RULES
from webapp.shoplog.rules.kinds import BODIES, body_schema

RULED = {row[0] for row in [*RANGES, TORQUE, *OTHER_RANGES]}
PARTS = {"track_bars": "track_bar", "drag_links": "drag_link", "ride_heights": "heights"}
JOINTS = {"joint_limits": "play[]", "torques": "torque[]"}
RENAMED = {"torque[].then_angle": "torque[].then_deg", "play[].pair": "play[].along"}
NAMED = {
    "vehicle.known_sums.sum": "centering.known_sum",
    "vehicle.known_sums.u": "centering.known_sum_u",
    "vehicle.rechecks.distance": "recheck.distance",
    "vehicle.remeasure.distance": "remeasure.distance",
    "vehicle.read_to": "heights.read_to",
    "vehicle.known_leans": "heights.known_lean",
}
# Numbers that nobody types, and why none of them is asked back.
NEEDS_NONE = {
    "entry.local_no": "the phone counts its entries",
    "read_to": "the tape that is drawn, or the last digit that was written",
    "photo": "the phone measures its pictures",
    "plan": "sliders have their ends",
    "vehicle.left_open.since": "the number of a line in the log",
    "vehicle.last_rounds": "worked out from readings that were asked about",
}


def numbers(node, at=()):
    """Where a schema has numbers, each a tuple of names; a list and a key by any name are ()."""
    if node.get("type") in ("number", "integer"):
        yield at
    for part in node.get("anyOf", []):
        yield from numbers(part, at)
    if "items" in node:
        yield from numbers(node["items"], at)
    for name, part in node.get("properties", {}).items():
        yield from numbers(part, (*at, name))
    if node.get("additionalProperties"):
        yield from numbers(node["additionalProperties"], at)


def paths_of(name, at):
    """The paths in the table of ranges of a number in a body, or the reason why it needs none."""
    kind, *step = name.split(".")
    whole = ".".join([name, *at])
    for prefix, why in NEEDS_NONE.items():
        if whole.startswith(prefix) or (at[-1] == prefix and kind == "reading"):
            return why
    if kind == "reading":
        fields = body_schema(name)["properties"]["field"]["enum"]
        return [reading_path(step[0], field, at[-1]) for field in fields]
    if kind == "pick":
        return [pick_path(step[0], step[1], at)]
    if kind == "limit":
        return [f"limit.{each}" for each in body_schema(name)["properties"]["name"]["enum"]]
    if kind == "vehicle" and at[0] in PARTS:
        return [".".join([PARTS[at[0]], *at[1:]])]
    if kind == "vehicle" and at[0] in JOINTS:
        path = f"{JOINTS[at[0]]}.{at[-1]}"
        return [RENAMED.get(path, path)]
    return [NAMED.get(whole, whole)]


def reading_path(step, field, last):
    if step in ("play", "clearance"):
        path = f"{step}[].{field if last == 'value' else last}"
    elif step == "torque":
        path = f"torque[].{last}"
    elif field.startswith(("toe_", "wheelbase_")):
        path = field.replace("_", ".", 1)
    else:
        path = f"{step}.{field}"
    return RENAMED.get(path, path)


def pick_path(step, field, at):
    if field == "limit":
        return f"play[].{at[-1]}"
    if field == "recheck":
        return "recheck.distance"
    if field == "wheel_deg":
        return "steering.wheel_deg"
    return ".".join([step, field, *at[1:]])


def every_number():
    """Each number of the contract, with its paths or its reason."""
    return [
        pytest.param(paths_of(name, at), id=".".join([name, *at]))
        for name in BODIES
        for at in dict.fromkeys(numbers(body_schema(name)))
    ]


@pytest.mark.parametrize("found", every_number())
def test_a_number_of_an_entry_has_its_range_or_a_reason(found):
    assert isinstance(found, str) or set(found) <= RULED


def test_every_range_has_its_words_and_every_words_a_range():
    assert set(RANGE_WORDS) == RULED


def test_what_no_sheet_holds_as_zero_is_never_kept_as_zero():
    above = {path for path, kind, _ in RULES if kind == "above zero"}

    assert set(NEVER_ZERO) == {
        path for path in above & RULED if path.partition(".")[2] not in ("read_to", "distance")
    } - {path for path in above if path.startswith("torque")}
