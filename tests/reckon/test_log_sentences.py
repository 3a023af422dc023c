"""The log of a job reads as sentences, whoever made its entries."""

import pytest
from kit.entries import BODIES
from kit.worked_sheets import entry

from webapp.reckon.sentences.log_sentences import log_sentence
from webapp.reckon.sentences.people_words import called

NAMES = called({"p-1": {"name": "Dana Reyes"}, "p-2": {"name": "Luis Ortega"}}, "p-2")


def says(kind, body, target=None, unit="mm", person="p-1"):
    made = entry("e", kind, body, person=person)
    return log_sentence(made, target, NAMES, unit).replace("\u202f", " ")


def reading(step, field, value, **more):
    return "reading", {"step": step, "field": field, "value": value, "unit": "in", **more}


def pick(step, field, value):
    return "pick", {"step": step, "field": field, "value": value}


SAID = [
    (
        *reading("heights", "left", 212.725),
        "Dana Reyes measured a ride height of 8 3/8 in on the left.",
    ),
    (
        *reading("centering", "right", 212.725, face="rotor"),
        "Dana Reyes measured 8 3/8 in to the rotor face on the right.",
    ),
    (*reading("centering", "right", 212.725), "Dana Reyes measured 8 3/8 in on the right."),
    (
        *reading("track_bar", "axle_height", 476.25),
        "Dana Reyes measured axle-end height (track bar): 18 3/4 in.",
    ),
    (
        *reading("play", "along", 0.4, joint="frame end", of="track_bar"),
        "Dana Reyes measured track bar, frame end, movement along the bar: 0.016 in.",
    ),
    (
        *reading(
            "clearance",
            "gap",
            None,
            mark="touches",
            between=["track bar", "oil pan"],
            state="ride",
            lock="left",
        ),
        "Dana Reyes checked track bar to oil pan at ride height, left lock: touches.",
    ),
    (
        *reading("torque", "fastener", 90, fastener="jam nuts", source="shop manual", end="nut"),
        "Dana Reyes torqued the jam nuts: 90 N·m (66 lb-ft), at the nut, shop manual.",
    ),
    (
        *reading("torque", "fastener", None, fastener="jam nuts", moved=False),
        "Dana Reyes checked the jam nuts: did not move.",
    ),
    (
        *pick("heights", "standing", "on_wheels"),
        "Dana Reyes said how the vehicle stands: on its wheels.",
    ),
    (*pick("track_bar", "frame_end", "left"), "Dana Reyes entered frame end (track bar): left."),
    (
        *pick("track_bar", "carried", True),
        "Dana Reyes found the values on file still right (track bar).",
    ),
    ("tick", {"field": "level", "value": True}, "Dana Reyes checked “Floor level”."),
    ("tick", {"field": "level", "value": False}, "Dana Reyes unchecked “Floor level”."),
    ("note", {"text": "bolt was loose"}, "Dana Reyes noted: bolt was loose."),
    ("photo", {"of": "weld", "text": "left side"}, "Dana Reyes took a photo of a weld: left side."),
    ("photo", {"of": "weld"}, "Dana Reyes took a photo of a weld."),
    (
        "job",
        {"axle": "front", "round": "as_found", "about": "wanders"},
        "Dana Reyes opened the job, as found: wanders.",
    ),
    ("hand_in", {"missing": [], "reason": None}, "Dana Reyes handed the job in."),
    (
        "hand_in",
        {"missing": ["No lean."], "reason": "lift needed"},
        "Dana Reyes handed the job in: No lean. lift needed.",
    ),
    ("decision", {"hand_in": "h", "verdict": "accepted"}, "Accepted by Dana Reyes."),
    (
        "decision",
        {"hand_in": "h", "verdict": "sent_back", "reason": "Say the source."},
        "Sent back by Dana Reyes: Say the source.",
    ),
    (
        "decision",
        {"hand_in": "h", "verdict": "accepted", "own_reason": "alone today"},
        "Accepted by the person who did the work, because: alone today.",
    ),
    (
        "pass_over",
        {"hold_point": "road", "reason": "yard only"},
        "Dana Reyes passed over “Before the road”: yard only.",
    ),
    (
        "confirm",
        {"code": "leans", "key": "leans 41", "says": "It leans."},
        "Dana Reyes measured again and found it right: It leans.",
    ),
    (
        "plan",
        {"name": "taller bracket", "axle_end_up": 40},
        "Dana Reyes saved the plan “taller bracket”: track bar's axle end up 40 mm.",
    ),
    ("change", {"what": "toe_set"}, "The toe was set, by Dana Reyes."),
]


@pytest.mark.parametrize(("kind", "body", "sentence"), SAID)
def test_an_entry_is_told_as_a_sentence(kind, body, sentence):
    assert says(kind, body) == sentence


def test_a_strike_says_what_was_struck_and_why():
    struck = entry("r", *reading("heights", "left", 212.725))
    strike = {"target": "r", "reason": "misread"}

    assert says("strike", strike, struck, "in") == (
        "Dana Reyes struck “Ride height: left, 8 3/8 in”: misread."
    )
    assert says("strike", strike) == "Dana Reyes struck an entry that is not here: misread."
    assert "counts again" in says("strike", strike, entry("s", "strike", strike))


@pytest.mark.parametrize(
    ("person", "begins"), [(None, "You noted"), ("p-2", "You noted"), ("p-9", "Somebody noted")]
)
def test_it_says_who_it_was(person, begins):
    assert says("note", {"text": "dry"}, person=person) == f"{begins}: dry."


@pytest.mark.parametrize("kind", sorted(BODIES))
def test_every_kind_ends_as_a_sentence(kind):
    assert says(kind, BODIES[kind]).endswith(".")


def test_somebody_who_was_renamed_is_told_with_the_names_before():
    people = {"p-1": {"name": "Dana Novak", "before": ["Dana Reyes", "Dana Hill"]}}

    assert called(people, None) == {"p-1": "Dana Novak (before: Dana Reyes and Dana Hill)"}
    assert called(people, "p-1")["p-1"] == "you"
