"""How well we repeat: gauge R&R per face, method and two people, from second readings."""

from collections import defaultdict
from datetime import date

from flask import render_template

from webapp.desk.blueprint import bp
from webapp.desk.context import people, the_log
from webapp.desk.each import shown
from webapp.desk.jobs.job_view import JobView, Round, Shelf
from webapp.desk.jobs.second_reading import hands_of, is_under_way, round_pair
from webapp.reckon.checks.repeatability import (
    FEWEST_VEHICLES,
    balanced,
    conclusion,
    good_to,
    own_scatter,
    study,
)
from webapp.reckon.checks.second_reading import compare, trials_of
from webapp.reckon.limits import counting_at, fold_limits
from webapp.reckon.numbers import counted
from webapp.reckon.sentences.repeatability_answer import repeatability_answer
from webapp.reckon.sentences.second_reading_answer import second_reading_answer
from webapp.reckon.terms import FACES, METHODS
from webapp.reckon.typed.dial import show_fine
from webapp.shoplog.rows import Row

Key = tuple[str, str, tuple[str, ...]]
Cells = tuple[list[float], list[float]]

MAX_PAIRS = 120


@bp.route("/repeatability")
def repeatability() -> str:
    """Each face, method and two people with their study, and the pairs that it rests on."""
    rows, shelf = the_log().seconds(most=MAX_PAIRS), Shelf()
    found, failed = shown(rows, lambda row: pair_of(row, shelf))
    pairs = [pair for pair in found if pair]
    lines = [pair["line"] for pair in pairs]
    return render_template(
        "desk/repeatability.html",
        studies=studies(pairs),
        pairs=lines,
        failed=failed,
        in_unit=show_fine,
    )


def pair_of(row: Row, shelf: Shelf) -> Row | None:
    """A second reading with the first, where two people measured alike; None otherwise."""
    if is_under_way(row):
        return None
    first, second = shelf.look_at(the_log().job(row["second_of"])), shelf.look_at(row)
    one, two = round_pair(first, second)
    hands = [hands_of(first, one), hands_of(second, two)]
    alike = [how_measured(one), how_measured(two)]
    apart = len(hands[0]) == len(hands[1]) == 1 and hands[0] != hands[1]
    if not apart or None in alike or alike[0] != alike[1]:
        return None
    pair = {"first": first, "second": second, "rounds": (one, two), "how": alike[0],
            "hands": (hands[0][0], hands[1][0])}  # fmt: skip
    return {**pair, "line": pair_line(pair)}


def how_measured(this: Round) -> tuple[str, str] | None:
    """Face and method of a round whose centering has a verdict, or None."""
    part = this.sheet.get("centering")
    if part is None or this.interval is None:
        return None
    return part["face"], part["method"]


def studies(pairs: list[Row]) -> list[Row]:
    """One study for each face, method and two people."""
    groups: dict[Key, list[Row]] = defaultdict(list)
    for pair in pairs:
        groups[(*pair["how"], tuple(sorted(pair["hands"])))].append(pair)
    return [studied(key, each) for key, each in sorted(groups.items())]


def studied(key: Key, pairs: list[Row]) -> Row:
    """The study of one group; without one, why there is none yet."""
    face, method, hands = key
    names = people()
    found = {
        "face": FACES.get(face, face),
        "method": METHODS.get(method, method),
        "hands": [names[each] for each in hands],
        "vehicles": len(pairs),
    }
    cells = [cells_of(pair, hands) for pair in pairs]
    usable = [cell for cell in cells if min(map(len, cell)) >= 2]
    if len(usable) < FEWEST_VEHICLES:
        lacking = counted(FEWEST_VEHICLES - len(usable), "more vehicle")
        return {**found, "says": f"A study needs {lacking} measured by both, twice per side."}
    return {**found, **numbers(balanced([list(cell) for cell in usable]), pairs)}


def cells_of(pair: Row, hands: tuple[str, ...]) -> Cells:
    """The offsets of both people on one vehicle, in the order of the group's people."""
    by_hand = {
        hand: trials_of(each.sheet)
        for hand, each in zip(pair["hands"], pair["rounds"], strict=True)
    }
    return by_hand[hands[0]], by_hand[hands[1]]


def numbers(table: list[list[list[float]]], pairs: list[Row]) -> Row:
    """The study's numbers, and what it means for the limit of today."""
    found = study(table)
    limit = fold_limits(counting_at(the_log().limit_entries(), None, date.today().isoformat()))[
        "offset"
    ]
    read_to = max(each.sheet["centering"]["read_to"] for pair in pairs for each in pair["rounds"])
    unit = "in" if all(pair["first"].unit == "in" for pair in pairs) else "mm"
    return {
        "unit": unit,
        "found": found,
        "own": [own_scatter(table, person) for person in range(len(table[0]))],
        "good_to": good_to(found, found["trials"]),
        "answer": repeatability_answer(conclusion(found, limit, read_to), unit),
    }


def pair_line(pair: Row) -> Row:
    """One pair as a line of the page."""
    names, (one, two) = people(), pair["rounds"]
    look: JobView = pair["first"]
    compared = compare(one.findings, two.findings)
    return {
        "name": look.vehicle["name"],
        "axle": look.job["axle"],
        "first": look.row["id"],
        "second": pair["second"].row["id"],
        "hands": [names[each] for each in pair["hands"]],
        "answer": second_reading_answer(compared, look.unit),
    }
