"""A job as the lead looks at it: rounds with sheets and findings, limits and record."""

from dataclasses import dataclass
from typing import Any

from webapp.desk.shop import the_log
from webapp.desk.words import day
from webapp.reckon import fold, recorded
from webapp.reckon.answer import before_after
from webapp.reckon.assess import JUDGED, assess
from webapp.reckon.words import ROUND_WORDS, VERDICTS, plus_minus, side_of

Row = dict[str, Any]


@dataclass
class Round:
    """One round of a job: its name, its sheet and what the arithmetic says of it."""

    name: str
    sheet: Row
    findings: Row

    @property
    def title(self) -> str:
        """The round's name as the screens write it."""
        return ROUND_WORDS[self.name]

    @property
    def centring(self) -> Row:
        """The centring findings, empty where nothing was measured."""
        found: Row = self.findings.get("centring") or {}
        return found

    @property
    def verdict(self) -> str:
        """The verdict in words; what a sheet that cannot be read comes to as well."""
        if "faults" in self.findings:
            return "not readable"
        return VERDICTS[self.centring["state"]] if self.centring else "not measured"

    @property
    def interval(self) -> Row | None:
        """What the interval figure draws, or None without an offset."""
        found = self.centring
        if found.get("offset") is None:
            return None
        keys = ("offset", "expanded", "limit", "state")
        after = (self.findings.get("bar_change") or {}).get("leftover")
        shown = after if found["state"] in ("outside", "too_close") else None
        return {**{key: found[key] for key in keys}, "after": shown, "unit": self.sheet["units"]}


@dataclass
class Look:
    """A job as it stands in the log; `row` and `vehicle` are the log's rows."""

    row: Row
    vehicle: Row
    entries: list[Row]
    job: Row
    record: Row
    limits: Row
    rounds: list[Round]

    @property
    def last(self) -> Round:
        """The last round."""
        return self.rounds[-1]

    @property
    def unit(self) -> str:
        """The unit in which this vehicle is measured."""
        return str(self.record.get("units", "mm"))

    def judged(self) -> Round | None:
        """The last round whose centring has a verdict."""
        found = [each for each in self.rounds if each.centring.get("state") in JUDGED]
        return found[-1] if found else None

    @property
    def changed(self) -> list[str]:
        """What changed between first and last round, in runs; empty when there is only one."""
        if len(self.rounds) < 2:
            return []
        runs: list[str] = before_after(self.rounds[0].findings, self.last.findings, self.unit)
        return runs


def look_at(job: str) -> Look:
    """The job with its findings, under the limits and record that held for it; or NotFound."""
    log = the_log()
    row = log.job(job)
    entries = log.entries_of_job(job)
    folded = fold.fold_job(entries)
    record = fold.record_at(log.entries_of_vehicle(row["vehicle"]), folded)
    limits = fold.fold_limits(limits_before(log.limit_entries(), folded["decision"]))
    rounds = [round_of(entries, name, record, limits) for name in folded["rounds"]]
    return Look(row, log.vehicle(row["vehicle"]), entries, folded, record, limits, rounds)


def limits_before(entries: list[Row], decision: Row | None) -> list[Row]:
    """The limit entries that were in force when the job was decided; all of them until it is."""
    return [entry for entry in entries if fold.precedes(entry, decision)]


def round_of(entries: list[Row], name: str, record: Row, limits: Row) -> Round:
    """One round, assessed."""
    sheet = recorded.sheet_for(entries, name, record, limits)
    return Round(name, sheet, assess(sheet))


def points_of(look: Look) -> list[Row]:
    """The job's judged rounds as points of a history and lines of its table, oldest first."""
    judged = [each for each in look.rounds if each.centring.get("state") in JUDGED]
    return [
        {
            **{key: each.centring[key] for key in ("offset", "expanded", "limit", "state")},
            "label": each.title,
            "at": day(look.row["opened_at"]),
            "job": look.row["id"],
            "shows": sided(each.centring, look.unit),
        }
        for each in judged
    ]


def sided(found: Row, unit: str) -> str:
    """An offset with its uncertainty and its side."""
    text = plus_minus(abs(found["offset"]), found["expanded"], unit)
    side = side_of(found["offset"])
    return text if side == "neither" else f"{text}, {side}"
