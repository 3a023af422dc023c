"""A job as the lead looks at it: rounds with sheets and findings, limits and record."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from webapp.desk.context import the_log
from webapp.desk.formats import day
from webapp.desk.jobs.vehicle_past import Past
from webapp.reckon import job_view
from webapp.reckon.checks.moved import COMPARED
from webapp.reckon.limits import counting_at, limits_at
from webapp.reckon.log import fold
from webapp.reckon.sentences.answer import before_after
from webapp.reckon.sentences.compared_rounds import since_words
from webapp.reckon.terms import ROUND_WORDS, plus_minus, side_of, verdict_color, verdict_said
from webapp.shoplog.rows import Row


@dataclass
class Round:
    """One round of a job as the pages show it; `view` is the arithmetic's view of the job."""

    name: str
    view: Row

    @property
    def sheet(self) -> Row:
        """The round as a sheet, with what the last round that counts left behind."""
        found: Row = job_view.sheet_in(self.view, self.name)
        return found

    @property
    def findings(self) -> Row:
        """What the arithmetic says of the sheet."""
        found: Row = job_view.findings_in(self.view, self.name)
        return found

    @property
    def left(self) -> Row:
        """What it says of all that can be left open, by itself where nobody asked for more yet."""
        found: Row = job_view.left_in(self.view, self.name)
        return found

    @property
    def moved(self) -> Row | None:
        """What moved the axle since the last round that counts, where the two can be compared."""
        found: Row = self.findings.get("moved") or {}
        return found if found.get("state") in COMPARED else None

    @property
    def since(self) -> str:
        """Since which round the axle moved, in words."""
        return str(since_words(self.sheet["before"]))

    @property
    def placed(self) -> Row:
        """What it says of centering, bar and advice, without the rest where nobody asked yet."""
        found: Row = job_view.judged_in(self.view, self.name)
        return found

    @property
    def is_judged(self) -> bool:
        """Whether its centering has a verdict."""
        return bool(job_view.is_judged(self.view, self.name))

    @property
    def title(self) -> str:
        """The round's name as the screens write it."""
        return ROUND_WORDS[self.name]

    @property
    def centering(self) -> Row:
        """The centering findings, empty where nothing was measured."""
        found: Row = self.placed.get("centering") or {}
        return found

    @property
    def verdict(self) -> str:
        """The verdict in words; what a sheet that cannot be read comes to as well."""
        if "faults" in self.placed:
            return "not readable"
        if not self.centering:
            return "not measured"
        return str(verdict_said(self.centering["state"], self.held))

    @property
    def color(self) -> str:
        """What its verdict is colored by."""
        return str(verdict_color(self.centering.get("state") or "incomplete", self.held))

    @property
    def held(self) -> bool:
        """Whether nobody is to act on it yet."""
        return bool((self.placed.get("advice") or {}).get("state") == "hold")

    @property
    def interval(self) -> Row | None:
        """What the interval figure draws, or None without an offset."""
        found = self.centering
        if found.get("offset") is None:
            return None
        keys = ("offset", "expanded", "limit", "state")
        advised = (self.placed.get("advice") or {}).get("state")
        after = (self.placed.get("bar_change") or {}).get("counted_leftover")
        return {
            **{key: found[key] for key in keys},
            "held": self.held,
            "after": after if advised == "adjust" else None,
            "unit": self.sheet["units"],
        }


@dataclass
class JobView:
    """A job as it stands in the log; `row` and `vehicle` are the log's rows.

    `view` is the arithmetic's view of it, on the entries that its figures rest on; once it is
    accepted, what came in later is in `logged` alone. `shelf` is where jobs to be looked at beside
    it are found.
    """

    row: Row
    vehicle: Row
    logged: list[Row]
    view: Row
    rounds: list[Round]
    shelf: "Shelf"

    @property
    def entries(self) -> list[Row]:
        """The entries that the job's figures rest on, in log order."""
        found: list[Row] = self.view["entries"]
        return found

    @property
    def job(self) -> Row:
        """The folded job."""
        found: Row = self.view["job"]
        return found

    @property
    def record(self) -> Row:
        """The vehicle's record as the job found it."""
        found: Row = self.view["record"]
        return found

    @property
    def limits(self) -> Row:
        """The house limits that the job is judged by."""
        found: Row = self.view["limits"]
        return found

    @property
    def last(self) -> Round:
        """The last round."""
        return self.rounds[-1]

    @property
    def unit(self) -> str:
        """The unit in which this vehicle is measured."""
        return str(self.view["unit"])

    def reckoned(self) -> "JobView":
        """The job itself, once all that a list shows of it was reckoned."""
        for each in self.rounds:
            _ = each.verdict, each.interval
        return self

    def judged(self) -> Round | None:
        """The last round whose centering has a verdict."""
        name = job_view.last_judged(self.view)
        return next((each for each in self.rounds if each.name == name), None)

    @cached_property
    def proposed(self) -> "JobView | None":
        """The job with what came in after it was accepted; None where nothing did."""
        if not self.job["later"]:
            return None
        undecided = [entry for entry in self.logged if entry["kind"] != "decision"]
        return self.shelf.view_of(self.row, self.logged, undecided)

    @property
    def changed(self) -> list[str]:
        """What changed between first and last round, in runs; empty when there is only one."""
        if len(self.rounds) < 2:
            return []
        runs: list[str] = before_after(self.rounds[0].findings, self.last.findings, self.unit)
        return runs


class Shelf:
    """What the jobs on one page have in common, read once: house limits, vehicles, their pasts."""

    def __init__(self, vehicles: Iterable[Row] = ()) -> None:
        """A shelf for one page; `vehicles` are rows that it has read already."""
        self.pasts = {row["id"]: Past(row) for row in vehicles}

    @cached_property
    def limit_entries(self) -> list[Row]:
        """The house limits and what crosses them out."""
        return the_log().limit_entries()

    def past(self, vehicle: str) -> Past:
        """One vehicle, or NotFound."""
        if vehicle not in self.pasts:
            self.pasts[vehicle] = Past(the_log().vehicle(vehicle))
        return self.pasts[vehicle]

    def look_at(self, row: Row) -> JobView:
        """The job of this row with its findings, under the limits and record that held for it."""
        entries = the_log().entries_of_job(row["id"])
        return self.view_of(row, entries, entries)

    def view_of(self, row: Row, logged: list[Row], entries: list[Row]) -> JobView:
        """The job of this row as these of its logged entries have it."""
        past = self.past(row["vehicle"])
        folded = fold.fold_job(entries)
        counted = fold.as_accepted(entries, folded["accepted"])
        limits = limits_at(self.limit_entries, folded, date.today().isoformat())
        record = past.record_of(row, folded, logged, limits)
        view = job_view.job_view(counted, folded, record, limits)
        rounds = [Round(name, view) for name in folded["rounds"]]
        return JobView(row, past.row, logged, view, rounds, self)


def look_at(job: str) -> JobView:
    """The job with its findings, or NotFound."""
    return Shelf().look_at(the_log().job(job))


def limits_counting(entries: list[Row], job: Row) -> list[Row]:
    """The limit entries that counted when a folded job was handed in; until then today's."""
    handed_in = job["handed_in"] if job["state"] in ("pending", "accepted") else None
    found: list[Row] = counting_at(entries, handed_in, date.today().isoformat())
    return found


def history_points(look: JobView) -> list[Row]:
    """The job's judged rounds as points of a history and lines of its table, oldest first."""
    judged = [each for each in look.rounds if each.is_judged]
    return [
        {
            **{key: each.centering[key] for key in ("offset", "expanded", "limit", "state")},
            "held": each.held,
            "color": each.color,
            "verdict": each.verdict,
            "label": each.title,
            "at": day(look.row["opened_at"]),
            "job": look.row["id"],
            "unit": look.unit,
            "shows": sided(each.centering, look.unit),
        }
        for each in judged
    ]


def sided(found: Row, unit: str) -> str:
    """An offset with its uncertainty and its side."""
    text = plus_minus(abs(found["offset"]), found["expanded"], unit)
    side = side_of(found["offset"])
    return text if side == "neither" else f"{text}, {side}"
