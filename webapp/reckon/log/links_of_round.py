"""Track bar and drag link of a round: from the record, then the job's rounds, then its changes."""

from ..checks.adjuster import thread_after
from .fold import ROUNDS, of_kind
from .readings import coarsest, last_pick, last_value, readings_of
from .stale import reopens

BAR_READINGS = [
    "length",
    "frame_height",
    "axle_height",
    "fore_aft",
    "frame_end_from_center",
    "bump",
    "droop",
    "axle_tube_height",
    "rail_height",
]
BAR_PICKS = ["frame_end", "adjuster"]
LINK_READINGS = ["length", "frame_height", "axle_height", "fore_aft", "arm"]
LINK_PICKS = ["frame_end", "arm_points", "adjuster", "ratio"]
LENGTHENS = {
    "track_bar": ["bar_turned", "bar_replaced"],
    "drag_link": ["link_turned", "link_replaced"],
}
TURNED = ["bar_turned", "link_turned"]


def bar_of(stand: list, round_name: str, on_file: dict) -> dict | None:
    """The track bar of a round, or None where nothing is known of it."""
    return part_of(stand, round_name, on_file, "track_bar", BAR_READINGS + BAR_PICKS)


def link_of(stand: list, round_name: str, on_file: dict) -> dict | None:
    """The drag link of a round, or None where nothing is known of it."""
    return part_of(stand, round_name, on_file, "drag_link", LINK_READINGS + LINK_PICKS)


def part_of(stand: list, round_name: str, on_file: dict, step: str, fields: list) -> dict | None:
    """What was known of a part when a round was measured; lengths in mm."""
    part: dict = dict(on_file)
    for name in ROUNDS[: ROUNDS.index(round_name) + 1]:
        here = [each for each in stand if round_of(each) == name]
        last = len(here) if name != round_name else changes_hold_to(here, name)
        for index in range(len(here)):
            if index < last or here[index]["kind"] != "change":
                lay_over(part, here[index], step, fields)
    return part if len(list(part)) > 0 else None


def round_of(entry: dict) -> str:
    """The round of an entry; what belongs to none counts to the first."""
    return entry.get("round") or "as_found"


def changes_hold_to(here: list, name: str) -> int:
    """Up to which of a round's entries its changes had been made when its axle was measured.

    What was found stays as it was found, until the axle is measured again after the change.
    """
    for index in reversed(range(len(here))):
        entry = here[index]
        if entry["kind"] == "reading" and entry["body"]["step"] == "centering":
            return index
    return 0 if name == "as_found" else len(here)


def lay_over(part: dict, entry: dict, step: str, fields: list) -> None:
    """Lay what one entry says of the part over what was known."""
    body = entry["body"]
    if entry["kind"] == "change":
        lengthen(part, body, step)
    elif entry["kind"] == "reading" or entry["kind"] == "pick":
        if body["step"] == step and body["field"] in fields:
            part[body["field"]] = body["value"]


def lengthen(part: dict, body: dict, step: str) -> None:
    """Let the part's length and the thread left in it follow a change that was logged."""
    if body.get("what", "bar_turned") not in LENGTHENS[step]:
        return
    longer = body.get("length_change")
    if longer is not None and part.get("length") is not None:
        part["length"] = part["length"] + longer
    if (part.get("adjuster") or {}).get("thread_left") is not None:
        turned = body.get("what", "bar_turned") in TURNED
        part["adjuster"] = adjuster_then(part["adjuster"], longer if turned else None)


def adjuster_then(adjuster: dict, longer: float | None) -> dict:
    """An adjuster with the thread that a turn leaves; None turns it so far that nobody knows."""
    then = dict(adjuster)
    then.pop("thread_left")
    if longer is not None:
        ends = [max(end, 0.0) for end in thread_after(adjuster, longer)]
        then["thread_left"] = ends if len(ends) > 1 else ends[0]
    return then


def length_changes(changes: list, step: str) -> float:
    """By how much these changes made the part longer in all, in mm."""
    part = {"length": 0.0}
    for entry in of_kind(changes, "change"):
        lengthen(part, entry["body"], step)
    return part["length"]


def changed_by(stand: list, round_name: str, on_file: dict, step: str) -> float:
    """How much longer the changes make a part in a round than it was read or filed, in mm."""
    unchanged = [each for each in stand if each["kind"] != "change"]
    read = part_of(unchanged, round_name, on_file, step, ["length"]) or {}
    now = part_of(stand, round_name, on_file, step, ["length"]) or {}
    if read.get("length") is None or now.get("length") is None:
        return 0.0
    return now["length"] - read["length"]


def toe_of(here: list) -> dict | None:
    """The toe part of a sheet, or None where none of it was read."""
    return measured(here, "toe", ["front", "rear", "span"])


def wheelbase_of(here: list, track: float | None) -> dict | None:
    """The wheelbase part of a sheet, its track from the record unless read; None where not read."""
    part = measured(here, "wheelbase", ["left", "right", "track"])
    if part is not None and part.get("track") is None and track is not None:
        part["track"] = track
    return part


def measured(here: list, name: str, fields: list) -> dict | None:
    """What was read of a part of the drag link's step in one round, in mm."""
    named = [f"{name}_{each}" for each in fields]
    found = [one for one in readings_of(here, "drag_link") if one["body"]["field"] in named]
    if len(found) == 0:
        return None
    part: dict = {"read_to": coarsest(found)}
    for field in fields:
        value = last_value(found, f"{name}_{field}")
        if value is not None:
            part[field] = value
    return part


def steering_of(here: list, stand: list) -> dict | None:
    """Where the steering wheel sits in a round, {wheel_deg} or {after_bumps}, left positive.

    Several places are those of a wheel that does not come back to one; None where none was said.
    Where the drag link alone was turned since the wheel was last seen in the job, `before_deg` is
    where it sat and `link_longer` by how much the link was made longer, in mm.
    """
    wheel = last_pick(here, "drag_link", "wheel_deg")
    if isinstance(wheel, list):
        return {"after_bumps": wheel}
    if wheel is None:
        return None
    part: dict = {"wheel_deg": wheel}
    part.update(link_turned_before(stand, wheel))
    return part


def link_turned_before(stand: list, wheel: float) -> dict:
    """{before_deg, link_longer} of a wheel that was last seen here, or {}; `stand` is the job's."""
    seen = None
    longer = 0.0
    others = 0
    found: dict = {}
    for entry in stand:
        body = entry["body"]
        if entry["kind"] == "change" and reopens(body.get("what"), "wheel"):
            longer = longer + (body.get("length_change") or 0.0)
            others = others + (0 if body["what"] == "link_turned" else 1)
        if entry["kind"] == "pick" and body["step"] == "drag_link" and body["field"] == "wheel_deg":
            if body["value"] == wheel:
                known = seen is not None and longer != 0 and others == 0
                found = {"before_deg": seen, "link_longer": longer} if known else {}
            seen = None if isinstance(body["value"], list) else body["value"]
            longer = 0.0
            others = 0
    return found
