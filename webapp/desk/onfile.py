"""What is on file about a vehicle, with the job or the person that each of it came from."""

from typing import Any

from webapp.desk.words import adjuster_words, day
from webapp.reckon import fold
from webapp.reckon.lengths import show_length
from webapp.reckon.numbers import THIN, fixed, trimmed
from webapp.reckon.walk import BAR_NAMES
from webapp.reckon.walk_link import LINK_NAMES, lead_words
from webapp.reckon.words import FACES

Row = dict[str, Any]


def on_file(entries: list[Row], names: dict[str, str]) -> list[Row]:
    """Groups of lines with one source each: {lines: [(name, shows)], source, job}."""
    record, came = fold.fold_vehicle(entries), sources(entries)
    groups = {
        "track_bars": bar_lines(record),
        "drag_links": link_lines(record),
        "known_sums": sum_lines(record),
        "rail_width": width_lines(record, "rail_width", "Rails, outside"),
        "track": width_lines(record, "track", "Track"),
    }
    return [group_of(lines, came[key], names) for key, lines in groups.items() if lines]


def sources(entries: list[Row]) -> dict[str, Row]:
    """The standing entry that last set each key of the record."""
    found: dict[str, Row] = {}
    for entry in fold.of_kind(fold.standing(entries), "vehicle"):
        found.update(dict.fromkeys(entry["body"], entry))
    return found


def group_of(lines: list[tuple[str, str]], entry: Row, names: dict[str, str]) -> Row:
    """The lines of one key of the record, with the entry that they came from in words."""
    who, job = names.get(entry["person"], "somebody unknown"), entry["body"].get("from_job")
    verb = "Accepted" if job else "Filed"
    return {"lines": lines, "source": f"{verb} by {who}, {day(entry['made_at'])}", "job": job}


def bar_lines(record: Row) -> list[tuple[str, str]]:
    """The track bar as it is on file."""
    bars, unit = record.get("track_bars", {}), record.get("units", "mm")
    return [
        (name if len(bars) == 1 else f"{axle.capitalize()} axle: {name.lower()}", shown)
        for axle, bar in bars.items()
        for name, shown in lines_of_bar(bar, unit)
    ]


def lines_of_bar(bar: Row, unit: str) -> list[tuple[str, str]]:
    """One track bar, value by value."""
    lines = [("Frame end", bar["frame_end"])] if bar.get("frame_end") else []
    for field, name in BAR_NAMES.items():
        if bar.get(field) is not None:
            sign = "−" if bar[field] < 0 else ""
            lines.append((name, sign + show_length(abs(bar[field]), unit)))
    if bar.get("adjuster"):
        lines.append(("Adjuster", adjuster_words(bar["adjuster"])))
    return lines


def link_lines(record: Row) -> list[tuple[str, str]]:
    """The drag link as it is on file."""
    unit = record.get("units", "mm")
    return [
        (f"Drag link, {axle}: {LINK_NAMES[field].lower()}", link_value(field, link[field], unit))
        for axle, link in record.get("drag_links", {}).items()
        for field in LINK_NAMES
        if link.get(field) is not None
    ]


def link_value(field: str, value: Any, unit: str) -> str:
    """One value of a drag link in words."""
    if field == "adjuster":
        return adjuster_words(value)
    if field == "fore_aft":
        return str(lead_words(value, unit, None))
    if field == "ratio":
        return f"{trimmed(value, 2)} : 1"
    return value if isinstance(value, str) else str(show_length(abs(value), unit))


def sum_lines(record: Row) -> list[tuple[str, str]]:
    """The known sum of the sides, per axle and face."""
    return [
        (
            f"Sum of the sides, {axle}, {FACES.get(face, face)}",
            f"{fixed(known['sum'], 1)} ± {fixed(2 * known['u'], 1)}{THIN}mm",
        )
        for axle, faces in record.get("known_sums", {}).items()
        for face, known in faces.items()
    ]


def width_lines(record: Row, key: str, name: str) -> list[tuple[str, str]]:
    """One width that is on file, or none."""
    value = record.get(key)
    return [] if value is None else [(name, show_length(value, record.get("units", "mm")))]
