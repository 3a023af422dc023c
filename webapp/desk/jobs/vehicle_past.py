"""A vehicle as the jobs on one page found it, its entries read once however many jobs there are."""

from bisect import bisect_left
from datetime import date
from functools import cached_property

from webapp.desk.context import the_log
from webapp.reckon.limits import fold_limits, in_force
from webapp.reckon.log import fold
from webapp.reckon.log.record_of_job import record_of_job, with_waiting
from webapp.shoplog.rows import Row


class Past:
    """One vehicle: its row, and its record at each of its jobs."""

    def __init__(self, row: Row) -> None:
        """A past of the vehicle with this row of the log."""
        self.row = row

    @cached_property
    def entries(self) -> list[Row]:
        """The entries about the vehicle itself, those of its jobs left out."""
        return the_log().entries_of_vehicle(self.row["id"])

    def with_waiting(self, limit_entries: list[Row]) -> list[Row]:
        """The entries with what jobs that wait for the lead will put on file, under today's limits.

        `limit_entries` are the house limits and what crosses them out.
        """
        rows = the_log().jobs(vehicle=self.row["id"], state="pending")
        waiting = [the_log().entries_of_job(each["id"]) for each in rows]
        others = [{"entries": each, "job": fold.fold_job(each)} for each in waiting]
        limits = fold_limits(in_force(limit_entries, date.today().isoformat()))
        found: list[Row] = with_waiting(self.entries, others, limits)
        return found

    def record_of(self, row: Row, folded: Row, entries: list[Row], limits: Row) -> Row:
        """The record of a folded job, with what jobs left behind that were under review then.

        `row` is the job's row of the log, `entries` are its own.
        """
        beside = [the_log().entries_of_job(each["id"]) for each in the_log().jobs_beside(row)]
        if not beside:
            return self.record_at(folded, entries)
        others = [{"entries": each, "job": fold.fold_job(each)} for each in beside]
        found: Row = record_of_job(self.entries, others, folded, limits)
        return found

    def record_at(self, folded: Row, entries: list[Row]) -> Row:
        """The record as a folded job found it; `entries` are the job's own."""
        # What a job puts on file stands behind a decision about it. Without any decision, struck
        # ones too, the record found is the one that the log keeps folded.
        if not fold.of_kind(entries, "decision"):
            return dict(self.row["record"])
        found = self.before(folded)
        return fold.record_at(self.entries, folded) if found is None else found

    def before(self, folded: Row) -> Row | None:
        """The record before a job's decision, where everything before it stands as it was laid."""
        decision = folded["accepted"] or folded["decision"]
        if self.layers is None or decision is None:
            return None
        place = bisect_left(self.entries, decision["seq"], key=seq_of)
        own = [e for e in self.entries[:place] if e["body"].get("from_job") == folded["job"]]
        return None if own else self.layers[place]

    @cached_property
    def layers(self) -> list[Row] | None:
        """The record under each of the entries and over the last, all laid in one pass.

        None where an entry crosses another out, or where several records are one vehicle: what
        stands at a decision has to be seen for that decision by itself there.
        """
        seqs = [seq_of(entry) for entry in self.entries]
        crossing = any(fold.crossed_out_by(entry) is not None for entry in self.entries)
        merged = len({entry["vehicle"] for entry in self.entries}) > 1
        if crossing or merged or seqs != sorted(seqs):
            return None
        found = [fold.fold_vehicle([])]
        for entry in self.entries:
            found.append(with_entry(found[-1], entry))
        return found


def with_entry(before: Row, entry: Row) -> Row:
    """A vehicle's record once one more entry stands over it."""
    so_far = {**entry, "kind": "vehicle", "id": "so far", "body": before}
    laid: Row = fold.fold_vehicle([so_far, entry])
    if entry["kind"] not in ("vehicle", "tag"):
        laid["id"] = before["id"]
    # No patch files tags or what was confirmed: they come from entries of their own.
    laid["tags"] = [*(tag for tag in before["tags"] if tag not in laid["tags"]), *laid["tags"]]
    confirmed = [*before.get("confirmed", []), *laid.get("confirmed", [])]
    return {**laid, "confirmed": confirmed} if confirmed else laid


def seq_of(entry: Row) -> int:
    """The place of an entry in the log."""
    return int(entry["seq"])
