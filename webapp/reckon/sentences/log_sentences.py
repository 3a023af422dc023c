"""The log of a job in sentences: who did what, as somebody would tell it."""

from ..joint_terms import pair_words, where_words
from ..step_names import HOLD_POINT_TITLES, STEP_TITLES
from ..terms import FACES, PHOTO_WORDS, ROUND_WORDS, STANDINGS
from .decision_words import verdict_words
from .entry_words import (
    entry_sentence,
    entry_value,
    field_name,
    is_of_joint,
    pick_value,
    reading_value,
    struck_words,
    tick_name,
)
from .joint_answers import capital
from .last_time_words import change_sentence
from .people_words import names_of


def log_sentence(entry: dict, target: dict | None, names: dict, unit: str) -> str:
    """What was done, by whom, in one sentence; `target` is the entry that it strikes, where known.

    `names` are what people are called, as `called` gives them; lengths in the unit in use.
    """
    known = names_of([entry.get("person") or ""], names)
    who = capital(known[0]) if len(known) > 0 else "Somebody"
    kind = entry["kind"]
    if kind == "change":
        return ended(change_sentence(entry, names, unit))
    if kind == "strike":
        again = ", so that what it struck counts again" if is_strike(target) else ""
        struck = struck_words(target, unit) + again
        return ended(f"{who} struck {struck}: {entry['body']['reason']}")
    if kind == "decision":
        return ended(decision_told(entry["body"], who))
    made = TOLD.get(kind)
    if made is None:
        return ended(f"{who}: {entry_sentence(entry, target, unit)}")
    value = entry_value(entry, unit) if kind in GOES_ON else ""
    told = made(entry["body"], unit)
    return ended(f"{who} {told}: {value}" if len(value) > 0 else f"{who} {told}")


def is_strike(target: dict | None) -> bool:
    """Whether what was struck is known to be a strike itself."""
    return target is not None and target["kind"] == "strike"


def ended(text: str) -> str:
    """The text with a period, where it has no end of its own."""
    return text if text.endswith(".") or text.endswith("?") else f"{text}."


def decision_told(body: dict, who: str) -> str:
    """What was decided, by whom and why."""
    words = verdict_words(body)
    if body.get("own_reason"):
        return words
    words = f"{words} by {who}"
    return f"{words}: {body['reason']}" if body.get("reason") else words


def reading_told(body: dict, unit: str) -> str:
    """What was measured, and what came of it."""
    value = reading_value(body)
    step, field = body["step"], body["field"]
    if step == "heights" and field in SIDES:
        return f"measured a ride height of {value} on the {field}"
    if step == "centering" and field in SIDES:
        face = body.get("face")
        to = f" to the {FACES[face]}" if face is not None else ""
        return f"measured {value}{to} on the {field}"
    if step == "torque":
        done = "torqued" if body.get("moved") is None else "checked"
        return f"{done} the {body['fastener']}: {value}"
    if step == "clearance":
        return f"checked {pair_words(body['between'])} {where_words(body)}: {value}"
    return f"measured {of_step(body)}: {value}"


def of_step(body: dict) -> str:
    """What a reading or pick is of, with its step where that does not say it."""
    name = field_name(body)
    if is_of_joint(body):
        return name[:1].lower() + name[1:]
    return f"{name} ({STEP_TITLES[body['step']].lower()})"


def pick_told(body: dict, unit: str) -> str:
    """What was picked."""
    if body["field"] == "standing":
        return f"said how the vehicle stands: {STANDINGS.get(body['value'], 'not said')}"
    if body["field"] == "carried" and body["value"] is True:
        return f"found the values on file still right ({STEP_TITLES[body['step']].lower()})"
    return f"entered {of_step(body)}: {pick_value(body, unit)}"


SIDES = ["left", "right"]
# What each kind tells after its person; of those in GOES_ON the value of the entry follows.
TOLD: dict = {
    "job": lambda body, unit: (
        f"opened the job, {ROUND_WORDS.get(body.get('round') or '', 'round not given')}"
    ),
    "reading": reading_told,
    "pick": pick_told,
    "tick": lambda body, unit: f"{'checked' if body['value'] else 'unchecked'} “{tick_name(body)}”",
    "note": lambda body, unit: "noted",
    "photo": lambda body, unit: f"took a photo of {PHOTO_WORDS.get(body['of'], body['of'])}",
    "hand_in": lambda body, unit: "handed the job in",
    "pass_over": lambda body, unit: f"passed over “{HOLD_POINT_TITLES[body['hold_point']]}”",
    "close_item": lambda body, unit: f"closed on the {body['axle']} axle, “{body['says']}”",
    "confirm": lambda body, unit: "measured again and found it right",
    "plan": lambda body, unit: f"saved the plan “{body['name']}”",
}
GOES_ON = ["job", "note", "photo", "hand_in", "pass_over", "close_item", "confirm", "plan"]
