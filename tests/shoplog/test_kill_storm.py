"""A short storm of kills, restores and wrong clocks; the long one is tests/kit/kill_storm.py."""

from kit.kill_storm import KillStorm


def test_f45_nothing_is_lost_through_kills_restores_and_clocks_that_jump(tmp_path):
    storm = KillStorm(tmp_path, seed=3)

    storm.blow(entries=400, kills=26)
    left = storm.calm()

    assert left["acknowledged"] >= 400
    assert left["restores"] == 2
    assert left["lives with a wrong clock"] > 5
    assert left["found by the check"] == []
    assert [left[each] for each in ("lost", "doubled", "changed")] == [0, 0, 0]
    assert left["epochs that did not rise"] == 0
