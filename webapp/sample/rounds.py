"""One round of measuring, as the technician goes about it: what the phone gets to keep."""

import math
import random
import statistics
from dataclasses import dataclass, field

from webapp.reckon.terms import TICKS

from . import geometry
from .entry_writer import Entry, EntryWriter
from .geometry import State
from .record import adjuster_on_file
from .tape import INCH, Mark, nearest

SPACER = INCH / 4
PLUMB_RAIL, PLUMB_FACE = 690.0, 370.0
PLUMB_TILT_DEG, PLUMB_HIGH_SIDE = 0.9, "left"
LOOSE_AXLE_ERRORS = {"left": [0.4, -2.1, 2.2], "right": [-0.5, 2.0, -1.8]}
# A side's readings that went wrong, by how much, mm: all of them, or the second only.
BLUNDERS = {
    "misread": ("right", (0, 1), INCH),
    "misread_struck": ("right", (0, 1), INCH),
    "struck": ("left", (1,), 9.0),
}
WHY_STRUCK = {
    "misread_struck": "Tape started at the 1 in mark.",
    "struck": "Tape was on the flange, not on the face.",
}
STANDING = {"hanging": "hanging", "on_stands": "on_stands_loaded"}


@dataclass
class Measuring:
    """A round under way: who writes in which hand, how the vehicle stands, what is odd about it."""

    writer: EntryWriter
    state: State
    hand: str
    odd: tuple[str, ...]
    errors: random.Random
    side_bias: dict[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        # Each side is held a little off all round long; that is what the face's uncertainty is for.
        self.side_bias = {side: self.wobble(0.28) for side in geometry.SIGN}

    def wobble(self, spread: float) -> float:
        """A small error in mm, never more than twice its spread."""
        return max(-2 * spread, min(2 * spread, self.errors.gauss(0, spread)))

    def mark(self, length: float) -> Mark:
        """A length in mm as this person reads and writes it."""
        return nearest(self.state.vehicle.tape, length, self.hand)

    def odd_one(self, table: dict[str, str], otherwise: str) -> str:
        """What the table says about this round's oddity."""
        return next((table[name] for name in self.odd if name in table), otherwise)


def measure(measuring: Measuring, *, bar: str) -> float:
    """Write the round; the offset in mm that its readings show (0.0 where it stopped short).

    `bar` is what is done about the track bar: "measured", "carried" from the file, or its
    "length" measured and the rest carried.
    """
    if not ride_height(measuring):
        return 0.0
    found = centering(measuring)
    if found is None:
        return 0.0
    if "short" not in measuring.odd:
        track_bar(measuring, bar)
    return found


def ride_height(measuring: Measuring) -> bool:
    """The ticks, what carries the vehicle, and a height at each side; whether it got so far."""
    writer = measuring.writer
    for name in TICKS:
        writer.tick(name, not (name == "load" and "load_forgotten" in measuring.odd))
    writer.pick("heights", "standing", measuring.odd_one(STANDING, "on_wheels"))
    for side, height in geometry.heights(measuring.state).items():
        if side == "right" and "stops_in_heights" in measuring.odd:
            return False
        mark = measuring.mark(height + measuring.wobble(0.4))
        writer.reading("heights", side, mark, measuring.state.vehicle.tape)
    return True


def face_of(measuring: Measuring) -> str:
    """The face in use: with the wheels off, the rotor's."""
    return measuring.odd_one({"on_stands": "rotor"}, measuring.state.vehicle.face)


def centering(measuring: Measuring) -> float | None:
    """Face and method, then left and right in turn; the offset in mm that these readings show."""
    face = face_of(measuring)
    kind = {"face": face, "method": measuring.odd_one({"plumb": "plumb_bob"}, "square_to_rail")}
    for name, value in kind.items():
        measuring.writer.pick("centering", name, value)
    pick_known_extras(measuring)
    kept: dict[str, list[Entry]] = {"left": [], "right": []}
    for turn in range(readings_a_side(measuring)):
        for side in kept:
            if stops_at(measuring, side, turn):
                return None
            kept[side].append(read_side(measuring, side, kind, slip(measuring, side, turn)))
    put_right(measuring, kept, kind)
    return shown_offset(measuring, kept)


def pick_known_extras(measuring: Measuring) -> None:
    """A spacer's thickness, or how high the plumb lines hang and how the floor lies."""
    writer = measuring.writer
    if "spacer" in measuring.odd:
        writer.pick("centering", "left_extra", SPACER, typed="1/4")
    if "plumb" in measuring.odd:
        writer.pick("centering", "rail_point_height", PLUMB_RAIL, typed="690")
        writer.pick("centering", "face_point_height", PLUMB_FACE, typed="370")
        writer.pick("centering", "tilt_deg", PLUMB_TILT_DEG, typed="0.9")
        writer.pick("centering", "high_side", PLUMB_HIGH_SIDE)


def readings_a_side(measuring: Measuring) -> int:
    """Two; three where they will not agree; one for somebody called away."""
    if "loose" in measuring.odd:
        return 3
    return 1 if "short" in measuring.odd else 2


def stops_at(measuring: Measuring, side: str, turn: int) -> bool:
    """Whether the round was left half measured before this reading."""
    if side == "left":
        return False
    return "stops_before_right" in measuring.odd or (
        turn == 1 and "stops_in_centering" in measuring.odd
    )


def read_side(measuring: Measuring, side: str, kind: dict[str, str], beside: float) -> Entry:
    """One reading from the face to the rail, `beside` mm beside the truth."""
    length = geometry.distances(measuring.state, kind["face"])[side] + apparent(measuring, side)
    mark = measuring.mark(length + measuring.side_bias[side] + measuring.wobble(0.12) + beside)
    return measuring.writer.reading("centering", side, mark, measuring.state.vehicle.tape, **kind)


def apparent(measuring: Measuring, side: str) -> float:
    """What the way of measuring adds to a side, mm: a spacer, lines that lean."""
    added = SPACER if "spacer" in measuring.odd and side == "left" else 0.0
    if "plumb" in measuring.odd:
        added += geometry.SIGN[side] * plumb_shift()
    return added


def slip(measuring: Measuring, side: str, turn: int) -> float:
    """What goes wrong in one reading of a side, mm: play, or a blunder with the tape."""
    slipped = LOOSE_AXLE_ERRORS[side][turn] if "loose" in measuring.odd else 0.0
    for name in measuring.odd:
        where, turns, beside = BLUNDERS.get(name, ("", (), 0.0))
        if where == side and turn in turns:
            slipped += beside
    return slipped


def plumb_shift() -> float:
    """How far the leaning lines make the axle seem to sit toward the high side, mm to the left."""
    lean = (PLUMB_RAIL - PLUMB_FACE) * math.tan(math.radians(PLUMB_TILT_DEG))
    return lean * geometry.SIGN[PLUMB_HIGH_SIDE]


def put_right(measuring: Measuring, kept: dict[str, list[Entry]], kind: dict[str, str]) -> None:
    """Strike and read again what the technician noticed."""
    for name in measuring.odd:
        if name in WHY_STRUCK:
            side, turns, _ = BLUNDERS[name]
            for turn in turns:
                measuring.writer.strike(kept[side][turn], WHY_STRUCK[name])
                kept[side][turn] = read_side(measuring, side, kind, 0.0)


def shown_offset(measuring: Measuring, kept: dict[str, list[Entry]]) -> float:
    """Half the difference of the sides as the kept readings have them, mm."""
    spacer = SPACER if "spacer" in measuring.odd else 0.0
    return (mean_of(kept["left"]) - spacer - mean_of(kept["right"])) / 2


def mean_of(readings: list[Entry]) -> float:
    """The mean value of some readings, mm."""
    return statistics.fmean(reading["body"]["value"] for reading in readings)


def track_bar(measuring: Measuring, bar: str) -> None:
    """The bar as measured, or the values on file confirmed, with or without its length."""
    writer, vehicle = measuring.writer, measuring.state.vehicle
    if bar != "measured":
        writer.pick("track_bar", "carried", True)
    else:
        writer.pick("track_bar", "frame_end", vehicle.bar.frame_end)
    for name, length in geometry.bar_lengths(measuring.state).items():
        if bar == "measured" or bar == name:
            mark = measuring.mark(length + measuring.wobble(0.4))
            writer.reading("track_bar", name, mark, vehicle.tape)
    if bar == "measured":
        writer.pick("track_bar", "adjuster", adjuster_on_file(vehicle.bar.adjuster))
