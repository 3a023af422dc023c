"""A round of a job as a sheet."""

from ..terms import MOVES, TICKS
from .fold import fold_job, of_kind, standing
from .joints_of_round import joint_parts
from .last_round import (
    changes_before,
    ends_left,
    ends_older,
    lay_past,
    left_behind,
    links_older,
    measured_before,
    past_on_file,
    with_changes,
    without_known,
)
from .links_of_round import bar_of, link_of, steering_of, toe_of, wheelbase_of
from .readings import coarsest, last_pick, readings_of, sides_of, values_of
from .stale import since_change

# How two plumb lines hang over a floor that is not level.
FLOOR = ["rail_point_height", "face_point_height", "tilt_deg", "high_side"]


def sheet_for(entries: list, round_name: str, record: dict, limits: dict) -> dict:
    """The sheet of one round of a job: what stands recorded, as the arithmetic sees it.

    What was not measured in the job is carried over from the vehicle's record. The round is held
    against the last one that counts, and against what is on file.
    """
    found: dict = state_of_round(standing(entries), fold_job(entries), round_name, record, limits)
    return found["sheet"]


def state_of_round(stand: list, job: dict, round_name: str, record: dict, limits: dict) -> dict:
    """A round as its sheet, with the past that it was held against: {sheet, past}."""
    sheet = measured_sheet(stand, job, round_name, record, limits)
    past = past_of_round(stand, job, round_name, record, limits)
    lay_past(sheet, past)
    filed = record.get("links_older", {}).get(job["axle"]) or []
    older = links_older(sheet, ends_older(stand, round_name, filed))
    if len(older) > 0:
        sheet["older"] = older
    return {"sheet": sheet, "past": past}


def past_of_round(stand: list, job: dict, round_name: str, record: dict, limits: dict) -> dict:
    """What a round is held against, with the changes that were made until it was measured."""
    made = changes_before(stand, round_name)
    earlier = measured_before(stand, job["rounds"], round_name)
    if earlier is None:
        return with_changes(past_on_file(record, job["axle"]), made)
    name = earlier["round"]
    state = state_of_round(earlier["stand"], job, name, record, limits)
    left = left_behind(state["sheet"], state["past"], name)
    return with_changes(left, without_known(made, changes_before(earlier["stand"], name)))


def left_by_job(entries: list, record: dict, limits: dict) -> dict:
    """What a job leaves behind on its axle, as it goes on file; None where that is nothing."""
    stand = standing(entries)
    job = fold_job(entries)
    last = job["rounds"][len(job["rounds"]) - 1]
    state = state_of_round(stand, job, last, record, limits)
    left = left_behind(state["sheet"], state["past"], last)
    made = without_known(of_kind(stand, "change"), changes_before(stand, last))
    left = with_changes(left, made)
    filed = record.get("links_older", {}).get(job["axle"]) or []
    ends = ends_left(ends_older(stand, last, filed), made)
    nothing = left["before"] is None and len(left["changes"]) == 0
    rounds = None if nothing else {"before": left["before"], "changes": left["changes"]}
    older = ends if len(ends) + len(filed) > 0 else None
    return {"last_rounds": rounds, "ride_heights": left["heights"], "links_older": older}


def measured_sheet(stand: list, job: dict, round_name: str, record: dict, limits: dict) -> dict:
    """What was measured in a round and what was carried over, as a sheet by itself."""
    here = [each for each in stand if each.get("round") == round_name]
    sheet: dict = {
        "axle": job["axle"],
        "units": record.get("units", "mm"),
        "driving_side": record.get("driving_side", "left"),
        "standing": last_pick(here, "heights", "standing"),
        "ready": ticks_of(here),
        "limits": dict(limits),
    }
    heights = sides_of(latest_readings(stand, round_name, "heights"), "heights")
    if len(heights["left"]) + len(heights["right"]) > 0:
        known = record.get("known_leans", {}).get(job["axle"])
        if known is not None:
            heights["known_lean"] = known
        sheet["heights"] = heights
    found = latest_readings(stand, round_name, "centering")
    centering = centering_of(here, found, record, job["axle"])
    if centering is not None:
        sheet["centering"] = centering
    add_parts(sheet, bar_and_link(stand, round_name, record, job["axle"]))
    add_parts(sheet, steering_parts(here, stand, record))
    add_parts(sheet, joint_parts(stand, round_name, record, job["axle"]))
    changes = [each["body"].get("what") or "" for each in of_kind(here, "change")]
    if len(changes) > 0:
        sheet["changed_here"] = changes
    confirmed = record.get("confirmed", [])
    confirmed = confirmed + [each["body"]["key"] for each in of_kind(stand, "confirm")]
    if len(confirmed) > 0:
        sheet["confirmed"] = confirmed
    plans = plans_of(stand)
    if len(plans) > 0:
        sheet["plans"] = plans
    return sheet


def plans_of(stand: list) -> list:
    """The plans kept with the job, each with its name and its moves in mm."""
    plans: list = []
    for entry in of_kind(stand, "plan"):
        plan: dict = {"name": entry["body"]["name"]}
        for move in list(MOVES):
            plan[move] = entry["body"].get(move)
        plans.append(plan)
    return plans


def add_parts(sheet: dict, parts: dict) -> None:
    """Put the parts that are there on the sheet."""
    for name in list(parts):
        if parts[name] is not None:
            sheet[name] = parts[name]


def bar_and_link(stand: list, round_name: str, record: dict, axle: str) -> dict:
    """Track bar and drag link of a round, each None where nothing is known of it."""
    bars = record.get("track_bars", {})
    links = record.get("drag_links", {})
    return {
        "track_bar": bar_of(stand, round_name, bars.get(axle, {})),
        "drag_link": link_of(stand, round_name, links.get(axle, {})),
    }


def steering_parts(here: list, stand: list, record: dict) -> dict:
    """Toe, wheelbase and the steering wheel of a round, each None where it was not measured."""
    return {
        "toe": toe_of(here),
        "wheelbase": wheelbase_of(here, record.get("track")),
        "steering": steering_of(here, stand),
    }


def ticks_of(here: list) -> dict:
    """Each tick by name, False until somebody set it."""
    ready: dict = {}
    for name in TICKS:
        ready[name] = False
    for entry in of_kind(here, "tick"):
        if entry["body"]["field"] in TICKS:
            ready[entry["body"]["field"]] = entry["body"]["value"] is True
    return ready


def latest_readings(stand: list, round_name: str, step: str) -> list:
    """The readings of centering or heights of a round, where that was changed only those after it.

    Readings before and after a change are of two places of the axle, and are never mixed.
    """
    found = [one for one in readings_of(stand, step) if one.get("round") == round_name]
    again = readings_of(since_change(stand, step), step)
    again = [one for one in again if one.get("round") == round_name]
    return again if len(again) > 0 else found


def centering_of(here: list, found: list, record: dict, axle: str) -> dict | None:
    """The centering part of a sheet from its readings, or None of none."""
    if len(found) == 0:
        return None
    usual = record.get("face", "rotor")
    faces = distinct([each["body"].get("face") or usual for each in found])
    face = faces[0]
    known = known_sum(record, axle, face)
    part: dict = {
        "face": face,
        "method": found[len(found) - 1]["body"].get("method", "square_to_rail"),
        "left": values_of(found, "left"),
        "right": values_of(found, "right"),
        "read_to": coarsest(found),
        "known_sum": known.get("sum"),
        "known_sum_u": known.get("u"),
    }
    for field in FLOOR:
        part[field] = last_pick(here, "centering", field)
    for side in ["left_extra", "right_extra"]:
        part[side] = last_pick(here, "centering", side) or 0
    if len(faces) > 1:
        part["mixed_faces"] = faces
    return part


def distinct(values: list) -> list:
    """The different values, in the order in which they first appear."""
    found: list = []
    for value in values:
        if value not in found:
            found.append(value)
    return found


def known_sum(record: dict, axle: str, face: str) -> dict:
    """The vehicle's own sum for this axle and face, {sum, u} in mm, or an empty dict."""
    return record.get("known_sums", {}).get(axle, {}).get(face, {})
