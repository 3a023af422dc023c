"""What the day holds for a person, from the lines of the jobs and of what is due on each vehicle.

A line of a job says who worked on it, its `hands`: ids of people, and `""` for work that no shop
has yet, which is of the person whose phone it is on.
"""

from .fold import WORK, is_open, of_kind, standing, workers

SECTIONS = ["sent_back", "going_on", "second", "due"]
NOT_SENT_YET = ""


def job_lines(jobs: list) -> list:
    """The lines of a vehicle's folded jobs, each with its `entries`, that are not accepted.

    {job, axle, about, state, round, reason, hands, second_of, first_hands, photos}: `reason` is the
    lead's, `first_hands` are the hands of the job of which this one is a second reading, `photos`
    the hashes of those of a job that is open.
    """
    lines: list = []
    for job in jobs:
        if job["state"] == "accepted":
            continue
        line: dict = {"hands": hands_of(job), "reason": None, "first_hands": [], "photos": []}
        for name in ["job", "axle", "about", "state", "second_of"]:
            line[name] = job[name]
        line["round"] = job["rounds"][len(job["rounds"]) - 1]
        if job["state"] == "sent_back":
            line["reason"] = job["decision"]["body"].get("reason")
        if is_open(job["state"]):
            taken = of_kind(standing(job["entries"]), "photo")
            line["photos"] = [entry["body"]["sha256"] for entry in taken]
        for first in jobs:
            if first["job"] == job["second_of"]:
                line["first_hands"] = hands_of(first)
        lines.append(line)
    return lines


def hands_of(job: dict) -> list:
    """Who worked on a job."""
    stand = standing(job["entries"])
    hands = workers(stand)
    for entry in stand:
        unsent = entry["kind"] in WORK and entry.get("person") is None
        if unsent is True and NOT_SENT_YET not in hands:
            hands.append(NOT_SENT_YET)
    return hands


def is_of(hands: list, person: str) -> bool:
    """Whether a person is among the hands, on a phone of their own."""
    return person in hands or NOT_SENT_YET in hands


def section_of(line: dict, person: str) -> str | None:
    """The section of the day in which the line of a job stands for a person, or None."""
    if not is_open(line["state"]):
        return None
    if line["second_of"] is not None and len(line["hands"]) == 0:
        return None if is_of(line["first_hands"], person) else "second"
    if not is_of(line["hands"], person):
        return None
    return "sent_back" if line["state"] == "sent_back" else "going_on"


def day_sections(vehicles: list, person: str, today: str) -> list:
    """What waits for a person, {section, lines}, empty sections left out.

    `vehicles` are {id, name, jobs, due}, with the lines of `job_lines` and `due_of`; what is due on
    a later day than `today`, or by distance alone, waits for nobody yet. A line has the `vehicle`
    and its `name` beside its own.
    """
    found: dict = {}
    for section in SECTIONS:
        found[section] = []
    for vehicle in vehicles:
        for line in vehicle["jobs"]:
            where = section_of(line, person)
            if where is not None:
                found[where].append(of_vehicle(line, vehicle))
        for line in vehicle["due"]:
            if line["date"] is not None and line["date"] <= today:
                found["due"].append(of_vehicle(line, vehicle))
    found["due"] = sorted(found["due"], key=lambda each: each["date"])
    return [{"section": name, "lines": found[name]} for name in SECTIONS if len(found[name]) > 0]


def of_vehicle(line: dict, vehicle: dict) -> dict:
    """A line with its vehicle's id and name."""
    named = dict(line)
    named["vehicle"] = vehicle["id"]
    named["name"] = vehicle["name"]
    return named
