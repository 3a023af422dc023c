"""A short storm of generated entries; the long one is a command, tests/kit/storm.py."""

from kit.storm import Storm


def test_f68_whatever_is_sent_is_answered_and_every_page_still_answers(tmp_path):
    storm = Storm(tmp_path / "shop", seed=7)

    try:
        storm.blow(400)
    finally:
        storm.close()

    assert storm.verdicts["stored"] > 50
    assert storm.verdicts["refused"] > 50
    assert storm.pages > 100
