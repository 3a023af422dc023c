"""What a round is held against: the last that counts, what is on file, the changes since."""

import pytest
from kit.worked_sheets import SAMPLE

from webapp.reckon.assess import assess
from webapp.reckon.limits import HOUSE_LIMITS
from webapp.reckon.log.accepted import accepted_patch
from webapp.reckon.log.fold import fold_job
from webapp.reckon.log.record_of_job import record_of_job
from webapp.reckon.log.sheet_of_round import sheet_for

BAR = SAMPLE["track_bar"]
LINK = SAMPLE["drag_link"]
FILED = {
    "kind": "vehicle", "vehicle": "v", "id": "filed", "seq": 1, "job": None,
    "body": {"track_bars": {"front": BAR}, "drag_links": {"front": LINK}},
}  # fmt: skip


class Written:
    """A job of the vehicle, written entry by entry."""

    def __init__(self, name, seq, **body):
        self.name = name
        self.seq = seq
        self.entries = []
        self.round = "as_found"
        self.add("job", {"axle": "front", "round": "as_found", "about": "", **body})

    def add(self, kind, body):
        self.seq += 1
        made = {"id": f"{self.name}{self.seq}", "kind": kind, "body": body, "seq": self.seq}
        round = None if kind in ("job", "hand_in", "decision") else self.round
        self.entries.append({**made, "vehicle": "v", "job": self.name, "round": round})
        return self

    def read(self, step, field, value):
        return self.add("reading", {"step": step, "field": field, "value": value, "read_to": 1.0})

    def measure(self, left, right=208.0, heights=(221.0, 220.0)):
        for field in ("level", "tires", "load", "settled", "straight"):
            self.add("tick", {"field": field, "value": True})
        self.add("pick", {"step": "heights", "field": "standing", "value": "on_wheels"})
        for side, value in zip(("left", "right"), heights, strict=True):
            self.read("heights", side, value)
        for side, value in (("left", left), ("right", right)):
            self.read("centering", side, value)
            self.read("centering", side, value)
        return self

    def change(self, what, **more):
        return self.add("change", {"what": what, **more})

    def hand_in(self, verdict=None):
        self.add("hand_in", {"missing": [], "reason": None})
        hand_in = self.entries[-1]["id"]
        if verdict is not None:
            self.add("decision", {"hand_in": hand_in, "verdict": verdict, "reason": "x"})
        return self

    def sheet(self, *others, filed=(FILED,)):
        job = fold_job(self.entries)
        done = [{"entries": each.entries, "job": fold_job(each.entries)} for each in others]
        record = record_of_job(list(filed), done, job, HOUSE_LIMITS)
        return sheet_for(self.entries, self.round, record, HOUSE_LIMITS)

    def codes(self, *others, filed=(FILED,)):
        advice = assess(self.sheet(*others, filed=filed))["advice"]
        return [each["code"] for each in advice["reasons"]]


def accepted_entry(job):
    """What an accepted job files, in the place of its decision."""
    folded = fold_job(job.entries)
    record = record_of_job([FILED], [], folded, HOUSE_LIMITS)
    last = sheet_for(job.entries, folded["rounds"][-1], record, HOUSE_LIMITS)
    patch = accepted_patch(job.entries, record, HOUSE_LIMITS, assess(last))
    return {**FILED, "id": f"f-{job.name}", "seq": job.seq + 1, "body": patch}


def as_left_after_turning(job, turned=6.0, left=208.2):
    job.change("bar_turned", turns=3.5, length_change=turned)
    job.round = "as_left"
    return job.measure(left, 208.0 + (214.0 - left))


def test_a_clean_job_and_its_recheck_months_later_are_not_held():
    job = Written("a", 10).measure(214.0)
    assert job.codes() == []
    as_left_after_turning(job)

    assert job.codes() == []
    assert job.sheet()["before"]["of"] == "this_job"
    assert job.sheet()["before"]["length_change"] == 6.0

    job.hand_in()
    recheck = Written("b", 100).measure(209.0, 213.4, heights=(217.0, 218.0))
    assert recheck.codes(job) == []
    assert recheck.sheet(job)["before"]["of"] == "pending"


@pytest.mark.parametrize("verdict", [None, "accepted"])
def test_a_round_counts_once_its_job_is_handed_in(verdict):
    job = Written("a", 10).measure(208.2)
    later = Written("b", 100).measure(222.0, 194.2)
    assert "before" not in later.sheet(job)

    job.hand_in(verdict)
    if verdict == "accepted":
        filed = [FILED, accepted_entry(job)]
        assert later.codes(filed=filed) == ["moved_unexplained"]
        assert later.sheet(filed=filed)["before"]["of"] == "accepted"
    else:
        assert later.codes(job) == ["moved_unexplained"]
        assert later.sheet(job)["before"]["of"] == "pending"


def test_a_job_that_was_sent_back_or_handed_in_later_does_not_count():
    later = Written("b", 100).measure(222.0, 194.2)

    assert "before" not in later.sheet(Written("a", 10).measure(208.2).hand_in("sent_back"))
    assert "before" not in later.sheet(Written("a", 200).measure(208.2).hand_in())


def test_a_job_that_was_under_review_still_counts_once_it_is_accepted():
    job = Written("a", 10).measure(208.2).hand_in()
    later = Written("b", 100).measure(222.0, 194.2)
    job.seq = 200
    job.add("decision", {"hand_in": job.entries[-1]["id"], "verdict": "accepted", "reason": None})

    assert later.sheet(job, filed=[FILED, accepted_entry(job)])["before"]["of"] == "accepted"


def test_a_second_reading_is_not_held_against_the_first():
    job = Written("a", 10).measure(208.2).hand_in()

    assert "before" not in Written("b", 100, second_of="a").measure(222.0).sheet(job)


def test_what_a_job_measured_is_on_file_before_it_is_accepted_and_shown_as_such():
    job = Written("a", 10).read("track_bar", "axle_height", 530.0).measure(214.0).hand_in()
    later = Written("b", 100)

    record = record_of_job(
        [FILED],
        [{"entries": job.entries, "job": fold_job(job.entries)}],
        fold_job(later.entries),
        HOUSE_LIMITS,
    )
    assert record["track_bars"]["front"]["axle_height"] == 530.0
    assert record["unaccepted"] == {"front": "a"}
    assert record["ride_heights"]["front"] == {"left": 221.0, "right": 220.0}


def test_swapped_sides_in_the_as_left_round_are_held():
    job = as_left_after_turning(Written("a", 10).measure(214.0), left=220.0)

    assert job.codes() == ["wrong_side"]


def test_an_axle_measured_again_in_the_same_round_is_held_against_before_the_change():
    job = Written("a", 10).measure(214.0)
    job.change("bar_turned", turns=3.5, length_change=6.0)
    job.measure(220.0, 202.0)

    assert job.sheet()["before"]["length_change"] == 6.0
    assert job.codes() == ["wrong_side"]


def test_a_value_that_differs_from_the_file_is_held_until_it_is_put_right_or_confirmed():
    job = Written("a", 10).read("track_bar", "length", 826.0).measure(214.0)
    assert job.codes() == ["differs_from_file"]
    later = as_left_after_turning(
        Written("a", 10).read("track_bar", "length", 826.0).measure(214.0)
    )
    assert later.codes() == ["differs_from_file"]

    [reason] = assess(job.sheet())["advice"]["reasons"]
    said = {"code": reason["code"], "key": reason["key"], "says": reason["says"]}
    assert job.add("confirm", said).codes() == []
    assert as_left_after_turning(job).codes() == []


def test_ride_height_that_changed_without_a_change_is_held():
    job = Written("a", 10).measure(208.2, 207.8).hand_in()
    later = Written("b", 100).measure(208.2, 207.8, heights=(251.0, 250.0))

    assert "height_changed" in later.codes(job)


# 100 mm of lift draws the axle 19.4 mm along the bar's arc, from 3.0 mm left of the middle.
LIFTED = (233.4, 188.6, (321.0, 320.0))


def lifted(measure_links, then=LIFTED):
    job = Written("a", 10).measure(214.0)
    job.change("springs_changed", part="springs")
    job.round = "as_left"
    if measure_links:
        for step, frame, axle in (("track_bar", 712.0, 498.0), ("drag_link", 688.0, 521.0)):
            job.read(step, "frame_height", frame).read(step, "axle_height", axle)
    return job.measure(*then)


def test_after_a_lift_the_old_heights_of_the_links_do_not_stand():
    assert lifted(False).sheet()["older"] == ["track_bar", "drag_link"]
    assert lifted(False).codes() == ["links_older", "links_older"]
    assert lifted(True).codes() == []


def test_springs_explain_a_move_along_the_arc_and_no_other():
    """Where the axle stays in the middle over a lifted frame, something else has moved it."""
    assert lifted(True, LIFTED).codes() == []
    assert lifted(True, (212.0, 210.0, (321.0, 320.0))).codes() == ["moved_unexplained"]


def test_links_that_were_not_measured_after_a_lift_are_older_in_the_next_job_too():
    later = Written("b", 100).measure(*LIFTED)

    assert later.codes(lifted(False).hand_in()) == ["links_older", "links_older"]
    assert later.codes(lifted(True).hand_in()) == []


def test_a_change_logged_after_the_last_round_counts_for_the_next_job():
    job = Written("a", 10).measure(214.0).change("bar_turned", length_change=6.0).hand_in()
    later = Written("b", 100).measure(208.2, 213.8)

    before = later.sheet(job)["before"]
    assert (before["length_change"], before["changed"]) == (6.0, False)
    assert later.sheet(job)["changes"] == ["bar_turned"]
    assert later.codes(job) == []


def test_other_work_is_told_from_what_moves_no_axle():
    def moved_by(what):
        job = Written("a", 10).measure(214.0).change(what)
        job.round = "as_left"
        return job.measure(208.0).sheet()["before"]["changed"]

    assert moved_by("bracket_moved") is True
    assert moved_by("toe_set") is False


def test_a_job_of_another_axle_leaves_nothing_behind_here():
    rear = Written("a", 10, axle="rear").measure(208.2).hand_in()

    assert "before" not in Written("b", 100).measure(222.0).sheet(rear)
