"""A story of the year acted out: the entries of one job on the technician's phone."""

import random
from datetime import datetime

from . import geometry
from .entry_writer import EntryWriter
from .geometry import State
from .people import BY_KEY as PEOPLE
from .rounds import Measuring, measure
from .year import Story

MISSING = {
    "short": [
        "Left: only one reading.",
        "Right: only one reading.",
        "Track bar: nothing read.",
    ],
    "hanging": ["The axle was hanging: no centering verdict."],
    "load_forgotten": ["Usual load on board: not checked."],
}
MINUTES_AT_WORK = {"bar_turned": 31, "bar_replaced": 95, "part_replaced": 70, "bracket_moved": 140}


def play(story: Story, writer: EntryWriter, before: State, *, bar: str) -> State:
    """Write the job; the vehicle as it leaves the shop.

    `bar` is "measured" or "carried": what the first round does about the track bar.
    """
    axle = before.vehicle.axle
    writer.write("job", {"axle": axle, "round": story.first, "about": story.about})
    state = geometry.changed(before, **story.since)
    shown = measure_round(story, writer, state, story.first, bar)
    for number, fix in enumerate(story.fixes, start=1):
        writer.round = "as_left" if number == len(story.fixes) else "fit_up"
        state = make_change(writer, state, fix, shown)
        left = "carried" if fix == "bracket_moved" else "length"
        shown = measure_round(story, writer, state, writer.round, left)
    close(story, writer)
    return state


def measure_round(story: Story, writer: EntryWriter, state: State, name: str, bar: str) -> float:
    """Measure one round; the offset in mm that its readings show. Blunders are made only once."""
    writer.round = name
    writer.wait(330)
    odd = story.odd if name == story.first else tuple(o for o in story.odd if o == "spacer")
    errors = random.Random(f"{story.vehicle} {story.starts} {name}")
    if "hanging" in odd:
        state = geometry.changed(state, sag=-0.8 * state.vehicle.bar.droop)
    return measure(Measuring(writer, state, PEOPLE[story.by].hand, odd, errors), bar=bar)


def make_change(writer: EntryWriter, state: State, fix: str, shown: float) -> State:
    """Do what puts the axle right, going by the offset shown, and write it down."""
    writer.wait(60 * MINUTES_AT_WORK[fix])
    after, said = CHANGES[fix](state, shown)
    writer.write("change", {"what": fix, **said})
    return after


def bar_turned(state: State, shown: float) -> tuple[State, dict[str, float]]:
    """The bar turned by the nearest steps that would center what was shown."""
    wanted = geometry.change_to_move(state, -shown)
    turns = geometry.turns_given(state.vehicle, wanted)
    length_change = turns * geometry.advance(state.vehicle)
    said = {"turns": turns, "length_change": length_change}
    return geometry.changed(state, bar=length_change), said


def bar_replaced(state: State, _: float) -> tuple[State, dict[str, float]]:
    """Another bar fitted, set some mm longer than the one on file."""
    length_change = state.vehicle.bar.length + 3.4 - state.length
    return geometry.changed(state, bar=length_change), {"length_change": length_change}


def part_replaced(state: State, _: float) -> tuple[State, dict[str, float]]:
    """A new bushing pressed in: the play is gone, the axle is where it was."""
    return state, {}


def bracket_moved(state: State, shown: float) -> tuple[State, dict[str, float]]:
    """The axle bracket moved across to center what was shown, to the millimeter."""
    moved = -float(round(shown)) * geometry.SIGN[state.vehicle.bar.frame_end]
    return geometry.changed(state, bracket=moved), {"moved": moved}


CHANGES = {
    "bar_turned": bar_turned,
    "bar_replaced": bar_replaced,
    "part_replaced": part_replaced,
    "bracket_moved": bracket_moved,
}


def close(story: Story, writer: EntryWriter) -> None:
    """The note, and the hand-in unless the job is left open."""
    if story.note is not None:
        writer.write("note", {"text": story.note}, took=48)
    if story.ends != "open":
        hand_in(story, writer)


def hand_in(story: Story, writer: EntryWriter) -> None:
    """The hand-in, with what is missing and why it goes in all the same."""
    writer.round = None
    missing = [said for name in story.odd for said in MISSING.get(name, [])]
    reason = story.reason if "short" in story.odd or "hanging" in story.odd else None
    writer.write("hand_in", {"missing": missing, "reason": reason}, took=25)


def tick_the_load(story: Story, first: EntryWriter, at: datetime) -> EntryWriter:
    """The job sent back for a tick that was forgotten: ticked, and handed in again."""
    writer = EntryWriter(first.phone, first.chance, at, first.vehicle, first.job, story.first)
    left_open = [e for e in first.entries if e["kind"] == "tick" and not e["body"]["value"]]
    writer.tick("load", True, replaces=left_open[0]["id"])
    writer.round = None
    writer.write("hand_in", {"missing": [], "reason": None}, took=25)
    return writer
