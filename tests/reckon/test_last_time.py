"""What was done to an axle last time, in sentences."""

from kit.worked_sheets import entry

from webapp.reckon.log.fold import fold_job
from webapp.reckon.log.last_time import (
    bar_turns,
    changes_made,
    last_handed_in,
    taped_by,
    torqued,
)
from webapp.reckon.sentences.last_time_words import (
    done_sentence,
    found_sentence,
    job_sentence,
    tape_sentence,
    torque_sentence,
    turner_words,
)
from webapp.reckon.sentences.people_words import by_words, called

NAMES = called({"p-1": {"name": "Dana Reyes"}, "p-2": {"name": "Luis Ortega"}}, "p-2")
TORQUE = {"step": "torque", "field": "fastener", "fastener": "jam nuts", "unit": "mm"}
TURN = {"what": "bar_turned", "turns": 3.5, "length_change": 5.3}


def plain(text):
    return text.replace("\u202f", " ")


def made(job, *rows, day="2026-03-24"):
    """A folded job with its entries, from (kind, body, person) rows in the order of the log."""
    about = {"axle": "front", "round": "as_found", "about": job}
    entries = [
        entry(
            f"{job}-{number}",
            kind,
            body,
            job=job,
            person=person,
            seq=number + 1,
            round="as_found",
            made_at=f"{day}T10:{number:02}:00+01:00",
        )
        for number, (kind, body, person) in enumerate([("job", about, "p-1"), *rows])
    ]
    return {**fold_job(entries), "entries": entries}


HAND_IN = ("hand_in", {"missing": [], "reason": None}, "p-1")


def test_the_last_time_is_the_last_job_of_the_axle_that_was_handed_in():
    first, last = made("first", HAND_IN), made("last", HAND_IN)
    going_on, rear = made("going on"), {**made("rear", HAND_IN), "axle": "rear"}
    second = {**made("second", HAND_IN), "second_of": "first"}

    jobs = [first, last, second, rear, going_on]
    assert last_handed_in(jobs, "front")["about"] == "last"
    assert last_handed_in([going_on], "front") is None


def test_the_last_job_is_named_with_its_day_and_state():
    assert job_sentence(made("wanders", HAND_IN)) == "wanders, 2026-03-24, pending review."
    assert job_sentence({**made("j"), "about": ""}) == "front axle, 2026-03-24, open."


def test_every_turn_of_the_bar_that_stands_is_told_the_newest_first():
    strike = ("strike", {"target": "early-2", "reason": "never done"}, "p-1")
    early = made(
        "early",
        ("change", TURN, "p-1"),
        ("change", {"what": "bar_turned", "turns": -1}, "p-1"),
        strike,
        ("change", {"what": "toe_set"}, "p-1"),
    )
    late = made("late", ("change", {"what": "bar_replaced"}, "p-2"), day="2026-09-02")

    turns = bar_turns([early, late])

    assert [each["entry"]["id"] for each in turns] == ["late-1", "early-1"]
    assert turner_words(turns, NAMES) == "Who turned the bar: you, 2026-09-02"
    assert [plain(done_sentence(each["entry"], NAMES, "mm")) for each in turns] == [
        "The track bar was replaced, by you on 2026-09-02.",
        "The track bar was turned, 3 1/2 turns out, 5.3 mm longer, by Dana Reyes on 2026-03-24.",
    ]


def test_a_turn_of_somebody_unknown_is_told_without_a_name():
    job = made("j", ("change", TURN, "p-9"))

    assert turner_words(bar_turns([job]), NAMES) == "Who turned the bar: 2026-03-24"
    assert plain(done_sentence(changes_made(job["entries"])[0], NAMES, "in")) == (
        "The track bar was turned, 3 1/2 turns out, ≈ 7/32 in (5.3 mm) longer on 2026-03-24."
    )


def test_a_torque_says_its_source_and_how_it_was_turned_whenever_that_was():
    told = {**TORQUE, "value": 90, "end": "nut", "thread": "dry", "source": "shop manual, p. 4"}
    before = made("before", ("reading", {**told, "value": 80}, "p-1"), day="2025-11-01")
    job = made("j", ("reading", told, "p-1"), HAND_IN)
    rear = {**made("rear", ("reading", {**told, "fastener": "clamps"}, "p-1")), "axle": "rear"}

    [last] = torqued([before, job, rear, made("check", HAND_IN)], "front")

    assert plain(torque_sentence(last, NAMES)) == (
        "Jam nuts: 90 N·m (66 lb-ft), at the nut, dry, shop manual, p. 4, "
        "by Dana Reyes on 2026-03-24."
    )


def test_where_an_axle_sat_keeps_the_hold_that_stood_over_it():
    found = {"centering": {"offset": -5.4, "state": "outside"}, "advice": {"state": "adjust"}}
    held = {**found, "advice": {"state": "hold"}}

    assert plain(found_sentence("as_found", found, "mm")) == (
        "As found, the axle sat 5.4 mm to the right: outside."
    )
    assert found_sentence("as_left", held, "mm").endswith(": outside, on hold.")


def test_the_tape_is_told_with_its_face_and_the_hand_that_held_it():
    body = {"step": "centering", "field": "left", "value": 214.3, "unit": "mm"}
    job = made("j", ("reading", body, "p-1"), ("reading", body, "p-1"), ("reading", body, "p-2"))
    sheet = {"face": "rotor", "method": "square_to_rail", "read_to": 1.5875}

    hands = taped_by(job["entries"], "as_found")

    assert hands == ["p-1", "p-2"]
    assert plain(tape_sentence(sheet, hands, NAMES)) == (
        "Measured to the rotor face, tape square to the rail, read to 1/16 in, "
        "by Dana Reyes and you."
    )
    assert taped_by(job["entries"], "as_left") == []


def test_whoever_is_not_known_is_not_named():
    assert by_words(["p-9"], NAMES) == ""
    assert by_words([""], called({}, None)) == ""
