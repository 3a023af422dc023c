"""Hold points: what is still open before final welding and before the road.

They stop a job from being called ready. Nothing open is not the same as safe, and is never said so.
"""

from ..checks.clearance import pair_name as name_of
from ..log.fold import fold_job, last_of, of_kind, precedes, standing
from ..log.links_of_round import TURNED
from ..log.stale import is_redone, overtaken, places_asked, readings, reopens
from ..numbers import counted
from ..sentences.change_words import SINCE, stale_sentence, sweep_words
from ..step_names import FIT_UP_TICKS, HOLD_POINT_TITLES
from .carried import found_last, last_by_name, still_left
from .missing import missing
from .open_items import (
    MOVES,
    contact_at,
    contact_words,
    item,
    items_before_road,
    last_clearance,
    not_judged,
    pair_name,
    unseen,
)
from .usual_pairs import BRACKET, changed_parts, kept_apart, pairs_asked

CLEAR = "nothing open"
PASSED_OVER = "passed over by the lead"
WELDED = ["bracket_moved", "hole_repaired"]
# Steps of which whatever lacks is an item before the road anyway.
ITEMS_BY_THEMSELVES = ["play", "clearance", "torque"]
# So many accepted jobs of a vehicle does a phone keep, see the exchange.
MAX_ACCEPTED = 6


def hold_points(entries: list, rounds: list, past: dict | None = None) -> list:
    """The hold points of a job's vehicle and axle, as the job finds and leaves them.

    {hold_point, title, state, shows, open, closed, not_judged, passed} each. `rounds` are the job's
    in order, as {name, sheet, findings}; `past` is {jobs, closings, filed}, what came before: jobs
    as {state, entries, rounds}, oldest first, entries by which a lead closed an item, and what
    older jobs left open on file.
    `open` lists {step, says, unseen, cause, about, earlier, passed}: what was found not in order
    and what nobody has looked at, `earlier` where a job before left it, `passed` where a lead
    passed it over; `closed` lists {says, entry}; `not_judged` are sentences; `shows` is how the
    point stands, in words; `passed` is the entry by which the lead passed it over, or None.
    """
    axle = fold_job(entries)["axle"]
    before = of_past(past or {"jobs": [], "closings": []}, axle)
    stand = before["stand"] + standing(entries)
    every = before["rounds"] + rounds
    found: list = []
    filed = (past or {}).get("filed") or []
    at_fit_up = open_at_fit_up(stand, every, axle) if is_welded(stand, every) else []
    on_file = still_left(filed, "final_welding", stand, every)
    at_fit_up = at_fit_up + on_file
    left = welding_left(before, axle) + says_of(on_file)
    if is_welded(standing(entries), rounds) or len(of_those(at_fit_up, left)) > 0:
        found.append(point_of("final_welding", at_fit_up, left, stand, before["closings"]))
    on_file = still_left(filed, "road", stand, every)
    undone = left_undone(before, stand, rounds)
    still_open = items_before_road(stand, every, axle) + undone + on_file
    left = road_left(before, axle) + says_of(on_file)
    road = point_of("road", still_open, left, stand, before["closings"])
    road["not_judged"] = not_judged(every)
    return found + [road]


def of_past(past: dict, axle: str) -> dict:
    """What the jobs before leave: {stand, rounds, closings, jobs}.

    A job counts once it is handed in and while it is not sent back. Until then only what it changed
    on the vehicle does, and what a lead passed over.
    """
    stand: list = []
    rounds: list = []
    counted: list = []
    for each in past["jobs"]:
        here = standing(each["entries"])
        if each["state"] == "pending" or each["state"] == "accepted":
            stand.extend(here)
            rounds.extend(each["rounds"])
            counted.append(each)
        else:
            stand.extend([one for one in here if one["kind"] in ["change", "pass_over"]])
    made = of_kind(standing(past["closings"]), "close_item")
    closings = [closing for closing in made if closing["body"]["axle"] == axle]
    return {"stand": stand, "rounds": rounds, "closings": closings, "jobs": counted}


def welding_left(before: dict, axle: str) -> list:
    """What the jobs before left open before final welding, as sentences."""
    if not is_welded(before["stand"], before["rounds"]):
        return []
    return says_of(open_at_fit_up(before["stand"], before["rounds"], axle))


def road_left(before: dict, axle: str) -> list:
    """What the jobs before left open before the road, as sentences."""
    if len(before["stand"]) == 0:
        return []
    found = items_before_road(before["stand"], before["rounds"], axle)
    return says_of(found + left_undone(before, before["stand"], []))


def says_of(items: list) -> list:
    """The sentences of these items."""
    return [each["says"] for each in items]


def of_those(items: list, sentences: list) -> list:
    """The items with one of these sentences."""
    return [each for each in items if each["says"] in sentences]


def left_undone(before: dict, stand: list, rounds: list) -> list:
    """What the jobs before were handed in with and nothing settles that stands or was measured.

    An unexplained move stays open until something was repaired or replaced, or a lead closes it;
    an incomplete hand-in until a round lacks nothing.
    """
    found: list = []
    jobs = before["jobs"]
    for index in range(len(jobs)):
        later = before_of(jobs[index + 1 :])
        moved = move_unexplained(jobs[index])
        if moved is not None and not is_repaired_since(stand, jobs[index]):
            found.append(moved)
        lacks = lacking(jobs[index])
        done = [one for one in later + rounds if len(missing(one["sheet"])) == 0]
        if len(lacks) > 0 and len(done) == 0:
            says = f"A job was handed in incomplete: {' '.join(lacks)}"
            found.append(item("hand_in", says, ["whole"], hand_in_of(jobs[index])))
    return found


def before_of(jobs: list) -> list:
    """The rounds of these jobs in order."""
    rounds: list = []
    for each in jobs:
        rounds.extend(each["rounds"])
    return rounds


def hand_in_of(job: dict) -> dict | None:
    """The hand-in of a job."""
    return last_of(of_kind(standing(job["entries"]), "hand_in"))


def lacking(job: dict) -> list:
    """What a job was handed in without, as sentences, but for what is an item by itself."""
    hand_in = hand_in_of(job)
    if hand_in is None or len(job["rounds"]) == 0:
        return []
    sheet = job["rounds"][len(job["rounds"]) - 1]["sheet"]
    own = [one["says"] for one in missing(sheet) if one["step"] in ITEMS_BY_THEMSELVES]
    again = [stale_sentence(each) for each in overtaken(standing(job["entries"]), sheet["axle"])]
    return [says for says in hand_in["body"]["missing"] if says not in own and says not in again]


def move_unexplained(job: dict) -> dict | None:
    """The move of the axle that a job left unexplained, as an item, or None."""
    last = last_of([each for each in job["rounds"] if each["findings"].get("advice") is not None])
    if last is None:
        return None
    for reason in last["findings"]["advice"]["reasons"]:
        if reason["code"] in MOVES:
            return item("centering", reason["says"], ["repair"], hand_in_of(job))
    return None


def is_repaired_since(stand: list, job: dict) -> bool:
    """Whether something was repaired or replaced after this job was handed in."""
    hand_in = hand_in_of(job)
    after = False
    for entry in stand:
        if after and entry["kind"] == "change" and entry["body"].get("what") not in TURNED:
            return True
        after = after or (hand_in is not None and entry["id"] == hand_in["id"])
    return False


def is_welded(stand: list, rounds: list) -> bool:
    """Whether it comes to final welding: there was a fit-up, or metal was cut."""
    names = [each["name"] for each in rounds]
    cut = [one for one in of_kind(stand, "change") if one["body"].get("what") in WELDED]
    return "fit_up" in names or len(cut) > 0


def point_of(name: str, found: list, left: list, stand: list, closings: list) -> dict:
    """One hold point with how it stands; `left` are sentences that the jobs before left open.

    A lead passes over and closes what was open then: whatever came up since is open again, also
    where it is the same once more.
    """
    last = last_by_name(stand)
    passed = None
    for entry in of_kind(stand, "pass_over"):
        if entry["body"]["hold_point"] == name:
            passed = entry
    still_open: list = []
    closed: list = []
    for item_found in found:
        each = dict(item_found)
        each["cause"] = found_last(each, last)
        closing = closing_of(each, closings)
        if closing is not None:
            closed.append({"says": each["says"], "entry": closing})
        elif each["says"] not in says_of(still_open):
            each["earlier"] = each["says"] in left
            each["passed"] = is_passed(each, passed)
            still_open.append(each)
    fresh = [one for one in still_open if is_passed(one, passed) is False]
    state = "clear"
    if len(still_open) > 0:
        state = "passed_over" if len(fresh) == 0 else "open"
    return {
        "hold_point": name,
        "title": HOLD_POINT_TITLES[name],
        "state": state,
        "shows": state_words(state, still_open),
        "open": still_open,
        "closed": closed,
        "not_judged": [],
        "passed": passed,
    }


def closing_of(each: dict, closings: list) -> dict | None:
    """The last entry by which a lead closed an item, or None."""
    found = None
    for closing in closings:
        if is_closed(each, closing):
            found = closing
    return found


def is_closed(each: dict, closing: dict) -> bool:
    """Whether a lead closed an item after it was last found."""
    if closing["body"]["says"] != each["says"]:
        return False
    return each["cause"] is None or precedes(each["cause"], closing)


def earlier_jobs(jobs: list, job: dict) -> list:
    """Of folded jobs in the order in which they were opened, those that this one begins with.

    They are of the same axle, and not those of which this is a second reading. Phones keep the last
    accepted jobs of a vehicle, so no more of those are looked through: what older ones left open
    stands on file.
    """
    before: list = []
    for each in jobs:
        if each["job"] == job["job"]:
            break
        before.append(each)
    accepted = [one for one in before if one["state"] == "accepted"]
    kept = [one["job"] for one in accepted[max(0, len(accepted) - MAX_ACCEPTED) :]]
    found: list = []
    for other in before:
        if other["axle"] == job["axle"] and other["job"] != job.get("second_of"):
            if other["state"] != "accepted" or other["job"] in kept:
                found.append(other)
    return found


def is_passed(each: dict, passed: dict | None) -> bool:
    """Whether the lead has passed an item over, as the lead saw it."""
    if each.get("passed") is True:
        return True
    if passed is None:
        return False
    seen = passed["body"].get("open")
    if seen is not None and each["says"] not in seen:
        return False
    return each["cause"] is None or precedes(each["cause"], passed)


def state_words(state: str, still_open: list) -> str:
    """How a hold point stands, in words: 2 open, 3 not looked at."""
    if state == "clear":
        return CLEAR
    if state == "passed_over":
        return PASSED_OVER
    missed = len([each for each in still_open if each["unseen"] is True])
    words: list = []
    if len(still_open) > missed:
        words.append(f"{len(still_open) - missed} open")
    if missed > 0:
        words.append(f"{missed} not looked at")
    return ", ".join(words)


def open_at_fit_up(stand: list, rounds: list, axle: str) -> list:
    """What is open before final welding: ticks, and every pair of the changed part swept."""
    fit_up = [each for each in rounds if each["name"] == "fit_up"]
    found: list = []
    cause = last_cause(stand)
    for field in list(FIT_UP_TICKS):
        if fit_up_tick(stand, field) is not True and (axle == "front" or field != "swung"):
            says = f"Not checked: {FIT_UP_TICKS[field]}."
            found.append(item("job", says, [f"tick {field}"], cause))
    return found + not_swept(stand, fit_up, axle) + sweep_again(stand)


def last_cause(stand: list) -> dict | None:
    """The last change that a fit-up has to be made again for, or None."""
    last = reopened_fit_up(stand)
    return None if last < 0 else stand[last]


def not_swept(stand: list, fit_up: list, axle: str) -> list:
    """The pairs of the changed part that touch at fit-up or were not looked at everywhere.

    Where no change says what is welded, it is a bracket.
    """
    parts = changed_parts(stand)
    asked = pairs_asked(parts if len(parts) > 0 else [BRACKET], axle)
    swept = last_clearance(fit_up)
    names = [name_of(one) for one in swept]
    apart = kept_apart(stand)
    found: list = []
    for pair in swept:
        if pair["state"] == "contact":
            found.append(item("clearance", contact_words(pair, " at fit-up"), contact_at(pair)))
        elif len(pair["unchecked"]) > 0 and name_of(pair) not in apart:
            left = counted(len(pair["unchecked"]), "place")
            says = f"{left} of {pair_name(pair)}"
            found.append(unseen("clearance", says, [f"pair {name_of(pair)}"]))
    for between in asked:
        pair = {"between": between}
        if name_of(pair) not in names and name_of(pair) not in apart:
            found.append(unseen("clearance", pair_name(pair), [f"pair {name_of(pair)}"]))
    return found


def reopened_fit_up(stand: list) -> int:
    """Where the last change stands that a fit-up has to be made again for, or -1.

    Once the as-left round is under way a turned bar is no matter of welding; moved metal is.
    """
    last = -1
    for index in range(len(stand)):
        entry = stand[index]
        what = entry["body"].get("what") if entry["kind"] == "change" else None
        early = entry.get("round") in [None, "as_found", "fit_up"]
        if what in WELDED or (early and reopens(what, "clearance")):
            last = index
    return last


def sweep_again(stand: list) -> list:
    """That a change since the sweep asks for another one, as an item, or nothing."""
    last = reopened_fit_up(stand)
    if last < 0:
        return []
    before = of_fit_up(stand[:last])
    ask = places_asked(before, of_fit_up(stand[last + 1 :]))
    if len(readings(before, "clearance")) == 0 or is_redone(ask):
        return []
    since = SINCE[stand[last]["body"]["what"]]
    says = f"{sweep_words(ask.get('places_left'))}: {since} since the sweep."
    return [item("clearance", says, ["step clearance"], stand[last])]


def of_fit_up(entries: list) -> list:
    """The entries of the fit-up among these."""
    return [each for each in entries if each.get("round") == "fit_up"]


def fit_up_tick(entries: list, field: str) -> bool | None:
    """What was ticked last for a field of the fit-up, or None where nothing was since a change."""
    stand = standing(entries)
    since = of_fit_up(stand[reopened_fit_up(stand) + 1 :])
    ticked = [each for each in of_kind(since, "tick") if each["body"]["field"] == field]
    last = last_of(ticked)
    return None if last is None else last["body"]["value"]
