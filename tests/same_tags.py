"""Tags put on vehicles, and readings to be spoken, for the comparison of phone and Python."""

from hypothesis import strategies as st
from same_entries import BODIES, MM, SIDES


def spoken_bodies():
    """Bodies of readings of every step that the phone speaks."""
    value = MM | st.floats(0, 99999) | st.integers(0, 640).map(lambda marks: marks * 25.4 / 32)
    measured = {"value": value, "unit": st.sampled_from(["in", "mm"])}
    gap = {"value": st.none(), "mark": st.sampled_from(["touches", None])}
    between = st.just(["track bar", "tyre"])
    return st.one_of(
        st.fixed_dictionaries({"step": st.just("centring"), "field": SIDES, **measured}),
        st.fixed_dictionaries(
            {"step": st.just("play"), "field": st.just("hole_long"), **measured},
            optional={"joint": st.just("frame end")},
        ),
        st.fixed_dictionaries({"field": st.just("gap"), "between": between, **gap}),
        st.fixed_dictionaries(
            {"step": st.just("torque"), "field": st.just("fastener"), "value": value},
            optional={"fastener": st.just("axle-end bolt"), "moved": st.booleans()},
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
