"""A round of a job as a sheet, and what goes on file once the job is accepted."""

from .fold import ROUNDS, TICKS, fold_job, of_kind, standing
from .what_if import MOVES

BAR_READINGS = [
    "length",
    "frame_height",
    "axle_height",
    "fore_aft",
    "frame_end_from_centre",
    "bump",
    "droop",
]
BAR_PICKS = ["frame_end", "adjuster"]


def sheet_for(entries: list, round_name: str, record: dict, limits: dict) -> dict:
    """The sheet of one round of a job: what stands recorded, as the arithmetic sees it.

    What was not measured in the job is carried over from the vehicle's record.
    """
    job = fold_job(entries)
    stand = standing(entries)
    here = [each for each in stand if each.get("round") == round_name]
    sheet: dict = {
        "axle": job["axle"],
        "units": record.get("units", "mm"),
        "driving_side": record.get("driving_side", "left"),
        "standing": last_pick(here, "heights", "standing"),
        "ready": ticks_of(here),
        "limits": dict(limits),
    }
    heights = sides_of(here, "heights")
    if len(heights["left"]) + len(heights["right"]) > 0:
        sheet["heights"] = heights
    centring = centring_of(here, record, job["axle"])
    if centring is not None:
        sheet["centring"] = centring
    bar = bar_of(stand, round_name, record, job["axle"])
    if bar is not None:
        sheet["track_bar"] = bar
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


def ticks_of(here: list) -> dict:
    """Each tick by name, False until somebody set it."""
    ready: dict = {}
    for name in TICKS:
        ready[name] = False
    for entry in of_kind(here, "tick"):
        ready[entry["body"]["field"]] = entry["body"]["value"] is True
    return ready


def readings_of(here: list, step: str) -> list:
    """The standing readings of one step, in order."""
    return [each for each in of_kind(here, "reading") if each["body"]["step"] == step]


def values_of(readings: list, field: str) -> list:
    """The values in mm of the readings of one field."""
    return [each["body"]["value"] for each in readings if each["body"]["field"] == field]


def sides_of(here: list, step: str) -> dict:
    """The values in mm of one step, left and right."""
    found = readings_of(here, step)
    return {"left": values_of(found, "left"), "right": values_of(found, "right")}


def last_pick(here: list, step: str, field: str):  # type: ignore[no-untyped-def]
    """The value last picked for a field, or None."""
    value = None
    for entry in of_kind(here, "pick"):
        if entry["body"]["step"] == step and entry["body"]["field"] == field:
            value = entry["body"]["value"]
    return value


def centring_of(here: list, record: dict, axle: str) -> dict | None:
    """The centring part of a sheet, or None where no reading stands."""
    found = readings_of(here, "centring")
    if len(found) == 0:
        return None
    faces = distinct([each["body"].get("face") for each in found])
    face = faces[0] if faces[0] is not None else record.get("face", "rotor")
    sides = sides_of(here, "centring")
    known = known_sum(record, axle, face)
    part: dict = {
        "face": face,
        "method": found[len(found) - 1]["body"].get("method", "square_to_rail"),
        "left": sides["left"],
        "right": sides["right"],
        "left_extra": 0,
        "right_extra": 0,
        "read_to": coarsest(found),
        "known_sum": known.get("sum"),
        "known_sum_u": known.get("u"),
        "drop": None,
        "tilt_deg": None,
        "high_side": None,
    }
    for field in ["left_extra", "right_extra", "drop", "tilt_deg", "high_side"]:
        picked = last_pick(here, "centring", field)
        if picked is not None:
            part[field] = picked
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


def coarsest(found: list) -> float:
    """What the roughest of these readings was read to, in mm."""
    steps = [each["body"].get("read_to", 1.0) for each in found]
    return max(steps)


def known_sum(record: dict, axle: str, face: str) -> dict:
    """The vehicle's own sum for this axle and face, {sum, u} in mm, or an empty dict."""
    return record.get("known_sums", {}).get(axle, {}).get(face, {})


def bar_of(stand: list, round_name: str, record: dict, axle: str) -> dict | None:
    """The track bar of a round: from the record, then the job's rounds so far, then its changes.

    None where nothing is known of the bar.
    """
    bar: dict = dict(record.get("track_bars", {}).get(axle, {}))
    for name in ROUNDS[: ROUNDS.index(round_name) + 1]:
        here = [each for each in stand if each.get("round") == name]
        measured = lay_over(bar, here)
        if name == round_name and name != "as_found" and "length" not in measured:
            bar = turned(bar, stand)
    return bar if len(list(bar)) > 0 else None


def lay_over(bar: dict, here: list) -> dict:
    """What one round says of the bar, after laying it over what was known."""
    said: dict = {}
    for entry in readings_of(here, "track_bar"):
        said[entry["body"]["field"]] = entry["body"]["value"]
    for field in BAR_PICKS:
        picked = last_pick(here, "track_bar", field)
        if picked is not None:
            said[field] = picked
    bar.update(said)
    return said


def turned(bar: dict, stand: list) -> dict:
    """The bar with the length changes that the job logged."""
    after = dict(bar)
    for entry in of_kind(stand, "change"):
        change = entry["body"].get("length_change")
        if change is not None and after.get("length") is not None:
            after["length"] = after["length"] + change
    return after


def accepted_patch(entries: list, record: dict, limits: dict, findings: dict) -> dict:
    """What goes on file when a job is accepted: its bar and the sums its last round found.

    `findings` are those of the job's last round.
    """
    job = fold_job(entries)
    last_round = job["rounds"][len(job["rounds"]) - 1]
    sheet = sheet_for(entries, last_round, record, limits)
    patch: dict = {"from_job": job["job"]}
    if sheet.get("track_bar") is not None:
        bars = dict(record.get("track_bars", {}))
        bars[job["axle"]] = sheet["track_bar"]
        patch["track_bars"] = bars
    found = findings.get("centring")
    if (
        found is not None
        and found.get("sum") is not None
        and found["state"] in ["inside", "outside", "too_close"]
    ):
        sums = dict(record.get("known_sums", {}))
        faces = dict(sums.get(job["axle"], {}))
        faces[sheet["centring"]["face"]] = {"sum": found["sum"], "u": found["sum_u"]}
        sums[job["axle"]] = faces
        patch["known_sums"] = sums
    return patch
