"""What stands open on file: it follows vehicle and axle through however many jobs come after.

A job that is accepted files what is open on its axle as lines {hold_point, step, says, unseen,
passed, since, about}: `about` names everything that has to be measured or done before a line is
settled, such as `torque jam nuts`; `since` is the number of the entry that found it last.
"""

from ..checks.centering import JUDGED
from ..checks.clearance import pair_name
from ..log.fold import precedes
from ..log.links_of_round import TURNED
from ..log.stale import joints_of, pair_and_place
from .missing import missing

HOLE_FIELDS = ["bolt", "hole_long", "hole_short"]
# What a reading of each step can bring up again, besides what it is of.
BRINGS_UP = {
    "centering": ["centering", "repair"],
    "track_bar": ["bump_steer"],
    "drag_link": ["bump_steer", "steering"],
}


def lines_to_file(points: list) -> list:
    """What stands open at hold points, as it goes on file.

    What nobody ever looked at every job finds by itself, so it is left out.
    """
    lines: list = []
    for point in points:
        for each in point["open"]:
            if len(each["about"]) > 0:
                line = {"hold_point": point["hold_point"], "step": each["step"]}
                line.update({"says": each["says"], "unseen": each["unseen"]})
                line.update({"passed": each["passed"], "about": each["about"]})
                line["since"] = (each["cause"] or {}).get("seq")
                lines.append(line)
    return lines


def still_left(filed: list, hold_point: str, stand: list, rounds: list) -> list:
    """The lines on file of a hold point that these entries and rounds do not settle, as items."""
    lines = [one for one in filed if one["hold_point"] == hold_point]
    if len(lines) == 0:
        return []
    done = done_in(stand, rounds)
    items: list = []
    for each in lines:
        if len([name for name in each["about"] if name not in done]) > 0:
            left = dict(each)
            left.pop("hold_point")
            left["cause"] = {"seq": left.pop("since")} if left.get("since") is not None else None
            items.append(left)
    return items


def done_in(stand: list, rounds: list) -> dict:
    """Everything that these entries and rounds measured or did, as {name: True}."""
    done: dict = {}
    for entry in stand:
        for name in done_by(entry):
            done[name] = True
    for each in rounds:
        for name in measured_in(each):
            done[name] = True
    return done


def done_by(entry: dict) -> list:
    """What one entry did: a repair, a tick, or a reading of a step and of what it is about."""
    body = entry["body"]
    kind = entry["kind"]
    if kind == "change":
        names = [] if body.get("what") in TURNED else ["repair"]
        if body.get("what") == "hole_repaired":
            names.extend([f"hole {joint}" for joint in joints_of(body)])
        return names
    if kind == "tick":
        return [f"tick {body['field']}"] if body["value"] is True else []
    if kind == "pick":
        return picked(body)
    return read_of(body) if kind == "reading" else []


def picked(body: dict) -> list:
    """What a choice settles: its step, and a pair that never comes near each other."""
    if body["field"] == "apart":
        return [f"pair {pair_name(body['value'])}"]
    return [f"step {body['step']}"]


def read_of(body: dict) -> list:
    """What a reading is of."""
    names = [f"step {body['step']}"]
    if body["step"] == "clearance":
        names.extend([f"pair {pair_name(body)}", f"place {pair_and_place(body)}"])
    if body["step"] == "play" and body["field"] in HOLE_FIELDS:
        names.append(f"hole {body.get('joint')}")
    if body["step"] == "torque":
        names.append(f"torque {body.get('fastener')}")
    return names


def measured_in(one: dict) -> list:
    """What the findings of a round come to."""
    found = one["findings"]
    names: list = []
    if (found.get("centering") or {}).get("state") in JUDGED:
        names.append("centering")
    for name in ["steering", "bump_steer"]:
        if found.get(name) is not None:
            names.append(name)
    for each in (found.get("play") or {}).get("joints") or []:
        if each["along"] is not None or each.get("loose") is not None:
            names.append(f"joint {each['joint']}")
    return names + (["whole"] if len(missing(one["sheet"])) == 0 else [])


def last_by_name(stand: list) -> dict:
    """The entry that last measured, did or opened each thing that an item can be about, by name."""
    last: dict = {}
    for entry in stand:
        for name in brought_up_by(entry):
            if name not in last or precedes(last[name], entry):
                last[name] = entry
    return last


def brought_up_by(entry: dict) -> list:
    """Names of what may be found because of one entry; a job that begins looks at everything."""
    names = done_by(entry)
    body = entry["body"]
    kind = entry["kind"]
    if kind == "job":
        return ["job"]
    if kind == "tick":
        return [f"tick {body['field']}", "centering"]
    if kind == "reading" or kind == "pick":
        value = body.get("value")
        joint = value.get("joint") if isinstance(value, dict) else body.get("joint")
        return names + BRINGS_UP.get(body["step"], []) + [f"joint {joint}"]
    return names


def found_last(each: dict, last: dict) -> dict | None:
    """The entry that found an item last, or None; `last` is by name.

    What nobody ever looked at is about nothing: every job finds it anew.
    """
    found: dict | None = each["cause"]
    if found is not None:
        return found
    for name in each["about"] if len(each["about"]) > 0 else ["job"]:
        entry = last.get(name)
        if entry is not None and (found is None or precedes(found, entry)):
            found = entry
    return found
