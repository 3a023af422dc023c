"""What a change asks to be made again, and whether it was: heights, joints, bolts, places.

One reading of anything is not enough: each end, joint and fastener that the change undid has to be
read again, and each place at which parts were held apart before.
"""

from ..checks.clearance import pair_name
from ..joint_terms import FASTENERS, JOINTS
from .fold import of_kind

BAR_ENDS = {"frame": "frame end", "axle": "axle end"}
BAR_BOLTS = {"frame": "frame-end bolt", "axle": "axle-end bolt"}
HEIGHTS = {"frame": "frame_height", "axle": "axle_height"}


def asked(finding: str, change: dict, before: list, after: list) -> dict:
    """What a change (its body) asks for: {step, says, needed, made}, and where it names any, left.

    `before` and `after` are the entries that stand before and after it. Of what is `needed`, names
    of joints, fasteners, fields or places, `made` was made after it; `left` are the joints or
    fasteners that were not.
    """
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
    """["wheel"] once it was said where the steering wheel sits."""
    picked = [each["body"] for each in of_kind(after, "pick")]
    return ["wheel" for body in picked if body["field"] == "wheel_deg"]


def end_of(change: dict) -> str | None:
    """The end of the bar at which something was done, `frame` or `axle`; None where not said."""
    part = (change.get("part") or "").lower()
    for end in list(BAR_ENDS):
        if end in part:
            return end
    return None


def heights_asked(change: dict, after: list) -> dict:
    """The height that a moved bracket or another pitman arm changed."""
    step = "drag_link" if change["what"] == "pitman_changed" else "track_bar"
    end = "frame" if step == "drag_link" else end_of(change)
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
    if change["what"] == "part_replaced" and "link" in (change.get("part") or "").lower():
        return [each["joint"] for each in JOINTS if each["of"] == "drag_link"]
    end = end_of(change) if change["what"] == "hole_repaired" else None
    return [] if end is None else [BAR_ENDS[end]]


def fasteners_of(change: dict) -> list:
    """The fasteners that a change undid, as far as it says which."""
    what = change["what"]
    if what == "bar_turned":
        return ["jam nuts"]
    if what == "link_turned":
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
