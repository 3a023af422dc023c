"""Drag links, changes and hold points, and what is reckoned of them, for the comparison."""

from hypothesis import strategies as st

from kit import typed_texts
from kit.same_entries import BODIES, entries
from webapp.reckon.assess import assess
from webapp.reckon.job_view import job_view
from webapp.reckon.log.fold import fold_job
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.reckon.log.stale import FINDINGS as REOPENED
from webapp.reckon.log.stale import stale
from webapp.reckon.sentences.change_words import CHANGE_NAMES
from webapp.reckon.sentences.compared_rounds import beside_centering
from webapp.reckon.walk.carried import lines_to_file
from webapp.reckon.walk.hold_points import hold_points
from webapp.reckon.walk.steps import places
from webapp.shoplog.rules.readings import LINK_READINGS

IDS = st.integers(0, 14).map(lambda number: f"e-{number}")
MM = st.integers(1900, 2300).map(lambda tenths: tenths / 10)
CHANGE = st.fixed_dictionaries(
    {},
    optional={
        "what": st.sampled_from([*CHANGE_NAMES, "axle_painted"]),
        "turns": st.sampled_from([3.5, -1, 0.25]),
        "length_change": st.sampled_from([5.3, -2.0]),
        "moved": st.just(25.0),
        "toward": st.just("up"),
        "part": st.sampled_from(["bushing", "drag link", "frame-end bracket", "Axle-end bracket"]),
        "text": st.text(max_size=4),
        "replaces": IDS,
    },
)
PASSED = st.fixed_dictionaries(
    {"hold_point": st.sampled_from(["road", "final_welding"]), "reason": st.just("towed")},
    optional={"open": st.just(["The centering was not measured."])},
)
LINK_READING = st.fixed_dictionaries(
    {
        "step": st.just("drag_link"),
        "field": st.sampled_from(LINK_READINGS),
        "value": MM,
    },
    optional={"read_to": st.just(1.5875), "replaces": IDS},
)
LINK_PICK = st.one_of(
    *(
        st.fixed_dictionaries({"step": st.just("drag_link"), "field": st.just(name), "value": of})
        for name, of in [
            ("frame_end", st.sampled_from(["left", "right"])),
            ("arm_points", st.sampled_from(["forward", "rearward"])),
            ("ratio", st.just(18)),
            ("wheel_deg", st.integers(-90, 90)),
            ("adjuster", st.just({"kind": "both_ends", "pitch": 1.5, "step": 0})),
        ]
    )
)
TICK = st.builds(
    lambda field, value: {"field": field, "value": value},
    st.sampled_from(["level", "bar_fitted", "swung"]),
    st.booleans(),
)
WORK = {
    **BODIES,
    "change": CHANGE,
    "pass_over": PASSED,
    "reading": BODIES["reading"] | LINK_READING,
    "pick": BODIES["pick"] | LINK_PICK,
    "tick": TICK,
}
SAID = {
    **WORK,
    "confirm": st.just({"code": "leans", "key": "leans 41.00", "says": "The frame leans."}),
    "photo": st.fixed_dictionaries(
        {"of": st.sampled_from(["weld", "own"])}, optional={"text": st.text(max_size=4)}
    ),
    "plan": st.fixed_dictionaries({"name": st.text(max_size=4)}, optional={"axle_end_up": MM}),
    "road_test": st.just({"distance": 3}),
}
NAMES = st.sampled_from(["as_found", "fit_up", "as_left", "recheck"])
LINKS = st.just({"drag_links": {"rear": {"length": 905, "frame_height": 588, "arm": 158}}})


def jobs():
    """The entries of a job in which something was done."""
    return entries(WORK)


def rounds_of(made):
    """A job's rounds with sheets and findings, as its hold points are reckoned from."""
    sheets = [(name, sheet_for(made, name, {}, {})) for name in fold_job(made)["rounds"]]
    return [{"name": name, "sheet": sheet, "findings": assess(sheet)} for name, sheet in sheets]


def held(made, earlier, state):
    """What the hold points of a job are reckoned from, with another job before it."""
    before = {"state": state, "entries": earlier, "rounds": rounds_of(earlier)}
    closing = {"axle": fold_job(made)["axle"], "says": "Not looked at: torque of the fasteners."}
    closed = {"id": "closing", "kind": "close_item", "vehicle": "v-1", "job": None}
    past = {"jobs": [before], "closings": [{**closed, "body": {**closing, "reason": "seen"}}]}
    past["filed"] = lines_to_file(hold_points(earlier, before["rounds"]))
    return [made, rounds_of(made), past]


def view_of(made):
    """The view of a job, from which everything about it is worked out."""
    return job_view(made, fold_job(made), {"units": "in"}, {})


def others():
    """What is filed of a vehicle, jobs of it, the one that looks back at them, and the limits."""
    return st.lists(jobs(), min_size=1, max_size=4).map(
        lambda found: [
            [],
            [
                {"entries": each, "job": {**fold_job(each), "job": f"j-{at}"}}
                for at, each in enumerate(found)
            ],
            {**fold_job(found[0]), "job": "j-0"},
            {},
        ]
    )


def said():
    """An entry of any kind, the entry that it would strike, and the unit in use."""
    some = entries(SAID).filter(len).map(lambda made: made[0])
    return st.tuples(some, st.none() | some, EITHER)


def walked(made, name):
    """The places of a round with what is stale in it."""
    return [places(sheet_for(made, name, {}, {}), "open", stale(made, name)), "track_bar"]


def folds(others):
    """The folded jobs of jobs that were handed in."""
    return [each["job"] for each in others]


OPEN_OR_NOT = st.sampled_from(["open", "pending", "accepted"])
SHEETS = st.builds(lambda made, name: sheet_for(made, name, {}, {}), jobs(), NAMES)
FINDINGS = SHEETS.map(assess)
BESIDE = SHEETS.map(lambda sheet: beside_centering(sheet, assess(sheet), "in"))
EITHER = st.sampled_from(["in", "mm"])

VIEWS = jobs().map(view_of)

CASES = [
    ("sheet_of_round.sheet_for", [jobs(), NAMES, LINKS, st.just({})]),
    ("job_view.rounds_found", [VIEWS]),
    ("job_view.rounds_left", [VIEWS]),
    ("job_view.judged_in", [VIEWS, NAMES]),
    ("job_view.last_judged", [VIEWS]),
    ("job_view.stale_in", [VIEWS, NAMES]),
    ("stale.reopened_findings", [st.sampled_from([*CHANGE_NAMES, "axle_painted"])]),
    ("change_words.change_words", [CHANGE, EITHER]),
    ("change_words.reopened_sentence", [st.lists(st.sampled_from(REOPENED), min_size=1)]),
    ("missing.to_do_again", [st.just({}), st.builds(stale, jobs(), NAMES)]),
    ("turns.parse_turns", [typed_texts.TURNS]),
    ("ratios.parse_ratio", [typed_texts.RATIOS]),
    ("distances.parse_driven", [typed_texts.DRIVEN]),
    ("link_steps.lead_words", [st.integers(-30, 30), EITHER, st.none() | st.just("1/2")]),
    ("terms.wheel_sits", [st.integers(-1080, 1080)]),
    ("link_answer.link_answer", [FINDINGS, EITHER]),
    ("link_answer.link_numbers", [FINDINGS, EITHER]),
    ("link_answer.link_why", [FINDINGS]),
    ("compared_rounds.changed_numbers", [FINDINGS, FINDINGS]),
    ("compared_rounds.beside_centering", [SHEETS, FINDINGS, EITHER]),
    ("compared_rounds.measured_twice", [BESIDE, BESIDE]),
]
# These take several givens that belong together.
TOGETHER = [
    ("entry_words.entry_sentence", said()),
    (
        "log_sentences.log_sentence",
        said().map(lambda given: [given[0], given[1], {"": "you"}, given[2]]),
    ),
    ("hold_points.hold_points", st.builds(held, jobs(), jobs(), OPEN_OR_NOT)),
    ("hold_points.earlier_jobs", others().map(lambda found: [folds(found[1]), found[2]])),
    ("record_of_job.record_of_job", others()),
    ("steps.next_after", st.builds(walked, jobs(), NAMES)),
]
