"""Tags put on vehicles, and readings to be spoken, for the comparison of phone and Python."""

from hypothesis import strategies as st

from kit.same_entries import BODIES, MM, SIDES


def spoken_entries():
    """Readings of every step that the phone speaks, picks of numbers, and what was typed."""
    readings = st.tuples(st.just("reading"), spoken_bodies())
    fields = ["wheel_deg", "ratio", "tilt_deg", "left_extra", "rail_point_height", "frame_end"]
    values = st.floats(-400, 400) | st.sampled_from(["left", True, None])
    picked = st.fixed_dictionaries({"field": st.sampled_from(fields), "value": values})
    made = readings | st.tuples(st.just("pick"), picked)
    typed = st.sampled_from([None, "16", "0.016 in", "0,605", "19/32", "16 + 4", "8 7/16 shy"])
    return st.tuples(made, typed).map(
        lambda both: {"kind": both[0][0], "body": both[0][1], "typed": both[1]}
    )


def spoken_bodies():
    """Bodies of readings of every step that the phone speaks."""
    value = MM | st.floats(0, 99999) | st.integers(0, 640).map(lambda marks: marks * 25.4 / 32)
    measured = {"value": value, "unit": st.sampled_from(["in", "mm"])}
    gap = {"value": st.none(), "mark": st.sampled_from(["touches", None])}
    gap = {**gap, "state": st.just("crossed"), "lock": st.just("left")}
    joint = {"joint": st.sampled_from(["frame end", "own"])}
    between = st.just(["track bar", "tire"])
    ways = st.none() | st.lists(st.sampled_from([0.4064, 0.1016, 3.0]), min_size=2, max_size=2)
    figure = st.sampled_from(["65 lb-ft ± 5", "90 N·m", "6 kgf·m then 90°", "about", None])
    return st.one_of(
        st.fixed_dictionaries({"step": st.just("centering"), "field": SIDES, **measured}),
        st.fixed_dictionaries(
            {"step": st.just("play"), "field": st.just("hole_long"), **joint, **measured}
        ),
        st.fixed_dictionaries(
            {"step": st.just("play"), "field": st.just("along"), **joint, **measured},
            optional={"pair": ways},
        ),
        st.fixed_dictionaries(
            {"step": st.just("clearance"), "field": st.just("gap"), "between": between, **gap}
        ),
        st.fixed_dictionaries(
            {
                "step": st.just("torque"),
                "field": st.just("fastener"),
                "fastener": st.just("axle-end bolt"),
                "value": value | st.none(),
            },
            optional={
                "moved": st.booleans(),
                "figure": figure,
                "tolerance": st.none() | st.floats(0.1, 50),
                "then_angle": st.none() | st.sampled_from([90, 45.5]),
            },
        ),
    )


def tag_lines():
    """Up to twelve tags put on three vehicles, and strikes of them, in the order of the log."""
    pairs = st.one_of(*(st.tuples(st.just(kind), BODIES[kind]) for kind in ("tag", "strike")))
    vehicles = st.lists(st.sampled_from(["v-1", "v-2", "v-3"]), min_size=12, max_size=12)
    return st.tuples(st.lists(pairs, max_size=12), vehicles).map(
        lambda made: [
            {"id": f"e-{number}", "seq": number, "kind": kind, "body": body, "vehicle": vehicle}
            for number, ((kind, body), vehicle) in enumerate(zip(*made, strict=False))
        ]
    )
