"""The shop's year, job by job: what happened to each vehicle, and what was done about it.

`since` is what the vehicle went through before the job, mm: `sag` of its springs, `bracket` moved
outward, `bar` grown longer. The offsets follow from that in geometry.py. `odd` names what was not
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
    Story("2025-11-24 08:20", "plow_p1", "jen", "Before the plow frame goes on"),
    Story(
        "2025-11-26 09:05", "plow_p2", "marcus", "First check of the season", fixes=TURN,
        note="Nobody remembers anyone touching this bar. Jam nuts were rusted solid.",
    ),
    Story(
        "2025-12-01 10:15", "fence_d5", "priya", "Before the fence season", odd=("bar_measured",),
    ),
    Story(
        "2025-12-03 13:10", "marina_h3", "marcus", "Pulls left on the boat ramp",
        odd=("misread_struck",),
        note="The end of my tape is worn. Started at the 1 in mark and forgot to subtract it.",
    ),
    Story("2025-12-10 08:40", "bookmobile_l1", "priya", "Yearly check, books aboard"),
    Story(
        "2025-12-15 09:30", "timber_f2", "jen", "Bar bent on a stump", {"bar": -6.4},
        ("bar_replaced", "bar_turned"),
        note="Old bar is on the rack behind the press, tagged bent.",
    ),
    Story(
        "2026-01-07 08:30", "beach_b1", "marcus", "Wanders on the beach", odd=("loose",),
        fixes=("part_replaced",),
        note="A light rock moves the axle: frame-end bushing loose on its sleeve. "
        "Pressed in a new bushing.",
    ),
    Story(
        "2026-01-13 10:05", "ranger_n1", "priya", "Yearly check", odd=("load_forgotten",),
        reason="The load box is not checked. If the oil drums were aboard, check it "
        "and hand in again.",
    ),
    Story(
        "2026-01-19 09:00", "brush_f7", "jen", "Brakes apart, wheels off",
        odd=("on_stands",),
        note="Stands under the axle tubes, tank full, springs carrying.",
    ),
    Story(
        "2026-01-27 08:15", "ramp_s1", "luis", "Axle sits left, fixed bar",
        fixes=("bracket_moved",),
        note="Axle bracket slotted and moved, washers welded by Priya. Added paint witness marks.",
    ),
    Story(
        "2026-02-03 13:20", "culvert_c4", "marcus", "Culvert lip caught the bar",
        {"bar": -4.2}, TURN,
        note="Bar looks straight; sleeve had walked. Jam nuts torqued and marked.",
    ),
    Story(
        "2026-02-09 09:40", "plow_p2", "jen", "Plow caught a manhole cover",
        {"bracket": -5.2},
        TURN,
        note="Dye-checked the frame bracket: no crack seen.",
    ),
    Story("2026-02-16 08:50", "shuttle_k2", "priya", "Yearly check, sandbags aboard"),
    Story(
        "2026-02-18 14:05", "fence_d5", "priya", "Ride height looks low", {"sag": 8.0},
        odd=("bar_measured",),
    ),
    Story(
        "2026-02-24 10:30", "culvert_c4", "marcus", "Re-check after 500 miles", first="recheck",
    ),
    Story("2026-02-25 08:35", "tower_m1", "luis", "Before the tower inspections"),
    Story("2026-03-04 11:10", "water_w2", "jen", "Yearly check"),
    Story(
        "2026-03-16 08:25", "plow_p1", "jen", "After the plowing season",
        {"sag": 12.0, "bracket": -3.6}, TURN, odd=("bar_measured",),
    ),
    Story(
        "2026-03-24 13:00", "vet_v1", "marcus", "Steering wheel off center", {"bar": 4.4}, TURN,
        odd=("blank_tag",),
    ),
    Story("2026-03-31 09:15", "plow_p1", "jen", "Re-check after 500 miles", first="recheck"),
    Story(
        "2026-04-14 08:45", "marina_h3", "priya", "New springs, 1 1/2 in taller",
        {"sag": -38.0}, TURN,
        odd=("bar_measured",),
        note="Set the drag link before driving it; wheel is off center as expected.",
    ),
    Story(
        "2026-04-22 10:20", "beach_b2", "marcus", "Wider rims, spacer on the left",
        odd=("blank_tag", "spacer"),
        note="1/4 in spacer on the left hub stays on; subtracted in the app.",
    ),
    Story(
        "2026-04-28 13:30", "ranger_n1", "priya", "New frame-end bracket", {"bracket": 4.1}, TURN,
    ),
    Story("2026-05-06 09:25", "timber_f2", "jen", "Six-month check", {"sag": 3.0}),
    Story(
        "2026-05-12 14:10", "fence_d5", "priya", "Quarterly check, watching the springs",
        {"sag": 8.0},
        odd=("bar_measured",),
    ),
    Story(
        "2026-05-20 08:30", "brush_f7", "luis", "Before the fire season",
        {"bracket": 4.6}, TURN,
    ),
    Story(
        "2026-06-02 10:45", "marina_h3", "priya", "Re-check after 600 miles",
        {"sag": 2.0}, first="recheck",
    ),
    Story(
        "2026-06-17 09:10", "bookmobile_l1", "priya", "Measured at the west garage", odd=("plumb",),
        note="Garage floor slopes to the drain on the right, so used plumb lines "
        "and read the tilt.",
    ),
    Story(
        "2026-06-24 08:40", "tower_m1", "luis", "Came down hard off a curb",
        {"bracket": -3.4}, TURN,
    ),
    Story(
        "2026-07-08 13:15", "beach_b1", "marcus", "After the summer season",
        {"bracket": -5.2}, TURN,
    ),
    Story("2026-07-22 09:50", "ramp_s1", "jen", "Six-month check of the moved bracket"),
    Story(
        "2026-08-05 15:40", "culvert_c4", "marcus", "Check between two calls", odd=("short",),
        reason="Crew got called to the north culvert before the second readings and "
        "needs the truck.",
    ),
    Story(
        "2026-08-12 14:00", "fence_d5", "priya", "Quarterly check, watching the springs",
        {"sag": 7.0},
        odd=("bar_measured",),
        note="Springs down again. Too close to the limit to leave for another six months.",
    ),
    Story(
        "2026-08-19 09:35", "beach_b2", "marcus", "Bar back from the straightener",
        {"bar": -5.2}, TURN, odd=("spacer",),
    ),
    Story(
        "2026-08-26 08:20", "shuttle_k2", "priya", "Before the senior center runs",
        {"sag": 14.0, "bracket": -2.8}, TURN, odd=("bar_measured",),
    ),
    Story(
        "2026-09-09 10:00", "timber_f2", "jen", "Slid off the logging road",
        {"bracket": 4.8}, TURN,
    ),
    Story(
        "2026-09-16 13:05", "water_w2", "luis", "Tires worn on one edge", {"bracket": 4.4}, TURN,
        odd=("struck",),
    ),
    Story("2026-09-29 09:20", "vet_v1", "marcus", "Six-month check", {"sag": 3.0}),
    Story(
        "2026-10-07 08:55", "plow_p2", "jen", "Before the wing plow goes on",
        {"sag": 3.0},
    ),
    Story("2026-10-14 10:40", "ranger_n1", "priya", "Six-month check", {"sag": 2.0}),
    Story(
        "2026-10-20 13:45", "marina_h3", "marcus", "Six-month check, springs have settled",
        {"sag": 6.0},
        odd=("struck", "bar_measured"),
    ),
    Story("2026-10-28 09:05", "water_w2", "luis", "Re-check after 600 miles", first="recheck"),
    Story(
        "2026-11-05 08:35", "ramp_s1", "marcus", "Knocking on the boat ramp", {"bracket": 4.2},
        ends="sent_back",
        reason="Outside the limit with nothing changed and no explanation. Find the "
        "knock, then measure again.",
    ),
    Story(
        "2026-11-11 13:25", "fence_d5", "priya", "Springs down, axle outside", {"sag": 7.0}, TURN,
        odd=("bar_measured",),
        note="Bar set for today's height. New springs are on order.",
    ),
    Story(
        "2026-11-12 09:45", "plow_p1", "jen", "Before the plow frame goes on",
        {"sag": 4.0},
    ),
    Story(
        "2026-11-17 10:10", "beach_b1", "marcus", "Before the fall storms", odd=("misread",),
        ends="pending",
    ),
    Story(
        "2026-11-18 08:30", "tower_m1", "luis", "Before the winter tower inspections",
        {"bracket": -2.7}, ends="pending",
        note="A finer tape would settle it; mine only has millimeters.",
    ),
    Story(
        "2026-11-18 13:20", "brush_f7", "jen", "Quick look on the lift", odd=("hanging",),
        ends="pending",
        reason="Lift is needed for the county bus; will measure it on its wheels Monday.",
    ),
    Story(
        "2026-11-19 08:40", "bookmobile_l1", "priya", "Hit a curb on Harbor Road", {"bracket": 5.5},
        TURN, ends="pending",
    ),
    Story(
        "2026-11-19 13:50", "plow_p2", "jen", "Check with the wing plow on",
        ends="pending",
    ),
    Story(
        "2026-11-19 14:40", "shuttle_k2", "marcus", "Six-month check", {"sag": 2.0},
        odd=("stops_in_centering",), ends="open",
    ),
    Story(
        "2026-11-20 09:15", "beach_b2", "marcus", "Pulls on the causeway", {"bracket": -3.0},
        odd=("spacer", "stops_before_right"), ends="open",
    ),
    Story(
        "2026-11-20 10:30", "ranger_n1", "priya", "Before the winter supply runs", {"sag": 3.0},
        odd=("stops_in_heights",), ends="open",
    ),
]  # fmt: skip
