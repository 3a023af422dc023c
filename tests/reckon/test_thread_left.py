"""Thread left in an adjuster: no advice goes past it, and it follows the turns that are logged."""

import pytest
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.log.links_of_round import bar_of, link_of
from webapp.reckon.sentences.adjuster_words import adjuster_words
from webapp.reckon.sentences.link_answer import link_answer
from webapp.reckon.terms import said

ONE = {"kind": "one_end", "pitch": 1.5875, "step": 0.5}
BOTH = {"kind": "both_ends", "pitch": 1.5, "step": 0}


def with_bar(**adjuster):
    return assess(changed(SAMPLE, track_bar={"adjuster": {**ONE, **adjuster}}))


def codes(found):
    return [each["code"] for each in found["advice"]["reasons"]]


def rows(found):
    return {row["name"]: row["shows"] for row in found["numbers"]}


def test_turns_within_the_thread_are_advised_with_what_is_left_then():
    found = with_bar(thread_left=9.0)

    assert found["bar_change"]["turns"] == 3.5
    assert found["bar_change"]["thread_then"] == [pytest.approx(9.0 - 3.5 * 1.5875)]
    assert found["advice"]["state"] == "adjust"
    assert rows(found)["Thread left then"] == "3.4\u202fmm"


def test_turns_past_the_thread_are_held_and_it_is_said_how_far_it_goes():
    found = with_bar(thread_left=4.0)

    assert codes(found) == ["thread_left"]
    assert found["says"] == (
        "Do not adjust yet. The track bar's adjuster has 4.0\u202fmm of thread left. That is not"
        " enough, and it must never come out further. Ask the lead: another track bar or another"
        " mount is needed."
    )
    assert "Thread left then" not in rows(found)


def test_of_two_ends_the_shorter_one_decides_and_each_takes_half():
    assert codes(with_bar(**BOTH, thread_left=[3.0, 3.0])) == []
    assert codes(with_bar(**BOTH, thread_left=[3.0, 2.0])) == ["thread_left"]
    assert (
        "3.0\u202fmm of thread left at the frame end, no thread left at the axle end"
        in (with_bar(**BOTH, thread_left=[3.0, 0])["says"])
    )


def test_an_adjuster_that_is_all_the_way_out_has_no_thread_left():
    assert "The track bar's adjuster has no thread left." in with_bar(thread_left=0)["says"]


def test_a_bar_that_is_made_shorter_needs_no_thread():
    sheet = changed(SAMPLE, centering={"left": SAMPLE["centering"]["right"]})
    sheet = changed(sheet, centering={"right": SAMPLE["centering"]["left"]})
    found = assess(changed(sheet, track_bar={"adjuster": {**ONE, "thread_left": 0}}))

    assert found["bar_change"]["turns"] < 0
    assert found["advice"]["state"] == "adjust"


def test_a_drag_link_is_never_advised_past_its_thread_to_center_the_wheel_either():
    centered = {"left": [204.0, 204.0], "right": [204.0, 204.0]}
    link = {"adjuster": {**BOTH, "thread_left": [0.2, 8.0]}}
    sheet = changed(SAMPLE, centering=centered, drag_link=link)

    turned = [assess({**sheet, "steering": {"wheel_deg": deg}}) for deg in (30, -30)]

    held = [found for found in turned if codes(found) == ["thread_left"]]
    assert len(held) == 1
    assert held[0]["steering"]["turns"] > 0
    assert "Make the drag link" not in said(link_answer(held[0], "mm"))


def change(what, longer=None, round_name="as_left"):
    body = {"what": what} if longer is None else {"what": what, "length_change": longer}
    return {"kind": "change", "round": round_name, "body": body}


@pytest.mark.parametrize(
    ("made", "left"),
    [
        ([], 9.0),
        ([change("bar_turned", 4.0)], 5.0),
        ([change("bar_turned", 4.0), change("bar_turned", -1.5)], 6.5),
        ([change("bar_turned", 12.0)], 0.0),
        ([change("bar_replaced", 4.0)], None),
        ([change("bar_turned")], None),
        ([change("link_turned", 4.0)], 9.0),
    ],
)
def test_the_thread_left_follows_the_turns_that_are_logged(made, left):
    filed = {"length": 862.0, "adjuster": {**ONE, "thread_left": 9.0}}

    bar = bar_of(made, "recheck", filed)

    assert bar["adjuster"].get("thread_left") == left
    assert filed["adjuster"]["thread_left"] == 9.0


def test_both_ends_of_a_link_give_half_of_a_turn_each():
    filed = {"adjuster": {**BOTH, "thread_left": [9.0, 7.0]}}

    link = link_of([change("link_turned", 4.0)], "recheck", filed)

    assert link["adjuster"]["thread_left"] == [7.0, 5.0]


def test_an_adjuster_says_what_thread_is_left():
    assert adjuster_words({**ONE, "thread_left": 12.0}, "mm").endswith(
        ", 12.0\u202fmm of thread left"
    )
    both = adjuster_words({**BOTH, "thread_left": [12.7, 6.35]}, "in")
    assert "1/2\u202fin (12.7\u202fmm) of thread left at the frame end, 1/4\u202fin (6.4" in both


def test_a_thread_as_typed_and_one_that_no_adjuster_holds():
    sheet = {
        **changed(SAMPLE, track_bar={"adjuster": {**ONE, "thread_left": "3/8"}}),
        "units": "in",
    }

    assert assess(sheet)["bar_change"]["thread_left"] == [pytest.approx(9.525)]
    assert [ask["field"] for ask in with_bar(thread_left=[9.0, 365.0])["asks"]] == [
        "track_bar.adjuster.thread_left"
    ]
