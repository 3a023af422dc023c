"""What was found and done last time in sentences, as the vehicle's page shows it.

`names` are what people are called, as `called` gives them.
"""

from ..terms import FACES, METHODS, ROUND_WORDS, toward, verdict_said
from ..typed.lengths import show_step
from .change_words import SINCE, amounts_words
from .entry_words import torque_value
from .joint_answers import capital
from .people_words import by_words, names_of


def found_sentence(round_name: str, findings: dict, unit: str) -> str:
    """Where the axle sat in a round, with its verdict and the hold that stands over it."""
    found = findings["centering"]
    held = findings["advice"]["state"] == "hold"
    where = f"the axle sat {toward(found['offset'], unit)}"
    return f"{capital(ROUND_WORDS[round_name])}, {where}: {verdict_said(found['state'], held)}."


def tape_sentence(centering: dict, hands: list, names: dict) -> str:
    """To which face an axle was measured and how, from the centering of a sheet, and by whom."""
    said: list = [FACES[centering["face"]], METHODS[centering["method"]]]
    if centering.get("read_to") is not None:
        said.append(f"read to {show_step(centering['read_to'])}")
    return f"Measured to the {', '.join(said)}{by_words(hands, names)}."


def done_sentence(entry: dict, names: dict, unit: str) -> str:
    """What a change changed, by how much, by whom and when."""
    what = entry["body"].get("what") or ""
    done = SINCE.get(what) or "something was changed"
    amounts = amounts_words(entry["body"], unit)
    says = f"{done}, {amounts}" if len(amounts) > 0 else done
    return f"{capital(says)}{by_and_on(entry, names)}."


def torque_sentence(entry: dict, names: dict) -> str:
    """The torque of a fastener with its source and how it was turned, by whom and when."""
    body = entry["body"]
    return f"{capital(body['fastener'])}: {torque_value(body)}{by_and_on(entry, names)}."


def by_and_on(entry: dict, names: dict) -> str:
    """By whom an entry was made and on which day, with its comma."""
    who = by_words([entry.get("person") or ""], names)
    return f"{who or ','} on {entry['made_at'][:10]}"


def turner_words(turns: list, names: dict) -> str:
    """Who turned the bar last and when, from `bar_turns`, as the title of all its turns."""
    entry = turns[0]["entry"]
    who = names_of([entry.get("person") or ""], names)
    last = f"{who[0]}, {entry['made_at'][:10]}" if len(who) > 0 else entry["made_at"][:10]
    return f"Who turned the bar: {last}"
