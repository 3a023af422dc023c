"""A vehicle's record as the lead files it: the rounded figures of its papers, not the truth."""

from dataclasses import asdict
from typing import Any

from .drag_links import link_on_file
from .tape import nearest
from .vehicles import Adjuster, TrackBar, Vehicle

BAR_LENGTHS = ["length", "frame_height", "axle_height", "fore_aft", "frame_end_from_center"]


def adjuster_on_file(adjuster: Adjuster) -> dict[str, Any]:
    """The adjuster as the log keeps it; a fixed bar has no thread."""
    return {"kind": "fixed"} if adjuster.kind == "fixed" else asdict(adjuster)


def at_first_scan(vehicle: Vehicle) -> dict[str, Any]:
    """The body of the entry by which a technician's phone makes a vehicle of a blank tag."""
    return {
        "name": vehicle.name,
        "units": vehicle.tape.unit,
        "driving_side": vehicle.driving_side,
        "axles": [vehicle.axle],
    }


def on_file(vehicle: Vehicle) -> dict[str, Any]:
    """The body of the entry by which a lead files a vehicle, all but its track bar."""
    return {
        **at_first_scan(vehicle),
        "note": vehicle.note,
        "read_to": vehicle.tape.read_to,
        "face": vehicle.face,
        "method": "square_to_rail",
        "rail_width": vehicle.rail_width,
        "track": vehicle.track,
    }


def bar_on_file(vehicle: Vehicle) -> dict[str, Any]:
    """The vehicle's track bar as the log keeps it, lengths to the marks of its tape."""
    bar: TrackBar = vehicle.bar
    lengths = {
        name: nearest(vehicle.tape, getattr(bar, name), "plain").value for name in BAR_LENGTHS
    }
    adjuster = adjuster_on_file(bar.adjuster)
    travel = {"bump": bar.bump, "droop": bar.droop}
    return {"frame_end": bar.frame_end, **lengths, **travel, "adjuster": adjuster}


def with_papers(vehicle: Vehicle) -> dict[str, Any]:
    """The body of the entry that files a vehicle with its track bar and, if known, its link."""
    filed = {**on_file(vehicle), "track_bars": {vehicle.axle: bar_on_file(vehicle)}}
    link = link_on_file(vehicle.key)
    return {**filed, "drag_links": {vehicle.axle: link}} if link else filed
