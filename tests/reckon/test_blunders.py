"""A short count of blunders held back; `python tests/kit/blunders.py` makes the long one."""

from kit.blunders import BLUNDERS, count


def test_blunders_are_held_where_a_round_is_on_file_and_clean_jobs_are_not():
    jobs = 6
    found = count(jobs)

    clean = found.pop("clean")
    held = sum(with_file for with_file, _ in found.values())
    assert len(BLUNDERS) >= 30
    assert clean == [0, 0]
    assert held / (jobs * len(found)) >= 0.97
