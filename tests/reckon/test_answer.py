"""The answer in words: each names side, direction, amount and what to do."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.sentences.answer import before_after
from webapp.reckon.terms import joined, plus_minus, said, toward, turns_words, way_of

BOTH_ENDS = {"kind": "both_ends", "pitch": 1.5, "step": 0}
BAR_ONLY = changed(SAMPLE, drag_link=None, play=None, clearance=None, toe=None, wheelbase=None)


def plain(text):
    """Without the thin blanks, as tests are read."""
    return text.replace("\u202f", " ")


def says(**parts):
    return plain(assess(changed(BAR_ONLY, **parts))["says"])


def test_the_answer_names_offset_change_turns_and_what_is_left():
    assert says() == (
        "The axle sits 5.4 mm to the left. Make the track bar 5.3 mm longer: 3 1/2 turns out."
        " The axle will then sit 0.3 mm to the right."
    )


def test_the_answer_in_inches_keeps_the_millimeters():
    assert says(units="in") == (
        "The axle sits ≈ 7/32 in (5.4 mm) to the left. Make the track bar ≈ 7/32 in (5.3 mm)"
        " longer: 3 1/2 turns out. The axle will then sit less than 1/32 in (0.3 mm) to the right."
    )


ANSWERS = [
    (
        {"centering": {"left": [204, 204], "right": [203.2, 204]}},
        "The axle sits 0.2 mm to the left, inside the limit of 3 mm. Leave the track bar as it is.",
    ),
    (
        {"centering": {"left": [203.6, 203.6]}},
        "The axle sits in the middle, inside the limit of 3 mm. Leave the track bar as it is.",
    ),
    (
        {"track_bar": None},
        "The axle sits 5.4 mm to the left. Enter the track bar to find out what to change.",
    ),
    (
        {"track_bar": {"length": None}},
        "The axle sits 5.4 mm to the left. The track bar needs its length from eye to eye.",
    ),
    (
        {"track_bar": {"adjuster": None}},
        "The axle sits 5.4 mm to the left. Make the track bar 5.3 mm longer."
        " Enter the adjuster and its thread to get the turns.",
    ),
    (
        {"track_bar": {"adjuster": {"kind": "fixed"}}},
        "The axle sits 5.4 mm to the left. This bar cannot be adjusted. It would have to be 5.3 mm"
        " longer, or its frame-end hole 5.4 mm further right. Ask the lead before any metal is"
        " cut.",
    ),
    (
        {"track_bar": {"frame_end": "right", "adjuster": {"kind": "fixed"}}},
        "The axle sits 5.4 mm to the left. This bar cannot be adjusted. It would have to be 5.3 mm"
        " shorter, or its frame-end hole 5.4 mm further right. Ask the lead before any metal is"
        " cut.",
    ),
    (
        {"track_bar": {"frame_end": "right"}},
        "The axle sits 5.4 mm to the left. Make the track bar 5.3 mm shorter: 3 1/2 turns in."
        " The axle will then sit 0.3 mm to the right.",
    ),
    (
        {"track_bar": {"frame_end": "right", "adjuster": None}},
        "The axle sits 5.4 mm to the left. Make the track bar 5.3 mm shorter."
        " Enter the adjuster and its thread to get the turns.",
    ),
    (
        {
            "track_bar": {"adjuster": {"kind": "one_end", "pitch": 25, "step": 1}},
            "confirmed": ["implausible"],
        },
        "The axle sits 5.4 mm to the left."
        " The adjuster's smallest step would move it further than that: leave the bar as it is,"
        " and ask the lead.",
    ),
    ({"standing": "hanging"}, "No verdict. The axle was hanging. At ride height the bar holds it"),
    ({"centering": {"left": [214]}}, "Take a second reading on the left."),
    (
        {"centering": {"known_sum": 392.6}},
        "Do not adjust yet. The sides add up to 25.3 mm more than before. One tape may have been"
        " started at the 1 in mark. Measure both sides again.",
    ),
    (
        {"centering": {"left": [210, 210.4]}},
        "The axle sits 3.3 mm to the left, too close to the limit of 3 mm to call."
        " It sits on the limit: no tape will settle that. Centering it does, or the lead decides."
        " Make the track bar 3.3 mm longer: 2 turns out. The axle will then sit 0.1 mm to the"
        " left.",
    ),
]


@pytest.mark.parametrize(("parts", "sentence"), ANSWERS)
def test_the_answer_names_side_amount_and_what_to_do(parts, sentence):
    assert says(**parts).startswith(sentence)


def test_strong_numbers_stand_between_plain_text():
    assert assess(BAR_ONLY)["answer"][1] == "5.4\u202fmm to the left"
    assert assess(BAR_ONLY)["answer"][3] == "5.3\u202fmm longer: 3 1/2 turns out"


@given(st.sampled_from(ANSWERS))
def test_an_answer_begins_and_ends_with_plain_text(drawn):
    assert len(assess(changed(BAR_ONLY, **drawn[0]))["answer"]) % 2 == 1


def test_the_numbers_behind_the_answer():
    rows = assess(changed(BAR_ONLY, track_bar={"frame_end_from_center": 420}))["numbers"]

    assert [[plain(each["name"]), plain(each["shows"])] for each in rows][:9] == [
        ["Sides differ by", "10.7 mm, left"],
        ["Offset", "5.4 ± 1.0 mm, left"],
        ["Sum of the sides", "417.9 mm, none known yet"],
        ["Bar length change", "+5.3 ± 1.0 mm"],
        ["Turns", "3 1/2 turns out (exactly 3.34)"],
        ["Offset then", "0.3 mm to the right"],
        ["Bar angle", "7.6°"],
        ["Shift at full bump", "6.9 mm to the right"],
        ["Shift at full droop", "19.4 mm to the left"],
    ]


def test_numbers_that_are_not_known_have_no_row():
    rows = assess(
        changed(
            BAR_ONLY,
            centering={"left": [203.6, 203.6]},
            track_bar={"bump": None, "adjuster": None},
        )
    )["numbers"]

    assert rows[0]["shows"] == "0.0\u202fmm"
    assert [each["name"] for each in rows][3:] == ["Bar angle"]
    assert assess({"centering": {}})["numbers"] == []


def test_no_change_is_listed_on_sides_whose_sum_differs():
    found = assess(changed(BAR_ONLY, centering={"known_sum": 440.0, "known_sum_u": 0.5}))

    assert found["centering"]["sum_state"] == "differs"
    assert "Bar length change" not in [each["name"] for each in found["numbers"]]


def test_a_change_of_no_turns_has_no_row():
    found = assess(changed(BAR_ONLY, centering={"left": [203.7, 203.7]}))

    assert found["bar_change"]["turns"] == 0
    assert "Turns" not in [each["name"] for each in found["numbers"]]


def test_the_sentences_behind_the_answer_tell_how_it_was_reckoned():
    why = plain(" ".join(assess(changed(BAR_ONLY, centering={"left_extra": 2}))["why"]))

    assert "Left: 2 readings from the rotor face, mean 214.3 mm" in why
    assert "less 2 mm for its spacer" in why
    assert "(212.30 − 203.60) / 2 = +4.35 mm, left positive" in why
    assert "good to ±1.0 mm, two standard uncertainties: tape read to 1/16 in" in why
    assert "The limit of 3 mm each way is a house limit" in why


def test_limits_that_the_sheet_leaves_out_are_as_delivered():
    assert assess(changed(BAR_ONLY, limits={"offset": None}))["centering"]["limit"] == 3.0
    assert assess(changed(BAR_ONLY, limits=None))["centering"]["limit"] == 3.0


def test_before_and_after_say_what_moved():
    before = {"centering": {"offset": 5.35}}
    after = {"centering": {"offset": -0.25}}

    assert plain(said(before_after(before, after, "mm"))) == (
        "The axle moved 5.6 mm to the right: from 5.4 mm left of center to 0.3 mm right of center."
    )
    centered = {"centering": {"offset": 0.0}}
    assert plain(said(before_after(before, centered, "mm"))).endswith("left of center to center.")
    assert said(before_after(before, before, "mm")) == "The axle did not move between the rounds."
    assert before_after({}, after, "mm") == []
    assert before_after(before, {}, "mm") == []
    assert before_after(before, {"centering": {"offset": None}}, "mm") == []


@pytest.mark.parametrize(
    ("turns", "words"),
    [
        (3.5, "3 1/2 turns"),
        (0.5, "1/2 turn"),
        (1, "1 turn"),
        (-1, "1 turn"),
        (1.5, "1 1/2 turns"),
        (-2, "2 turns"),
        (2.0162, "2.02 turns"),
        (0, "0 turns"),
    ],
)
def test_turns_are_counted_in_halves_where_they_are_halves(turns, words):
    assert turns_words(turns) == words


def test_ways_middles_and_joined_runs_have_their_words():
    assert way_of(1) == "out"
    assert way_of(-1) == "in"
    assert toward(0.02, "mm") == "in the middle"
    assert joined([], ["a"]) == ["a"]
    assert joined(["a", "b", "c"], ["d", "e", "f"]) == ["a", "b", "c d", "e", "f"]
    assert plain(plus_minus(12.7, 1, "in")) == "1/2 in ± 0.04 in (12.7 ± 1.0 mm)"


def test_readings_from_a_tire_are_rough_in_the_answer_itself():
    told = says(centering={"face": "tire"})
    assert told.startswith(
        "The axle sits 5.4 mm to the left going by the tires, which is rough. Make"
    )
    inside = says(centering={"face": "tire", "left": [204, 204], "right": [203.6, 204]})
    assert "going by the tires, which is rough, inside the limit of 3 mm" in inside


def test_a_bar_that_gets_much_longer_asks_how_much_thread_there_is_for_it():
    far = {"left": [240, 240], "right": [203.2, 204]}
    asks = "Measure first how much thread is left."
    assert asks in says(centering=far)
    assert asks not in says()
    assert asks not in says(centering=far, track_bar={"adjuster": {**BOTH_ENDS, "thread_left": 40}})
