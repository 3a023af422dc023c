"""A job as its entries have it, for phone and desk alike: sheets, findings, what is stale and open.

What a round comes to is reckoned once and only when it is asked for.
"""

from .assess import assess_left, assess_numbers, judged
from .checks.centering import JUDGED
from .log.sheet_of_round import sheet_for
from .log.stale import stale


def job_view(entries: list, job: dict, record: dict, limits: dict) -> dict:
    """The view of a folded job, under the record and limits that held for it.

    `entries` are those that its figures rest on.
    """
    return {
        "entries": entries,
        "job": job,
        "record": record,
        "limits": limits,
        "unit": record.get("units") or "mm",
        "sheets": {},
        "findings": {},
        "judged": {},
        "left": {},
    }


def once(view: dict, kind: str, round_name: str, make) -> dict:  # type: ignore[no-untyped-def]
    """What `make` gives of a round, kept in the view under its kind."""
    if round_name not in view[kind]:
        view[kind][round_name] = make()
    made: dict = view[kind][round_name]
    return made


def sheet_in(view: dict, round_name: str) -> dict:
    """A round as a sheet, with what the last round that counts left behind."""
    return once(
        view,
        "sheets",
        round_name,
        lambda: sheet_for(view["entries"], round_name, view["record"], view["limits"]),
    )


def findings_in(view: dict, round_name: str) -> dict:
    """Everything that the arithmetic says of a round."""
    return once(view, "findings", round_name, lambda: assess_numbers(sheet_in(view, round_name)))


def judged_in(view: dict, round_name: str) -> dict:
    """What it says of centering, bar and advice, without the rest where nobody asked for that."""
    if round_name in view["findings"]:
        return findings_in(view, round_name)
    return once(view, "judged", round_name, lambda: judged(sheet_in(view, round_name)))


def left_in(view: dict, round_name: str) -> dict:
    """What it says of all that can be left open, without the rest where nobody asked for that."""
    if round_name in view["findings"]:
        return findings_in(view, round_name)
    return once(view, "left", round_name, lambda: assess_left(sheet_in(view, round_name)))


def is_judged(view: dict, round_name: str) -> bool:
    """Whether the centering of a round has a verdict."""
    found = judged_in(view, round_name).get("centering") or {}
    return found.get("state") in JUDGED


def last_judged(view: dict) -> str | None:
    """The last round whose centering has a verdict, or None."""
    names = [name for name in view["job"]["rounds"] if is_judged(view, name) is True]
    return names[len(names) - 1] if len(names) > 0 else None


def stale_in(view: dict, round_name: str) -> list:
    """What changes have overtaken in a round, as `stale` gives it."""
    return stale(view["entries"], round_name)


def rounds_found(view: dict) -> list:
    """The rounds of the job as hold points are worked out from them: {name, sheet, findings}."""
    return [
        {"name": name, "sheet": sheet_in(view, name), "findings": findings_in(view, name)}
        for name in view["job"]["rounds"]
    ]


def rounds_left(view: dict) -> list:
    """The same as it is worked out from them what the job left open."""
    return [
        {"name": name, "sheet": sheet_in(view, name), "findings": left_in(view, name)}
        for name in view["job"]["rounds"]
    ]
