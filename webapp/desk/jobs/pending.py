"""What waits for the lead, the longest waiting first, and the list that renews itself."""

from datetime import UTC, datetime

from flask import make_response, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.blueprint import bp
from webapp.desk.context import Names, build, people, the_log
from webapp.desk.each import shown
from webapp.desk.formats import span
from webapp.desk.jobs.flags import KINDS, flags_of
from webapp.desk.jobs.job_view import JobView, Shelf
from webapp.desk.jobs.second_reading import comparisons
from webapp.reckon.numbers import counted
from webapp.reckon.terms import ROUND_WORDS
from webapp.shoplog.rows import Row


@bp.route("/")
@bp.route("")  # The nearest to the function is the address that links have.
def pending() -> str:
    """The jobs pending review, how many others are under way, and what phones still hold."""
    return render_template("desk/pending.html", **what_waits())


@bp.route("/pending/list")
def pending_list() -> AnyResponse:
    """The list alone, for a page that asks again; 304 while it would say the same."""
    minute = datetime.now(UTC).strftime("%Y%m%d%H%M")
    tag = f"{build()}-{the_log().high_water()}-{minute}"
    if request.if_none_match.contains_weak(tag):
        answer = make_response("", 304)
    else:
        answer = make_response(render_template("desk/pending_list.html", **what_waits()))
    # Weak: packed or not, the list says the same, and its bytes differ.
    answer.set_etag(tag, weak=True)
    return answer


def what_waits() -> Row:
    """What the page and its list show, under the filters in the address."""
    log = the_log()
    now, names, shelf = datetime.now(UTC), people(), Shelf()
    pending = log.jobs(state="pending")
    waiting, failed = shown(pending, lambda row: line_of(shelf.look_at(row), names, now))
    chosen = {key: request.args.get(key, "") for key in ("flag", "by")}
    return {
        "waiting": [line for line in waiting if fits(line, chosen)],
        "all_waiting": len(waiting),
        "failed": failed,
        "chosen": chosen,
        "kinds": kinds_among(waiting),
        "by": sorted({(line["look"].row["handed_in_by"], line["who"]) for line in waiting}),
        "counts": log.job_counts(),
        "held": held_back(log.phones(), names, now),
    }


def fits(line: Row, chosen: dict[str, str]) -> bool:
    """Whether a line is among those that the filters leave."""
    kinds = {flag.kind for flag in line["flags"]}
    by = chosen["by"] in ("", line["look"].row["handed_in_by"])
    return by and (chosen["flag"] in ("", *kinds) or (chosen["flag"] == "none" and not kinds))


def kinds_among(waiting: list[Row]) -> list[tuple[str, str]]:
    """The kinds of flags to filter by: (kind, title with how many jobs have it)."""
    held = [{flag.kind for flag in line["flags"]} for line in waiting]
    counts = {kind: sum(kind in kinds for kinds in held) for kind in KINDS}
    found = [(kind, f"{KINDS[kind]} ({count})") for kind, count in counts.items() if count]
    plain = held.count(set())
    return [*found, ("none", f"Nothing to look at ({plain})")] if plain else found


def line_of(look: JobView, names: Names, now: datetime) -> Row:
    """One waiting job: what it is, who handed it in, for how long, its flags, its pairs."""
    drawn = {**look.reckoned().last.sheet, "rail_width": look.record.get("rail_width")}
    pairs = comparisons(look)
    return {
        "look": look,
        "who": names.then(look.row["handed_in_by"], look.row["handed_in_at"]),
        "since": span(look.row["handed_in_at"], now),
        "flags": flags_of(look, pairs),
        "pairs": pairs,
        "axle_view": {"sheet": drawn, "findings": look.last.findings},
        "second": ROUND_WORDS[look.last.name] if look.job["second_of"] else None,
    }


def held_back(phones: list[Row], names: dict[str, str], now: datetime) -> list[str]:
    """A sentence for each phone that said it still holds entries which the log lacks."""
    return [
        f"{names.get(phone['person'], 'Somebody')}: {phone['name']} said "
        f"{span(phone['last_contact'], now)} ago that it still has "
        f"{counted(phone['pending_count'], 'entry', 'entries')}."
        for phone in phones
        if phone["pending_count"] and phone["last_contact"] and not phone["revoked_at"]
    ]
