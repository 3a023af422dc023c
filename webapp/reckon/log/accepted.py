"""What goes on file of a job when it is accepted: bar, link, sums, limits, torques, what is due.

With them goes what the job left behind for the next one to be held against.
"""

from .due import done_patch
from .fold import fold_job, of_kind, standing
from .joints_of_round import bolts_before, limits_of_joints, none_if_empty
from .last_round import changes_before, without_known
from .links_of_round import lengthen
from .readings import last_pick, readings_of
from .sheet_of_round import left_by_job, sheet_for


def accepted_patch(entries: list, record: dict, limits: dict, findings: dict) -> dict:
    """What goes on file when a job is accepted: its bar, its link and its last round's sums.

    `findings` are those of the job's last round.
    """
    job = fold_job(entries)
    last_round = job["rounds"][len(job["rounds"]) - 1]
    sheet = sheet_for(entries, last_round, record, limits)
    patch: dict = {"from_job": job["job"]}
    stand = standing(entries)
    made = without_known(of_kind(stand, "change"), changes_before(stand, last_round))
    patch.update(joints_patch(stand, job["rounds"], record, job["axle"]))
    for part, on_file in [["track_bar", "track_bars"], ["drag_link", "drag_links"]]:
        if sheet.get(part) is not None:
            filed = dict(record.get(on_file, {}))
            filed[job["axle"]] = part_then(sheet[part], made, part)
            patch[on_file] = filed
    left = left_by_job(entries, record, limits)
    for name in list(left):
        file_for(patch, record, name, job["axle"], left[name])
    found = findings.get("centering")
    measured = (
        found is not None
        and found.get("sum") is not None
        and found["state"] in ["inside", "outside", "too_close"]
    )
    patch.update(done_patch(patch, record, job["axle"], job["rounds"], measured))
    if found is not None and measured:
        sums = dict(record.get("known_sums", {}))
        faces = dict(sums.get(job["axle"], {}))
        faces[sheet["centering"]["face"]] = {"sum": found["sum"], "u": found["sum_u"]}
        sums[job["axle"]] = faces
        patch["known_sums"] = sums
    return patch


def part_then(part: dict, made: list, step: str) -> dict:
    """A bar or link as the changes leave it that were made after its round was measured."""
    then = dict(part)
    for entry in made:
        lengthen(then, entry["body"], step)
    return then


def joints_patch(stand: list, rounds: list, record: dict, axle: str) -> dict:
    """What of limits, torque and re-check goes on file when a job is accepted; often nothing."""
    patch: dict = {}
    on_file = record.get("joint_limits", {}).get(axle, {})
    limits = on_file
    recheck = None
    for name in rounds:
        here = [each for each in stand if each.get("round") == name]
        limits = limits_of_joints(here, limits)
        picked = last_pick(here, "torque", "recheck")
        recheck = recheck if picked is None else picked
    file_for(patch, record, "joint_limits", axle, limits if limits != on_file else None)
    torqued = [each for each in readings_of(stand, "torque") if each["body"].get("moved") is None]
    bolts = bolts_before(stand, "recheck", record, axle) if len(torqued) > 0 else []
    file_for(patch, record, "torques", axle, none_if_empty(bolts))
    file_for(patch, record, "rechecks", axle, recheck)
    return patch


def file_for(patch: dict, record: dict, name: str, axle: str, value: object) -> None:
    """Put what is known for this axle in a patch, beside what the record has for the others."""
    if value is None:
        return
    both = dict(record.get(name, {}))
    both[axle] = value
    patch[name] = both
