"""What an entry of the log says: what it is about, its title, and what it holds, its value.

The lead's log and the phone's show the same: the desk in two columns, the phone in one line.
"""

from ..joint_terms import (
    APART,
    ENDS,
    LOOSE_NAMES,
    PLAY_NAMES,
    THREADS,
    joint_title,
    pair_words,
    recheck_words,
    show_torque,
    where_words,
)
from ..numbers import trimmed
from ..step_names import (
    BAR_NAMES,
    FIT_UP_TICKS,
    HOLD_POINT_TITLES,
    LINK_STEP_NAMES,
    SCOPES,
    STEP_TITLES,
)
from ..terms import (
    FACES,
    METHODS,
    PHOTO_WORDS,
    ROUND_WORDS,
    STANDINGS,
    TICK_WORDS,
    degrees,
    wheel_position,
)
from ..typed.dial import show_dial, show_fine
from ..typed.lengths import show_length
from ..typed.torque_figures import parse_torque
from .adjuster_words import adjuster_words
from .change_words import CHANGE_NAMES, amounts_words
from .decision_words import verdict_words
from .limit_words import LIMIT_NAMES, limit_words
from .plan_rows import plan_words

JOINT_STEPS = ["play", "clearance", "torque"]
JOINT_PICKS = {"limit": "limits", "loose": "loose", "recheck": "check again", "apart": "apart"}
# Fields that are called otherwise on the log than on their own screen, or have no name there.
FIELD_WORDS = {
    "left_extra": "spacer left",
    "right_extra": "spacer right",
    "rail_point_height": "height of the rail's point",
    "face_point_height": "height of the face's point",
    "tilt_deg": "tilt of the floor",
    "frame_end": "frame end",
    "wheel_deg": "steering wheel",
    "carried": "values on file confirmed",
}
# Kinds whose title names a part or a kind already: their value goes on after a comma.
NAMED = ["reading", "pick", "change", "plan"]


def entry_sentence(entry: dict, target: dict | None, unit: str) -> str:
    """What an entry says in one sentence; `target` is the entry that it strikes, where known."""
    title = entry_title(entry, target, unit)
    value = entry_value(entry, unit)
    if len(value) == 0:
        return title
    return f"{title}{', ' if entry['kind'] in NAMED else ': '}{value}"


def entry_title(entry: dict, target: dict | None, unit: str) -> str:
    """What an entry is about; lengths of what it strikes in the unit in use."""
    kind = entry["kind"]
    if kind == "strike":
        return strike_title(target, unit)
    made = KIND_TITLES.get(kind, kind.replace("_", " ").capitalize())
    if isinstance(made, str):
        return made
    return str(made(entry["body"]))


def entry_value(entry: dict, unit: str) -> str:
    """What an entry holds, empty where its title says it all; lengths in the unit in use."""
    made = KIND_VALUES.get(entry["kind"])
    return "" if made is None else made(entry["body"], unit) or ""


def strike_title(target: dict | None, unit: str) -> str:
    """What was struck, in the words in which it stood."""
    return f"Strike of {struck_words(target, unit)}"


def struck_words(target: dict | None, unit: str) -> str:
    """An entry that was struck, within a sentence."""
    if target is None:
        return "an entry that is not here"
    if target["kind"] == "strike":
        return "a strike"
    return f"“{entry_sentence(target, None, unit)}”"


def record_words(body: dict) -> str:
    """What a patch to a vehicle's record says: its name, and what else it names."""
    named = [name.replace("_", " ") for name in list(body) if name not in ["name", "from_job"]]
    if body.get("name"):
        named = [body["name"]] + named
    return ", ".join(named)


def is_of_joint(body: dict) -> bool:
    """Whether a reading or pick with this body is one of play, clearance or torque."""
    return body.get("step") in JOINT_STEPS


def field_name(body: dict) -> str:
    """What a reading or pick is of: its field, side or part and where, without its step."""
    field = body["field"]
    if not is_of_joint(body):
        names = LINK_STEP_NAMES if body["step"] == "drag_link" else BAR_NAMES
        name = FIELD_WORDS.get(field) or names.get(field) or field.replace("_", " ")
        return name[:1].lower() + name[1:]
    if field == "apart":
        return pair_words(body["value"]["between"])
    if field in JOINT_PICKS:
        joint = body["value"].get("joint")
        of = "" if joint is None else f"{joint_title(joint)}, "
        return of + JOINT_PICKS[field]
    if body["step"] == "play":
        return f"{joint_title(body['joint'])}, {PLAY_NAMES.get(field, field).lower()}"
    if body["step"] == "clearance":
        return f"{pair_words(body['between'])}, {where_words(body)}"
    return str(body["fastener"])


def reading_value(body: dict) -> str:
    """What a reading holds, a length in the unit in which it was read."""
    unit = body.get("unit") or "mm"
    if body["step"] == "play":
        return play_value(body)
    if body["step"] == "torque":
        return torque_value(body)
    if body.get("mark") is not None:
        return str(body["mark"])
    return show_length(body["value"], unit)


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
        words.append(f"± {show_torque(body['tolerance'], unit_of_figure(body))}")
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
    """`in` for a torque that was read in pounds, else `mm`: what it was read in comes first."""
    found = parse_torque(body.get("figure") or "", None)
    return "in" if found["ok"] and found["unit"].startswith("lb-") else "mm"


def joint_pick_value(field: str, picked: dict, unit: str) -> str:
    """Limits, looseness or the next check in words."""
    if field == "recheck":
        return recheck_words(picked)
    if field == "apart":
        return APART if picked["apart"] is True else "may come near each other"
    if field == "loose":
        return LOOSE_NAMES.get(picked.get("what") or "", "nothing")
    words: list = []
    if picked.get("maker_limit") is not None:
        source = picked.get("maker_source") or "source not given"
        words.append(f"maker {show_fine(picked['maker_limit'], unit)} ({source})")
    if picked.get("house_limit") is not None:
        words.append(f"house {show_fine(picked['house_limit'], unit)}")
    return ", ".join(words) if len(words) > 0 else "none known"


def pick_value(body: dict, unit: str) -> str:
    """What was picked, in words."""
    field = body["field"]
    if field in JOINT_PICKS:
        return joint_pick_value(field, body["value"], unit)
    value = body.get("value")
    if value is None:
        return "none"
    made = PICKED.get(field)
    if made is not None:
        return str(made(value, unit))
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(FACES.get(value) or METHODS.get(value) or STANDINGS.get(value) or value)


# How what is picked in a field is said; the rest are words of the trade, or yes and no.
PICKED: dict = {
    "adjuster": adjuster_words,
    "wheel_deg": lambda value, unit: wheel_position(value),
    "left_extra": show_length,
    "right_extra": show_length,
    "rail_point_height": show_length,
    "face_point_height": show_length,
    "tilt_deg": lambda value, unit: degrees(value, 2),
    "ratio": lambda value, unit: f"{trimmed(value, 2)} : 1",
}


def step_and_field(body: dict) -> str:
    """The step and the field of a reading or pick."""
    return f"{STEP_TITLES.get(body['step'], body['step'])}: {field_name(body)}"


def as_last_words(body: dict) -> str:
    """That one touch said it of all at once, where it did."""
    return ", as last round" if body.get("as_last") is True else ""


def tick_name(body: dict) -> str:
    """What was ticked."""
    field = body["field"]
    return TICK_WORDS.get(field) or FIT_UP_TICKS.get(field) or field.replace("_", " ")


def photo_subject(body: dict) -> str:
    """What a photo shows."""
    return str(PHOTO_WORDS.get(body["of"], body["of"]))


def change_title(body: dict) -> str:
    """What kind of change was logged."""
    what = body.get("what") or "not said"
    return f"Change: {CHANGE_NAMES.get(what, what.replace('_', ' ')).lower()}"


def limit_value(body: dict, unit: str) -> str:
    """A house limit as it was set, and why."""
    limit = limit_words(body["name"], body["value"], unit)
    return f"{limit}, {body.get('reason') or 'no reason given'}"


# What an entry of a kind is about, from its body.
KIND_TITLES: dict = {
    "vehicle": "Vehicle record",
    "tag": "Tag",
    "limit": lambda body: f"House limit: {LIMIT_NAMES.get(body['name'], body['name'])}",
    "job": lambda body: (
        f"Job opened, {ROUND_WORDS.get(body.get('round') or '', 'round not given')}"
        + (f", {SCOPES[body['scope']]}" if body.get("scope") in SCOPES else "")
    ),
    "reading": step_and_field,
    "pick": step_and_field,
    "tick": tick_name,
    "note": "Note",
    "hand_in": "Handed in",
    "decision": verdict_words,
    "pass_over": lambda body: f"{HOLD_POINT_TITLES[body['hold_point']]} passed over",
    "close_item": lambda body: f"Closed on the {body['axle']} axle, “{body['says']}”",
    "confirm": "Measured again: it is right",
    "change": change_title,
    "photo": lambda body: f"Photo of {photo_subject(body)}",
    "plan": lambda body: f"Plan: {body['name']}",
    # In place of an entry whose body is not as the contract of entries has it.
    "unreadable": lambda body: f"Not readable: {body['was'].replace('_', ' ')}",
}
# What an entry of a kind holds, from its body and the unit in use.
KIND_VALUES: dict = {
    "vehicle": lambda body, unit: record_words(body),
    "tag": lambda body, unit: body["code"],
    "limit": limit_value,
    "job": lambda body, unit: body.get("about"),
    "reading": lambda body, unit: reading_value(body),
    "pick": lambda body, unit: pick_value(body, unit) + as_last_words(body),
    "tick": lambda body, unit: ("yes" if body["value"] else "no") + as_last_words(body),
    "note": lambda body, unit: body.get("text"),
    "strike": lambda body, unit: body.get("reason"),
    "hand_in": lambda body, unit: " ".join(body["missing"] + [body.get("reason") or ""]).strip(" "),
    "decision": lambda body, unit: None if body.get("own_reason") else body.get("reason"),
    "pass_over": lambda body, unit: body.get("reason"),
    "close_item": lambda body, unit: body.get("reason"),
    "confirm": lambda body, unit: body.get("says"),
    "change": amounts_words,
    "photo": lambda body, unit: body.get("text"),
    "plan": plan_words,
    "unreadable": lambda body, unit: body["says"],
}
