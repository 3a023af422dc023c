"""What an entry of play, clearance or torque says on the log: what it is about, and its value."""

from ..joint_terms import (
    ENDS,
    LOOSE_NAMES,
    PLAY_NAMES,
    THREADS,
    joint_title,
    pair_words,
    place_words,
    recheck_words,
    show_torque,
)
from ..numbers import THIN, trimmed
from ..typed.dial import show_dial
from ..typed.lengths import show_length
from ..typed.torque_figures import parse_torque

STEPS = ["play", "clearance", "torque"]
TITLES = {"play": "Play", "clearance": "Clearance", "torque": "Torque"}
PICKS = {"limit": "limits", "loose": "loose", "recheck": "check again"}


def is_logged_here(body: dict) -> bool:
    """Whether a reading or pick with this body is one of play, clearance or torque."""
    return body.get("step") in STEPS


def what(body: dict) -> str:
    """What a reading or pick of these steps is about."""
    title = f"{TITLES[body['step']]}: "
    if body["field"] in PICKS:
        joint = body["value"].get("joint")
        of = "" if joint is None else f"{joint_title(joint)}, "
        return title + of + PICKS[body["field"]]
    if body["step"] == "play":
        name = PLAY_NAMES.get(body["field"], body["field"])
        return f"{title}{joint_title(body['joint'])}, {name.lower()}"
    if body["step"] == "clearance":
        where = place_words(body["state"], body["lock"])
        return f"{title}{pair_words(body['between'])}, {where}"
    return title + body["fastener"]


def value(body: dict) -> str:
    """What a reading or pick of these steps holds."""
    if body["field"] in PICKS:
        return pick_value(body["field"], body["value"])
    if body["step"] == "play":
        return play_value(body)
    if body["step"] == "clearance":
        mark = body.get("mark")
        return mark if mark is not None else show_length(body["value"], body.get("unit") or "mm")
    return torque_value(body)


def play_value(body: dict) -> str:
    """A movement or a size, a two-way reading with both its ways, and how it was rocked."""
    unit = body["unit"]
    text = show_dial(body["value"], unit)
    pair = body.get("pair")
    if pair is not None:
        text = f"{show_dial(pair[0], unit)} + {show_dial(pair[1], unit)} = {text}"
    how = body.get("how")
    return text if how is None else f"{text}, {how}"


def torque_value(body: dict) -> str:
    """A torque in both units with everything that goes with it, or whether the fastener moved."""
    words: list = []
    if body.get("moved") is not None:
        words.append("moved" if body["moved"] is True else "did not move")
    if body.get("value") is not None:
        words.append(show_torque(body["value"], unit_of_figure(body)))
    if body.get("then_angle") is not None:
        words.append(f"then {trimmed(body['then_angle'], 0)}°")
    if body.get("tolerance") is not None:
        words.append(f"± {trimmed(body['tolerance'], 1)}{THIN}N·m")
    if body.get("end") is not None:
        words.append(ENDS.get(body["end"], body["end"]))
    if body.get("thread") is not None:
        words.append(THREADS.get(body["thread"], body["thread"]))
    if body.get("rubber") is True:
        on = "weight on the springs" if body.get("on_springs") is True else "not on the springs"
        words.append(f"rubber bushing, {on}")
    for field in ["source", "tool"]:
        if body.get(field) is not None:
            words.append(body[field])
    return ", ".join(words)


def unit_of_figure(body: dict) -> str:
    """`in` for a torque that is printed in pounds, else `mm`: what it was read in comes first."""
    found = parse_torque(body.get("figure") or "", None)
    return "in" if found["ok"] and found["unit"].startswith("lbf") else "mm"


def pick_value(field: str, picked: dict) -> str:
    """Limits, looseness or the next check in words."""
    if field == "recheck":
        return recheck_words(picked)
    if field == "loose":
        return LOOSE_NAMES.get(picked.get("what") or "", "nothing")
    words: list = []
    if picked.get("maker_limit") is not None:
        source = picked.get("maker_source") or "source not said"
        words.append(f"maker {show_dial(picked['maker_limit'], 'mm')} ({source})")
    if picked.get("house_limit") is not None:
        words.append(f"house {show_dial(picked['house_limit'], 'mm')}")
    return ", ".join(words) if len(words) > 0 else "none known"
