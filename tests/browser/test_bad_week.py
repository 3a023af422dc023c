"""A bad week in short; `python tests/browser/run_bad_week.py` lives through a long one."""

import os

import pytest
from week import bad_week, survived

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(not hasattr(os, "killpg"), reason="Process groups are killed by POSIX."),
]


@pytest.mark.parametrize(("seed", "actions"), [(1, 40), (4, 40)])
def test_after_a_bad_week_everything_that_was_kept_is_in_the_log_once_or_still_shown(
    playwright, seed, actions
):
    found = bad_week(seed, actions, playwright)

    assert survived(found), found
    assert found["kept"] > actions / 2
    assert found["photos"] > 0
    assert found["outstanding"] == 0, found["held"]
    assert all(words.startswith("Everything is at the shop.") for words in found["screens"])
