"""The yard's year, job by job: what happened to each vehicle, and what was done about it.

`since` is what the vehicle went through before the job, mm: `sag` of its springs, `bracket` moved
outward, `bar` grown longer. The offsets follow from that in truth.py. `odd` names what was not
done by the book; rounds.py knows how each of them shows in the readings.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

LAST_DAY = "2026-11-20"


@dataclass(frozen=True)
class Story:
    """One job: when, on what, by whom, and how it ended."""

    starts: str
    vehicle: str
    by: str
    about: str
    since: Mapping[str, float] = field(default_factory=dict)
    fixes: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()
    first: str = "as_found"
    ends: str = "accepted"
    reason: str | None = None
    note: str | None = None


TURN = ("bar_turned",)

YEAR = [
    Story("2025-11-24 08:20", "saltback", "wrenna", "Before the plow frame goes on"),
    Story(
        "2025-11-26 09:05", "rimewalker", "dov", "First measuring of the yard's year", fixes=TURN,
        note="Nobody remembers this bar being touched. Jam nuts were rusted solid.",
    ),
    Story("2025-12-01 10:15", "marram", "imke", "Before the fence season", odd=("bar_measured",)),
    Story(
        "2025-12-03 13:10", "bollard", "dov", "Pulls left on the ramp", odd=("misread_struck",),
        note="The end of my tape is worn. Started at the 1 in mark and forgot to take it off.",
    ),
    Story("2025-12-10 08:40", "page_turner", "imke", "Yearly check, books aboard"),
    Story(
        "2025-12-15 09:30", "sprucefoot", "wrenna", "Bar bent on a stump", {"bar": -6.4},
        ("bar_replaced", "bar_turned"),
        note="Old bar is on the rack behind the press, tagged bent.",
    ),
    Story(
        "2026-01-07 08:30", "sandhopper", "dov", "Wanders at low tide", odd=("loose",),
        fixes=("part_replaced",),
        note="A light rock moves the axle: frame-end bush loose on its sleeve. New bush pressed.",
    ),
    Story(
        "2026-01-13 10:05", "lampblack", "imke", "Yearly check", odd=("load_forgotten",),
        reason="Load is not ticked. If the oil drums were aboard, tick it and hand in again.",
    ),
    Story(
        "2026-01-19 09:00", "emberwatch", "wrenna", "Brakes apart, wheels off",
        odd=("on_stands",),
        note="Stands under the axle tubes, tank full, springs carrying.",
    ),
    Story(
        "2026-01-27 08:15", "long_haul", "corvan", "Axle sits left, fixed bar",
        fixes=("bracket_moved",),
        note="Axle bracket slotted and moved, washers welded by Imke. Paint witness marks put on.",
    ),
    Story(
        "2026-02-03 13:20", "muddler", "dov", "Culvert lip caught the bar", {"bar": -4.2}, TURN,
        note="Bar straight by eye; sleeve had walked. Jam nuts done and marked.",
    ),
    Story(
        "2026-02-09 09:40", "rimewalker", "wrenna", "Plow caught a drain cover",
        {"bracket": -5.2},
        TURN,
        note="Frame bracket checked with dye: no crack seen.",
    ),
    Story("2026-02-16 08:50", "fellbell", "imke", "Yearly check, ballast aboard"),
    Story(
        "2026-02-18 14:05", "marram", "imke", "Ride height looks low", {"sag": 8.0},
        odd=("bar_measured",),
    ),
    Story(
        "2026-02-24 10:30", "muddler", "dov", "Re-check after 800 km", first="recheck",
    ),
    Story("2026-02-25 08:35", "highwire", "corvan", "Before the mast round"),
    Story("2026-03-04 11:10", "dewpond", "wrenna", "Yearly check"),
    Story(
        "2026-03-16 08:25", "saltback", "wrenna", "After the plowing season",
        {"sag": 12.0, "bracket": -3.6}, TURN, odd=("bar_measured",),
    ),
    Story(
        "2026-03-24 13:00", "burdock", "dov", "Steering wheel off center", {"bar": 4.4}, TURN,
        odd=("blank_tag",),
    ),
    Story("2026-03-31 09:15", "saltback", "wrenna", "Re-check after 800 km", first="recheck"),
    Story(
        "2026-04-14 08:45", "bollard", "imke", "Taller springs fitted, 38 mm", {"sag": -38.0}, TURN,
        odd=("bar_measured",),
        note="Drag link to be set before the road; wheel is off center as expected.",
    ),
    Story(
        "2026-04-22 10:20", "dunhopper", "dov", "Wider rims, spacer on the left",
        odd=("blank_tag", "spacer"),
        note="1/4 in spacer on the left hub stays on; taken off in the sheet.",
    ),
    Story("2026-04-28 13:30", "lampblack", "imke", "New frame-end bracket", {"bracket": 4.1}, TURN),
    Story("2026-05-06 09:25", "sprucefoot", "wrenna", "Half-year check", {"sag": 3.0}),
    Story(
        "2026-05-12 14:10", "marram", "imke", "Quarter check, springs are watched", {"sag": 8.0},
        odd=("bar_measured",),
    ),
    Story(
        "2026-05-20 08:30", "emberwatch", "corvan", "Before the fire season",
        {"bracket": 4.6}, TURN,
    ),
    Story(
        "2026-06-02 10:45", "bollard", "imke", "Re-check after 900 km",
        {"sag": 2.0}, first="recheck",
    ),
    Story(
        "2026-06-17 09:10", "page_turner", "imke", "Measured at the west depot", odd=("plumb",),
        note="Depot floor falls to the drain on the right, so lines were dropped, tilt read.",
    ),
    Story(
        "2026-06-24 08:40", "highwire", "corvan", "Set down hard off a curb",
        {"bracket": -3.4}, TURN,
    ),
    Story(
        "2026-07-08 13:15", "sandhopper", "dov", "After the summer recoveries",
        {"bracket": -5.2}, TURN,
    ),
    Story("2026-07-22 09:50", "long_haul", "wrenna", "Half-year check of the moved bracket"),
    Story(
        "2026-08-05 15:40", "muddler", "dov", "Check between two call-outs", odd=("short",),
        reason="Called out to the north culvert before the second readings; crew needs the truck.",
    ),
    Story(
        "2026-08-12 14:00", "marram", "imke", "Quarter check, springs are watched", {"sag": 7.0},
        odd=("bar_measured",),
        note="Springs down again. Too near the limit to leave for another half year.",
    ),
    Story(
        "2026-08-19 09:35", "dunhopper", "dov", "Bar came back from the straightener",
        {"bar": -5.2}, TURN, odd=("spacer",),
    ),
    Story(
        "2026-08-26 08:20", "fellbell", "imke", "Before the school round",
        {"sag": 14.0, "bracket": -2.8}, TURN, odd=("bar_measured",),
    ),
    Story(
        "2026-09-09 10:00", "sprucefoot", "wrenna", "Slid off the forest track",
        {"bracket": 4.8}, TURN,
    ),
    Story(
        "2026-09-16 13:05", "dewpond", "corvan", "Tires worn on one edge", {"bracket": 4.4}, TURN,
        odd=("struck",),
    ),
    Story("2026-09-29 09:20", "burdock", "dov", "Half-year check", {"sag": 3.0}),
    Story(
        "2026-10-07 08:55", "rimewalker", "wrenna", "Before the wing plow goes on",
        {"sag": 3.0},
    ),
    Story("2026-10-14 10:40", "lampblack", "imke", "Half-year check", {"sag": 2.0}),
    Story(
        "2026-10-20 13:45", "bollard", "dov", "Half-year check, springs have settled", {"sag": 6.0},
        odd=("struck", "bar_measured"),
    ),
    Story("2026-10-28 09:05", "dewpond", "corvan", "Re-check after 900 km", first="recheck"),
    Story(
        "2026-11-05 08:35", "long_haul", "dov", "Heard a knock on the slip", {"bracket": 4.2},
        ends="sent_back",
        reason="Outside the limit and nothing changed or said. Find the knock, then measure.",
    ),
    Story(
        "2026-11-11 13:25", "marram", "imke", "Springs down, axle outside", {"sag": 7.0}, TURN,
        odd=("bar_measured",),
        note="Bar set for the height of today. New springs are on order.",
    ),
    Story(
        "2026-11-12 09:45", "saltback", "wrenna", "Before the plow frame goes on",
        {"sag": 4.0},
    ),
    Story(
        "2026-11-17 10:10", "sandhopper", "dov", "Before the winter tides", odd=("misread",),
        ends="pending",
    ),
    Story(
        "2026-11-18 08:30", "highwire", "corvan", "Before the winter mast round",
        {"bracket": -2.7}, ends="pending",
        note="A finer tape would settle it; mine is the one with millimeters.",
    ),
    Story(
        "2026-11-18 13:20", "emberwatch", "wrenna", "Quick look on the hoist", odd=("hanging",),
        ends="pending", reason="Hoist is needed for the ferry's truck; on its wheels on Monday.",
    ),
    Story(
        "2026-11-19 08:40", "page_turner", "imke", "Curb on the harbour road", {"bracket": 4.5},
        TURN, ends="pending",
    ),
    Story(
        "2026-11-19 13:50", "rimewalker", "wrenna", "Check with the wing plow on",
        ends="pending",
    ),
    Story(
        "2026-11-19 14:40", "fellbell", "dov", "Half-year check", {"sag": 2.0},
        odd=("stops_in_centering",), ends="open",
    ),
    Story(
        "2026-11-20 09:15", "dunhopper", "dov", "Pulls on the causeway", {"bracket": -3.0},
        odd=("spacer", "stops_before_right"), ends="open",
    ),
    Story(
        "2026-11-20 10:30", "lampblack", "imke", "Before the winter supply runs", {"sag": 3.0},
        odd=("stops_in_heights",), ends="open",
    ),
]  # fmt: skip
