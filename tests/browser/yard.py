"""One vehicle for the browser tests: an inch truck whose track bar is on file."""

import uuid

from webapp.reckon.assess import assess

VEHICLE = str(uuid.UUID(int=0x51, version=4))
TAG = "HNDS-2345"
BAR = {
    "frame_end": "left",
    "length": 862.0,
    "frame_height": 612.0,
    "axle_height": 498.0,
    "fore_aft": 18.0,
    "frame_end_from_center": 431.0,
    "adjuster": {"kind": "one_end", "pitch": 1.5875, "step": 0.5},
    "bump": 80.0,
    "droop": 100.0,
}
LINK = {
    "frame_end": "left",
    "length": 905.0,
    "frame_height": 588.0,
    "axle_height": 521.0,
    "fore_aft": -12.0,
    "arm": 158.0,
    "arm_points": "forward",
    "adjuster": {"kind": "both_ends", "pitch": 1.5, "step": 0},
    "ratio": 18,
}
RECORD = {
    "name": "Plow 3",
    "units": "in",
    "driving_side": "left",
    "face": "rotor",
    "axles": ["front"],
    "track_bars": {"front": BAR},
}
INCH = 25.4
LEFT = [8 * INCH + 7 / 16 * INCH] * 2
RIGHT = [8 * INCH, 8 * INCH + INCH / 16]


def put_in_the_yard(leads_phone):
    """File the vehicle and its tag from this paired phone of a lead."""
    vehicle = leads_phone.entry("vehicle", RECORD, vehicle=VEHICLE)
    tag = leads_phone.entry("tag", {"code": TAG}, vehicle=VEHICLE)
    assert [a["verdict"] for a in leads_phone.push(vehicle, tag).json["answers"]] == ["stored"] * 2


def expected_answer():
    """What the command line says of the same readings."""
    ready = dict.fromkeys(["level", "tires", "load", "settled", "straight"], True)
    centering = {
        "face": "rotor",
        "method": "square_to_rail",
        "left": LEFT,
        "right": RIGHT,
        "read_to": INCH / 16,
    }
    sheet = {
        "axle": "front",
        "units": "in",
        "standing": "on_wheels",
        "ready": ready,
        "centering": centering,
        "track_bar": BAR,
    }
    return assess(sheet)["says"]
