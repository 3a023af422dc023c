"""A short count of blunders held back; `python tests/kit/blunders.py` makes the long one."""

import copy
import random

from hypothesis import given, settings
from hypothesis import strategies as st
from kit.blunders import CLEAN, KINDS, count
from kit.true_jobs import WORK, job

from webapp.reckon.assess import assess
from webapp.reckon.sheet_faults import faults


def share(found, jobs, index=0):
    return sum(each["held"][index] for each in found.values()) / (jobs * len(found))


def test_blunders_are_held_where_a_round_is_on_file():
    jobs = 4
    found = count(jobs, KINDS)

    assert len(found) >= 45
    assert share(found, jobs) >= 0.97


def test_clean_jobs_are_not_held_whatever_was_done_since_the_last_round():
    jobs = 25
    found = count(jobs, CLEAN)

    assert share(found, jobs) <= 0.03 and share(found, jobs, index=1) <= 0.03


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.sampled_from(sorted(WORK)), st.sampled_from(KINDS))
def test_every_job_with_a_blunder_is_a_sheet_that_can_be_read(seed, work, kind):
    """A blunder that the sheet's own rules refuse would not be one that got this far."""
    rng = random.Random(seed)
    sheet = job(rng, work)
    needed = kind[2] if len(kind) > 2 else None
    if needed is None or needed in sheet or needed in sheet["centering"]:
        kind[1](sheet, rng)

    assert faults(sheet) == []
    held = assess(copy.deepcopy(sheet))
    assert held["says"].startswith("Do not adjust yet") == (held["advice"]["state"] == "hold")
