"""What the desk asks back at a field: a sentence, and as buttons what may have been meant.

A button is named for its field: `NAME-meant` has a likely meaning, `NAME-so_it_is` the key of the
question that it answers for those values.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.desk.write import Draft
from webapp.reckon.ask_back import ask_back
from webapp.reckon.sentences.typed_answers import says_of
from webapp.reckon.typed.length_grammar import INCH

# A question with `says`, `choices`, `key`, and `never` where it is not answered with "so it is".
Asked = dict[str, Any]


def as_meant(form: Mapping[str, str], name: str) -> str:
    """What a form says in a field; a likely meaning that was chosen takes its place."""
    return (form.get(f"{name}-meant") or form.get(name, "")).strip()


def unreadable(found: Mapping[str, Any]) -> Asked:
    """What is asked about a text of which a parser makes no value."""
    return refused(says_of(dict(found)), found["choices"])


def refused(says: str, choices: Sequence[Mapping[str, Any]] = ()) -> Asked:
    """What is said of a value that cannot be taken, whatever is answered."""
    return {"says": says, "choices": choices, "key": None, "never": True}


def odd(path: str, value: float, units: str) -> Asked | None:
    """What is asked about a value, by its path in the table of ranges."""
    found: Asked | None = ask_back(path, value, units, [])
    return found


def out_of_bounds(asked: Asked | None, least: float, most: float, units: str) -> Asked:
    """What is said of a limit that no shop can set, with what may have been meant of it."""
    meant = [] if asked is None else asked["choices"]
    choices = [each for each in meant if least <= each["value"] <= most]
    return refused(must_be_between(least, most, units), choices)


def must_be_between(least: float, most: float, units: str) -> str:
    """The sentence for a limit out of its bounds, in degrees or in mm; in inches behind these."""
    if units != "in":
        return f"This limit must be between {least:g} and {most:g} {units}."
    inches = f"{least / INCH:.2g} and {most / INCH:.2g} in"
    return f"This limit must be between {inches} ({least:g} and {most:g} mm)."


def is_open(asked: Asked, form: Mapping[str, str], name: str) -> bool:
    """Whether the form does not answer what is asked at a field with "it is right"."""
    return bool(asked["never"]) or form.get(f"{name}-so_it_is") != asked["key"]


def confirming(asked: Asked | None, **place: str) -> list[Draft]:
    """The answer that a value is right, as entries about the shop or the vehicle in `place`."""
    if asked is None:
        return []
    body = {"code": "implausible", "key": asked["key"], "says": asked["says"]}
    return [{"kind": "confirm", "body": body, **place}]
