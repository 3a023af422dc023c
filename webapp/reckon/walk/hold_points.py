"""Hold points: what is still open before final welding and before the road.

They stop a job from being called ready. Nothing open is not the same as safe, and is never said so.
"""

from ..checks.clearance import clearance
from ..log.fold import last_of, of_kind, standing
from ..log.stale import changes_of, is_redone, place_of, places_asked, reopens, stale
from ..numbers import counted
from ..sentences.change_words import SINCE, stale_sentence, sweep_words
from ..sentences.joint_reasons import place_words
from ..step_terms import FIT_UP_TICKS, HOLD_POINT_TITLES
from ..terms import toward, wheel_sits

STATES = {"open": "open", "passed_over": "passed over by the lead", "clear": "nothing open"}
WELDED = ["bracket_moved", "hole_repaired"]


def hold_points(entries: list, rounds: list) -> list:
    """The hold points of a job as {hold_point, title, state, open, passed}.

    `rounds` are the job's in order, as {name, sheet, findings}. `open` lists {step, says};
    `passed` is the entry by which the lead passed it over, or None.
    """
    found: list = []
    if is_welded(entries, rounds):
        found.append(point_of("final_welding", open_at_fit_up(entries, rounds), entries))
    found.append(point_of("road", open_before_road(entries, rounds), entries))
    return found


def is_welded(entries: list, rounds: list) -> bool:
    """Whether this job comes to final welding: it has a fit-up, or metal was cut."""
    names = [each["name"] for each in rounds]
    cut = [one for one in changes_of(entries) if one["body"].get("what") in WELDED]
    return "fit_up" in names or len(cut) > 0


def point_of(name: str, still_open: list, entries: list) -> dict:
    """One hold point with how it stands.

    A lead passes over what was open then: whatever came up since is open again.
    """
    passed = None
    for entry in of_kind(standing(entries), "pass_over"):
        if entry["body"]["hold_point"] == name:
            passed = entry
    seen = passed["body"].get("open") if passed is not None else None
    fresh = [each for each in still_open if seen is not None and each["says"] not in seen]
    state = "clear"
    if len(still_open) > 0:
        state = "passed_over" if passed is not None and len(fresh) == 0 else "open"
    return {
        "hold_point": name,
        "title": HOLD_POINT_TITLES[name],
        "state": state,
        "open": still_open,
        "passed": passed,
    }


def item(step: str, says: str) -> dict:
    """One thing that is open: the step that settles it, and a sentence."""
    return {"step": step, "says": says}


def open_at_fit_up(entries: list, rounds: list) -> list:
    """What is open before final welding."""
    fit_up = [each for each in rounds if each["name"] == "fit_up"]
    swept = (fit_up[0]["findings"] if len(fit_up) > 0 else {}).get("clearance")
    found: list = []
    for field in list(FIT_UP_TICKS):
        if fit_up_tick(entries, field) is not True:
            found.append(item("job", f"Not ticked: {FIT_UP_TICKS[field]}."))
    if swept is None:
        says = "Sweep the clearance of the fit-up through the travel, at each lock."
        return found + [item("clearance", says)]
    for pair in swept["pairs"]:
        if pair["state"] == "contact":
            found.append(item("clearance", contact_words(pair, " at fit-up")))
        elif len(pair["unchecked"]) > 0:
            left = f"{counted(len(pair['unchecked']), 'place')} not looked at."
            found.append(item("clearance", f"{pair_name(pair)}: {left}"))
    return found + sweep_again(entries)


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


def sweep_again(entries: list) -> list:
    """That a change since the sweep asks for another one, as an item, or nothing."""
    stand = standing(entries)
    last = reopened_fit_up(stand)
    if last < 0:
        return []
    ask = places_asked(of_fit_up(stand[:last]), of_fit_up(stand[last + 1 :]))
    if is_redone(ask):
        return []
    since = SINCE[stand[last]["body"]["what"]]
    says = f"{sweep_words(ask.get('places_left'))}: {since} since the sweep."
    return [item("clearance", says)]


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


def open_before_road(entries: list, rounds: list) -> list:
    """What is open before the road."""
    last = rounds[len(rounds) - 1]
    found: list = []
    unit = last["sheet"].get("units") or "mm"
    overtaken = stale(entries, last["name"])
    again = [one["finding"] for one in overtaken]
    if "centering" not in again:
        found.extend(open_centering(rounds, unit))
    for each in overtaken:
        found.append(item(each["step"], stale_sentence(each)))
    if "wheel" not in again:
        found.extend(open_wheel(rounds))
    for pair in last_clearance(rounds):
        if pair["state"] == "contact":
            found.append(item("clearance", contact_words(pair, "")))
    for joint in latest(rounds, "play", "joints"):
        if joint["state"] == "outside":
            found.append(item("play", f"{joint['joint'].capitalize()}: outside its limit."))
    for fastener in latest(rounds, "torque", "fasteners"):
        for says in fastener["lacks"]:
            found.append(item("torque", f"{fastener['fastener'].capitalize()}: {says}"))
    return found


def open_centering(rounds: list, unit: str) -> list:
    """What keeps the axle from being inside, as the last round that measured it found."""
    measured = [each for each in rounds if each["findings"].get("centering") is not None]
    if len(measured) == 0:
        return [item("centering", "The centering was not measured.")]
    found = measured[len(measured) - 1]["findings"]["centering"]
    if found["state"] == "inside" and found["sum_state"] != "differs":
        return []
    if found["state"] == "outside" or found["state"] == "too_close":
        how = (
            "outside the limit" if found["state"] == "outside" else "too close to the limit to call"
        )
        return [item("centering", f"The axle sits {toward(found['offset'], unit)}, {how}.")]
    if found["state"] == "inside":
        return [item("centering", found["sum_hint"])]
    return [item("centering", f"No verdict on the centering: {found['why'][0]}")]


def open_wheel(rounds: list) -> list:
    """Whether the steering wheel was last found off center."""
    said = [each for each in rounds if each["findings"].get("steering") is not None]
    if len(said) == 0 or said[len(said) - 1]["findings"]["steering"]["state"] == "centered":
        return []
    sits = said[len(said) - 1]["findings"]["steering"]["wheel_deg"]
    return [item("drag_link", f"{wheel_sits(sits)}. Center it with the drag link.")]


def latest(rounds: list, part: str, parts: str) -> list:
    """What each joint or fastener was last found to be, in the order of its first finding."""
    found: dict = {}
    for each in rounds:
        for one in (each["findings"].get(part) or {}).get(parts) or []:
            key = f"{one.get('of') or ''}/{one.get('joint') or one.get('fastener') or ''}"
            found[key] = one
    return [found[name] for name in list(found)]


def last_clearance(rounds: list) -> list:
    """The pairs by what was last found at each of their places, in whichever round that was.

    A contact at full bump is not undone by a gap found at ride height in a later round.
    """
    found: dict = {}
    for each in rounds:
        for one in each["sheet"].get("clearance") or []:
            found[place_of(one)] = one
    pairs: list = clearance([found[place] for place in list(found)], {})["pairs"]
    return pairs


def contact_words(pair: dict, when: str) -> str:
    """Where the parts of a pair touch."""
    return f"{pair_name(pair)}: contact{when}, {place_words(pair['at'])}."


def pair_name(pair: dict) -> str:
    """The two parts of a pair in words."""
    return " to ".join(pair["between"]).capitalize()
