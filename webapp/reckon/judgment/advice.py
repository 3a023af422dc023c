"""What to do now: adjust, leave, hold, or none; worked out once, and obeyed everywhere.

A reason is a code with the values that it was decided on; the words are made elsewhere.
"""

from ..checks.centering import JUDGED
from ..checks.moved import higher_since
from ..checks.play import faults_of, play_of
from ..checks.steering_wheel import WANDERS_DEG, against_link
from .against_file import CHANGES_STANCE, any_of, differing, logged, not_measured_since, unnamed
from .confirmations import is_confirmed, key_of
from .plausible import asks

# How far a drag link may move in its joints where nothing tells what that is at the steering wheel,
# mm: about as much on the longest arm with the quickest box.
LINK_FREE = 1.5


def advice(sheet: dict, findings: dict, limits: dict) -> dict:
    """The finding `advice`: its state, the reasons of a hold as codes with their values, and flags.

    A flag holds nothing back, and is settled before the road.
    """
    confirmed = sheet.get("confirmed") or []
    reasons = [
        each
        for each in reasons_to_hold(sheet, findings, limits)
        if not is_confirmed(each, confirmed)
    ]
    for reason in reasons:
        reason["key"] = key_of(reason)
    state = "hold" if len(reasons) > 0 else advice_state(findings)
    return {"state": state, "reasons": reasons, "flags": flags_of(findings)}


def flags_of(findings: dict) -> list:
    """What is outside a limit and does not keep anybody from setting the axle."""
    steered = findings.get("bump_steer") or {}
    if steered.get("state") != "outside":
        return []
    return [{"code": "bump_steer_outside", "most": steered["most"], "limit": steered["limit"]}]


def advice_state(findings: dict) -> str:
    """`adjust`, `leave` or `none`, where nothing holds it back."""
    found = findings.get("centering")
    if found is None or found["state"] not in JUDGED:
        return "none"
    change = findings.get("bar_change") or {}
    if found["state"] == "inside" or change.get("counted_turns") == 0:
        return "leave"
    return "adjust"


def reasons_to_hold(sheet: dict, findings: dict, limits: dict) -> list:
    """Every reason not to act on the numbers, as {code, ...}, the one to look at first first."""
    read = from_centering(findings.get("centering") or {})
    older = older_links(sheet)
    return (
        implausible(sheet)
        + from_file(sheet)
        + read
        + from_one_side(findings.get("moved") or {}, read)
        + from_heights(sheet, findings, limits)
        + from_move(findings.get("moved") or {}, older)
        + from_joints(findings.get("play") or {}, limits)
        + from_wheel(sheet.get("steering") or {}, sheet.get("drag_link"))
        + older
        + from_thread(findings)
    )


def implausible(sheet: dict) -> list:
    """A reason for each value that vehicles do not have."""
    return [reason_of_ask(each) for each in asks(sheet)]


def reason_of_ask(ask: dict) -> dict:
    """The reason to hold that a question about a value is until it is answered."""
    reason = dict(ask)
    reason["ask"] = ask["code"]
    reason["code"] = "implausible"
    return reason


def from_file(sheet: dict) -> list:
    """A reason for each value that differs from the file without a change logged."""
    found: list = []
    for each in differing(sheet):
        reason = dict(each)
        reason["code"] = "differs_from_file"
        found.append(reason)
    return found


def from_centering(found: dict) -> list:
    """Readings that do not repeat, and sides that do not add up."""
    reasons = [dict(each) for each in found.get("unsteady_sides") or []]
    if found.get("sum_reason") is not None:
        reasons.append(dict(found["sum_reason"]))
    return reasons


def from_move(found: dict, older: list) -> list:
    """A move that nothing explains, or that is the wrong way for what was turned.

    What springs do to the axle is not known until the bar's ends are measured again.
    """
    if len([each for each in older if each["link"] == "track_bar"]) > 0:
        return []
    if found.get("state") == "wrong_side":
        return [wrong_side(found)]
    if found.get("state") == "unexplained":
        reason = {"code": "moved_unexplained", "rest": found["rest"], "room": found["expanded"]}
        reason["observed"] = found["observed"]
        reason["expected"] = found["observed"] - found["rest"]
        reason["missing"] = [] if found["from_height"] is not None else parts_missing(found)
        return [reason]
    return []


def parts_missing(found: dict) -> list:
    """What is to be measured before a move can be explained: `heights`, `track_bar`."""
    known = [each for each in found["reasons"] if each["code"] != "heights_missing"]
    heights = ["heights"] if len(known) < len(found["reasons"]) else []
    return heights + (["track_bar"] if len(known) > 0 else [])


def from_one_side(found: dict, others: list) -> list:
    """One side alone that reads further from the file than its tape explains.

    Where the sum says so already, it names the likelier cause.
    """
    one = found.get("one_side")
    if one is None or len([each for each in others if each["code"] == "sum_differs"]) > 0:
        return []
    return [{"code": "one_side_differs", "side": one["side"], "by": one["by"]}]


def wrong_side(found: dict) -> dict:
    """The reason for a result on the wrong side of what a change should have done."""
    return {"code": "wrong_side", "observed": found["from_change"], "expected": found["from_bar"]}


def from_heights(sheet: dict, findings: dict, limits: dict) -> list:
    """Ride heights that changed with nothing logged, and a frame that leans."""
    reasons: list = []
    higher = higher_since(sheet)
    explained = unnamed(sheet) or any_of(CHANGES_STANCE, logged(sheet))
    if higher is not None and not explained:
        most = max(abs(higher["left"]), abs(higher["right"]))
        if most > limits["lean"]:
            left_more = abs(higher["left"]) >= abs(higher["right"])
            side = "left" if left_more else "right"
            reasons.append({"code": "height_changed", "side": side, "higher": higher[side]})
    leaning = findings.get("lean") or {}
    if leaning.get("state") == "outside":
        amounts = {"code": "leans", "difference": leaning["difference"]}
        amounts.update({"explains": leaning["explains"], "rough": leaning["rough"]})
        reasons.append(amounts)
    return reasons


def from_joints(found: dict, limits: dict) -> list:
    """Joints and bolts that are to be repaired or replaced before anything is set.

    Where no joint of a link is outside by itself, what all of them let move may still be too much.
    """
    reasons: list = []
    for each in found.get("joints") or []:
        for fault in faults_of(each):
            reasons.append(outside_at(each["joint"], each["of"], fault))
    named = [one["of"] for one in reasons]
    if "track_bar" not in named and (found.get("axle_movement") or 0.0) > limits["offset"]:
        moved = outside_at(None, "track_bar", "movement")
        moved["movement"] = found["axle_movement"]
        reasons.append(moved)
    if "drag_link" not in named:
        reasons.extend(from_free_link(found))
    return reasons


def outside_at(joint: str | None, of: str, fault: str) -> dict:
    """The reason for a joint that is not in order; for all joints of a link where none is named."""
    return {"code": "joint_outside", "joint": joint, "of": of, "fault": fault}


def from_free_link(found: dict) -> list:
    """Drag link joints that leave more free than a steering wheel can be centered to."""
    rim = found.get("link_rim_deg")
    movement = play_of(found.get("joints") or [], "drag_link") or 0.0
    free = movement if rim is None else rim
    most = LINK_FREE if rim is None else WANDERS_DEG
    if free <= most + 1e-9:
        return []
    reason = outside_at(None, "drag_link", "movement")
    reason.update({"rim_deg": rim, "movement": movement, "most": most})
    return [reason]


def from_wheel(steering: dict, link: dict | None) -> list:
    """A steering wheel that does not come back to one place, or went against a turned drag link."""
    against = against_link(steering, link)
    if against is not None:
        against.update({"code": "wrong_side", "link": "drag_link"})
        return [against]
    places = list(steering.get("after_bumps") or [])
    if len(places) > 0 and steering.get("wheel_deg") is not None:
        places.append(steering["wheel_deg"])
    if len(places) < 2 or max(places) - min(places) <= WANDERS_DEG:
        return []
    return [{"code": "wheel_wanders", "least": min(places), "most": max(places)}]


def older_links(sheet: dict) -> list:
    """A reason for each link whose heights are older than a change of what it stands on."""
    reasons: list = []
    for name in not_measured_since(sheet):
        reason: dict = {"code": "links_older", "link": name}
        for end in ["frame_height", "axle_height"]:
            reason[end] = (sheet.get(name) or {}).get(end)
        reasons.append(reason)
    return reasons


def from_thread(findings: dict) -> list:
    """An adjuster without the thread for what would be set."""
    told = [["steering", "drag_link"]]
    if advice_state(findings) == "adjust":
        told = [["bar_change", "track_bar"], ["wheel", "drag_link"]]
    reasons: list = []
    for name, link in told:
        found = findings.get(name) or {}
        if found.get("past_thread") is True:
            left = found["thread_left"]
            reasons.append({"code": "thread_left", "link": link, "left": left})
    return reasons
