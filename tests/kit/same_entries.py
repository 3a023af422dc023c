"""Entry lists for the comparison of phone and Python: jobs with strikes, picks and decisions."""

from hypothesis import strategies as st

IDS = st.integers(0, 14).map(lambda number: f"e-{number}")
ROUNDS = st.sampled_from([None, "as_found", "fit_up", "as_left", "recheck"])
SIDES = st.sampled_from(["left", "right"])
MM = st.integers(1900, 2300).map(lambda tenths: tenths / 10)
BAR = {"frame_end": "left", "length": 862, "frame_height": 612, "axle_height": 498}

heights = st.fixed_dictionaries({"step": st.just("heights"), "field": SIDES, "value": MM})
centerings = st.fixed_dictionaries(
    {"step": st.just("centering"), "field": SIDES, "value": MM, "read_to": st.just(1.0)},
    optional={
        "face": st.sampled_from(["rotor", "hub"]),
        "method": st.just("plumb_bob"),
        "replaces": IDS,
    },
)
bars = st.fixed_dictionaries(
    {
        "step": st.just("track_bar"),
        "field": st.sampled_from(["length", "frame_height", "bump"]),
        "value": MM,
    },
    optional={"replaces": IDS},
)
JOINT_NAMES = st.sampled_from(["frame end", "axle end", "drag link axle end", "own clevis"])
SMALL = st.integers(1, 30).map(lambda tenths: tenths / 10)
SHARED = {"value": SMALL, "unit": st.sampled_from(["in", "mm"]), "read_to": st.just(0.1)}
plays = st.fixed_dictionaries(
    {
        "step": st.just("play"),
        "field": st.sampled_from(["along", "bolt", "hole_long", "hole_short", "edge", "sleeve"]),
        "joint": JOINT_NAMES,
        "of": st.sampled_from(["track_bar", "drag_link", "steering"]),
        **SHARED,
    },
    optional={"pair": st.just([0.4, 0.5]), "how": st.just("by hand"), "replaces": IDS},
)
clearances = st.fixed_dictionaries(
    {
        "step": st.just("clearance"),
        "field": st.just("gap"),
        "between": st.sampled_from([["track bar", "oil pan"], ["tire", "frame"]]),
        "state": st.sampled_from(["ride", "full_bump", "full_droop", "crossed"]),
        "lock": st.sampled_from(["left", "straight", "right"]),
        **SHARED,
    },
    optional={"mark": st.sampled_from([None, "touches", "witness mark"]), "replaces": IDS},
)
torques = st.fixed_dictionaries(
    {
        "step": st.just("torque"),
        "field": st.just("fastener"),
        "fastener": st.sampled_from(["frame-end bolt", "jam nuts", "spring clamp"]),
        "value": st.sampled_from([90, 118.5]),
    },
    optional={
        "also": st.sampled_from([90, 120]),
        "source": st.just("manual"),
        "end": st.sampled_from(["nut", "bolt"]),
        "thread": st.sampled_from(["dry", "locking compound"]),
        "then_angle": st.just(90),
        "tolerance": st.just(4.5),
        "rubber": st.booleans(),
        "on_springs": st.booleans(),
        "moved": st.none() | st.booleans(),
        "replaces": IDS,
    },
)
joint_picks = st.one_of(
    *(
        st.fixed_dictionaries(
            {"step": st.just(step), "field": st.just(field), "value": values},
            optional={"replaces": IDS},
        )
        for step, field, values in [
            (
                "play",
                "limit",
                st.fixed_dictionaries(
                    {"joint": JOINT_NAMES},
                    optional={
                        "maker_limit": SMALL,
                        "maker_source": st.just("manual"),
                        "house_limit": SMALL,
                    },
                ),
            ),
            (
                "play",
                "loose",
                st.fixed_dictionaries(
                    {"joint": JOINT_NAMES, "what": st.sampled_from([None, "bracket"])}
                ),
            ),
            (
                "torque",
                "recheck",
                st.sampled_from(
                    [{"distance": 800, "unit": "km"}, {"distance": None, "date": "2026-12-24"}]
                ),
            ),
        ]
    )
)
picks = st.one_of(
    *(
        st.fixed_dictionaries(
            {"step": st.just(step), "field": st.just(field), "value": values},
            optional={"replaces": IDS},
        )
        for step, field, values in [
            ("heights", "standing", st.sampled_from(["on_wheels", "hanging"])),
            ("centering", "left_extra", st.sampled_from([0, 3.0])),
            ("centering", "high_side", SIDES),
            ("track_bar", "frame_end", SIDES),
            ("track_bar", "adjuster", st.just({"kind": "one_end", "pitch": 1.5, "step": 0.5})),
        ]
    )
)


def patches():
    """A vehicle's record, or a patch of it."""
    return st.fixed_dictionaries(
        {},
        optional={
            "name": st.text(max_size=5),
            "units": st.sampled_from(["in", "mm"]),
            "face": st.just("hub"),
            "track_bars": st.just({"front": BAR}),
            "known_sums": st.just({"front": {"rotor": {"sum": 417.5, "u": 0.5}}}),
            "torques": st.just({"rear": [{"fastener": "frame-end bolt", "value": 118}]}),
        },
    )


PLANS = st.none() | st.just({"date": "2026-12-24"}) | st.just({"distance": 800, "unit": "km"})
BY_AXLE = {
    "track_bars": st.just(BAR),
    "remeasure": PLANS,
    "rechecks": PLANS,
    "known_sums": st.dictionaries(st.sampled_from(["hub", "rotor"]), MM, max_size=2),
    "joint_limits": st.just({"frame end": {"house_limit": 0.5}}),
}


def merged_records():
    """The entries about a vehicle that was put on file twice, those of the other record first."""
    body = st.fixed_dictionaries(
        {},
        optional={
            "name": st.text(max_size=3),
            "retired": st.booleans(),
            "replaced_tags": st.just({"K7RM-4TQX": {"by": None}}),
            **{
                name: st.dictionaries(st.sampled_from(["front", "rear"]), values)
                for name, values in BY_AXLE.items()
            },
        },
    )
    patch = st.tuples(st.sampled_from(["v-1", "v-2"]), body)
    return st.lists(patch, max_size=6).map(as_records)


def as_records(made):
    """The patches as entries, numbered as given and sorted by the record that they are about."""
    found = [
        {
            "id": f"e-{number}",
            "seq": number + 1,
            "kind": "vehicle",
            "vehicle": vehicle,
            "body": body,
        }
        for number, (vehicle, body) in enumerate(made)
    ]
    return sorted(found, key=lambda entry: entry["vehicle"])


def limits():
    """House limits, any of them."""
    return st.fixed_dictionaries({}, optional={"offset": st.just(2.5), "repeat": st.just(1.0)})


BODIES = {
    "vehicle": patches(),
    "tag": st.fixed_dictionaries(
        {"code": st.sampled_from(["K7RM-4TQX", "AB2D-9XYZ"])}, optional={"first": st.booleans()}
    ),
    "limit": st.builds(
        lambda name, value, since: {"name": name, "value": value, "reason": "house rule", **since},
        st.sampled_from(["offset", "repeat", "face_u"]),
        MM,
        st.sampled_from([{}, {"from": "2026-12-24"}, {"from": "2026-09-30"}]),
    ),
    "job": st.just({"axle": "rear", "round": "fit_up", "about": "new bracket"}),
    "reading": heights | centerings | bars | plays | clearances | torques,
    "tick": st.builds(
        lambda field, value: {"field": field, "value": value},
        st.sampled_from(["level", "tires", "load", "settled", "straight"]),
        st.booleans(),
    ),
    "pick": picks | joint_picks,
    "note": st.just({"text": "grease on the left"}),
    "strike": st.builds(lambda target: {"target": target, "reason": "wrong side"}, IDS),
    "hand_in": st.just({"missing": [], "reason": None}),
    "decision": st.builds(
        lambda hand_in, verdict: {"hand_in": hand_in, "verdict": verdict, "reason": None},
        st.none() | IDS,
        st.sampled_from(["accepted", "sent_back"]),
    ),
}


def entries(bodies=BODIES):
    """Up to fifteen entries of one job, numbered in the order of the log."""
    pairs = st.one_of(
        *(st.tuples(st.just(kind), body, ROUNDS) for kind, body in sorted(bodies.items()))
    )
    return st.lists(pairs, max_size=15).map(numbered)


def numbered(made):
    """The entries in their wire form; a decision about None is about the last hand-in."""
    found = []
    for number, (kind, body, round_name) in enumerate(made):
        if kind == "decision" and body["hand_in"] is None:
            body = {**body, "hand_in": last_hand_in(found)}
        named = {"id": f"e-{number}", "seq": number + 1, "kind": kind, "body": body}
        found.append({**named, "vehicle": "v-1", "job": "j-1", "round": round_name})
    return found


def last_hand_in(found):
    return next((each["id"] for each in reversed(found) if each["kind"] == "hand_in"), "e-0")
