"""A job's page: its rounds side by side, every entry, and the decision."""

from datetime import date

from flask import render_template

from webapp.desk.blueprint import bp
from webapp.desk.context import Names, current_person, people, the_log
from webapp.desk.each import shown
from webapp.desk.formats import day
from webapp.desk.forms import DecisionForm
from webapp.desk.jobs.curves import curves
from webapp.desk.jobs.flags import flags_of
from webapp.desk.jobs.hold_points import hold_lines
from webapp.desk.jobs.job_view import JobView, Round, limits_counting, look_at
from webapp.desk.jobs.joint_tables import walked
from webapp.desk.jobs.log_rows import log_rows
from webapp.desk.jobs.photos import photo_rows
from webapp.desk.jobs.second_reading import comparisons, is_asked
from webapp.desk.shop.limits import bounds_title
from webapp.reckon.limits import limits_at
from webapp.reckon.log.fold import of_kind, standing, workers
from webapp.reckon.log.sheet_of_round import latest_readings
from webapp.reckon.log.stale import changes_of
from webapp.reckon.sentences.change_words import change_words
from webapp.reckon.sentences.decision_words import later_sentence
from webapp.reckon.sentences.limit_words import limit_words
from webapp.reckon.terms import ROUND_WORDS, STANDINGS, TICK_WORDS
from webapp.reckon.typed.lengths import show_length
from webapp.reckon.walk.steps import CAUTIONS
from webapp.shoplog.rows import Row

OWN_JOB = (
    "You opened, measured or handed in this job yourself, so another lead decides on it: "
    "somebody else has to look at a person's own readings."
)
NOT_HANDED_IN = {"handed_in": None, "state": "open"}
OWN_ALONE = (
    "You opened, measured or handed in this job yourself, and nobody else can decide on it. "
    "Say why you accept it, or what has to be done again: the record shows it next to your name."
)


@bp.route("/jobs/<job>")
def job(job: str) -> str:
    """The job's page."""
    row = the_log().job(job)
    pages, _ = shown([row], page_of)
    return pages[0] if pages else unreadable_page(row)


def page_of(row: Row) -> str:
    """The page of the job of this row."""
    return render_template("desk/job.html", **job_page(look_at(row["id"]), DecisionForm(None)))


def unreadable_page(row: Row) -> str:
    """In place of a job's page that cannot be made: its entries as they are."""
    entries = the_log().entries_of_job(row["id"])
    return render_template("desk/job_unreadable.html", row=row, entries=entries, names=people())


def job_page(look: JobView, form: DecisionForm, refusal: str | None = None) -> Row:
    """What the job's template needs; `refusal` says why a decision was not taken."""
    form.last_seq.data = look.row["last_seq"]
    pairs, own = comparisons(look), whose_work(look)
    return {
        "look": look,
        "rounds": [round_box(each, look) for each in look.rounds],
        "flags": flags_of(look, pairs),
        "curves": curves(look),
        "seconds": pairs,
        "beside": beside(look),
        "changes": change_lines(look),
        "holds": hold_lines(look),
        "rows": log_rows(look.logged, look.unit),
        "notes": notes(look),
        "photos": photo_rows(look.entries),
        "limits": limit_lines(look),
        "names": people(),
        "cautions": [says for step in ("track_bar", "hand_in") for says in CAUTIONS[step]],
        "form": form,
        "second_asked": is_asked(look),
        "refusal": refusal,
        "own": OWN_JOB if own == "others" else None,
        "alone": OWN_ALONE if own == "alone" else None,
        "later": later_lines(look),
    }


def whose_work(look: JobView) -> str | None:
    """`others` or `alone` where whoever is signed in did some of the work; None where not.

    `others` says that somebody else can decide on the job.
    """
    me, who = current_person()["id"], workers(standing(look.logged))
    if me not in who:
        return None
    return "others" if the_log().other_deciders(who, me) else "alone"


def later_lines(look: JobView) -> Row | None:
    """What came in after the job was accepted, and what each round would come to with it."""
    if look.proposed is None:
        return None
    came = {entry["id"] for entry in look.job["later"]}
    with_it = look.proposed
    return {
        "says": later_sentence(look.job),
        "rows": [row for row in log_rows(look.logged, look.unit) if row["id"] in came],
        "rounds": [(each.title, each.findings.get("answer")) for each in with_it.rounds],
    }


def beside(look: JobView) -> Row:
    """The jobs that wait before and after this one, by their ids, and how many wait."""
    waiting = [row["id"] for row in the_log().jobs(state="pending")]
    if look.row["id"] not in waiting:
        return {"count": len(waiting), "place": None, "before": None, "after": None}
    place = waiting.index(look.row["id"])
    return {
        "count": len(waiting),
        "place": place + 1,
        "before": waiting[place - 1] if place else None,
        "after": waiting[place + 1] if place + 1 < len(waiting) else None,
    }


def round_box(this: Round, look: JobView) -> Row:
    """One round with its drawing and what was read."""
    drawn = {**this.sheet, "rail_width": look.record.get("rail_width")}
    return {
        "round": this,
        "axle_view": {"sheet": drawn, "findings": this.findings},
        "sides": {side: readings_as_typed(look, this, side) for side in ("left", "right")},
        "state": how_it_stood(this.sheet),
        "walked": walked(look, this),
    }


def readings_as_typed(look: JobView, this: Round, side: str) -> Row:
    """What a verdict of a round rests on, on one side: heights and distances, as typed."""
    stand = standing(look.entries)
    found = {step: latest_readings(stand, this.name, step) for step in ("heights", "centering")}
    return {
        step: [as_typed(entry) for entry in entries if entry["body"]["field"] == side]
        for step, entries in found.items()
    }


def as_typed(entry: Row) -> str:
    """A reading in the unit it was read in."""
    return str(show_length(entry["body"]["value"], entry["body"]["unit"]))


def how_it_stood(sheet: Row) -> str:
    """What the vehicle stood on and what of the preparation was ticked, in words."""
    stood = STANDINGS.get(sheet["standing"], "standing not recorded")
    ticked = [TICK_WORDS[name].lower() for name, on in sheet["ready"].items() if on]
    return ", ".join([stood, *(ticked or ["nothing checked"])])


def change_lines(look: JobView) -> list[Row]:
    """The changes that stand: what was done, between which rounds, when and by whom."""
    units = look.record.get("units", "mm")
    return [
        {
            "says": change_words(entry["body"], units),
            "place": between_rounds(standing(look.entries), entry),
            "by": entry["person"],
            "made_at": entry["made_at"],
        }
        for entry in changes_of(look.entries)
    ]


def between_rounds(entries: list[Row], change: Row) -> str:
    """Where a change lies among the rounds, in words, by the readings before and after it."""
    at = [entry["id"] for entry in entries].index(change["id"])
    before, after = (
        [ROUND_WORDS[entry["round"]] for entry in of_kind(part, "reading")]
        for part in (entries[:at], entries[at:])
    )
    if before and after:
        same = before[-1] == after[0]
        return f"during {after[0]}" if same else f"between {before[-1]} and {after[0]}"
    if before:
        return f"after {before[-1]}"
    return f"before {after[0]}" if after else "with nothing measured"


def notes(look: JobView) -> list[Row]:
    """The notes that stand."""
    return of_kind(standing(look.entries), "note")


def limit_lines(look: JobView) -> list[Row]:
    """Each limit that the findings used, with where it comes from."""
    names = people()
    counting = limits_counting(look.shelf.limit_entries, look.job)
    set_by = {entry["body"]["name"]: entry for entry in of_kind(standing(counting), "limit")}
    today = limits_at(look.shelf.limit_entries, NOT_HANDED_IN, date.today().isoformat())
    return [
        {
            "name": bounds_title(name),
            "shows": limit_words(name, value, look.unit),
            "source": source_of(set_by.get(name), names),
            "today": today_words(name, today.get(name), value, look.unit),
        }
        for name, value in look.limits.items()
    ]


def today_words(name: str, today: float | None, value: float, unit: str) -> str | None:
    """What a limit is today, where that is another than the job's; None where it is the same."""
    if today == value:
        return None
    return "not set" if today is None else str(limit_words(name, today, unit))


def source_of(entry: Row | None, names: Names) -> str:
    """Who set a house limit, when and why; as delivered when nobody did."""
    if entry is None:
        return "House limit, default."
    who = names.then(entry["person"], entry["made_at"])
    return f"House limit, set by {who} on {day(entry['made_at'])}: {entry['body']['reason']}"
