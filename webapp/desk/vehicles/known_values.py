"""What the lead knows of a vehicle beforehand: a frame that leans by itself, and thread left."""

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.desk.asked_back import Asked, as_meant, is_open, odd, unreadable
from webapp.reckon.checks.adjuster import thread_ends
from webapp.reckon.terms import AXLES, side_of, sign_of
from webapp.reckon.typed.lengths import parse_length, show_length
from webapp.shoplog.rows import Row

LINKS = {"track_bars": ("track_bar", "track bar"), "drag_links": ("drag_link", "drag link")}
ENDS = {"one_end": ("threaded end",), "both_ends": ("frame end", "axle end")}


@dataclass
class Known:
    """One length that may be known: its field, its label, what stands there and what is asked.

    `confirmed` is what was asked and answered with "measured again: it is right".
    """

    name: str
    label: str
    path: str
    filed: float | None
    shows: str
    side: str | None = None
    asked: Asked | None = None
    confirmed: Asked | None = None

    def read(self, form: Mapping[str, str], unit: str) -> float | None:
        """What a form says, in mm; None where it says nothing, or `asked` says what is wrong."""
        text = as_meant(form, self.name)
        self.side = self.side and form.get(f"{self.name}-side", self.side)
        # What is shown rounded and was not touched stays what it is.
        if text == self.shows:
            return self.filed
        self.shows = text
        if not text:
            return None
        found = parse_length(text, unit)
        if not found["ok"]:
            self.asked = unreadable(found)
            return None
        length = float(found["value"])
        # Jobs have a known lean with its side.
        asked = odd(self.path, length * sign_of(self.side) if self.side else length, unit)
        if asked and is_open(asked, form, self.name):
            self.asked = asked
        else:
            self.confirmed = asked
        return length


def known_values(record: Row) -> list[Known]:
    """The lengths that may be known of the vehicle with this record, as they stand on file."""
    unit = record.get("units") or "mm"
    axles = record.get("axles") or AXLES
    leans = [lean_of(axle, record, unit) for axle in axles]
    threads = [
        each
        for filed in LINKS
        for axle, link in record.get(filed, {}).items()
        for each in threads_of(filed, axle, link.get("adjuster") or {}, unit)
    ]
    return leans + threads


def lean_of(axle: str, record: Row, unit: str) -> Known:
    """How much higher the frame is known to stand on one side of an axle."""
    lean = record.get("known_leans", {}).get(axle) or 0.0
    shows = show_length(abs(lean), unit) if lean else ""
    high = abs(lean) if lean else None
    label = f"{axle.capitalize()} axle: frame known to stand higher by"
    side = side_of(lean) if lean else "left"
    return Known(f"lean-{axle}", label, "heights.known_lean", high, shows, side)


def threads_of(filed: str, axle: str, adjuster: Row, unit: str) -> list[Known]:
    """The thread left at each end of an adjuster on file."""
    part, title = LINKS[filed]
    left = dict(enumerate(thread_ends(adjuster)))
    return [
        Known(
            f"{filed}-{axle}-{at}",
            f"{axle.capitalize()} {title}: thread left at the {end}",
            f"{part}.adjuster.thread_left",
            left.get(at),
            show_length(left[at], unit) if at in left else "",
        )
        for at, end in enumerate(ENDS.get(adjuster.get("kind") or "", ()))
    ]


def patch_of(record: Row, known: list[Known], read: dict[str, float | None]) -> Row:
    """What was read, as a patch of the record; what did not change is left out."""
    leans = dict(record.get("known_leans", {}))
    for each in known:
        if each.side is not None:
            axle = each.name.removeprefix("lean-")
            leans[axle] = (read[each.name] or 0.0) * sign_of(each.side)
    body: Row = {"known_leans": {axle: lean for axle, lean in leans.items() if lean}}
    for filed in LINKS:
        links = {
            axle: {**link, "adjuster": adjuster_with(link.get("adjuster"), filed, axle, read)}
            for axle, link in record.get(filed, {}).items()
        }
        body[filed] = {
            axle: {key: value for key, value in link.items() if value is not None}
            for axle, link in links.items()
        }
    return {key: value for key, value in body.items() if value != record.get(key, {})}


def adjuster_with(
    adjuster: Row | None, filed: str, axle: str, read: dict[str, float | None]
) -> Row | None:
    """An adjuster on file with the thread left that was read of it."""
    if adjuster is None:
        return None
    ends = [read[name] for at in (0, 1) if (name := f"{filed}-{axle}-{at}") in read]
    left = [end for end in ends if end is not None]
    then = {key: value for key, value in adjuster.items() if key != "thread_left"}
    if left:
        then["thread_left"] = left if len(left) > 1 else left[0]
    return then
