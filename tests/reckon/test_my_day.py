"""A person's day: what was sent back to them, what goes on, what waits, and what is due."""

from kit.worked_sheets import entry

from webapp.reckon.log.fold import fold_job
from webapp.reckon.log.my_day import day_sections, hands_of, job_lines
from webapp.reckon.sentences.day_words import (
    due_sentence,
    line_words,
    measured_words,
    offset_words,
    state_lines,
)
from webapp.reckon.sentences.people_words import called

ME, OTHER, LEAD = "p-me", "p-other", "p-lead"
PEOPLE = {ME: {"name": "Dana Reyes"}, OTHER: {"name": "Luis Ortega"}, LEAD: {"name": "Orla"}}
NAMES = called(PEOPLE, ME)
TODAY = "2026-11-30"


def made(job, *rows):
    """A folded job with its entries, from (kind, body, person) rows in the order of the log."""
    entries = [
        entry(f"{job}-{number}", kind, body, job=job, person=person, seq=number + 1)
        for number, (kind, body, person) in enumerate(rows)
    ]
    return {**fold_job(entries), "entries": entries}


def opened(person, **more):
    return "job", {"axle": "front", "round": "as_found", "about": "wanders", **more}, person


def reading(person):
    return "reading", {"step": "heights", "field": "left", "value": 221.0}, person


def handed_in(person):
    return "hand_in", {"missing": [], "reason": None}, person


def decided(job, number, verdict, reason=None):
    body = {"hand_in": f"{job}-{number}", "verdict": verdict, "reason": reason}
    return "decision", body, LEAD


def vehicle(*jobs, due=()):
    return {"id": "v-1", "name": "Plow 3", "jobs": job_lines(list(jobs)), "due": list(due)}


def day(*vehicles, person=ME):
    found = day_sections(list(vehicles), person, TODAY)
    return {each["section"]: [line.get("job") for line in each["lines"]] for each in found}


def sent_back(job, person):
    back = decided(job, 2, "sent_back", "Say the source of the torque.")
    return made(job, opened(person), reading(person), handed_in(person), back)


def test_a_job_sent_back_stands_with_whoever_worked_on_it_and_says_why():
    mine, others = sent_back("j-1", ME), sent_back("j-2", OTHER)
    plow = vehicle(mine, others)

    assert day(plow) == {"sent_back": ["j-1"]}
    assert day(plow, person=OTHER) == {"sent_back": ["j-2"]}
    assert state_lines(plow, NAMES) == ["sent back to you", "sent back to Luis Ortega"]
    [section] = day_sections([plow], ME, TODAY)
    assert line_words(section["lines"][0]) == [
        "wanders",
        "“Say the source of the torque.”",
        "front axle, as found",
    ]


def test_a_job_sent_back_without_a_reason_says_so():
    back = decided("j", 1, "sent_back")
    [line] = job_lines([made("j", opened(ME), handed_in(ME), back)])

    assert line_words(line)[1] == "The lead gave no reason."


def test_work_that_no_shop_has_yet_is_of_the_person_whose_phone_it_is_on():
    begun = made("j", opened(OTHER), reading(None))

    assert hands_of(begun) == [OTHER, ""]
    assert day(vehicle(begun)) == {"going_on": ["j"]}
    assert state_lines(vehicle(begun), NAMES) == ["job open by Luis Ortega and you"]


def test_what_is_pending_accepted_or_of_others_waits_for_nobody_here():
    pending = made("j-1", opened(ME), handed_in(ME))
    accepted = made("j-2", opened(ME), handed_in(ME), decided("j-2", 1, "accepted"))
    others = made("j-3", opened(OTHER), reading(OTHER))
    plow = vehicle(pending, accepted, others)

    assert day(plow) == {}
    assert state_lines(plow, NAMES) == [
        "pending review by you",
        "job open by Luis Ortega",
    ]


def test_the_photos_that_stand_in_an_open_job_are_named():
    photos = [("photo", {"sha256": name * 32, "of": "weld"}, OTHER) for name in ("ab", "cd")]
    strike = ("strike", {"target": "j-1", "reason": "blurred"}, OTHER)
    going_on = made("j", opened(OTHER), *photos, strike)
    pending = made("j-2", opened(ME), photos[0], handed_in(ME))

    assert [line["photos"] for line in job_lines([going_on, pending])] == [["cd" * 32], []]


def test_a_second_reading_waits_for_everybody_but_those_who_took_the_first():
    first = made("j-1", opened(OTHER), reading(OTHER), handed_in(OTHER))
    asked = made("j-2", opened(LEAD, second_of="j-1"))
    plow = vehicle(first, asked)

    assert day(plow) == {"second": ["j-2"]}
    assert day(plow, person=OTHER) == {}
    assert "second reading to take" in state_lines(plow, NAMES)


def test_a_second_reading_that_somebody_began_goes_on_with_them():
    first = made("j-1", opened(OTHER), reading(OTHER), handed_in(OTHER))
    begun = made("j-2", opened(LEAD, second_of="j-1"), reading(ME))
    plow = vehicle(first, begun)

    assert day(plow) == {"going_on": ["j-2"]}
    assert day(plow, person="p-third") == {}


def due(date, distance=None, what="recheck"):
    asked = {"date": date, "distance": distance, "unit": "mi", "job": "j-9", "since": ""}
    return {"axle": "front", "what": what, **asked}


def test_what_is_due_by_today_stands_the_oldest_first():
    rows = [due("2026-11-30"), due("2026-12-01"), due("2026-10-02", what="remeasure")]
    plow = vehicle(due=[*rows, due(None, 500)])

    [section] = day_sections([plow], ME, TODAY)

    assert (section["section"], [line["date"] for line in section["lines"]]) == (
        "due",
        ["2026-10-02", "2026-11-30"],
    )
    assert line_words(section["lines"][0]) == ["Measure the front axle again on 2026-10-02."]


def test_what_is_due_by_distance_says_how_far():
    says = due_sentence(due("2027-01-14", 500)).replace("\u202f", " ")

    assert says == "Check the bolts of the front axle again after 500 mi or on 2027-01-14."


def test_a_list_shows_an_offset_in_the_vehicles_unit_alone():
    shown = [offset_words(*each).replace("\u202f", " ") for each in [(5.4, "in"), (-5.4, "mm")]]

    assert shown == ["≈ 7/32 in to the left", "5.4 mm to the right"]
    assert offset_words(0.0, "in") == "in the middle"


def test_a_list_shows_when_a_vehicle_was_measured():
    assert measured_words(None) == "not measured yet"
    assert measured_words({"at": "2026-09-29", "round": "as_left"}) == (
        "measured 2026-09-29, as left"
    )
