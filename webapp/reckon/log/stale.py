"""Which findings a logged change has overtaken, until they are made again.

A bar change reopens centering, steering wheel and clearance; a bracket or pitman change reopens the
bump steer too. Whatever was done, its fasteners are torqued again.
"""

from .fold import ROUNDS, fold_job, of_kind, standing
from .redone import asked, is_redone

# What each change reopens besides the torque, in the order of the walk.
REOPENS = {
    "bar_turned": ["centering", "wheel", "clearance"],
    "bar_replaced": ["centering", "wheel", "play", "clearance"],
    "bracket_moved": ["centering", "bump_steer", "wheel", "clearance"],
    "pitman_changed": ["bump_steer", "wheel", "clearance"],
    "link_turned": ["wheel"],
    "hole_repaired": ["centering", "wheel", "play", "clearance"],
    "part_replaced": ["centering", "wheel", "play", "clearance"],
}
FINDINGS = ["centering", "bump_steer", "wheel", "play", "clearance", "torque"]
ON_STEERED_AXLES = ["bump_steer", "wheel"]
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
    names = {
        "centering": "centering",
        "bump_steer": "bump steer",
        "wheel": "steering wheel",
        "play": "play",
        "clearance": "clearance",
    }
    found = [names[each] for each in REOPENS.get(what, [])] + ["torque"]
    if len(found) == 1:
        return "This reopens the torque."
    return f"This reopens {listed(found)}."


def changes_of(entries: list) -> list:
    """The standing changes of a job, in their order."""
    return of_kind(standing(entries), "change")
