"""What stands recorded: entries of the log folded into vehicles, limits and jobs.

Entries come in log order: by the shop's sequence number, then this phone's own unsent ones. An
entry stands unless a standing strike names it or a standing entry replaces it, so the result does
not depend on which of them arrived first.
"""

ROUNDS = ["as_found", "fit_up", "as_left", "recheck"]
# What a job leaves behind for the next one to be held against, on file per axle.
LEFT_BEHIND = ["last_rounds", "ride_heights", "links_older", "unaccepted", "left_open"]
# What a patch puts on file. Any other name in it, such as one that a newer app may write, is no
# part of the record: the rest of a record is made here, from entries of other kinds.
ON_FILE = [
    "name",
    "note",
    "units",
    "read_to",
    "driving_side",
    "face",
    "method",
    "track_bars",
    "drag_links",
    "rail_width",
    "track",
    "axles",
    "retired",
    "known_sums",
    "joint_limits",
    "torques",
    "rechecks",
    "remeasure",
    "ride_heights",
    "known_leans",
    "left_open",
    "last_rounds",
    "links_older",
    "replaced_tags",
    "unaccepted",
]
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
        # What a lead has measured again holds for every job.
        if entry["kind"] == "confirm":
            record["confirmed"] = record.get("confirmed", []) + [entry["body"]["key"]]
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
            for name in ON_FILE:
                if name in entry["body"]:
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
    decision = job["accepted"] if job.get("accepted") is not None else job.get("decision")
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
    """The job: what it is about, its rounds, and how far it is on its way past the lead.

    What was accepted stays as it was accepted: entries of a job that touch it and come in behind
    the acceptance are its `later` ones, and put it back before the lead, pending. `accepted` is the
    decision that its figures rest on, `handed_in` the hand-in whose limits are the job's.
    """
    stand = standing(entries)
    last = last_of(of_kind(stand, "hand_in"))
    decided = last_decision(entries, stand, last)
    accepted = acceptance(entries, decided)
    later: list = []
    if decided is not None and accepted is not None:
        later = came_later(entries, decided)
    state = job_state(last, decided, later)
    rests_on = entry_named(entries, accepted["body"]["hand_in"]) if accepted is not None else last
    named = entry_named(entries, decided["body"]["hand_in"]) if decided is not None else None
    if accepted is not None:
        stand = standing(as_accepted(entries, accepted))
    opened = last_of(of_kind(stand, "job")[:1])
    about = opened["body"] if opened is not None else {}
    first = entries[0] if len(entries) > 0 else {}
    return {
        "job": first.get("job"),
        "vehicle": first.get("vehicle"),
        "axle": about.get("axle", "front"),
        "about": about.get("about", ""),
        "scope": about.get("scope"),
        "state": state,
        "rounds": rounds_of(stand, about.get("round", "as_found")),
        "second_of": about.get("second_of"),
        "opened": opened,
        "hand_in": named if last is None and state != "open" else last,
        "handed_in": rests_on,
        "decision": decided if state in ["accepted", "sent_back"] else None,
        "accepted": accepted,
        "later": later,
    }


# What neither changes a figure of a job nor what is to be judged of it.
NOT_JUDGED = ["note", "photo", "plan", "decision"]
WORK = ["job", "reading", "tick", "pick", "confirm", "change", "hand_in"]


def entry_named(entries: list, entry_id: str | None) -> dict | None:
    """The entry with this id, or None."""
    return last_of([each for each in entries if each["id"] == entry_id][:1])


def known_at(entry: dict, decision: dict) -> bool:
    """Whether the shop had this entry when the decision was taken.

    An entry that came back after a restore stands behind it in the log, and was received before.
    """
    if precedes(entry, decision):
        return True
    received = entry.get("received_at")
    on = decision.get("received_at")
    return received is not None and on is not None and received < on


def last_decision(entries: list, stand: list, hand_in: dict | None) -> dict | None:
    """The last decision that counts about this hand-in, or else about any, or None."""
    decisions = list(reversed(of_kind(stand, "decision")))
    about_it: list = []
    if hand_in is not None:
        about_it = [each for each in decisions if each["body"]["hand_in"] == hand_in["id"]]
    for decision in about_it + decisions:
        if is_decided(entries, decision):
            return decision
    return None


def is_decided(entries: list, decision: dict) -> bool:
    """Whether a decision counts: what it is about was there, and was not that person's own work.

    By the log as it was known when the decision was taken, whatever came first. A person who did
    the work decides with an `own_reason`, where nobody else can; decisions of builds that knew of
    none were held to that as they came.
    """
    hand_in = entry_named(entries, decision["body"]["hand_in"])
    if hand_in is None or hand_in["kind"] != "hand_in" or not known_at(hand_in, decision):
        return False
    known: list = []
    for entry in entries:
        if known_at(entry, decision):
            known.append(entry)
    stood = standing(known)
    before = decision["body"].get("before")
    if before is None and entry_named(stood, hand_in["id"]) is None:
        return False
    if "own_reason" not in decision["body"] or decision["body"]["own_reason"]:
        return True
    return decision.get("person") not in workers(stood)


def workers(stand: list) -> list:
    """Who opened, measured, changed or handed in what stands; asking for a second reading is none.

    Entries that no shop has yet name nobody.
    """
    found: list = []
    for entry in stand:
        asked = entry["kind"] == "job" and entry["body"].get("second_of") is not None
        if entry["kind"] in WORK and not asked and entry.get("person") is not None:
            if entry["person"] not in found:
                found.append(entry["person"])
    return found


def acceptance(entries: list, decided: dict | None) -> dict | None:
    """The acceptance that figures rest on: this decision, or the one before that it keeps."""
    found = decided
    while found is not None and found["body"].get("keeps") is True:
        before = entry_named(entries, found["body"].get("before"))
        if before is None or not precedes(before, found):
            return None
        found = before
    return found if found is not None and found["body"]["verdict"] == "accepted" else None


def came_later(entries: list, decision: dict) -> list:
    """The entries that touch what was decided and that the shop did not have then."""
    settled: dict = {}
    found: list = []
    # What is struck may have come in behind its strike.
    for entry in entries:
        settled[entry["id"]] = entry["kind"]
    for entry in entries:
        target = crossed_out_by(entry)
        kind = entry["kind"]
        if kind == "strike":
            kind = settled[target] if target in settled else "strike"
        settled[entry["id"]] = kind
        if kind not in NOT_JUDGED and not known_at(entry, decision):
            found.append(entry)
    return found


def as_accepted(entries: list, accepted: dict | None) -> list:
    """The entries on which the figures rest: all but those that came after the acceptance."""
    if accepted is None:
        return entries
    later: dict = {}
    for entry in came_later(entries, accepted):
        later[entry["id"]] = True
    return [each for each in entries if each["id"] not in later]


def is_open(state: str) -> bool:
    """Whether a job in this state takes readings: it is not handed in yet, or was sent back."""
    return state == "open" or state == "sent_back"


def job_state(hand_in: dict | None, decided: dict | None, later: list) -> str:
    """`open`, `pending`, `accepted` or `sent_back`."""
    if decided is None:
        return "open" if hand_in is None else "pending"
    about_it = hand_in is None or decided["body"]["hand_in"] == hand_in["id"]
    if decided["body"]["verdict"] == "accepted":
        return "accepted" if about_it and len(later) == 0 else "pending"
    if hand_in is None and decided["body"].get("before") is None:
        return "open"
    return "sent_back" if about_it else "pending"


def rounds_of(stand: list, first: str) -> list:
    """The names of the rounds that hold anything, and the one the job was opened for, in order."""
    held = {first: True}
    for entry in stand:
        if entry.get("round") is not None:
            held[entry["round"]] = True
    return [name for name in ROUNDS if name in held]
