"""The walk leads through what a job was opened for, and through what was begun or sent back."""

import pytest

from webapp.reckon.log.fold import fold_job
from webapp.reckon.sentences.entry_words import entry_sentence
from webapp.reckon.step_names import SCOPES, STEP_TITLES
from webapp.reckon.walk.missing import missing
from webapp.reckon.walk.steps import next_after, places, wanted_in


def job(scope, *, axle="front", decision=None):
    body = {"axle": axle, "round": "as_found", "about": "", "scope": scope}
    opened = {"id": "1", "kind": "job", "job": "J", "vehicle": "V", "round": "as_found"}
    folded = fold_job([{**opened, "seq": 1, "body": body}])
    return folded if decision is None else {**folded, "state": "sent_back", "decision": decision}


def walk(folded, *, sheet=None, round_name="as_found", asked=()):
    """The steps to which Next leads from the first one."""
    found = places(sheet or {}, folded["state"])
    wanted = wanted_in(folded, round_name, list(asked))
    steps = ["heights"]
    while steps[-1] != "hand_in":
        steps.append(next_after(found, steps[-1], wanted)["step"])
    return steps


def test_just_centering_goes_from_the_answer_to_the_hand_in():
    assert walk(job("centering")) == ["heights", "centering", "hand_in"]
    assert [each["step"] for each in missing({}, [], "centering")].count("track_bar") == 0
    assert "track_bar" in [each["step"] for each in missing({}, [], "whole")]


def test_a_whole_job_goes_through_every_step_once():
    assert walk(job("whole")) == [step for step in STEP_TITLES if step != "change"]
    assert "drag_link" not in walk(job("whole", axle="rear"))
    again = ["heights", "centering", "track_bar", "torque", "hand_in"]
    assert walk(job("whole"), round_name="as_left") == again


def test_a_recheck_asks_for_the_bolts_and_for_what_stands_open():
    assert walk(job("recheck")) == ["heights", "centering", "torque", "hand_in"]
    open_too = walk(job("recheck"), asked=["play", "job"])
    assert open_too == ["heights", "centering", "play", "torque", "hand_in"]


def test_what_was_begun_is_gone_to_in_every_scope():
    begun = {"drag_link": {"length": 905}}
    assert "drag_link" in walk(job("centering"), sheet=begun)


def test_what_was_sent_back_leads_to_the_step_that_the_lead_named():
    named = {
        "body": {"step": "play", "reason": "Rock the frame end again.", "verdict": "sent_back"}
    }
    assert walk(job("whole", decision=named)) == ["heights", "play", "hand_in"]
    unnamed = {"body": {"reason": "Again.", "verdict": "sent_back"}}
    assert walk(job("centering", decision=unnamed)) == ["heights", "centering", "hand_in"]


def test_a_job_of_no_scope_goes_as_far_as_a_plain_check():
    assert walk(job(None)) == ["heights", "centering", "track_bar", "hand_in"]


@pytest.mark.parametrize("scope", sorted(SCOPES))
def test_the_opening_says_its_scope(scope):
    entry = {"kind": "job", "body": {"axle": "front", "round": "as_found", "scope": scope}}
    assert SCOPES[scope] in entry_sentence(entry, None, "mm")
