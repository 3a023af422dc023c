"""The log of a job, line by line, as the lead reads it."""

from webapp.desk.context import Names, people, phones
from webapp.reckon.log import fold
from webapp.reckon.sentences.entry_words import entry_title, entry_value
from webapp.shoplog.rows import Row


def log_rows(entries: list[Row], unit: str) -> list[Row]:
    """Every entry with what it says, who made it on which phone, and what crossed it out.

    `unit` is the one in use on the vehicle.
    """
    stands = {entry["id"] for entry in fold.standing(entries)}
    names, called = people(), phones()
    crossers = crossers_of(entries, stands)
    by_id = {entry["id"]: entry for entry in entries}
    return [
        {
            **entry,
            "what": entry_title(entry, by_id.get(entry["body"].get("target")), unit),
            "value": entry_value(entry, unit),
            "who": names.then(entry["person"], entry["made_at"]),
            "where": called.get(entry["phone"], "an unknown phone"),
            "stands": entry["id"] in stands,
            "crossed": crossed_words(crossers.get(entry["id"]), names),
        }
        for entry in entries
    ]


def crossers_of(entries: list[Row], stands: set[str]) -> dict[str, Row]:
    """The entry that struck or replaced each entry, by the struck one's id."""
    found = {}
    for entry in entries:
        target = fold.crossed_out_by(entry)
        if target is not None and entry["id"] in stands:
            found[target] = entry
    return found


def crossed_words(crosser: Row | None, names: Names) -> str | None:
    """By whom an entry was struck and why, or what replaced it; None where nothing did."""
    if crosser is None:
        return None
    who = names.then(crosser["person"], crosser["made_at"])
    if crosser["kind"] == "strike":
        return f"Struck by {who}: {crosser['body']['reason']}"
    return f"Replaced by {who} with no. {crosser['local_no']}"
