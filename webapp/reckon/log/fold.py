"""What stands recorded: entries of the log folded into vehicles, limits and jobs.

Entries come in log order: by the shop's sequence number, then this phone's own unsent ones. An
entry stands unless a standing strike names it or a standing entry replaces it, so the result does
not depend on which of them arrived first.
"""

ROUNDS = ["as_found", "fit_up", "as_left", "recheck"]
# What a job leaves behind for the next one to be held against, on file per axle.
LEFT_BEHIND = ["last_rounds", "ride_heights", "links_older", "unaccepted"]
# On file per axle, and below that per face or joint.
BY_TWO_KEYS = ["known_sums", "joint_limits"]


def crossed_out_by(entry: dict) -> str | None:
    """The id of the entry that this one strikes or replaces, or None."""
    if entry["kind"] == "strike":
        return entry["body"].get("target")
    return entry["body"].get("replaces")


def standing(entries: list) -> list:
    """The entries that stand, in their order."""
    stands = settle(entries)
    return [each for each in entries if stands.get(each["id"], True)]


def settle(entries: list) -> dict:
    """Entry id to whether it stands; ids in a ring of strikes are left out, and so stand.

    An entry is settled once everything that crosses it out is: each is looked at once, however
    long a chain of strikes of strikes they make, and in whatever order they come.
    """
    targets: dict = {}
    waits: dict = {}
    for entry in entries:
        targets[entry["id"]] = crossed_out_by(entry)
        waits[entry["id"]] = 0
    for entry in entries:
        target = targets[entry["id"]]
        if target in waits:
            waits[target] += 1
    stands: dict = {}
    ready = [each["id"] for each in entries if waits[each["id"]] == 0]
    for entry_id in ready:
        stands[entry_id] = True
    while len(ready) > 0:
        following: list = []
        for entry_id in ready:
            target = targets[entry_id]
            if target not in waits or stands.get(target) is not None:
                continue
            waits[target] -= 1
            if stands[entry_id] or waits[target] == 0:
                stands[target] = not stands[entry_id]
                following.append(target)
        ready = following
    return stands


def of_kind(entries: list, kind: str) -> list:
    """The entries of one kind, in their order."""
    return [each for each in entries if each["kind"] == kind]


def last_of(entries: list) -> dict | None:
    """The last entry, or None of none."""
    return entries[-1] if len(entries) > 0 else None


def fold_vehicle(entries: list) -> dict:
    """The vehicle's record: every patch laid over the one before, with its tags and its id."""
    record: dict = {"id": None, "tags": []}
    stand = standing(entries)
    filed = filed_in(stand)
    for name in filed:
        record[name] = filed[name]["value"]
    for entry in stand:
        if entry["kind"] == "vehicle":
            record["id"] = entry["vehicle"]
        if entry["kind"] == "tag":
            record["id"] = entry["vehicle"]
            record["tags"] = [t for t in record["tags"] if t != entry["body"]["code"]]
            record["tags"].append(entry["body"]["code"])
    return record


def filed_in(stand: list) -> dict:
    """What standing patches put on file: name to {value, entry}, a dictionary also key by key.

    A patch replaces what its own record had under a name. Records that are one vehicle lie over
    one another in the order in which they begin, the one that the others are part of last.
    """
    own: dict = {}
    for entry in stand:
        mine = own.setdefault(entry["vehicle"], {})
        if entry["kind"] == "vehicle":
            for name in entry["body"]:
                mine[name] = filed_anew(mine.get(name, {}), entry["body"][name], entry)
    found: dict = {}
    for vehicle in own:
        # That a record was retired says nothing about the vehicle that it is part of.
        found.pop("retired", None)
        for name in own[vehicle]:
            found[name] = laid_over(found.get(name, {}), own[vehicle][name], name in BY_TWO_KEYS)
    return found


def filed_anew(before: dict, value: object, entry: dict) -> dict:
    """A value as a patch files it; keys that say the same as before keep the entry they have."""
    filed: dict = {"value": value, "entry": entry}
    if isinstance(value, dict):
        filed["keys"] = {}
        had = before.get("keys", {})
        for key in value:
            same = key in had and had[key]["value"] == value[key]
            filed["keys"][key] = had[key] if same else {"value": value[key], "entry": entry}
    return filed


def laid_over(under: dict, over: dict, two_keys: bool) -> dict:
    """What one record files under a name, laid over what another does: dictionaries key by key."""
    if "keys" not in under or "keys" not in over:
        return over
    keys = dict(under["keys"])
    value = dict(under["value"])
    for key in over["keys"]:
        cell = over["keys"][key]
        had = keys.get(key)
        # What is done here does not settle what was asked under the other record since.
        if had is None or counts_over(had, cell):
            keys[key] = both_of(had, cell) if two_keys and had is not None else cell
            value[key] = keys[key]["value"]
    return {"value": value, "entry": over["entry"], "keys": keys}


def counts_over(had: dict, cell: dict) -> bool:
    """Whether what a record files counts before another's; it does not where both are the same."""
    if had["value"] == cell["value"]:
        return False
    return cell["value"] is not None or precedes(had["entry"], cell["entry"])


def both_of(under: dict, over: dict) -> dict:
    """The second keys of two records under the same first one."""
    value = over["value"]
    if isinstance(under["value"], dict) and isinstance(value, dict):
        value = dict(under["value"])
        value.update(over["value"])
    return {"value": value, "entry": over["entry"]}


def record_at(vehicle_entries: list, job: dict) -> dict:
    """The vehicle's record as a folded job found it: patches before its decision, never its own.

    What its rounds are held against is what was left behind before it was opened.
    """
    decision = job.get("decision")
    before: list = []
    for entry in vehicle_entries:
        if entry["body"].get("from_job") != job["job"] and precedes(entry, decision):
            late = leaves_behind(entry) and not precedes(entry, job.get("opened"))
            before.append(without_left_behind(entry) if late else entry)
    return fold_vehicle(before)


def leaves_behind(entry: dict) -> bool:
    """Whether an entry files what a job left behind."""
    return len([name for name in LEFT_BEHIND if name in entry["body"]]) > 0


def without_left_behind(entry: dict) -> dict:
    """An entry without what it files of what a job left behind."""
    body = dict(entry["body"])
    for name in LEFT_BEHIND:
        if name in body:
            body.pop(name)
    other = dict(entry)
    other["body"] = body
    return other


def precedes(entry: dict, decision: dict | None) -> bool:
    """Whether the entry stands in the log before the decision or other entry, or there is none."""
    if decision is None or decision.get("seq") is None:
        return True
    return entry.get("seq") is not None and entry["seq"] < decision["seq"]


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
        "second_of": about.get("second_of"),
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
