"""The vehicles of the sample shop: made up, each with its true geometry. Lengths in mm."""

from dataclasses import dataclass

from .tape import HALF_MILLIMETERS, INCH, MILLIMETERS, SIXTEENTHS, THIRTY_SECONDS, Tape


@dataclass(frozen=True)
class Adjuster:
    """How the bar's length is set: pitch in mm, the smallest part of a turn (0 for any)."""

    kind: str
    pitch: float = 0.0
    step: float = 0.0


@dataclass(frozen=True)
class TrackBar:
    """The bar as built: eye to eye, both bolts above the floor, fore-aft lead, travel."""

    frame_end: str
    length: float
    frame_height: float
    axle_height: float
    fore_aft: float
    frame_end_from_center: float
    adjuster: Adjuster
    bump: float
    droop: float


@dataclass(frozen=True)
class Vehicle:
    """One vehicle as built: rails outer face to outer face, hub or rotor face to face."""

    key: str
    name: str
    note: str
    tape: Tape
    driving_side: str
    axle: str
    face: str
    rail_width: float
    track: float
    faces: dict[str, float]
    heights: tuple[float, float]
    bar: TrackBar
    bracket_from_center: float


ROD_END = Adjuster("one_end", INCH / 18, 0.5)
HEAVY_ROD_END = Adjuster("one_end", INCH / 12, 0.5)
SLEEVE = Adjuster("both_ends", 1.5)
HEAVY_SLEEVE = Adjuster("both_ends", 2.0)
FIXED = Adjuster("fixed")

# Key, name, note / tape, driving side, axle, usual face, rail width, track, face to face / heights
# left and right / bar: frame end, length, bolts' heights, fore-aft, frame end from center,
# adjuster, bump, droop; where the axle-end bracket sits.
VEHICLES = [
    Vehicle(
        "plow_p1", "Plow truck P1", "Plow frame off from April to October.",
        THIRTY_SECONDS, "left", "front", "hub", 864, 2010, {"hub": 1792, "rotor": 1664},
        (268, 266),
        TrackBar("right", 968, 742, 612, 24, 494, HEAVY_SLEEVE, 85, 110), 465.5,
    ),
    Vehicle(
        "plow_p2", "Plow truck P2", "Wing plow hangs on the left.",
        THIRTY_SECONDS, "left", "front", "hub", 864, 2010, {"hub": 1792, "rotor": 1664},
        (261, 268),
        TrackBar("right", 968, 740, 612, 24, 494, HEAVY_SLEEVE, 85, 110), 461.2,
    ),
    Vehicle(
        "marina_h3", "Marina launch truck H3", "In the lake to the hubs twice a day.",
        THIRTY_SECONDS, "left", "front", "rotor", 812.8, 1560, {"rotor": 1314.5, "hub": 1402},
        (222, 221),
        TrackBar("left", 866, 604, 492, 19, 424, ROD_END, 80, 100), 433.0,
    ),
    Vehicle(
        "bookmobile_l1", "Bookmobile L1", "Weighed with books: the usual load.",
        THIRTY_SECONDS, "left", "rear", "hub", 890, 1880, {"hub": 1655, "rotor": 1560},
        (244, 246),
        TrackBar("left", 1012, 588, 498, 12, 502, HEAVY_ROD_END, 95, 120), 505.4,
    ),
    Vehicle(
        "timber_f2", "Timber crew truck F2", "Carries chains and 160 gal of oil.",
        THIRTY_SECONDS, "left", "front", "hub", 838.2, 1905, {"hub": 1689, "rotor": 1580},
        (286, 285),
        TrackBar("left", 914.4, 768, 622, 22, 452, HEAVY_ROD_END, 110, 130), 449.6,
    ),
    Vehicle(
        "beach_b1", "Beach patrol truck B1", "Wide rims; tires aired down on the beach.",
        THIRTY_SECONDS, "left", "front", "rotor", 736.6, 1530, {"rotor": 1272.5, "hub": 1358},
        (236, 233),
        TrackBar("right", 838.2, 612, 487, 16, 411, ROD_END, 90, 125), 418.4,
    ),
    Vehicle(
        "beach_b2", "Beach patrol truck B2", "Spacer on the left hub since spring.",
        SIXTEENTHS, "left", "front", "rotor", 736.6, 1530, {"rotor": 1272.5, "hub": 1358},
        (235, 234),
        TrackBar("right", 838.2, 610, 487, 16, 411, ROD_END, 90, 125), 417.0,
    ),
    Vehicle(
        "brush_f7", "Brush fire truck F7", "Usual load: tank full, 475 gal.",
        THIRTY_SECONDS, "left", "front", "hub", 850, 1980, {"hub": 1748, "rotor": 1630},
        (274, 275),
        TrackBar("left", 952, 750, 606, 20, 478, HEAVY_SLEEVE, 100, 120), 462.3,
    ),
    Vehicle(
        "ramp_s1", "Boat ramp wrecker S1", "Fixed bar: can only be moved at the bracket.",
        THIRTY_SECONDS, "left", "front", "hub", 878, 2040, {"hub": 1810, "rotor": 1688},
        (281, 279),
        TrackBar("left", 985, 764, 641, 30, 497, FIXED, 80, 100), 484.1,
    ),
    Vehicle(
        "culvert_c4", "Culvert crew truck C4", "",
        HALF_MILLIMETERS, "left", "front", "rotor", 776, 1600, {"rotor": 1349, "hub": 1441},
        (228, 230),
        TrackBar("left", 884, 596, 476, 14, 436, SLEEVE, 85, 110), 440.4,
    ),
    Vehicle(
        "shuttle_k2", "Senior shuttle K2", "Twelve seats; sandbags stand in for riders.",
        THIRTY_SECONDS, "left", "rear", "rotor", 863.6, 1780, {"rotor": 1522, "hub": 1610},
        (251, 250),
        TrackBar("right", 990.6, 574, 489, 10, 492, HEAVY_ROD_END, 95, 125), 493.6,
    ),
    Vehicle(
        "tower_m1", "Tower crew truck M1", "Platform stowed when measured.",
        MILLIMETERS, "left", "front", "hub", 846, 1940, {"hub": 1702, "rotor": 1596},
        (266, 268),
        TrackBar("right", 940, 726, 600, 18, 470, HEAVY_ROD_END, 90, 115), 460.1,
    ),
    Vehicle(
        "water_w2", "Water truck W2", "",
        THIRTY_SECONDS, "left", "front", "hub", 870, 2020, {"hub": 1780, "rotor": 1660},
        (259, 261),
        TrackBar("right", 975, 733, 618, 26, 493, SLEEVE, 80, 105), 474.6,
    ),
    Vehicle(
        "vet_v1", "Mobile vet truck V1", "",
        SIXTEENTHS, "left", "front", "rotor", 711.2, 1480, {"rotor": 1226.5, "hub": 1310},
        (219, 220),
        TrackBar("right", 812.8, 584, 476, 15, 398, ROD_END, 80, 110), 408.0,
    ),
    Vehicle(
        "fence_d5", "Fence crew truck D5", "Springs reset two years ago.",
        HALF_MILLIMETERS, "left", "front", "rotor", 784, 1610, {"rotor": 1362, "hub": 1450},
        (258, 257),
        TrackBar("left", 836, 664, 506, 16, 420, SLEEVE, 95, 120), 402.1,
    ),
    Vehicle(
        "ranger_n1", "Ranger supply truck N1", "",
        THIRTY_SECONDS, "left", "front", "rotor", 736.6, 1525, {"rotor": 1276, "hub": 1362},
        (230, 231),
        TrackBar("left", 844.6, 606, 480, 18, 414, ROD_END, 90, 115), 421.4,
    ),
]  # fmt: skip

BY_KEY = {vehicle.key: vehicle for vehicle in VEHICLES}
