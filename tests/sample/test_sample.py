"""The sample shop: the same each time, in every state, and true to its own geometry."""

import uuid
from collections import Counter, defaultdict
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from kit.entries import stored_ids

from webapp import sample
from webapp.reckon.assess import assess
from webapp.reckon.limits import fold_limits
from webapp.reckon.log.fold import fold_job, fold_vehicle, record_at
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.reckon.typed.lengths import parse_length
from webapp.sample import geometry
from webapp.sample.drag_links import DRAG_LINKS, link_on_file
from webapp.sample.people import DESKS, PEOPLE, PHONES
from webapp.sample.record import bar_on_file
from webapp.sample.tape import HALF_MILLIMETERS, MILLIMETERS, SIXTEENTHS, nearest
from webapp.sample.vehicles import BY_KEY, VEHICLES
from webapp.sample.year import YEAR
from webapp.shoplog import ShopLog

PHONE_IDS = {
    key: str(uuid.UUID(int=number, version=4)) for number, key in enumerate([*PHONES, *DESKS], 1)
}
DELIBERATE = {"misread", "hanging", "loose"}


class Year:
    """The sample's entries as the log would number them, folded for the tests."""

    def __init__(self):
        self.batches = sample.entries(PHONE_IDS)
        self.entries = [entry for _, batch in self.batches for entry in batch]
        self.jobs = defaultdict(list)
        self.filed = defaultdict(list)
        for seq, entry in enumerate(self.entries, 1):
            entry["seq"] = seq
            if entry["job"]:
                self.jobs[entry["job"]].append(entry)
            elif entry["vehicle"]:
                self.filed[entry["vehicle"]].append(entry)
        self.names = {key: fold_vehicle(filed)["name"] for key, filed in self.filed.items()}

    def done(self):
        """Every job as (its story, its entries, the job folded)."""
        by_start = {(story.starts[:10], BY_KEY[story.vehicle].name): story for story in YEAR}
        for entries in self.jobs.values():
            day, name = entries[0]["made_at"][:10], self.names[entries[0]["vehicle"]]
            yield by_start[day, name], entries, fold_job(entries)

    def findings(self, entries, round_name):
        """What the arithmetic says of one round of a job."""
        job = fold_job(entries)
        record = record_at(self.filed[job["vehicle"]], job)
        return assess(sheet_for(entries, round_name, record, fold_limits(self.entries)))

    def of(self, oddity):
        """The jobs whose story has this oddity, as `done` gives them."""
        return [each for each in self.done() if oddity in each[0].odd]


@pytest.fixture(scope="module")
def year():
    return Year()


@pytest.fixture(scope="module")
def rounds(year):
    """Every finished round: (story, its name, true offset in mm, its findings)."""
    found = []
    states = {vehicle.key: geometry.as_built(vehicle) for vehicle in VEHICLES}
    for story, entries, job in year.done():
        state = geometry.changed(states[story.vehicle], **story.since)
        for name in job["rounds"]:
            state = after_changes(state, entries, name)
            findings = year.findings(entries, name)
            if findings.get("centering", {}).get("offset") is not None:
                found.append((story, name, geometry.offset(state), findings))
        states[story.vehicle] = state
    return found


def after_changes(state, entries, round_name):
    """The vehicle after the changes that were logged at the start of a round."""
    for entry in entries:
        if entry["kind"] == "change" and entry["round"] == round_name:
            bar, bracket = entry["body"].get("length_change", 0), entry["body"].get("moved", 0)
            state = geometry.changed(state, bar=bar, bracket=bracket)
    return state


def readings(entries):
    return [entry for entry in entries if entry["kind"] == "reading"]


def test_two_runs_give_the_same_entries():
    assert sample.entries(PHONE_IDS) == sample.entries(PHONE_IDS)


def test_no_id_is_used_twice(year):
    ids = [entry["id"] for entry in year.entries]
    assert len(set(ids)) == len(ids)
    assert all(uuid.UUID(each).version == 4 for each in ids)


def test_each_phone_numbers_its_entries_without_a_gap(year):
    numbers = defaultdict(list)
    for entry in year.entries:
        numbers[entry["phone"]].append(entry["local_no"])
    assert set(numbers) == set(PHONE_IDS.values())
    for told in numbers.values():
        assert told == list(range(1, len(told) + 1))


def test_no_phone_writes_two_entries_at_once(year):
    made = defaultdict(list)
    for entry in year.entries:
        made[entry["phone"]].append(datetime.fromisoformat(entry["made_at"]))
    for times in made.values():
        assert all(earlier < later for earlier, later in pairwise(times))


def test_work_is_done_in_working_hours_of_one_year(year):
    for entry in year.entries:
        made = datetime.fromisoformat(entry["made_at"])
        assert made.weekday() < 5 and 7 <= made.hour < 18
        assert made.utcoffset() == timedelta(hours=-5)
        assert "2025-11-20" <= entry["made_at"][:10] <= sample.LAST_DAY


def test_the_shop_has_vehicles_of_every_sort(year):
    records = [fold_vehicle(filed) for filed in year.filed.values()]
    assert len(records) >= 14
    assert all(len(record["tags"]) == 1 for record in records)
    assert {record["driving_side"] for record in records} == {"left"}
    assert {record["units"] for record in records} == {"in", "mm"}
    assert {record["axles"][0] for record in records} == {"front", "rear"}
    bars = [bar for record in records for bar in record["track_bars"].values()]
    assert {bar["frame_end"] for bar in bars} == {"left", "right"}
    assert {bar["adjuster"]["kind"] for bar in bars} == {"one_end", "both_ends", "fixed"}


def test_jobs_stand_in_every_state(year):
    states = Counter(job["state"] for _, _, job in year.done())
    assert states == {"accepted": 44, "pending": 5, "open": 3, "sent_back": 1}
    assert all(job["state"] == story.ends for story, _, job in year.done())


def test_most_changed_axles_were_measured_as_found_and_as_left(year):
    both = [job for _, _, job in year.done() if {"as_found", "as_left"} <= set(job["rounds"])]
    assert len(both) >= 18
    rounds = {name for _, _, job in year.done() for name in job["rounds"]}
    assert rounds == {"as_found", "fit_up", "as_left", "recheck"}


def test_texts_say_what_the_values_are(year):
    for entry in readings(year.entries):
        read = parse_length(entry["typed"], entry["body"]["unit"])
        assert read["ok"], entry["typed"]
        assert read["value"] == pytest.approx(entry["body"]["value"], abs=1e-9)


def test_readings_lie_on_the_marks_of_their_tape(year):
    for entry in readings(year.entries):
        marks = entry["body"]["value"] / entry["body"]["read_to"]
        assert marks == pytest.approx(round(marks), abs=1e-6)


def test_lengths_are_written_in_several_hands(year):
    typed = " / ".join(entry["typed"] for entry in readings(year.entries))
    assert all(sign in typed for sign in ("-", '"', "cm", "mm", ","))


@pytest.mark.parametrize(
    ("tape", "length", "hand", "typed", "value"),
    [
        (SIXTEENTHS, 214.2, "plain", "8 7/16", 214.3125),
        (SIXTEENTHS, 214.2, "dash", "8-7/16", 214.3125),
        (SIXTEENTHS, 214.2, "mark", '8 7/16"', 214.3125),
        (SIXTEENTHS, 203.0, "plain", "8", 203.2),
        (SIXTEENTHS, 19.2, "dash", "3/4", 19.05),
        (MILLIMETERS, 214.2, "plain", "214", 214.0),
        (MILLIMETERS, 214.2, "mark", "21.4 cm", 214.0),
        (HALF_MILLIMETERS, 214.4, "named", "214,5 mm", 214.5),
    ],
)
def test_a_tape_is_read_to_its_nearest_mark(tape, length, hand, typed, value):
    mark = nearest(tape, length, hand)
    assert mark.typed == typed
    assert mark.value == pytest.approx(value)


def test_every_sheet_can_be_read(rounds):
    assert [findings["faults"] for *_, findings in rounds if "faults" in findings] == []


def test_what_the_tapes_find_lies_near_the_truth(rounds):
    """The offset lies within its expanded uncertainty and a mark of the truth; most within U."""
    within = []
    for story, name, offset, findings in rounds:
        if name != story.first or not DELIBERATE & set(story.odd):
            found = findings["centering"]
            error = abs(found["offset"] - offset)
            assert error <= found["expanded"] + BY_KEY[story.vehicle].tape.read_to, story
            within.append(error <= found["expanded"])
    assert sum(within) >= 0.95 * len(within)


def test_the_sum_of_the_sides_stays_the_vehicles_own(rounds):
    sums = [
        (story, findings["centering"])
        for story, _, _, findings in rounds
        if "misread" not in story.odd
    ]
    states = Counter(found["sum_state"] for _, found in sums)
    assert states["differs"] == 0
    assert states["agrees"] > states["unknown"]
    for story, found in sums:
        vehicle = BY_KEY[story.vehicle]
        face = "rotor" if "on_stands" in story.odd else vehicle.face
        assert found["sum"] == pytest.approx(vehicle.faces[face] - vehicle.rail_width, abs=3)


def test_changed_axles_are_left_inside(rounds):
    left = [findings["centering"]["state"] for _, name, _, findings in rounds if name == "as_left"]
    assert left.count("inside") == len(left)


def test_bars_are_turned_as_the_arithmetic_advises(year):
    turned = 0
    for _, entries, job in year.done():
        for entry in entries:
            if entry["kind"] == "change" and entry["body"]["what"] == "bar_turned":
                before = job["rounds"][job["rounds"].index(entry["round"]) - 1]
                advice = year.findings(entries, before)["bar_change"]
                assert entry["body"]["turns"] == pytest.approx(advice["exact_turns"], abs=0.3)
                turned += 1
    assert turned >= 15


def test_one_vehicle_drifts_as_its_springs_sag(year, rounds):
    drift = [
        (truth_now, findings["centering"])
        for story, name, truth_now, findings in rounds
        if story.vehicle == "fence_d5" and name == "as_found"
    ]
    assert len(drift) == 5
    assert all(earlier[0] > later[0] for earlier, later in pairwise(drift))
    assert [found["state"] for _, found in drift] == ["inside"] * 3 + ["too_close", "outside"]


def test_a_sagging_spring_moves_the_axle_away_from_the_frame_end():
    before = geometry.as_built(BY_KEY["fence_d5"])
    after = geometry.changed(before, sag=10)
    assert geometry.heights(after)["left"] == geometry.heights(before)["left"] - 10
    assert geometry.rise(after) == geometry.rise(before) - 10
    assert geometry.offset(before) - geometry.offset(after) == pytest.approx(1.92, abs=0.1)


def test_a_bar_changed_to_center_the_axle_centers_it():
    for vehicle in VEHICLES:
        state = geometry.as_built(vehicle)
        change = geometry.change_to_move(state, -geometry.offset(state))
        assert geometry.offset(geometry.changed(state, bar=change)) == pytest.approx(0, abs=1e-9)


def test_a_misread_tape_shows_in_the_sum(year):
    [(_, entries, _)] = year.of("misread")
    found = year.findings(entries, "as_found")["centering"]
    assert found["sum_state"] == "differs"
    assert "1 in mark" in found["sum_hint"]


def test_a_misread_tape_was_noticed_struck_and_read_again(year):
    [(_, entries, _)] = year.of("misread_struck")
    struck = {e["body"]["target"]: e["body"]["reason"] for e in entries if e["kind"] == "strike"}
    wrong = [e["body"]["value"] for e in readings(entries) if e["id"] in struck]
    right = year.findings(entries, "as_found")["centering"]["right"]
    assert wrong == [pytest.approx(right + 25.4, abs=1.6)] * 2
    assert set(struck.values()) == {"Tape started at the 1 in mark."}


def test_other_readings_were_struck_with_a_reason(year):
    for _, entries, _ in year.of("struck"):
        assert [e["body"]["reason"] for e in entries if e["kind"] == "strike"] != []


def test_play_does_not_repeat_until_the_bush_is_replaced(year):
    [(_, entries, _)] = year.of("loose")
    assert "does not repeat" in " ".join(year.findings(entries, "as_found")["why"])
    assert "does not repeat" not in " ".join(year.findings(entries, "as_left")["why"])


def test_only_play_does_not_repeat(rounds):
    told = [story.vehicle for story, _, _, found in rounds if "not repeat" in str(found["why"])]
    assert told == ["beach_b1"]


def test_a_hanging_axle_gets_no_verdict(year):
    [(_, entries, job)] = year.of("hanging")
    assert year.findings(entries, "as_found")["centering"]["state"] == "no_verdict"
    assert job["hand_in"]["body"]["missing"] and job["hand_in"]["body"]["reason"]


def test_an_incomplete_job_was_handed_in_with_a_reason(year):
    [(_, entries, job)] = year.of("short")
    assert year.findings(entries, "as_found")["centering"]["state"] == "incomplete"
    assert job["hand_in"]["body"]["missing"] and job["hand_in"]["body"]["reason"]


def test_one_job_was_measured_on_stands_at_the_rotor(year):
    [(_, entries, _)] = year.of("on_stands")
    picks = {e["body"]["field"]: e["body"]["value"] for e in entries if e["kind"] == "pick"}
    assert picks["standing"] == "on_stands_loaded"
    assert picks["face"] == "rotor"


def test_one_pending_job_is_too_close_to_call(rounds):
    close = [
        story.vehicle
        for story, _, _, findings in rounds
        if story.ends == "pending" and findings["centering"]["state"] == "too_close"
    ]
    assert close == ["tower_m1"]


def test_a_forgotten_tick_was_sent_back_set_and_accepted(year):
    [(_, entries, job)] = year.of("load_forgotten")
    told = [e["body"]["verdict"] for e in entries if e["kind"] == "decision"]
    assert told == ["sent_back", "accepted"]
    assert year.findings(entries, "as_found")["centering"]["state"] == "inside"
    assert job["state"] == "accepted"


def test_the_log_takes_every_entry_of_the_sample(tmp_path):
    log = ShopLog(tmp_path)
    try:
        sample.load(log)
        assert len(stored_ids(log)) == len(Year().entries)
        assert log.check() == []
        assert Counter(job["state"] for job in log.jobs())["accepted"] == 44
        assert {person["name"] for person in log.people()} == {each.name for each in PEOPLE}
        assert Counter(phone["kind"] for phone in log.phones()) == {"phone": 4, "desk": 2}
    finally:
        log.close()


def test_a_filled_log_is_not_filled_again(tmp_path):
    log = ShopLog(tmp_path)
    try:
        sample.load(log)
        with pytest.raises(ValueError, match="empty log"):
            sample.load(log)
        assert len(log.people()) == len(PEOPLE)
    finally:
        log.close()


def test_drag_links_lie_as_their_bars_do_but_for_the_raised_bracket():
    """Every link reaches; only the vehicle with the bracket alone raised steers on bumps."""
    for key in DRAG_LINKS:
        vehicle = BY_KEY[key]
        found = assess({"track_bar": bar_on_file(vehicle), "drag_link": link_on_file(key)})["steer"]
        assert found["state"] == "known", key
        assert (abs(found["mismatch_deg"]) > 3) == (key == "beach_b1"), key
        assert (abs(found["worst_deg"]) > 1) == (key == "beach_b1"), key
