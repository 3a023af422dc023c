"""What a lead should look at twice before accepting a job: kinds to filter by, and sentences."""

from typing import NamedTuple

from webapp.desk.jobs.hold_points import listed_hold_points
from webapp.desk.jobs.job_view import JobView
from webapp.reckon.ask_back import first_open
from webapp.reckon.judgment.plausible import other_asks
from webapp.reckon.log import fold
from webapp.reckon.numbers import counted
from webapp.reckon.sentences.decision_words import later_sentence
from webapp.reckon.sentences.joint_answers import capital
from webapp.reckon.terms import ROUND_WORDS
from webapp.reckon.typed.lengths import show_amount
from webapp.reckon.walk.open_items import pair_name
from webapp.shoplog.rows import Row

# Kind to its title, in the order in which a lead wants to know.
KINDS = {
    "later": "Came in after it was accepted",
    "held": "Advice on hold",
    "outside": "Outside the limit",
    "too_close": "Too close to call",
    "no_verdict": "No verdict",
    "sum": "Sum differs",
    "differ": "The two readings do not agree",
    "tight": "Gap under the limit",
    "passed_over": "Hold point passed over",
    "open": "Hold point open",
    "incomplete": "Incomplete",
    "under_way": "Second reading not handed in yet",
    "same_second": "Second reading by the same person",
    "same_person": "Measured by the person who did the work",
    "doubt": "Doubtful readings",
    "late": "Came in after the hand-in",
}


class Flag(NamedTuple):
    """One thing to look at twice: its kind and a sentence."""

    kind: str
    says: str


def flags_of(look: JobView, pairs: list[Row]) -> list[Flag]:
    """Everything to look at twice in the job and its pairs of readings, the gravest kind first."""
    readable = not any("faults" in each.findings for each in look.rounds)
    points = listed_hold_points(look) if readable else []
    found = [
        *after_acceptance(look),
        *verdicts(look),
        *seconds(pairs),
        *tight_gaps(look),
        *passed_over(points),
        *still_open(points),
        *incomplete(look),
        *same_person(look),
        *doubts(look),
        *odd_values(look),
        *late(look),
    ]
    order = list(KINDS)
    return sorted(found, key=lambda flag: order.index(flag.kind))


def after_acceptance(look: JobView) -> list[Flag]:
    """What put an accepted job back before the lead."""
    says = later_sentence(look.job)
    return [Flag("later", says)] if says else []


def verdicts(look: JobView) -> list[Flag]:
    """Advice on hold, an axle that is not inside, sides whose sum differs; the answer says why."""
    found, says = look.last.centering, []
    advice = look.last.findings.get("advice") or {}
    if advice.get("state") == "hold":
        why = counted(len(advice["reasons"]), "reason")
        says.append(Flag("held", f"Do not adjust anything yet, for {why}, {look.last.title}."))
    if found.get("sum_state") == "differs":
        says.append(Flag("sum", "The sum of the sides is not what this vehicle usually has."))
    if found.get("state") in ("outside", "too_close", "no_verdict"):
        says.append(Flag(found["state"], f"{KINDS[found['state']]}, {look.last.title}."))
    return says


def seconds(pairs: list[Row]) -> list[Flag]:
    """Second readings that do not agree, are under way, or are nobody else's."""
    found = [each for each in pairs if each["state"] in ("differ", "under_way")]
    says = [Flag(each["state"], each["says"]) for each in found]
    alone = [each["says"] for each in pairs if each["state"] == "same_person"]
    by_others = [each for each in pairs if each["state"] != "under_way" and not each["same"]]
    return says + ([Flag("same_second", alone[0])] if alone and not by_others else [])


def tight_gaps(look: JobView) -> list[Flag]:
    """The pairs whose least gap is under the house limit, as the last sweep found them."""
    swept = [each.findings["clearance"] for each in look.rounds if each.findings.get("clearance")]
    pairs = swept[-1]["pairs"] if swept else []
    return [
        Flag(
            "tight",
            f"{capital(pair_name(pair))}: {show_amount(pair['least'], look.unit)}, under the house "
            "limit.",
        )
        for pair in pairs
        if pair["state"] == "tight"
    ]


def passed_over(points: list[Row]) -> list[Flag]:
    """The hold points that a lead passed over, with the reason."""
    return [
        Flag("passed_over", f"{point['title']} passed over: {point['passed']['body']['reason']}")
        for point in points
        if point["state"] == "passed_over" and point["passed"] is not None
    ]


def still_open(points: list[Row]) -> list[Flag]:
    """What was found not in order and keeps a hold point open, but for the axle's own place.

    What nobody looked at stands at the hold points themselves: a plain check looks at no more.
    """
    return [
        Flag("open", f"{point['title']}: {each['says']}")
        for point in points
        for each in point["open"]
        if point["state"] == "open"
        and not each["unseen"]
        and each["step"] not in ("centering", "heights")
    ]


def incomplete(look: JobView) -> list[Flag]:
    """What was not measured, and what the hand-in listed as missing with its reason."""
    says = [Flag("incomplete", fault["says"]) for fault in look.last.findings.get("faults", [])]
    if look.last.verdict == "not measured":
        says.append(Flag("incomplete", "No centering was measured in the last round."))
    hand_in = look.job["hand_in"]
    if hand_in is not None and hand_in["body"]["missing"]:
        things = counted(len(hand_in["body"]["missing"]), "thing")
        reason = hand_in["body"]["reason"] or "no reason"
        says.append(Flag("incomplete", f"Handed in with {things} missing: {reason}"))
    return says


def same_person(look: JobView) -> list[Flag]:
    """Whether whoever did the work also measured what it came to, with nobody beside them."""
    stand = fold.standing(look.entries)
    workers = {entry["person"] for entry in fold.of_kind(stand, "change")}
    last = [e for e in fold.of_kind(stand, "reading") if e["round"] == look.last.name]
    measured = {e["person"] for e in last if e["body"]["step"] == "centering"}
    if not workers or not measured or measured - workers:
        return []
    title = ROUND_WORDS[look.last.name]
    return [Flag("same_person", f"The person who did the work also measured the {title} round.")]


def doubts(look: JobView) -> list[Flag]:
    """What makes the last round's verdict doubtful and is not in its answer already."""
    answered = look.last.findings.get("says", "")
    settle = look.last.centering.get("settle")
    whys = [why for why in look.last.centering.get("why", []) if why not in answered]
    kind = "incomplete" if look.last.centering.get("state") == "incomplete" else "doubt"
    return [Flag(kind, why) for why in whys if why != settle]


def odd_values(look: JobView) -> list[Flag]:
    """Values that no vehicle has and that hold no advice, unless they were measured again."""
    sheet = look.last.sheet
    confirmed = sheet.get("confirmed") or []
    asked = [first_open([ask], sheet["units"], confirmed) for ask in other_asks(sheet)]
    return [Flag("doubt", ask["says"]) for ask in asked if ask]


def late(look: JobView) -> list[Flag]:
    """What came after the hand-in."""
    hand_in = look.job["hand_in"]
    entries = [] if hand_in is None else late_entries(look.entries, hand_in)
    if not entries:
        return []
    came = counted(len(entries), "entry", "entries")
    return [Flag("late", f"{came} came in after the hand-in.")]


def late_entries(entries: list[Row], hand_in: Row) -> list[Row]:
    """What reached the log after the hand-in; decisions and hold points are the lead's."""
    after = [entry for entry in entries if entry["seq"] > hand_in["seq"]]
    leads = {e["id"] for kind in ("decision", "pass_over") for e in fold.of_kind(after, kind)}
    return [e for e in after if e["id"] not in leads and e["body"].get("target") not in leads]
