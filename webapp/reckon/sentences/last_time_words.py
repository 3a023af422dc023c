"""What was found and done last time in sentences, as the vehicle's page shows it.

`names` are what people are called, as `called` gives them.
"""

from ..terms import FACES, METHODS, ROUND_WORDS, toward, verdict_said
from ..typed.lengths import show_step
from .change_words import SINCE, amounts_words
from .decision_words import state_words
from .entry_words import torque_value
from .joint_answers import capital
from .people_words import by_words, names_of


def job_sentence(job: dict) -> str:
    """Which job it was, when it was opened, and how far it is on its way past the lead."""
    about = job["about"] or f"{job['axle']} axle"
    return f"{about}, {job['opened']['made_at'][:10]}, {state_words(job)}."


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


def change_sentence(entry: dict, names: dict, unit: str) -> str:
    """What a change changed, by how much and by whom, without its period."""
    done = capital(SINCE.get(entry["body"].get("what") or "") or "something was changed")
    amounts = amounts_words(entry["body"], unit)
    says = f"{done}, {amounts}" if len(amounts) > 0 else done
    return says + by_words([entry.get("person") or ""], names)


def done_sentence(entry: dict, names: dict, unit: str) -> str:
    """What a change changed, by how much, by whom and when."""
    return f"{change_sentence(entry, names, unit)} on {entry['made_at'][:10]}."


def torque_sentence(entry: dict, names: dict) -> str:
    """The torque of a fastener with its source and how it was turned, by whom and when."""
    body = entry["body"]
    who = by_words([entry.get("person") or ""], names)
    return f"{capital(body['fastener'])}: {torque_value(body)}{who} on {entry['made_at'][:10]}."


def turner_words(turns: list, names: dict) -> str:
    """Who turned the bar last and when, from `bar_turns`, as the title of all its turns."""
    entry = turns[0]["entry"]
    who = names_of([entry.get("person") or ""], names)
    last = f"{who[0]}, {entry['made_at'][:10]}" if len(who) > 0 else entry["made_at"][:10]
    return f"Who turned the bar: {last}"
