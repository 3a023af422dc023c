"""What is asked of the phone and of Python, each function of the arithmetic with what it is given.

Another function takes part with one line in CASES.
"""

from hypothesis import given, settings
from hypothesis import strategies as st

from kit import typed_texts
from kit.engine import member, python_answer, same
from kit.same_entries import (
    entries,
    limits,
    merged_records,
    patches,
)
from kit.same_sheets import (
    good_sheets,
    judged_sheets,
    measured_sheets,
    parallel_sheets,
    spoiled_sheets,
)
from kit.same_tags import spoken_entries, tag_lines
from kit.same_work import CASES as WORK
from kit.sheets import LIKELY, SHEETS
from webapp.reckon.assess import assess
from webapp.reckon.log.fold import fold_job
from webapp.reckon.log.my_day import job_lines
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.reckon.sheet_rules import RULES
from webapp.reckon.terms import AXLES, MOVES
from webapp.reckon.typed.lengths import parse_length

UNITS = st.sampled_from(["in", "mm"])
ANY_TEXTS = st.text(max_size=8)
LENGTH_TEXTS = typed_texts.LENGTHS | ANY_TEXTS
ANGLE_TEXTS = typed_texts.ANGLES | ANY_TEXTS
TORQUE_TEXTS = typed_texts.TORQUES | ANY_TEXTS
TEXT_SHEETS = st.builds(
    lambda rule, value, unit: typed_texts.with_text(rule[0], value, units=unit),
    st.sampled_from(RULES),
    typed_texts.ANY | st.lists(typed_texts.ANY, max_size=2),
    UNITS,
)
DIAL_TEXTS = typed_texts.DIALS | ANY_TEXTS
MM = st.floats(0, 20000).map(lambda value: round(value, 4))
GRADUATIONS = st.sampled_from([None, 0.5, 0.79375, 1.0, 1.5875])
ROUNDS = st.sampled_from(["as_found", "fit_up", "as_left", "recheck"])
STEPS = st.sampled_from(["heights", "centering", "track_bar"])
PLAN_KINDS = st.sampled_from(["change", "angle", "steer", "length", "height", "ratio"])
PLANS = st.dictionaries(st.sampled_from([*MOVES]), st.integers(-100, 300).map(lambda mm: mm / 2))
STATES = st.sampled_from(["open", "pending", "accepted", "sent_back"])

ADJUSTERS = st.fixed_dictionaries(
    {"kind": st.sampled_from(["one_end", "both_ends", "fixed"])},
    optional={"pitch": st.sampled_from([None, 1.5, 25.4 / 18, 1.35])},
)


def folded(made):
    """The folded job of these entries, made on one day."""
    return fold_job([{"made_at": "2026-12-20T10:00:00+01:00", **each} for each in made])


def vehicle_of(jobs, due):
    """A vehicle with the lines of these jobs, as a phone holds them."""
    return {"id": "v-1", "name": "Plow 3", "jobs": job_lines(jobs), "due": due}


JOBS = st.lists(entries().map(lambda made: {**folded(made), "entries": made}), max_size=2)
DUE = st.fixed_dictionaries(
    {
        "axle": st.sampled_from(AXLES),
        "what": st.sampled_from(["recheck", "remeasure"]),
        "date": st.sampled_from(["2026-12-24", "2027-01-02"]) | st.none(),
        "distance": st.just(800),
        "unit": st.sampled_from(["km", "mi"]),
    }
)
DAY_VEHICLES = st.builds(vehicle_of, JOBS, st.lists(DUE, max_size=2))
PERSON = st.sampled_from(["p-1", ""])
CASES = [
    ("my_day.job_lines", [JOBS]),
    ("last_time.bar_turns", [JOBS]),
    ("last_time.torqued", [JOBS, st.sampled_from(AXLES)]),
    (
        "my_day.day_sections",
        [st.lists(DAY_VEHICLES, max_size=2), PERSON, st.just("2026-12-25")],
    ),
    ("day_words.state_lines", [DAY_VEHICLES, st.just({"p-1": "Dana", "": "you"})]),
    ("people_words.called", [st.just({"p-1": {"name": "Dana"}}), PERSON | st.none()]),
    ("day_words.due_sentence", [DUE]),
    ("day_words.offset_words", [st.floats(-50, 50), UNITS]),
    ("lengths.parse_length", [LENGTH_TEXTS, UNITS, GRADUATIONS]),
    ("lengths.parse_distance", [LENGTH_TEXTS, UNITS, GRADUATIONS]),
    ("lengths.show_length", [MM, UNITS]),
    ("lengths.show_limit", [MM, UNITS]),
    ("lengths.show_step", [st.floats(0.1, 10)]),
    ("change_words.length_then_changed", [LENGTH_TEXTS, st.floats(-50, 50), UNITS]),
    (
        "links_of_round.changed_by",
        [entries(), st.just("as_left"), st.just({"length": 862.0}), st.just("track_bar")],
    ),
    ("sheet_faults.faults", [good_sheets() | spoiled_sheets()]),
    ("assess.assess", [good_sheets() | spoiled_sheets()]),
    ("assess.assess", [measured_sheets()]),
    ("typed_sheet.read_sheet", [TEXT_SHEETS | good_sheets()]),
    ("assess.assess", [TEXT_SHEETS]),
    ("assess.assess", [parallel_sheets()]),
    ("assess.assess", [judged_sheets()]),
    ("assess.assess", [SHEETS | LIKELY]),
    ("angles.parse_angle", [ANGLE_TEXTS]),
    ("angles.parse_wheel", [ANGLE_TEXTS]),
    ("typed_answers.with_sentence", [LENGTH_TEXTS.map(lambda text: parse_length(text, "mm"))]),
    ("torque_figures.parse_torque", [TORQUE_TEXTS, st.sampled_from(["N·m", "lb-ft", None])]),
    ("missing.missing", [measured_sheets() | good_sheets()]),
    ("steps.places", [measured_sheets() | good_sheets(), STATES]),
    ("steps.begun", [good_sheets(), STEPS]),
    ("tags.follow", [tag_lines()]),
    ("speech.said_of", [spoken_entries(), UNITS]),
    ("fold.standing", [entries()]),
    ("fold.fold_vehicle", [entries()]),
    ("fold.fold_vehicle", [merged_records()]),
    ("due.due_of", [merged_records()]),
    ("limits.fold_limits", [entries()]),
    ("limits.limits_at", [entries(), entries().map(folded), st.just("2026-12-24")]),
    (
        "limit_words.limit_words",
        [
            st.sampled_from(["offset", "bump_steer"]),
            st.floats(0, 50),
            st.sampled_from(["in", "mm"]),
        ],
    ),
    ("limits.in_force", [entries(), st.sampled_from(["2026-12-23", "2026-12-24", "2027-01-01"])]),
    ("fold.fold_job", [entries()]),
    ("plan_rows.plan_value", [st.none() | st.floats(-500, 500), PLAN_KINDS, UNITS]),
    ("plan_rows.plan_words", [PLANS, UNITS]),
    ("dial.parse_dial", [DIAL_TEXTS, st.sampled_from(["mm", "thou", "in"])]),
    ("dial.parse_along", [DIAL_TEXTS, st.sampled_from(["mm", "thou", "in"])]),
    ("dial.show_dial", [MM, UNITS]),
    (
        "joints_of_round.fasteners",
        [entries(), ROUNDS, patches(), st.sampled_from(["front", "rear"])],
    ),
    ("adjuster_words.adjuster_words", [ADJUSTERS, UNITS]),
    ("sheet_of_round.sheet_for", [entries(), ROUNDS, patches(), limits()]),
]


# What a round of play, clearance and torque comes to, in words: by way of its sheet.
JOINT_SHEETS = st.builds(
    lambda made, name: {**sheet_for(made, name, {}, {}), "standing": "on_wheels"},
    entries(),
    ROUNDS,
)
USUAL = {
    "play": [{"joint": "frame end", "along": 0.9, "house_limit": 0.5}],
    "clearance": [{"between": ["track bar", "oil pan"], "state": "ride", "lock": "left", "gap": 4}],
    "torque": [{"fastener": "jam nuts", "value": 90, "source": "manual", "end": "nut"}],
}


def findings_of(part):
    """What the arithmetic finds of one part of such a sheet, or of a usual one."""
    return JOINT_SHEETS.map(lambda sheet: assess({**USUAL, **sheet})[part])


CASES += [
    ("missing.missing", [JOINT_SHEETS]),
    ("assess.assess", [JOINT_SHEETS]),
    ("joint_answers.play_told", [findings_of("play"), UNITS]),
    ("joint_answers.clearance_told", [findings_of("clearance"), UNITS]),
    ("joint_answers.torque_told", [findings_of("torque")]),
    *WORK,
]


def compared(engine, name, givens):
    """Fail where phone and Python answer differently."""

    @settings(max_examples=150)
    @given(givens)
    def compare(values):
        on_phone, here = engine.call(name, *values), python_answer(member(name), *values)
        assert same(on_phone, here), f"phone {on_phone}\npython {here}"

    compare()
