"""Which findings a logged change has overtaken, until they are made again.

A bar change reopens centring, steering wheel and clearance; a bracket or pitman change reopens the
bump steer too. Whatever was done, its fasteners are torqued again.
"""

from .fold import ROUNDS, fold_job, of_kind, standing

# What each change reopens besides the torque, in the order of the walk.
REOPENS = {
    "bar_turned": ["centring", "wheel", "clearance"],
    "bar_replaced": ["centring", "wheel", "play", "clearance"],
    "bracket_moved": ["centring", "bump_steer", "wheel", "clearance"],
    "pitman_changed": ["bump_steer", "wheel", "clearance"],
    "link_turned": ["wheel"],
    "hole_repaired": ["centring", "wheel", "play", "clearance"],
    "part_replaced": ["play", "clearance"],
}
STEP_OF = {
    "centring": "centring",
    "bump_steer": "drag_link",
    "wheel": "drag_link",
    "play": "play",
    "clearance": "clearance",
    "torque": "torque",
}
ON_STEERED_AXLES = ["bump_steer", "wheel"]
AGAIN = {
    "centring": "Measure the centring again",
    "bump_steer": "Measure the heights of track bar and drag link again",
    "wheel": "Centre the steering wheel and say where it sits",
    "play": "Check the joints for play again",
    "clearance": "Check the clearance again",
    "torque": "Torque what was undone",
}
SINCE = {
    "bar_turned": "the track bar was turned",
    "bar_replaced": "the track bar was replaced",
    "bracket_moved": "a bracket was moved",
    "pitman_changed": "the pitman arm was changed",
    "link_turned": "the drag link was turned",
    "hole_repaired": "a hole was repaired",
    "part_replaced": "a part was replaced",
}


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
    for finding in list(STEP_OF):
        change = reopened_by(stand, finding)
        steered = job["axle"] == "front" or finding not in ON_STEERED_AXLES
        if change is not None and steered:
            says = AGAIN[finding] + ": " + SINCE[change] + " since then."
            found.append({"step": STEP_OF[finding], "finding": finding, "says": says})
    return found


def reopened_by(stand: list, finding: str) -> str | None:
    """What was done last that reopened a finding, or None once it has been made again."""
    what = None
    for entry in stand:
        if entry["kind"] == "change" and reopens(entry["body"].get("what"), finding):
            what = entry["body"]["what"]
        elif what is not None and makes_again(entry, finding):
            what = None
    return what


def reopens(what: str | None, finding: str) -> bool:
    """Whether this kind of change reopens a finding; a kind unknown here reopens the torque."""
    if what not in REOPENS:
        return False
    return finding == "torque" or finding in REOPENS[what]


def makes_again(entry: dict, finding: str) -> bool:
    """Whether this entry makes a finding anew."""
    body = entry["body"]
    if entry["kind"] != "reading" and entry["kind"] != "pick":
        return False
    if finding == "wheel":
        return body["step"] == "drag_link" and body["field"] == "wheel_deg"
    if finding == "bump_steer":
        return body["step"] in ["drag_link", "track_bar"] and body["field"] in HEIGHTS
    return entry["kind"] == "reading" and body["step"] == finding


HEIGHTS = ["frame_height", "axle_height", "carried"]


def reopened_words(what: str) -> str:
    """What a change of this kind reopens, in one sentence."""
    names = {
        "centring": "centring",
        "bump_steer": "bump steer",
        "wheel": "steering wheel",
        "play": "play",
        "clearance": "clearance",
    }
    found = [names[each] for each in REOPENS.get(what, [])] + ["torque"]
    if len(found) == 1:
        return "This reopens the torque."
    return "This reopens " + ", ".join(found[: len(found) - 1]) + " and torque."


def changes_of(entries: list) -> list:
    """The standing changes of a job, in their order."""
    return of_kind(standing(entries), "change")
