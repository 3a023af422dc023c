"""Sheets of every kind of geometry: likely, odd and impossible, with parts short or missing."""

from hypothesis import strategies as st

from kit.worked_sheets import READY, SAMPLE

SIDES = st.sampled_from(["left", "right"])
SIZE = st.floats(0.01, 20000) | st.floats(50, 1500) | st.sampled_from([1e-6, 0.1, 100.0, 20000.0])
HEIGHT = st.floats(-20000, 20000) | st.floats(300, 800) | st.just(500.0)
TRAVEL = st.floats(0, 20000) | st.floats(0, 200)
ADJUSTER = st.none() | st.fixed_dictionaries(
    {
        "kind": st.sampled_from(["one_end", "both_ends", "fixed"]),
        "pitch": st.none() | st.floats(0.1, 100),
        "step": st.none() | st.sampled_from([0, 0.25, 1, 100]),
    }
)


def some(**fields):
    """An object with these fields, any of them missing."""
    return st.fixed_dictionaries({}, optional=fields)


LIE = {
    "frame_end": SIDES,
    "length": SIZE,
    "frame_height": HEIGHT,
    "axle_height": HEIGHT,
    "fore_aft": st.none() | st.floats(-20000, 20000) | st.floats(-50, 50),
    "adjuster": ADJUSTER,
    "read_to": st.none() | st.floats(0.01, 100),
}
BAR = {
    **LIE,
    "bump": TRAVEL,
    "droop": TRAVEL,
    "frame_end_from_center": st.floats(-2000, 2000),
    "axle_tube_height": HEIGHT,
    "rail_height": HEIGHT,
}
LINK = {
    **LIE,
    "arm": SIZE,
    "arm_points": st.sampled_from(["forward", "rearward"]),
    "ratio": st.none() | st.floats(0.1, 100),
}
READINGS = st.lists(st.floats(0, 20000) | st.floats(180, 240), max_size=3)
SIDE_READINGS = some(left=READINGS, right=READINGS)
MOVES = ["axle_end_up", "frame_end_down", "pitman_down", "link_axle_end_up", "height_change"]
JOINT = some(
    joint=st.sampled_from(["frame end", ""]),
    of=st.sampled_from(["track_bar", "drag_link", "other"]),
    along=SIZE | st.lists(SIZE, min_size=2, max_size=2),
    bolt=SIZE,
    hole_long=SIZE,
    hole_short=SIZE,
    edge=SIZE,
    maker_limit=SIZE,
    house_limit=SIZE,
)
SHEETS = some(
    axle=st.sampled_from(["front", "rear"]),
    units=st.sampled_from(["in", "mm"]),
    standing=st.just("on_wheels"),
    ready=st.just(READY),
    heights=SIDE_READINGS,
    centering=some(left=READINGS, right=READINGS, read_to=st.floats(0.01, 100)),
    track_bar=st.fixed_dictionaries(BAR) | some(**BAR),
    drag_link=st.fixed_dictionaries(LINK) | some(**LINK),
    play=st.lists(JOINT, max_size=2),
    toe=some(front=SIZE, rear=SIZE, span=SIZE),
    wheelbase=some(left=SIZE, right=SIZE, track=SIZE),
    plans=st.lists(some(**dict.fromkeys(MOVES, st.floats(-2000, 2000))), max_size=1),
    before=some(offset=st.floats(-50, 50), heights=SIDE_READINGS, length_change=HEIGHT),
)
LIKELY = st.fixed_dictionaries(
    {
        name: st.fixed_dictionaries(
            {
                field: st.just(value)
                if not isinstance(value, float | int)
                else st.floats(value * 0.2, value * 1.8)
                for field, value in SAMPLE[name].items()
                if field not in ("fore_aft", "adjuster") and value is not None
            },
            optional={"fore_aft": st.floats(-900, 900), "adjuster": ADJUSTER},
        )
        for name in ("track_bar", "drag_link")
    }
    | {name: st.just(SAMPLE[name]) for name in ("standing", "ready", "centering", "heights")},
)
