"""Where the axle really sits: geometry that the sample shop's tapes can only approach.

Across the vehicle, mm from the frame's middle: the bar's frame end at `frame_end_from_center` on
one side, its axle end `run` nearer the other side, and the axle's middle `bracket_from_center`
back from there. A sagging spring lowers the frame end, which lengthens the run, which moves the
axle: no offset is ever written down.
"""

import math
from dataclasses import dataclass, replace

from .vehicles import Vehicle

SIGN = {"left": 1.0, "right": -1.0}
OTHER = {"left": "right", "right": "left"}


@dataclass(frozen=True)
class State:
    """A vehicle on one day: its bar's length, its axle bracket, and how far its springs sagged."""

    vehicle: Vehicle
    length: float
    bracket: float
    sag: float = 0.0


def as_built(vehicle: Vehicle) -> State:
    """The vehicle as its record says."""
    return State(vehicle, vehicle.bar.length, vehicle.bracket_from_center)


def changed(state: State, *, sag: float = 0.0, bracket: float = 0.0, bar: float = 0.0) -> State:
    """The state after mm more sag, a bracket mm further out, a bar mm longer."""
    return replace(
        state,
        sag=state.sag + sag,
        bracket=state.bracket + bracket,
        length=state.length + bar,
    )


def rise(state: State) -> float:
    """Frame-end bolt above axle-end bolt, mm."""
    bar = state.vehicle.bar
    return bar.frame_height - bar.axle_height - state.sag


def run(state: State) -> float:
    """The bar's length across the vehicle, mm."""
    fore_aft = state.vehicle.bar.fore_aft
    return math.sqrt(state.length**2 - rise(state) ** 2 - fore_aft**2)


def offset(state: State) -> float:
    """The axle's middle from the frame's middle, mm, left positive."""
    bar = state.vehicle.bar
    inward = bar.frame_end_from_center + state.bracket - run(state)
    return SIGN[bar.frame_end] * inward


def distances(state: State, face: str) -> dict[str, float]:
    """Face to the outer face of its rail at each side, mm."""
    vehicle = state.vehicle
    half = (vehicle.faces[face] - vehicle.rail_width) / 2
    return {side: half + SIGN[side] * offset(state) for side in SIGN}


def heights(state: State) -> dict[str, float]:
    """Frame-to-axle height at each side, mm."""
    left, right = state.vehicle.heights
    return {"left": left - state.sag, "right": right - state.sag}


def bar_lengths(state: State) -> dict[str, float]:
    """What a tape would find of the track bar, by field, mm."""
    bar = state.vehicle.bar
    return {
        "length": state.length,
        "frame_height": bar.frame_height - state.sag,
        "axle_height": bar.axle_height,
        "fore_aft": bar.fore_aft,
        "frame_end_from_center": bar.frame_end_from_center,
    }


def change_to_move(state: State, move: float) -> float:
    """How much longer the bar must be to move the axle mm to the left, mm."""
    bar = state.vehicle.bar
    target = run(state) - SIGN[bar.frame_end] * move
    return math.sqrt(target**2 + rise(state) ** 2 + bar.fore_aft**2) - state.length


def advance(vehicle: Vehicle) -> float:
    """How much longer one turn makes the bar, mm."""
    adjuster = vehicle.bar.adjuster
    return adjuster.pitch * (2 if adjuster.kind == "both_ends" else 1)


def turns_given(vehicle: Vehicle, length_change: float) -> float:
    """The turns a technician gives: the adjuster's steps, or by eye to a quarter turn."""
    step = vehicle.bar.adjuster.step or 0.25
    return round(length_change / advance(vehicle) / step) * step
