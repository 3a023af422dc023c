"""Which findings a logged change has overtaken, until they are made again.

A bar change reopens centering, steering wheel and clearance; a bracket or pitman change reopens the
bump steer too. Springs, tires and stops reopen the ride height, both links' heights and the travel.
Whatever was done, its fasteners are torqued again.

One reading of anything is not enough: each end, joint and fastener that the change undid has to be
read again, and each place at which parts were held apart before.
"""

from ..checks.clearance import pair_name
from ..checks.steering_wheel import wheel_angle_of
from ..joint_terms import FASTENERS, JOINTS
from .fold import ROUNDS, fold_job, of_kind, standing

STANCE = ["heights", "centering", "bar_heights", "link_heights", "travel", "wheel", "clearance"]
# What each change reopens besides the torque, in the order of the walk.
REOPENS = {
    "bar_turned": ["centering", "wheel", "clearance"],
    "bar_replaced": ["centering", "wheel", "play", "clearance"],
    "bracket_moved": ["centering", "bump_steer", "wheel", "clearance"],
    "pitman_changed": ["bump_steer", "wheel", "clearance"],
    "link_turned": ["wheel"],
    "hole_repaired": ["centering", "wheel", "play", "clearance"],
    "part_replaced": ["centering", "wheel", "play", "clearance"],
    "link_replaced": ["toe", "wheel", "play", "clearance"],
    "springs_changed": STANCE,
    "wheels_changed": STANCE,
    "toe_set": ["toe", "wheel"],
    "arm_moved": ["bump_steer", "toe", "wheel", "clearance"],
    "part_removed": ["heights", "bar_heights", "link_heights", "travel", "clearance"],
}
# What can be reopened, in the order of the walk.
FINDINGS = [
    "heights",
    "centering",
    "bump_steer",
    "bar_heights",
    "link_heights",
    "travel",
    "toe",
    "wheel",
    "play",
    "clearance",
    "torque",
]
ON_STEERED_AXLES = ["bump_steer", "link_heights", "toe", "wheel"]
BAR_ENDS = {"frame": "frame end", "axle": "axle end"}
BAR_BOLTS = {"frame": "frame-end bolt", "axle": "axle-end bolt"}
HEIGHTS = {"frame": "frame_height", "axle": "axle_height"}
# Findings of which every field is read again: their step and fields.
READ_AGAIN: dict = {
    "heights": ["heights", ["left", "right"]],
    "bar_heights": ["track_bar", ["frame_height", "axle_height"]],
    "link_heights": ["drag_link", ["frame_height", "axle_height"]],
    "travel": ["track_bar", ["bump", "droop"]],
    "toe": ["drag_link", ["toe_front", "toe_rear"]],
}


def stale(entries: list, round_name: str) -> list:
    """What the job's changes reopened and nobody has done since, finding by finding.

    Each is {step, finding, change, cause, names, end, places_left}: `change` is the kind of the
    last change that asks for it and `cause` its entry, `names` are the joints or fasteners that are
    left, `end` is that of a height, `places_left` counts the places of a clearance once one of them
    was looked at again.

    A round that a later one follows is history: nothing in it is stale.
    """
    job = fold_job(entries)
    later = ROUNDS[ROUNDS.index(round_name) + 1 :]
    if len([name for name in job["rounds"] if name in later]) > 0:
        return []
    return overtaken(standing(entries), job["axle"])


def overtaken(stand: list, axle: str) -> list:
    """What the changes among standing entries reopened and nobody has done since, as `stale`."""
    found: list = []
    for finding in FINDINGS:
        found.extend(to_redo(stand, finding, axle))
    return found


def to_redo(stand: list, finding: str, axle: str) -> list:
    """What is to be made again of one finding, as `stale` gives it.

    What several changes ask for alike is one line, with the joints or fasteners that all of them
    undid, each once.
    """
    found: dict = {}
    for index in last_changes(stand, finding):
        body = stand[index]["body"]
        ask = needs_after(finding, body, stand[:index], stand[index + 1 :])
        if concerns(finding, body["what"], axle) and not is_redone(ask):
            key = f"{ask['step']}|{ask.get('end') or ''}|{ask.get('places_left') or 0}"
            before = found[key]["names"] if key in found else []
            found[key] = {
                "step": ask["step"],
                "finding": finding,
                "change": body["what"],
                "cause": stand[index],
                "names": before + [name for name in ask.get("left", []) if name not in before],
                "end": ask.get("end"),
                "places_left": ask.get("places_left"),
            }
    return list(found.values())


def last_changes(stand: list, finding: str) -> list:
    """The places of the changes that reopened a finding, of changes alike only that of the last.

    The last asks for all that those before it did, so a long history takes no longer for them.
    """
    last: dict = {}
    for index in range(len(stand)):
        if reopened_by(stand[index], finding):
            body = stand[index]["body"]
            last[f"{body['what']}|{(body.get('part') or '').lower()}"] = index
    return sorted(list(last.values()), key=lambda place: place)


def reopened_by(entry: dict, finding: str) -> bool:
    """Whether this entry is a change that reopens a finding."""
    return entry["kind"] == "change" and reopens(entry["body"].get("what"), finding)


def reopens(what: str | None, finding: str) -> bool:
    """Whether this kind of change reopens a finding; one unknown here reopens nothing."""
    if what not in REOPENS:
        return False
    return finding == "torque" or finding in REOPENS[what]


def concerns(finding: str, what: str, axle: str) -> bool:
    """Whether a reopened finding is one of this axle: a rear one has no steering to set.

    Its bar has heights all the same, and a moved bracket changes one.
    """
    if axle == "front" or finding not in ON_STEERED_AXLES:
        return True
    return finding == "bump_steer" and what == "bracket_moved"


def since_change(stand: list, finding: str) -> list:
    """The entries after the last change that reopened a finding; all of them where none did."""
    last = 0
    for index in range(len(stand)):
        if reopened_by(stand[index], finding):
            last = index + 1
    return stand[last:]


def reopened_findings(what: str) -> list:
    """What a change of this kind reopens, the torque last."""
    return REOPENS.get(what, []) + ["torque"]


def changes_of(entries: list) -> list:
    """The standing changes of a job, in their order."""
    return of_kind(standing(entries), "change")


def needs_after(finding: str, change: dict, before: list, after: list) -> dict:
    """What a change (its body) asks for: {step, needed, made}, with end, left or places_left.

    `before` and `after` are the entries that stand before and after it. Of what is `needed`, names
    of joints, fasteners, fields or places, `made` was made after it; `left` are the joints or
    fasteners that were not, `places_left` counts the places, and `end` is that of a height.
    """
    if finding in READ_AGAIN:
        step, fields = READ_AGAIN[finding]
        made = [body["field"] for body in readings(after, step)]
        return {"step": step, "needed": fields, "made": made}
    if finding == "bump_steer":
        return heights_asked(change, after)
    if finding == "play":
        return named_asked("play", joints_of(change), after)
    if finding == "torque":
        return named_asked("torque", fasteners_of(change), after)
    if finding == "clearance":
        return places_asked(before, after)
    if finding == "wheel":
        return {"step": "drag_link", "needed": ["wheel"], "made": wheel_said(after)}
    made = ["centering" for each in readings(after, "centering")]
    return {"step": "centering", "needed": ["centering"], "made": made}


def is_redone(ask: dict) -> bool:
    """Whether everything that a change asks for has been made."""
    return len([name for name in ask["needed"] if name not in ask["made"]]) == 0


def readings(entries: list, step: str) -> list:
    """The bodies of the readings of a step."""
    return [each["body"] for each in of_kind(entries, "reading") if each["body"]["step"] == step]


def wheel_said(after: list) -> list:
    """["wheel"] once it was said at which one place the steering wheel sits."""
    picked = [each["body"] for each in of_kind(after, "pick")]
    said = [body["value"] for body in picked if body["field"] == "wheel_deg"]
    places = [value if isinstance(value, list) else [value] for value in said if value is not None]
    return ["wheel" for each in places if wheel_angle_of({"after_bumps": each}) is not None]


def end_of(change: dict) -> str | None:
    """The end of the bar at which something was done, `frame` or `axle`; None where not said."""
    part = (change.get("part") or "").lower()
    for end in list(BAR_ENDS):
        if end in part:
            return end
    return None


def heights_asked(change: dict, after: list) -> dict:
    """The height that a moved bracket, another pitman arm or a moved steering arm changed."""
    step = "track_bar" if change["what"] == "bracket_moved" else "drag_link"
    end = end_of(change)
    if step == "drag_link":
        end = "frame" if change["what"] == "pitman_changed" else "axle"
    made = [body["field"] for body in readings(after, step)]
    if end is not None:
        return {"step": step, "end": end, "needed": [HEIGHTS[end]], "made": made}
    read = [field for field in made if field in ["frame_height", "axle_height"]]
    return {"step": step, "needed": ["height"], "made": ["height"] * len(read)}


def joints_of(change: dict) -> list:
    """The joints that a change undid, as far as it says which."""
    if change["what"] == "bar_replaced":
        return [BAR_ENDS["frame"], BAR_ENDS["axle"]]
    named = "link" in (change.get("part") or "").lower()
    if change["what"] == "link_replaced" or (change["what"] == "part_replaced" and named):
        return [each["joint"] for each in JOINTS if each["of"] == "drag_link"]
    end = end_of(change) if change["what"] == "hole_repaired" else None
    return [] if end is None else [BAR_ENDS[end]]


def fasteners_of(change: dict) -> list:
    """The fasteners that a change undid, as far as it says which."""
    what = change["what"]
    if what == "bar_turned":
        return ["jam nuts"]
    if what == "link_turned" or what == "link_replaced":
        return ["drag link clamps"]
    if what == "bar_replaced":
        return [BAR_BOLTS["frame"], BAR_BOLTS["axle"]]
    end = end_of(change) if what == "hole_repaired" or what == "bracket_moved" else None
    return [] if end is None else [BAR_BOLTS[end]]


def named_asked(step: str, names: list, after: list) -> dict:
    """Joints or fasteners to be done again; any one where the change does not say which.

    A joint or fastener that the shop named itself counts for one of those: not every bar has jam
    nuts, and not every bracket one bolt.
    """
    key = "joint" if step == "play" else "fastener"
    done = [body.get(key) or "" for body in readings(after, step) if body.get("moved") is None]
    usual = FASTENERS + [each["joint"] for each in JOINTS]
    own = [other for other in done if other not in usual]
    if len(names) == 0:
        return {"step": step, "needed": ["any"], "made": ["any"] * len(done)}
    made: list = []
    for name in names:
        if name in done:
            made.append(name)
        elif len(own) > 0:
            made.append(name)
            own = [other for other in own if other != own[0]]
    left = [one for one in names if one not in made]
    return {"step": step, "needed": names, "made": made, "left": left}


def pair_and_place(body: dict) -> str:
    """The pair and the place of a clearance in one text, the pair in either order the same."""
    return "|".join([pair_name(body), body.get("state") or "", body.get("lock") or ""])


def places_asked(before: list, after: list) -> dict:
    """Every place that was looked at before the change; any one where none was."""
    known: list = []
    for body in readings(before, "clearance"):
        if pair_and_place(body) not in known:
            known.append(pair_and_place(body))
    made = [pair_and_place(one) for one in readings(after, "clearance")]
    if len(known) == 0:
        return {"step": "clearance", "needed": ["any"], "made": ["any"] * len(made)}
    left = [place for place in known if place not in made]
    count = len(left) if len(made) > 0 else None
    return {"step": "clearance", "needed": known, "made": made, "places_left": count}
