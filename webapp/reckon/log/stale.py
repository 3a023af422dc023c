"""Which findings a logged change has overtaken, until they are made again.

A bar change reopens centering, steering wheel and clearance; a bracket or pitman change reopens the
bump steer too. Springs, tires and stops reopen the ride height, both links' heights and the travel.
Whatever was done, its fasteners are torqued again.

One reading of anything is not enough: each end, joint and fastener that the change undid has to be
read again, and each place at which parts were held apart before.
"""

from ..checks.clearance import pair_name
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
# What can be reopened, in the order of the walk, and what it is called.
NAMES = {
    "heights": "ride height",
    "centering": "centering",
    "bump_steer": "bump steer",
    "bar_heights": "track bar heights",
    "link_heights": "drag link heights and bump steer",
    "travel": "travel",
    "toe": "toe",
    "wheel": "steering wheel",
    "play": "play",
    "clearance": "clearance",
    "torque": "torque",
}
FINDINGS = list(NAMES)
ON_STEERED_AXLES = ["bump_steer", "link_heights", "toe", "wheel"]
SINCE = {
    "bar_turned": "the track bar was turned",
    "bar_replaced": "the track bar was replaced",
    "bracket_moved": "a bracket was moved",
    "pitman_changed": "the pitman arm was changed",
    "link_turned": "the drag link was turned",
    "hole_repaired": "a hole was repaired",
    "part_replaced": "a part was replaced",
    "link_replaced": "the drag link was replaced",
    "springs_changed": "springs or ride height were changed",
    "wheels_changed": "wheels, tires or spacers were changed",
    "toe_set": "the toe was set",
    "arm_moved": "a steering arm or tie rod was moved",
    "part_removed": "a part was removed or cut away",
}
BAR_ENDS = {"frame": "frame end", "axle": "axle end"}
BAR_BOLTS = {"frame": "frame-end bolt", "axle": "axle-end bolt"}
HEIGHTS = {"frame": "frame_height", "axle": "axle_height"}
# Findings of which every field is read again: step, what is asked, fields.
READ_AGAIN: dict = {
    "heights": ["heights", "Measure the ride height again", ["left", "right"]],
    "bar_heights": [
        "track_bar", "Measure the heights of both ends of the track bar again",
        ["frame_height", "axle_height"],
    ],
    "link_heights": [
        "drag_link", "Measure the heights of both ends of the drag link again",
        ["frame_height", "axle_height"],
    ],
    "travel": ["track_bar", "Measure bump and droop travel again", ["bump", "droop"]],
    "toe": ["drag_link", "Measure the toe again", ["toe_front", "toe_rear"]],
}  # fmt: skip


def stale(entries: list, round_name: str) -> list:
    """What the job's changes reopened and nobody has done since: {step, finding, says}.

    A round that a later one follows is history: nothing in it is stale.
    """
    stand = standing(entries)
    job = fold_job(entries)
    later = ROUNDS[ROUNDS.index(round_name) + 1 :]
    if len([name for name in job["rounds"] if name in later]) > 0:
        return []
    found: list = []
    for finding in FINDINGS:
        still_open = to_redo(stand, finding, job["axle"])
        for again in list(still_open):
            step, what, names = still_open[again]
            which = f" ({listed(names)})" if len(names) > 0 else ""
            says = f"{again}{which}: {SINCE[what]} since then."
            found.append({"step": step, "finding": finding, "says": says})
    return found


def to_redo(stand: list, finding: str, axle: str) -> dict:
    """What is to be made again of one finding: the sentence to [step, last change, names].

    The names are those of the joints or fasteners that all these changes undid, each once.
    """
    found: dict = {}
    for index in range(len(stand)):
        if not reopened_by(stand[index], finding):
            continue
        body = stand[index]["body"]
        ask = asked(finding, body, stand[:index], stand[index + 1 :])
        if concerns(finding, body["what"], axle) and not is_redone(ask):
            before = found.get(ask["says"], ["", "", []])[2]
            names = before + [name for name in ask.get("left", []) if name not in before]
            found[ask["says"]] = [ask["step"], body["what"], names]
    return found


def listed(names: list) -> str:
    """Names as a list in words: a, b and c."""
    if len(names) == 1:
        return str(names[0])
    return f"{', '.join(names[: len(names) - 1])} and {names[len(names) - 1]}"


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


def reopened_words(what: str) -> str:
    """What a change of this kind reopens, in one sentence."""
    found = [NAMES[each] for each in REOPENS.get(what, [])] + [NAMES["torque"]]
    if len(found) == 1:
        return "This reopens the torque."
    return f"This reopens {listed(found)}."


def changes_of(entries: list) -> list:
    """The standing changes of a job, in their order."""
    return of_kind(standing(entries), "change")


def asked(finding: str, change: dict, before: list, after: list) -> dict:
    """What a change (its body) asks for: {step, says, needed, made}, and where it names any, left.

    `before` and `after` are the entries that stand before and after it. Of what is `needed`, names
    of joints, fasteners, fields or places, `made` was made after it; `left` are the joints or
    fasteners that were not.
    """
    if finding in READ_AGAIN:
        step, says, fields = READ_AGAIN[finding]
        made = [body["field"] for body in readings(after, step)]
        return {"step": step, "says": says, "needed": fields, "made": made}
    if finding == "bump_steer":
        return heights_asked(change, after)
    if finding == "play":
        return named_asked("play", "Check for play again", joints_of(change), after)
    if finding == "torque":
        return named_asked("torque", "Torque what was undone", fasteners_of(change), after)
    if finding == "clearance":
        return places_asked(before, after)
    if finding == "wheel":
        says = "Center the steering wheel and say where it sits"
        return {"step": "drag_link", "says": says, "needed": ["wheel"], "made": wheel_said(after)}
    made = ["centering" for each in readings(after, "centering")]
    says = "Measure the centering again"
    return {"step": "centering", "says": says, "needed": ["centering"], "made": made}


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
    return ["wheel" for value in said if not isinstance(value, list)]


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
    part = "drag link" if step == "drag_link" else "track bar"
    if end is not None:
        says = f"Measure the {end}-end height of the {part} again"
        return {"step": step, "says": says, "needed": [HEIGHTS[end]], "made": made}
    says = f"Measure the height of the end of the {part} that was moved again"
    read = [field for field in made if field in ["frame_height", "axle_height"]]
    return {"step": step, "says": says, "needed": ["height"], "made": ["height"] * len(read)}


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


def named_asked(step: str, says: str, names: list, after: list) -> dict:
    """Joints or fasteners to be done again; any one where the change does not say which.

    A joint or fastener that the shop named itself counts for one of those: not every bar has jam
    nuts, and not every bracket one bolt.
    """
    key = "joint" if step == "play" else "fastener"
    done = [body.get(key) or "" for body in readings(after, step) if body.get("moved") is None]
    usual = FASTENERS + [each["joint"] for each in JOINTS]
    own = [other for other in done if other not in usual]
    if len(names) == 0:
        return {"step": step, "says": says, "needed": ["any"], "made": ["any"] * len(done)}
    made: list = []
    for name in names:
        if name in done:
            made.append(name)
        elif len(own) > 0:
            made.append(name)
            own = [other for other in own if other != own[0]]
    left = [one for one in names if one not in made]
    return {"step": step, "says": says, "needed": names, "made": made, "left": left}


def place_of(body: dict) -> str:
    """The pair and the place of a clearance in one text, the pair in either order the same."""
    return "|".join([pair_name(body), body.get("state") or "", body.get("lock") or ""])


def places_asked(before: list, after: list) -> dict:
    """Every place that was looked at before the change; any one where none was."""
    known: list = []
    for body in readings(before, "clearance"):
        if place_of(body) not in known:
            known.append(place_of(body))
    made = [place_of(one) for one in readings(after, "clearance")]
    says = "Check the clearance again"
    if len(known) == 0:
        return {"step": "clearance", "says": says, "needed": ["any"], "made": ["any"] * len(made)}
    left = [place for place in known if place not in made]
    if len(made) > 0:
        places = " place is left" if len(left) == 1 else " places are left"
        says += f", {len(left)}{places}"
    return {"step": "clearance", "says": says, "needed": known, "made": made}
