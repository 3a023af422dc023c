"""Play, clearance and torque of a round as parts of its sheet, and what of them goes on file."""

from ..joint_terms import FASTENERS, JOINTS
from .fold import ROUNDS, of_kind
from .readings import coarsest, last_pick, readings_of

STATE_KEYS = {"crossed": "crossed_up"}
MARK_KEYS = {"witness mark": "witness_mark"}
THREAD_KEYS = {"locking compound": "locked", "new fastener": "new"}
OF_KEYS = {"steering": "other"}


def joint_parts(stand: list, round_name: str, record: dict, axle: str) -> dict:
    """What a round holds of play, clearance and torque, each part None where it holds nothing."""
    here = [each for each in stand if each.get("round") == round_name]
    limits = record.get("joint_limits", {}).get(axle, {})
    return {
        "play": none_if_empty(play_of(here, limits)),
        "clearance": none_if_empty(clearance_of(here)),
        "torque": none_if_empty(torque_of(stand, round_name, record, axle)),
        "recheck": last_pick(here, "torque", "recheck"),
    }


def none_if_empty(parts: list) -> list | None:
    """The list, or None of an empty one."""
    return parts if len(parts) > 0 else None


def last_by(entries: list, key) -> dict:  # type: ignore[no-untyped-def]
    """The last entry by what `key` makes of its body, in the order in which each first appears."""
    found: dict = {}
    for entry in entries:
        found[key(entry["body"])] = entry["body"]
    return found


def values_by(here: list, field: str) -> dict:
    """What was picked of play for each joint, by its name."""
    found: dict = {}
    for entry in of_kind(here, "pick"):
        if entry["body"]["step"] == "play" and entry["body"]["field"] == field:
            found[entry["body"]["value"]["joint"]] = entry["body"]["value"]
    return found


def limits_of_joints(here: list, on_file: dict) -> dict:
    """The limits of each joint, by its name: picked in the round, else on file."""
    limits: dict = dict(on_file)
    limits.update(values_by(here, "limit"))
    return limits


def play_of(here: list, on_file: dict) -> list:
    """The joints at which a round measured or found anything, as a sheet has them."""
    found = last_by(readings_of(here, "play"), lambda body: f"{body['joint']}|{body['field']}")
    loose = values_by(here, "loose")
    limits = limits_of_joints(here, on_file)
    joints: list = []
    for name, part in joint_names(found, loose):
        read = [each for each in found.values() if each["joint"] == name]
        joint: dict = {"joint": name, "of": OF_KEYS.get(part, part)}
        add_readings(joint, read)
        add_limits(joint, limits.get(name, {}))
        if loose.get(name, {}).get("what") is not None:
            joint["loose"] = loose[name]["what"]
        joints.append(joint)
    return joints


def joint_names(found: dict, loose: dict) -> list:
    """The joints that anything is known of, as [name, of]: the usual ones first, then own ones."""
    named: dict = {}
    for each in found.values():
        named[each["joint"]] = each["of"]
    for name in list(loose):
        if loose[name].get("what") is not None:
            named.setdefault(name, "steering")
    usual = [one for one in JOINTS if one["joint"] in named]
    names = [[one["joint"], one["of"]] for one in usual]
    known = [one["joint"] for one in usual]
    for name in list(named):
        if name not in known:
            names.append([name, named[name]])
    return names


def add_readings(joint: dict, read: list) -> None:
    """Put on a joint what was read of it, in mm, and how finely its hole was measured."""
    for body in read:
        if body["field"] == "along":
            pair = body.get("pair")
            joint["along"] = body["value"] if pair is None else pair
            joint["rocked"] = body.get("how")
        else:
            joint[body["field"]] = body["value"]
    holes = [{"body": each} for each in read if each["field"] in ["hole_long", "hole_short"]]
    if len(holes) > 0:
        joint["read_to"] = coarsest(holes)


def add_limits(joint: dict, limits: dict) -> None:
    """Put the maker's limit with its source, and the house limit, on a joint."""
    for field in ["maker_limit", "maker_source", "house_limit"]:
        if limits.get(field) is not None:
            joint[field] = limits[field]


def clearance_of(here: list) -> list:
    """What was found between each pair in each state at each lock, as a sheet has it."""
    read = readings_of(here, "clearance")
    entries: list = []
    for body in last_by(
        read, lambda body: "|".join(body["between"] + [travel_and_lock(body)])
    ).values():
        mark = body.get("mark")
        entries.append(
            {
                "between": body["between"],
                "state": STATE_KEYS.get(body["state"], body["state"]),
                "lock": body["lock"],
                "gap": body.get("value") if mark is None else MARK_KEYS.get(mark, mark),
            }
        )
    return entries


def travel_and_lock(body: dict) -> str:
    """Travel state and lock of a clearance in one text."""
    return f"{body['state']}|{body['lock']}"


def torque_of(stand: list, round_name: str, record: dict, axle: str) -> list:
    """The fasteners of a round as a sheet has them; in a recheck also those that wait for it."""
    here = [each for each in stand if each.get("round") == round_name]
    done = last_by(readings_of(here, "torque"), lambda body: body["fastener"])
    found = [on_sheet(each) for each in done.values()]
    for one in found:
        if one.get("moved") is None and one["fastener"] in moved_names(here):
            one["moved_before"] = True
    if round_name != "recheck":
        return found
    for body in bolts_before(stand, round_name, record, axle):
        if body["fastener"] not in done:
            found.append({"fastener": body["fastener"], "due": True})
    return found


def moved_names(here: list) -> list:
    """The fasteners that a round found moved."""
    bodies = [each["body"] for each in readings_of(here, "torque")]
    return [body["fastener"] for body in bodies if body.get("moved") is True]


def on_sheet(body: dict) -> dict:
    """A torque reading as a sheet has it; figures in N·m."""
    one: dict = {"fastener": body["fastener"]}
    for field in ["value", "tolerance", "also", "source", "end", "tool", "moved"]:
        if body.get(field) is not None:
            one[field] = body[field]
    if body.get("also") is not None:
        one["also_unit"] = "N·m"
    if body.get("thread") is not None:
        one["thread"] = THREAD_KEYS.get(body["thread"], body["thread"])
    if body.get("then_angle") is not None:
        one["then_deg"] = body["then_angle"]
    if body.get("rubber") is True:
        one["rubber"] = True
        one["on_springs"] = body.get("on_springs") is True
    return one


def bolts_before(stand: list, round_name: str, record: dict, axle: str) -> list:
    """The last torque of each fastener before a round: the vehicle's, then the job's own."""
    bolts: dict = {}
    for body in record.get("torques", {}).get(axle, []):
        bolts[body["fastener"]] = body
    for name in ROUNDS[: ROUNDS.index(round_name)]:
        here = [each for each in stand if each.get("round") == name]
        for body in last_by(readings_of(here, "torque"), lambda body: body["fastener"]).values():
            if body.get("moved") is None:
                bolts[body["fastener"]] = body
    return list(bolts.values())


def fasteners(stand: list, round_name: str, record: dict, axle: str) -> list:
    """The fasteners to show in a round: {fastener, here, before}, bodies of readings or None.

    The usual ones first (in a recheck only those that were torqued), then own ones.
    """
    here = [each for each in stand if each.get("round") == round_name]
    done = last_by(readings_of(here, "torque"), lambda body: body["fastener"])
    before: dict = {}
    for body in bolts_before(stand, round_name, record, axle):
        before[body["fastener"]] = body
    names = [] if round_name == "recheck" and len(list(before)) > 0 else list(FASTENERS)
    for name in list(before) + list(done):
        if name not in names:
            names.append(name)
    return [
        {"fastener": bolt, "here": done.get(bolt), "before": before.get(bolt)} for bolt in names
    ]
