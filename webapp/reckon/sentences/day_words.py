"""A person's day and the list of vehicles in words, as the phone's first screen shows them."""

from ..joint_terms import recheck_words
from ..terms import JOB_STATES, ROUND_WORDS, toward
from .change_words import listed
from .people_words import names_of

SECTION_TITLES = {
    "sent_back": "Sent back to you",
    "going_on": "Going on",
    "second": "Second readings to take",
    "due": "Due",
}
NOTHING = "No job of yours is open, and nothing is due."
DUE_ASKS = {"recheck": "Check the bolts of the", "remeasure": "Measure the"}


def due_sentence(line: dict) -> str:
    """What is due on an axle and when, from a line of `due_of`."""
    return f"{DUE_ASKS[line['what']]} {line['axle']} axle again {recheck_words(line)}."


def line_words(line: dict) -> list:
    """What a line of the day says beside its vehicle: what it is about, then what to do there."""
    if line.get("job") is None or line.get("what") is not None:
        return [due_sentence(line)]
    where = f"{line['axle']} axle, {ROUND_WORDS[line['round']]}"
    says = [line["about"]] if line["about"] else []
    if line["state"] == "sent_back":
        reason = line["reason"]
        says.append(f"“{reason}”" if reason else "The lead gave no reason.")
    return says + [where]


def state_lines(vehicle: dict, names: dict) -> list:
    """Where each job of a vehicle that is not accepted stands, and at whom.

    `names` are what people are called, as `called` gives them.
    """
    says: list = []
    for line in vehicle["jobs"]:
        words = job_words(line, names)
        if words not in says:
            says.append(words)
    return says


def job_words(line: dict, names: dict) -> str:
    """Where the line of a job stands, and at whom: `job open, by Luis Ortega`."""
    if line["second_of"] is not None and len(line["hands"]) == 0:
        return "second reading to take"
    words = "job open" if line["state"] == "open" else JOB_STATES[line["state"]]
    who = names_of(line["hands"], names)
    if len(who) == 0:
        return words
    return f"{words} {'to' if line['state'] == 'sent_back' else 'by'} {listed(who)}"


def offset_words(offset: float, unit: str) -> str:
    """Where an axle sat, in the vehicle's own unit alone: a list has no room for two."""
    before, bracket, inside = toward(offset, unit).partition(" (")
    return before + inside.partition(")")[2] if bracket else before


def measured_words(measured: dict | None) -> str:
    """When a vehicle was last measured {at, round}, or that it never was."""
    if measured is None:
        return "not measured yet"
    return f"measured {measured['at']}, {ROUND_WORDS[measured['round']]}"
