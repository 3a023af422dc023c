"""Steering ratios as people write them."""

import pytest

from webapp.reckon.sentences.typed_answers import says_of
from webapp.reckon.typed.ratios import parse_ratio


@pytest.mark.parametrize(
    ("text", "ratio"),
    [("18", 18), ("17,5", 17.5), ("18 : 1", 18), ("20.4:1", 20.4), ("18 to 1", 18), ("18/1", 18)],
)
def test_a_ratio_is_read_as_it_is_written(text, ratio):
    assert parse_ratio(text) == {"ok": True, "value": ratio}


def test_a_ratio_written_the_other_way_round_is_asked_back():
    assert parse_ratio("1:18")["choices"] == [{"text": "18:1", "value": 18}]


@pytest.mark.parametrize(
    "text", ["", "x", "0.5", "200", "-18", "1.2.3", ":1", "1 8", "18:2", "1:x"]
)
def test_what_is_no_ratio_is_refused(text):
    assert "such as 18" in says_of(parse_ratio(text))
