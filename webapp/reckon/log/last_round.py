"""What stood before a round was measured: the last round that counts, the file, and the changes.

A round counts once its job is handed in and while it is not sent back. Within a job the rounds
before it count, and so does what was measured in the same round before a change.
"""

from ..checks.centering import JUDGED, centering
from ..checks.moved import mean_height
from ..judgment.against_file import CHANGES_STANCE, LINKS, differing
from ..judgment.confirmations import is_confirmed
from ..limits import limits_of_sheet
from ..numbers import mean
from .fold import ROUNDS, of_kind
from .links_of_round import changes_hold_to, length_changes, round_of
from .readings import readings_of
from .stale import reopened_by

# What moves no axle, or by a length or a height that is measured.
MOVES_NO_AXLE = [
    "bar_turned", "link_turned", "link_replaced", "toe_set", "arm_moved", "pitman_changed",
    "springs_changed", "part_removed",
]  # fmt: skip
ENDS = ["frame_height", "axle_height"]
ALL_ENDS = [
    "track_bar.frame_height", "track_bar.axle_height",
    "drag_link.frame_height", "drag_link.axle_height",
]  # fmt: skip


def changes_before(stand: list, round_name: str) -> list:
    """The changes that had been made when the axle was measured in this round."""
    found: list = []
    for name in ROUNDS[: ROUNDS.index(round_name) + 1]:
        here = [each for each in stand if round_of(each) == name]
        last = len(here) if name != round_name else changes_hold_to(here, name)
        found.extend(of_kind(here[:last], "change"))
    return found


def axle_readings(entries: list, round_name: str) -> list:
    """The readings of the centering in this round."""
    return [each for each in readings_of(entries, "centering") if each.get("round") == round_name]


def measured_before(stand: list, rounds: list, round_name: str) -> dict | None:
    """What was measured before in the same job, {stand, round}; None where nothing was.

    That is the same round up to a change after which it was measured again, or the round before.
    """
    last = -1
    for index in range(len(stand)):
        if reopened_by(stand[index], "centering"):
            last = index
    if last >= 0:
        earlier = axle_readings(stand[:last], round_name)
        again = axle_readings(stand[last:], round_name)
        if len(earlier) > 0 and len(again) > 0:
            return {"stand": stand[:last], "round": round_name}
    names = [name for name in rounds if ROUNDS.index(name) < ROUNDS.index(round_name)]
    return {"stand": stand, "round": names[-1]} if len(names) > 0 else None


def past_on_file(record: dict, axle: str) -> dict:
    """What the vehicle's record says was left behind: {before, changes, heights, links}."""
    left = record.get("last_rounds", {}).get(axle)
    links: dict = {}
    for name, on_file in [["track_bar", "track_bars"], ["drag_link", "drag_links"]]:
        if record.get(on_file, {}).get(axle) is not None:
            links[name] = record[on_file][axle]
    past: dict = {"before": None, "changes": [], "links": links}
    past["heights"] = record.get("ride_heights", {}).get(axle)
    if left is not None:
        past["before"] = left.get("before")
        past["changes"] = left["changes"]
        if past["before"] is not None:
            past["before"] = dict(past["before"])
            waiting = record.get("unaccepted", {}).get(axle) is not None
            past["before"]["of"] = "pending" if waiting else "accepted"
    return past


def left_behind(sheet: dict, past: dict, round_name: str) -> dict:
    """What a round leaves behind, from its sheet and from what stood before it."""
    left = dict(past)
    found = None
    if sheet.get("centering") is not None:
        found = centering(sheet, limits_of_sheet(sheet))
    if found is not None and found["state"] in JUDGED:
        before: dict = {"offset": found["offset"], "expanded": found["expanded"]}
        before.update({"length_change": 0.0, "changed": False})
        before.update({"round": round_name, "of": "this_job"})
        if sheet.get("heights") is not None:
            before["heights"] = sheet["heights"]
        left["before"] = before
        left["changes"] = []
    if mean_height(sheet) is not None:
        sides = sheet["heights"]
        left["heights"] = {"left": mean(sides["left"]), "right": mean(sides["right"])}
    left["links"] = links_left(sheet, past["links"])
    return left


def links_left(sheet: dict, filed: dict) -> dict:
    """Bar and link as a round leaves them; what differs from the file unanswered stays as filed."""
    left = dict(filed)
    for name in LINKS:
        if sheet.get(name) is not None:
            left[name] = dict(sheet[name])
    for each in differing(sheet):
        reason = dict(each)
        reason["code"] = "differs_from_file"
        if not is_confirmed(reason, sheet.get("confirmed") or []):
            put_back(left[each["link"]], filed[each["link"]], each["field"])
    return left


def put_back(link: dict, filed: dict, field: str) -> None:
    """Give a field of a link the value that it has on file."""
    if field == "pitch" or field == "kind":
        adjuster = dict(link["adjuster"])
        adjuster[field] = filed["adjuster"][field]
        link["adjuster"] = adjuster
    else:
        link[field] = filed[field]


def with_changes(past: dict, made: list) -> dict:
    """What stood before, with the changes that were made since."""
    then = dict(past)
    then["changes"] = past["changes"] + [each["body"].get("what") or "" for each in made]
    longer = length_changes(made, "track_bar")
    if past["before"] is not None:
        others = [each for each in made if each["body"].get("what") not in MOVES_NO_AXLE]
        before = dict(past["before"])
        before["length_change"] = before["length_change"] + longer
        before["changed"] = before["changed"] or len(others) > 0
        then["before"] = before
    links = dict(past["links"])
    if (links.get("track_bar") or {}).get("length") is not None:
        bar = dict(links["track_bar"])
        bar["length"] = bar["length"] + longer
        links["track_bar"] = bar
    then["links"] = links
    return then


def without_known(made: list, known: list) -> list:
    """The changes that are not among those known already."""
    ids = [entry["id"] for entry in known]
    return [each for each in made if each["id"] not in ids]


def lay_past(sheet: dict, past: dict) -> None:
    """Put what stood before on a sheet: `before`, `on_file` and `changes`.

    A length on file is what it was before the changes that `before` counts.
    """
    longer = 0.0
    if sheet.get("centering") is not None and past["before"] is not None:
        sheet["before"] = past["before"]
        longer = past["before"]["length_change"]
    filed: dict = dict(past["links"])
    if (filed.get("track_bar") or {}).get("length") is not None:
        bar = dict(filed["track_bar"])
        bar["length"] = bar["length"] - longer
        filed["track_bar"] = bar
    if past["heights"] is not None:
        filed["heights"] = past["heights"]
    if len(list(filed)) > 0:
        sheet["on_file"] = filed
    if len(past["changes"]) > 0:
        sheet["changes"] = past["changes"]


def ends_older(stand: list, round_name: str, filed: list) -> list:
    """The ends of links that were not measured since a change of springs, wheels or ride height.

    `filed` are those that were so before the job; an end is named such as `track_bar.axle_height`.
    """
    older: dict = {}
    for end in filed:
        older[end] = True
    for held in ROUNDS[: ROUNDS.index(round_name) + 1]:
        here = [each for each in stand if round_of(each) == held]
        last = len(here) if held != round_name else changes_hold_to(here, held)
        for index in range(len(here)):
            body = here[index]["body"]
            if here[index]["kind"] == "change" and index < last:
                for end in ends_left([], [here[index]]):
                    older[end] = True
            elif here[index]["kind"] == "reading" and body["step"] in LINKS:
                older[f"{body['step']}.{body['field']}"] = False
    return [name for name in list(older) if older[name] is True]


def ends_left(ends: list, made: list) -> list:
    """The ends that are older once these changes were made after everything was measured."""
    stance = [each for each in made if each["body"].get("what") in CHANGES_STANCE]
    return list(ALL_ENDS) if len(stance) > 0 else ends


def links_older(sheet: dict, ends: list) -> list:
    """The links of a sheet of which an end that is known is among these."""
    found: list = []
    for name in LINKS:
        for field in ENDS:
            known = (sheet.get(name) or {}).get(field) is not None
            if known and f"{name}.{field}" in ends and name not in found:
                found.append(name)
    return found
