"""What is on file about a vehicle, with the job or the person that each of it came from."""

from collections.abc import Callable
from typing import Any

from webapp.desk.context import Names
from webapp.desk.formats import day
from webapp.reckon.log import fold
from webapp.reckon.numbers import trimmed
from webapp.reckon.sentences.adjuster_words import adjuster_words
from webapp.reckon.sentences.lean_words import higher_words
from webapp.reckon.step_names import BAR_NAMES, LINK_NAMES
from webapp.reckon.terms import FACES, plus_minus
from webapp.reckon.typed.lengths import show_length
from webapp.reckon.walk.link_steps import lead_words
from webapp.shoplog.rows import Row


def on_file(entries: list[Row], names: Names) -> list[Row]:
    """Groups of lines with one source each: {lines: [(name, shows)], source, job}.

    `entries` are the vehicle's, with what jobs that wait for the lead will put on file.
    """
    filed = fold.filed_in(fold.standing(entries))
    unit = filed["units"]["value"] if "units" in filed else "mm"
    groups = [
        (lines(axle, cell["value"], unit), cell["entry"])
        for key, lines in BY_AXLE.items()
        for axle, cell in (filed[key]["keys"] if key in filed else {}).items()
    ]
    groups += [
        ([(name, show_length(filed[key]["value"], unit))], filed[key]["entry"])
        for key, name in WIDTHS.items()
        if key in filed and filed[key]["value"] is not None
    ]
    return [group_of(lines, entry, names) for lines, entry in groups if lines]


def group_of(lines: list[tuple[str, str]], entry: Row, names: Names) -> Row:
    """The lines that one entry filed, with that entry in words."""
    who, job = names.then(entry["person"], entry["made_at"]), entry["body"].get("from_job")
    waits = "unaccepted" in entry["body"]
    verb = "Handed in" if waits else "Accepted" if job else "Entered"
    source = f"{verb} by {who}, {day(entry['made_at'])}"
    return {
        "lines": lines,
        "source": f"{source}, not accepted yet" if waits else source,
        "job": job,
    }


def bar_lines(axle: str, bar: Row, unit: str) -> list[tuple[str, str]]:
    """The track bar of an axle as it is on file, value by value."""
    lines = [("frame end", bar["frame_end"])] if bar.get("frame_end") else []
    for field, name in BAR_NAMES.items():
        if bar.get(field) is not None:
            lines.append((name.lower(), show_length(bar[field], unit)))
    if bar.get("adjuster"):
        lines.append(("adjuster", adjuster_words(bar["adjuster"], unit)))
    return [(f"{axle.capitalize()} axle: {name}", shows) for name, shows in lines]


def link_lines(axle: str, link: Row, unit: str) -> list[tuple[str, str]]:
    """The drag link of an axle as it is on file, value by value."""
    return [
        (f"Drag link, {axle}: {LINK_NAMES[field].lower()}", link_value(field, link[field], unit))
        for field in LINK_NAMES
        if link.get(field) is not None
    ]


def link_value(field: str, value: Any, unit: str) -> str:
    """One value of a drag link in words."""
    if field == "adjuster":
        return str(adjuster_words(value, unit))
    if field == "fore_aft":
        return str(lead_words(value, unit, None))
    if field == "ratio":
        return f"{trimmed(value, 2)} : 1"
    return value if isinstance(value, str) else str(show_length(abs(value), unit))


def sum_lines(axle: str, faces: Row, unit: str) -> list[tuple[str, str]]:
    """The known sum of the sides of an axle, per face."""
    return [
        (
            f"Sum of the sides, {axle}, {FACES.get(face, face)}",
            plus_minus(known["sum"], 2 * known["u"], unit),
        )
        for face, known in faces.items()
    ]


def lean_lines(axle: str, lean: float, unit: str) -> list[tuple[str, str]]:
    """How much higher the frame is known to stand on one side of an axle."""
    return [(f"{axle.capitalize()} axle: known to stand", str(higher_words(lean, unit)))]


# What is on file per axle, and how its lines are made of an axle and a unit.
BY_AXLE: dict[str, Callable[[str, Any, str], list[tuple[str, str]]]] = {
    "track_bars": bar_lines,
    "drag_links": link_lines,
    "known_sums": sum_lines,
    "known_leans": lean_lines,
}
WIDTHS = {"rail_width": "Rails, outside", "track": "Track"}
