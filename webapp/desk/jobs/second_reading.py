"""Second readings: asked for at the desk, measured by somebody else, and compared."""

import uuid

from webapp.desk.context import people, the_log
from webapp.desk.each import shown
from webapp.desk.jobs.job_view import JobView, Round, sided
from webapp.desk.write import Draft
from webapp.reckon.checks.second_reading import compare
from webapp.reckon.log import fold
from webapp.reckon.sentences.second_reading_answer import second_reading_answer
from webapp.shoplog.rows import Row

MAX_SHOWN = 3
ASKED_ALREADY = "A second reading of this job was already requested and is not handed in yet."
NOT_WAITED = (
    "A second reading of this job was requested and is not handed in yet. Wait for it, "
    "or check the box to accept the job without it."
)
# How a pair of readings stands, in words for a list; a pair that cannot be compared says nothing.
STATES = {
    "under_way": "A second reading was requested and is not handed in yet.",
    "agree": "The second reading agrees.",
    "differ": "The two readings do not agree.",
    "same_person": "The same person took both readings, so nobody else has measured yet.",
    "unknown": "The second reading cannot be compared.",
    "unreadable": "The other reading cannot be shown.",
}
# Of these the state says all that there is to say.
UNTOLD = ("under_way", "same_person")


def draft_of(look: JobView) -> Draft:
    """The opening of a job that measures the last round of this one again."""
    body = {
        "axle": look.job["axle"],
        "round": look.last.name,
        "about": f"Second reading: {look.job['about'] or look.job['axle'] + ' axle'}"[:500],
        "second_of": look.row["id"],
    }
    place = {"vehicle": look.row["vehicle"], "job": str(uuid.uuid4()), "round": look.last.name}
    return {"kind": "job", "body": body, **place}


def is_under_way(job: Row) -> bool:
    """Whether a job, by its row or as folded, is not handed in yet or was sent back."""
    return fold.is_open(job["state"])


def is_asked(look: JobView) -> bool:
    """Whether a second reading of this job is under way."""
    return any(is_under_way(row) for row in the_log().seconds(look.row["id"]))


def comparisons(look: JobView) -> list[Row]:
    """Each pair of readings that this job is one of, compared; those under way just named."""
    first = look.job["second_of"]
    here = "first" if first is None else "second"
    rows = the_log().seconds(look.row["id"], most=MAX_SHOWN) if first is None else [{"id": first}]
    pairs, failed = shown(rows, lambda row: beside(look, row["id"], here))
    return [*pairs, *(unreadable(row, here) for row in failed)]


def beside(look: JobView, job: str, here: str) -> Row:
    """A job's pair with another; `here` is which of the two it is itself."""
    other = look.shelf.look_at(the_log().job(job))
    pair = (look, other) if here == "first" else (other, look)
    return compared(*pair, here=here)


def unreadable(row: Row, here: str) -> Row:
    """In place of a pair whose other job cannot be shown."""
    held = {"other": row["id"], "here": here, "state": "unreadable", "says": STATES["unreadable"]}
    return {**held, "answer": [], "same": [], "points": []}


def compared(first: JobView, second: JobView, here: str) -> Row:
    """A pair: where the other one is, how the two stand, what they come to."""
    names, pair = people(), round_pair(first, second)
    both = set(hands_of(first, pair[0])) & set(hands_of(second, pair[1]))
    found = compare(pair[0].findings, pair[1].findings)
    state = pair_state(second, both, found["state"])
    return {
        "other": second.row["id"] if here == "first" else first.row["id"],
        "here": here,
        "state": state,
        "says": STATES[state],
        # One person agrees with themselves more easily than two people with one another.
        "answer": [] if state in UNTOLD else second_reading_answer(found, first.unit),
        "same": sorted(names[each] for each in both),
        "points": [] if state == "under_way" else comparison_points(first, second, pair),
    }


def pair_state(second: JobView, both: set[str], compared_as: str) -> str:
    """How a pair stands; `both` are those who took readings of either."""
    if is_under_way(second.job):
        return "under_way"
    return "same_person" if both and compared_as == "agree" else compared_as


def round_pair(first: JobView, second: JobView) -> tuple[Round, Round]:
    """The second reading's last round, and the first one's round of that name or its last."""
    repeated = second.last
    named = [each for each in first.rounds if each.name == repeated.name]
    return (named or [first.last])[0], repeated


def hands_of(look: JobView, this: Round) -> list[str]:
    """Who took the readings of the centering that stand in a round."""
    readings = fold.of_kind(fold.standing(look.entries), "reading")
    own = [e for e in readings if e["round"] == this.name and e["body"]["step"] == "centering"]
    return list(dict.fromkeys(e["person"] for e in own))


def comparison_points(first: JobView, second: JobView, pair: tuple[Round, Round]) -> list[Row]:
    """Both results as points of one figure and lines of its table."""
    names = people()
    keys = ("offset", "expanded", "limit", "state")
    return [
        {
            **{key: this.centering[key] for key in keys},
            "held": this.held,
            "verdict": this.verdict,
            "label": ", ".join(names[hand] for hand in hands_of(look, this)),
            "at": title,
            "unit": look.unit,
            "shows": sided(this.centering, look.unit),
        }
        for title, look, this in (("first", first, pair[0]), ("second", second, pair[1]))
        if this.interval is not None
    ]
