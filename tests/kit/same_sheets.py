"""Sheets for the comparison of phone and Python: right ones, and ones with something spoiled."""

from hypothesis import strategies as st

MM = st.integers(0, 4000).map(lambda tenths: tenths / 10)
SMALL = st.sampled_from([0, 0.5, 1.0, 1.5875, 3.0, 12.7])
SIDES = st.sampled_from(["left", "right"])
READINGS = st.lists(st.integers(1900, 2300).map(lambda tenths: tenths / 10), max_size=4)


def maybe(strategy):
    return st.none() | strategy


def part(**fields):
    """An object with any of these fields."""
    return st.fixed_dictionaries({}, optional=fields)


def sides(values):
    return st.fixed_dictionaries({}, optional={"left": values, "right": values})


ALL_READY = dict.fromkeys(["level", "tires", "load", "settled", "straight"], True)
READY = st.fixed_dictionaries(
    {}, optional=dict.fromkeys(["level", "tires", "load", "settled", "straight"], st.booleans())
) | st.just(ALL_READY)

CENTERING = st.fixed_dictionaries(
    {"left": READINGS, "right": READINGS},
    optional={
        "face": st.sampled_from(["hub", "rotor", "knuckle", "tire"]),
        "method": st.sampled_from(["square_to_rail", "plumb_bob"]),
        "left_extra": SMALL,
        "right_extra": SMALL,
        "read_to": maybe(st.sampled_from([0.5, 1.0, 1.5875])),
        "known_sum": maybe(st.integers(3800, 4600).map(lambda tenths: tenths / 10)),
        "known_sum_u": maybe(SMALL),
        "rail_point_height": maybe(MM),
        "face_point_height": maybe(MM),
        "tilt_deg": maybe(SMALL),
        "high_side": maybe(SIDES),
        "mixed_faces": st.just(["hub", "rotor"]),
    },
)
ADJUSTER = part(
    kind=st.sampled_from(["one_end", "both_ends", "fixed"]),
    pitch=st.sampled_from([1.0, 1.5, 1.5875]),
    step=st.sampled_from([0, 0.25, 0.5, 1.0]),
)
TRACK_BAR = part(
    frame_end=SIDES,
    length=st.sampled_from([120, 700.5, 862, 1000]),
    frame_height=st.sampled_from([400, 612, 650.5]),
    axle_height=st.sampled_from([380, 498, 520.5]),
    fore_aft=maybe(st.sampled_from([-12, 0, 18])),
    frame_end_from_center=maybe(st.sampled_from([380, 410.5])),
    adjuster=maybe(ADJUSTER),
    bump=maybe(st.sampled_from([0, 80, 900])),
    droop=maybe(st.sampled_from([0, 100])),
    axle_tube_height=maybe(MM),
    rail_height=maybe(MM),
)
LIMITS = part(offset=st.just(3.0), repeat=st.sampled_from([1.5, 0.5]), face_u=SMALL)
FIELDS = {
    "axle": st.sampled_from(["front", "rear"]),
    "units": st.sampled_from(["in", "mm"]),
    "driving_side": SIDES,
    "standing": maybe(st.sampled_from(["on_wheels", "on_stands_loaded", "hanging"])),
    "ready": READY,
    "heights": sides(READINGS),
    "centering": CENTERING,
    "track_bar": TRACK_BAR,
    "limits": LIMITS,
}


MEASURED = {
    "standing": st.just("on_wheels"),
    "ready": st.just(ALL_READY),
    "heights": st.just({"left": [221.0], "right": [219.5]}),
    "centering": st.fixed_dictionaries(
        {
            side: st.lists(st.integers(2060, 2120).map(lambda tenths: tenths / 10), min_size=2)
            for side in ["left", "right"]
        },
        optional={"read_to": st.sampled_from([0.5, 1.5875]), "known_sum": st.just(417.5)},
    ),
    "track_bar": st.fixed_dictionaries(
        {
            "frame_end": SIDES,
            "length": st.sampled_from([700.5, 862, 1000]),
            "frame_height": st.sampled_from([612, 650.5]),
            "axle_height": st.sampled_from([498, 520.5, 700]),
            "adjuster": ADJUSTER,
        },
        optional={"bump": st.just(80), "droop": st.just(100), "fore_aft": st.just(18)},
    ),
}


def measured_sheets():
    """Sheets with everything in place for a verdict and a change of the bar."""
    rest = {name: FIELDS[name] for name in FIELDS if name not in MEASURED}
    return st.fixed_dictionaries(MEASURED, optional=rest)


FILED_BAR = {
    "frame_end": "left",
    "length": 862,
    "frame_height": 612,
    "axle_height": 498,
    "adjuster": {"kind": "one_end", "pitch": 1.5875, "step": 0.5},
}
JUDGED = {
    "before": st.fixed_dictionaries(
        {"offset": st.sampled_from([-4.0, 0.4, 5.1]), "expanded": st.just(0.9)},
        optional={
            "heights": st.just({"left": [221.0], "right": [220.0]}),
            "length_change": st.sampled_from([-3.0, 3.0]),
            "changed": st.booleans(),
        },
    ),
    "on_file": part(
        heights=st.sampled_from([{"left": 221.0, "right": 220.0}, {"left": 301.0, "right": 300}]),
        track_bar=st.just(FILED_BAR),
        drag_link=st.just({**FILED_BAR, "length": 905, "arm": 158}),
    ),
    "drag_link": st.fixed_dictionaries(
        {
            "frame_end": SIDES,
            "length": st.just(905),
            "frame_height": st.sampled_from([588, 700]),
            "axle_height": st.just(521),
            "arm": st.sampled_from([158, 15.8]),
            "arm_points": st.just("forward"),
        },
        optional={"box_ratio": st.just(16), "pitman_arm": st.just(152.4), "ratio": st.just(18)},
    ),
    "steering": st.fixed_dictionaries(
        {"wheel_deg": st.integers(-60, 60)},
        optional={"after_bumps": st.lists(st.integers(-90, 90), max_size=3)},
    ),
    "confirmed": st.lists(st.sampled_from(["implausible", "sum_differs", "differs_from_file"])),
    "older": st.just(["drag_link"]),
    "changes": st.lists(st.sampled_from(["bar_turned", "springs_changed", "bracket_moved"])),
    "play": st.lists(
        st.fixed_dictionaries(
            {"joint": st.just("frame end"), "along": st.sampled_from([0.3, 0.9, [0.4, 0.5]])},
            optional={
                "bolt": st.sampled_from([14.0, 14.2875, 15.875]),
                "hole_long": st.sampled_from([14.9, 15.2, 16.4]),
                "hole_short": st.sampled_from([14.6, 15.2]),
                "house_limit": st.sampled_from([0.5, 1.0]),
                "of": st.sampled_from(["track_bar", "drag_link", "other"]),
            },
        ),
        max_size=2,
    ),
}


def judged_sheets():
    """Measured sheets with what advice is decided on beside them: the file, changes, joints."""
    return st.builds(
        lambda sheet, judged: {**sheet, **judged},
        measured_sheets(),
        st.fixed_dictionaries({}, optional=JUDGED),
    )


RODS = st.builds(
    lambda length, rise, axle, **more: {
        "length": length, "frame_height": axle + rise, "axle_height": axle, **more
    },
    length=st.sampled_from([835.0, 862.0]) | st.floats(500, 1200),
    rise=st.sampled_from([-422.375, 0.0, 114.0]) | st.floats(-200, 200),
    axle=st.sampled_from([498.0, 599.0]),
    frame_end=SIDES,
)  # fmt: skip


def parallel_sheets():
    """Measured sheets whose drag link lies just as the track bar does: what is left is rounding."""
    travel = {"bump": st.sampled_from([0.0, 16.0, 50.0]), "droop": st.sampled_from([20.0, 60.0])}
    arm = {
        "arm": st.sampled_from([32.0, 150.0]),
        "arm_points": st.sampled_from(["forward", "rearward"]),
        "ratio": st.sampled_from([4.0, 16.0]),
    }
    return st.builds(
        lambda sheet, rod, travel, arm, stretch: {
            **sheet,
            "track_bar": {**rod, **travel},
            "drag_link": {**rod, **arm, "length": rod["length"] * stretch},
        },
        st.fixed_dictionaries(MEASURED),
        RODS,
        st.fixed_dictionaries(travel),
        st.fixed_dictionaries(arm),
        st.sampled_from([1.0, 1.1]),
    )


def good_sheets():
    """Sheets whose parts are whole, short or missing, as a day under vehicles makes them."""
    return st.fixed_dictionaries({}, optional=FIELDS)


SPOILED = st.one_of(
    st.none(), st.booleans(), st.integers(-5, 5), st.sampled_from(["", "x", [], [True], {}])
)


def spoiled_sheets():
    """Sheets with a strange field, or with a part of the wrong kind."""
    names = st.sampled_from([*FIELDS, "color"])
    return st.builds(
        lambda sheet, name, value: {**sheet, name: value}, good_sheets(), names, SPOILED
    )
