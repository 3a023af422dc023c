"""Hold points: what is still open before final welding and before the road.

They stop a job from being called ready. Nothing open is not the same as safe, and is never said so.
"""

from ..checks.clearance import clearance
from ..checks.clearance import pair_name as name_of
from ..log.fold import fold_job, last_of, of_kind, precedes, standing
from ..log.stale import changes_of, is_redone, overtaken, places_asked, readings, reopens
from ..numbers import counted
from ..sentences.change_words import SINCE, sweep_words
from ..step_terms import FIT_UP_TICKS, HOLD_POINT_TITLES
from .open_items import contact_words, item, items_before_road, not_judged, pair_name, unseen
from .usual_pairs import BRACKET, changed_parts, kept_apart, pairs_asked

CLEAR = "nothing open"
PASSED_OVER = "passed over by the lead"
WELDED = ["bracket_moved", "hole_repaired"]


def hold_points(entries: list, rounds: list) -> list:
    """The hold points of a job as {hold_point, title, state, shows, open, not_judged, passed}.

    `rounds` are the job's in order, as {name, sheet, findings}. `open` lists {step, says, unseen,
    cause}, what was found not in order and what nobody has looked at; `not_judged` are sentences;
    `shows` is how the point stands, in words; `passed` is the entry by which the lead passed it
    over, or None.
    """
    stand = standing(entries)
    axle = fold_job(entries)["axle"]
    found: list = []
    if is_welded(entries, rounds):
        found.append(point_of("final_welding", open_at_fit_up(stand, rounds, axle), entries))
    before_road = items_before_road(stand, rounds, overtaken(stand, axle))
    road = point_of("road", before_road, entries)
    road["not_judged"] = not_judged(rounds)
    return found + [road]


def is_welded(entries: list, rounds: list) -> bool:
    """Whether this job comes to final welding: it has a fit-up, or metal was cut."""
    names = [each["name"] for each in rounds]
    cut = [one for one in changes_of(entries) if one["body"].get("what") in WELDED]
    return "fit_up" in names or len(cut) > 0


def point_of(name: str, still_open: list, entries: list) -> dict:
    """One hold point with how it stands.

    A lead passes over what was open then: whatever came up since is open again, also where it is
    the same once more.
    """
    passed = None
    for entry in of_kind(standing(entries), "pass_over"):
        if entry["body"]["hold_point"] == name:
            passed = entry
    fresh = [each for each in still_open if not is_passed(each, passed)]
    state = "clear"
    if len(still_open) > 0:
        state = "passed_over" if len(fresh) == 0 else "open"
    return {
        "hold_point": name,
        "title": HOLD_POINT_TITLES[name],
        "state": state,
        "shows": state_words(state, still_open),
        "open": still_open,
        "not_judged": [],
        "passed": passed,
    }


def is_passed(each: dict, passed: dict | None) -> bool:
    """Whether the lead has passed an item over, as the lead saw it."""
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
            found.append(item("job", f"Not ticked: {FIT_UP_TICKS[field]}.", cause))
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
    gaps: list = []
    for each in fit_up:
        gaps.extend(each["sheet"].get("clearance") or [])
    swept = clearance(gaps, {})["pairs"]
    names = [name_of(one) for one in swept]
    apart = kept_apart(stand)
    found: list = []
    for pair in swept:
        if pair["state"] == "contact":
            found.append(item("clearance", contact_words(pair, " at fit-up")))
        elif len(pair["unchecked"]) > 0 and name_of(pair) not in apart:
            left = counted(len(pair["unchecked"]), "place")
            found.append(unseen("clearance", f"{left} of {pair_name(pair)}"))
    for between in asked:
        pair = {"between": between}
        if name_of(pair) not in names and name_of(pair) not in apart:
            found.append(unseen("clearance", pair_name(pair)))
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
    return [item("clearance", says, stand[last])]


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
