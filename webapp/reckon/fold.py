"""What stands recorded: entries of the log folded into vehicles, jobs and sheets.

Entries come in log order: by the shop's sequence number, then this phone's own unsent ones. An
entry stands unless a standing strike names it or a standing entry replaces it, so the result does
not depend on which of them arrived first.
"""

ROUNDS = ["as_found", "fit_up", "as_left", "recheck"]
TICKS = ["level", "tyres", "load", "settled", "straight"]
HOUSE_LIMITS = {"offset": 3.0, "repeat": 1.5, "face_u": 0.5}
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


def crossed_out_by(entry: dict) -> str | None:
    """The id of the entry that this one strikes or replaces, or None."""
    if entry["kind"] == "strike":
        return entry["body"].get("target")
    return entry["body"].get("replaces")


def standing(entries: list) -> list:
    """The entries that stand, in their order."""
    crossers: dict = {}
    for entry in entries:
        target = crossed_out_by(entry)
        if target is not None:
            crossers.setdefault(target, [])
            crossers[target].append(entry["id"])
    stands = settle(entries, crossers)
    return [each for each in entries if stands.get(each["id"], True)]


def settle(entries: list, crossers: dict) -> dict:
    """Entry id to whether it stands; ids in a ring of strikes are left out, and so stand.

    The last word is settled first, so one pass backwards does unless a strike precedes its target.
    """
    stands: dict = {}
    open_ids = [each["id"] for each in entries]
    progress = True
    while progress:
        progress = False
        left: list = []
        for entry_id in reversed(open_ids):
            verdict = verdict_of(crossers.get(entry_id, []), stands)
            if verdict is None:
                left.append(entry_id)
            else:
                stands[entry_id] = verdict
                progress = True
        open_ids = list(reversed(left))
    return stands


def verdict_of(crossers: list, stands: dict) -> bool | None:
    """Whether an entry with these crossers stands; None while that is not known."""
    known = True
    for crosser in crossers:
        if stands.get(crosser) is True:
            return False
        if stands.get(crosser) is None:
            known = False
    return True if known else None


def of_kind(entries: list, kind: str) -> list:
    """The entries of one kind, in their order."""
    return [each for each in entries if each["kind"] == kind]


def last_of(entries: list) -> dict | None:
    """The last entry, or None of none."""
    return entries[-1] if len(entries) > 0 else None


def fold_vehicle(entries: list) -> dict:
    """The vehicle's record: every patch laid over the one before, with its tags and its id."""
    record: dict = {"id": None, "tags": []}
    for entry in standing(entries):
        if entry["kind"] == "vehicle":
            record["id"] = entry["vehicle"]
            for name in list(entry["body"]):
                record[name] = entry["body"][name]
        if entry["kind"] == "tag":
            record["id"] = entry["vehicle"]
            record["tags"] = [t for t in record["tags"] if t != entry["body"]["code"]]
            record["tags"].append(entry["body"]["code"])
    return record


def record_at(vehicle_entries: list, job: dict) -> dict:
    """The vehicle's record as a folded job found it: patches before its decision, never its own."""
    decision = job.get("decision")
    before: list = []
    for entry in vehicle_entries:
        if entry["body"].get("from_job") != job["job"] and precedes(entry, decision):
            before.append(entry)
    return fold_vehicle(before)


def precedes(entry: dict, decision: dict | None) -> bool:
    """Whether the entry stands in the log before the decision; everything does before none."""
    if decision is None or decision.get("seq") is None:
        return True
    return entry.get("seq") is not None and entry["seq"] < decision["seq"]


def fold_limits(entries: list) -> dict:
    """The house limits in mm: those the lead set, the rest as delivered."""
    limits = dict(HOUSE_LIMITS)
    for entry in of_kind(standing(entries), "limit"):
        limits[entry["body"]["name"]] = entry["body"]["value"]
    return limits


def fold_job(entries: list) -> dict:
    """The job: what it is about, its rounds, and how far it is on its way past the lead."""
    stand = standing(entries)
    opened = last_of(of_kind(stand, "job")[:1])
    hand_in = last_of(of_kind(stand, "hand_in"))
    decision = decision_on(hand_in, stand)
    about = opened["body"] if opened is not None else {}
    first = entries[0] if len(entries) > 0 else {}
    return {
        "job": first.get("job"),
        "vehicle": first.get("vehicle"),
        "axle": about.get("axle", "front"),
        "about": about.get("about", ""),
        "state": state_of(hand_in, decision),
        "rounds": rounds_of(stand, about.get("round", "as_found")),
        "opened": opened,
        "hand_in": hand_in,
        "decision": decision,
    }


def decision_on(hand_in: dict | None, stand: list) -> dict | None:
    """The last standing decision about this hand-in, or None."""
    if hand_in is None:
        return None
    about_it = [
        each for each in of_kind(stand, "decision") if each["body"]["hand_in"] == hand_in["id"]
    ]
    return last_of(about_it)


def state_of(hand_in: dict | None, decision: dict | None) -> str:
    """`open`, `pending`, `accepted` or `sent_back`."""
    if hand_in is None:
        return "open"
    if decision is None:
        return "pending"
    return decision["body"]["verdict"]


def rounds_of(stand: list, first: str) -> list:
    """The names of the rounds that hold anything, and the one the job was opened for, in order."""
    held = {first: True}
    for entry in stand:
        if entry.get("round") is not None:
            held[entry["round"]] = True
    return [name for name in ROUNDS if name in held]


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
    bar = bar_of(stand, round_name, record)
    if bar is not None:
        sheet["track_bar"] = bar
    return sheet


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


def bar_of(stand: list, round_name: str, record: dict) -> dict | None:
    """The track bar of a round: from the record, then the job's rounds so far, then its changes.

    None where nothing is known of the bar.
    """
    bar: dict = dict(record.get("track_bar", {}))
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
        patch["track_bar"] = sheet["track_bar"]
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
