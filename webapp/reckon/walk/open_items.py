"""What is open before the road: what was found not in order, and what was never looked at.

An item is {step, says, unseen, cause, about}: the step that settles it, a sentence, whether it was
never looked at, the entry that brought it up, or None, and what has to be measured or done, as
walk/carried.py names it; nothing where every job finds it by itself.
"""

from ..checks.clearance import clearance
from ..checks.clearance import pair_name as name_of
from ..joint_terms import joint_title, where_words
from ..log.fold import last_of
from ..log.stale import joints_of, overtaken, pair_and_place
from ..numbers import counted
from ..sentences.change_words import stale_sentence
from ..sentences.joint_answers import capital
from ..sentences.limit_words import bump_steer_outside
from ..terms import toward, wheel_sits
from .missing import BAR_ENDS
from .usual_pairs import kept_apart

# The step in which each reason of a hold is settled; the rest are settled by measuring the axle.
STEP_OF_REASON = {
    "height_changed": "heights",
    "joint_outside": "play",
    "leans": "heights",
    "wheel_wanders": "drag_link",
    "thread_left": "track_bar",
}
# What follows from joints and sides by themselves and is said of them.
SAID_OF_PARTS = ["joint_outside", "sum_differs"]
# Moves that nothing explains: only a repair settles them, or the lead.
MOVES = ["moved_unexplained", "wrong_side"]
THREADED = ["one_end", "both_ends"]
USUAL_BOLTS = ["frame-end bolt", "axle-end bolt", "jam nuts", "drag link clamps"]


def item(step: str, says: str, about: list, cause: dict | None = None) -> dict:
    """One thing that was found not in order."""
    return {"step": step, "says": says, "unseen": False, "cause": cause, "about": about}


def unseen(step: str, says: str, about: list) -> dict:
    """One thing that nobody has looked at."""
    says = f"Not looked at: {says}."
    return {"step": step, "says": says, "unseen": True, "cause": None, "about": about}


def items_before_road(entries: list, rounds: list, axle: str) -> list:
    """What is open before the road, in the order of the walk.

    `entries` stand; `rounds` are in order, as {name, sheet, findings}.
    """
    to_redo = overtaken(entries, axle)
    again = [one["finding"] for one in to_redo]
    found = of_advice(rounds, "centering" in again)
    if "centering" not in again:
        found = of_centering(rounds) + found
    for each in to_redo:
        found.append(item(each["step"], stale_sentence(each), redone_by(each), each["cause"]))
    if "wheel" not in again and axle == "front":
        found.extend(of_wheel(rounds))
    if "bump_steer" not in again:
        found.extend(of_bump_steer(rounds))
    found.extend(of_joints(rounds, again))
    found.extend(of_holes(entries, rounds))
    found.extend(of_clearance(entries, rounds, again))
    found.extend(of_torque(rounds, again))
    return found


def redone_by(again: dict) -> list:
    """What settles that something is to be made again."""
    if again["finding"] == "torque":
        return [f"torque {name}" for name in again["names"]]
    if again["finding"] == "play":
        return [f"joint {name}" for name in again["names"]]
    if again["finding"] == "wheel":
        return ["steering"]
    return ["centering"] if again["finding"] == "centering" else [f"step {again['step']}"]


def measured_last(rounds: list) -> dict | None:
    """The last round in which the axle was measured, or None."""
    return last_of([each for each in rounds if each["findings"].get("centering") is not None])


def of_centering(rounds: list) -> list:
    """What keeps the axle from being inside, as the last round that measured it found."""
    last = measured_last(rounds)
    if last is None:
        return [unseen("centering", "where the axle sits", [])]
    found = last["findings"]["centering"]
    unit = last["sheet"].get("units") or "mm"
    if found["state"] == "inside" and found["sum_state"] != "differs":
        return []
    if found["state"] == "outside" or found["state"] == "too_close":
        how = (
            "outside the limit" if found["state"] == "outside" else "too close to the limit to call"
        )
        says = f"The axle sits {toward(found['offset'], unit)}, {how}."
        return [item("centering", says, ["centering"])]
    if found["state"] == "inside":
        return [item("centering", found["sum_hint"], ["centering"])]
    says = f"No verdict on the centering: {found['why'][0]}"
    return [item("centering", says, ["centering"])]


def of_advice(rounds: list, measure_again: bool) -> list:
    """Why the advice is held back, as far as joints and sides do not say it themselves.

    What is to be measured again is not held against its old readings.
    """
    found: list = []
    told: list = []
    last = measured_last(rounds)
    for each in [one for one in [last, last_of(rounds)] if one is not None]:
        advised = each["findings"].get("advice") or {"reasons": []}
        for reason in advised["reasons"]:
            step = step_of_reason(reason)
            old = measure_again and step == "centering"
            if not old and not is_said_of_parts(reason) and reason["says"] not in told:
                told.append(reason["says"])
                found.append(item(step, reason["says"], ended_by(reason, step)))
    return found


def is_said_of_parts(reason: dict) -> bool:
    """Whether joints or sides say this by themselves; no joint says what all of them let move."""
    return reason["code"] in SAID_OF_PARTS and reason.get("fault") != "movement"


def ended_by(reason: dict, step: str) -> list:
    """What settles a reason of a hold."""
    if reason["code"] in MOVES:
        return ["repair"]
    return ["centering"] if step == "centering" else [f"step {step}"]


def step_of_reason(reason: dict) -> str:
    """The step of the walk in which a reason of a hold is settled."""
    if reason["code"] == "implausible":
        part = reason["field"].replace("[]", "").split(".")[0]
        return "drag_link" if part in ["axle", "toe", "wheelbase", "steering"] else part
    if reason.get("link") is not None:
        link: str = reason["link"]
        return link
    return STEP_OF_REASON.get(reason["code"], "centering")


def of_wheel(rounds: list) -> list:
    """Whether the steering wheel was last found off center, or never looked at."""
    last = last_of([each for each in rounds if each["findings"].get("steering") is not None])
    if last is None:
        return [unseen("drag_link", "where the steering wheel sits", [])]
    found = last["findings"]["steering"]
    if found["state"] == "centered":
        return []
    says = f"{wheel_sits(found['wheel_deg'])}. Center it with the drag link."
    return [item("drag_link", says, ["steering"])]


def of_bump_steer(rounds: list) -> list:
    """Whether the bump steer is outside the house limit, as the last round has it."""
    last = last_of([each for each in rounds if each["findings"].get("bump_steer") is not None])
    if last is None or last["findings"]["bump_steer"]["state"] != "outside":
        return []
    unit = last["sheet"].get("units") or "mm"
    says = bump_steer_outside(last["findings"]["bump_steer"], unit)
    return [item("drag_link", says, ["bump_steer"])]


def joints_found(rounds: list) -> list:
    """The findings of every joint in every round, in order."""
    found: list = []
    for each in rounds:
        found.extend((each["findings"].get("play") or {}).get("joints") or [])
    return found


def of_joints(rounds: list, again: list) -> list:
    """The joints that were last found outside their limit or loose; ends of the bar not looked at.

    A joint that moves is outside until it is rocked again, whatever else is measured of it.
    """
    rocked: dict = {}
    for each in joints_found(rounds):
        if each["along"] is not None or each.get("loose") is not None:
            rocked[each["joint"]] = each
    found: list = []
    missed = [end for end in BAR_ENDS if end not in rocked]
    if len(missed) > 0 and "play" not in again:
        found.append(unseen("play", f"play at the {' and the '.join(missed)} of the bar", []))
    for name in list(rocked):
        one = rocked[name]
        if one["state"] == "outside" or one["house_state"] == "outside":
            found.append(
                item("play", f"{joint_title(name)}: outside its limit.", [f"joint {name}"])
            )
        if one.get("loose") is not None:
            found.append(item("play", f"{joint_title(name)}: found loose.", [f"joint {name}"]))
    return found


def not_judged(rounds: list) -> list:
    """The joints that were last recorded and not judged, as sentences."""
    rocked: dict = {}
    for each in joints_found(rounds):
        if each["along"] is not None:
            rocked[each["joint"]] = each
    says: list = []
    for name in list(rocked):
        if rocked[name]["state"] == "recorded" and rocked[name]["house_state"] == "recorded":
            says.append(f"{joint_title(name)}: recorded and not judged, because no limit is known.")
    return says


def of_holes(entries: list, rounds: list) -> list:
    """The worn and oval holes that were neither repaired nor measured anew since."""
    measured: dict = {}
    for each in joints_found(rounds):
        if each["clearance"] is not None or each["oval"] is not None:
            measured[each["joint"]] = each
    found: list = []
    for name in list(measured):
        one = measured[name]
        if not is_repaired(entries, name):
            if one["oval"] is not None and one["oval"] > 0:
                found.append(hole_item(one, "its hole is oval."))
            elif one["clearance_state"] == "outside":
                found.append(hole_item(one, "its bolt is too loose in the hole."))
    return found


def hole_item(joint: dict, fault: str) -> dict:
    """What is wrong with the hole of a joint, and what is to be done; steering is not repaired."""
    name = joint["joint"]
    todo = "Repair it" if joint["of"] == "track_bar" else "Replace the worn part"
    says = f"{joint_title(name)}: {fault} {todo}, or let the lead judge it."
    return item("play", says, [f"hole {name}"])


def is_repaired(entries: list, joint: str) -> bool:
    """Whether a repair of a joint's hole was logged after the hole was last measured."""
    repaired = False
    for entry in entries:
        body = entry["body"]
        if entry["kind"] == "reading" and body["step"] == "play" and body.get("joint") == joint:
            if body["field"] in ["bolt", "hole_long", "hole_short"]:
                repaired = False
        if entry["kind"] == "change" and body.get("what") == "hole_repaired":
            repaired = repaired or joint in joints_of(body)
    return repaired


def of_clearance(entries: list, rounds: list, again: list) -> list:
    """Parts that touch, pairs that were swept in part, and that none was looked at."""
    pairs = last_clearance(rounds)
    found: list = []
    if len(pairs) == 0 and "clearance" not in again and len(kept_apart(entries)) == 0:
        found.append(unseen("clearance", "clearance through the travel, at each lock", []))
    for pair in pairs:
        if pair["state"] == "contact":
            found.append(item("clearance", contact_words(pair, ""), contact_at(pair)))
        missed = len(pair["unchecked"])
        if missed > 0 and "clearance" not in again:
            says = f"{counted(missed, 'place')} of {pair_name(pair)}"
            found.append(unseen("clearance", says, [f"pair {name_of(pair)}"]))
    return found


def last_clearance(rounds: list) -> list:
    """The pairs by what was last found at each of their places, in whichever round that was.

    A contact at full bump is not undone by a gap found at ride height in a later round.
    """
    found: dict = {}
    for each in rounds:
        for one in each["sheet"].get("clearance") or []:
            found[pair_and_place(one)] = one
    pairs: list = clearance([found[place] for place in list(found)], {})["pairs"]
    return pairs


def contact_words(pair: dict, when: str) -> str:
    """Where the parts of a pair touch."""
    return f"{capital(pair_name(pair))}: contact{when}, {where_words(pair['at'])}."


def contact_at(pair: dict) -> list:
    """What settles a contact: the same place, looked at again."""
    place = dict(pair["at"])
    place["between"] = pair["between"]
    return [f"place {pair_and_place(place)}"]


def pair_name(pair: dict) -> str:
    """The two parts of a pair in words."""
    return " to ".join(pair["between"])


def of_torque(rounds: list, again: list) -> list:
    """What the fasteners lack, and those that were never torqued."""
    last: dict = {}
    for each in rounds:
        for one in (each["findings"].get("torque") or {}).get("fasteners") or []:
            # One that waits to be checked again was torqued before.
            if one["fastener"] not in last or not one["due"]:
                last[one["fastener"]] = one
            else:
                waiting = dict(last[one["fastener"]])
                waiting["lacks"] = one["lacks"]
                last[one["fastener"]] = waiting
    found: list = []
    missed = never_torqued(list(last), rounds)
    if len(list(last)) == 0:
        missed = ["the fasteners"]
    if len(missed) > 0 and "torque" not in again:
        found.append(unseen("torque", f"torque of {' and '.join(missed)}", []))
    for name in list(last):
        for says in last[name]["lacks"]:
            found.append(item("torque", f"{capital(name)}: {says}", [f"torque {name}"]))
    return found


def never_torqued(names: list, rounds: list) -> list:
    """The usual fasteners of bar and link that are not among these names.

    One that the shop named itself counts for one of those.
    """
    sheet = rounds[len(rounds) - 1]["sheet"] if len(rounds) > 0 else {}
    bar = sheet.get("track_bar") or {}
    link = sheet.get("drag_link") or {}
    usual = USUAL_BOLTS[:2]
    if (bar.get("adjuster") or {}).get("kind") in THREADED:
        usual = usual + [USUAL_BOLTS[2]]
    if (link.get("adjuster") or {}).get("kind") in THREADED:
        usual = usual + [USUAL_BOLTS[3]]
    own = len([name for name in names if name not in USUAL_BOLTS])
    missed = [bolt for bolt in usual if bolt not in names]
    return [f"the {bolt}" for bolt in missed[own:]]
