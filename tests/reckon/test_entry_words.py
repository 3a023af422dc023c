"""What an entry says, kind by kind: the lead's log and the phone's show the same words."""

import pytest
from kit.worked_sheets import entry

from webapp.reckon.sentences.entry_words import (
    KIND_TITLES,
    KIND_VALUES,
    entry_sentence,
    entry_title,
    entry_value,
)
from webapp.shoplog.readable import UNREADABLE
from webapp.shoplog.rules.kinds import KINDS
from webapp.shoplog.rules.readings import PICKS


def plain(text):
    return text.replace("\u202f", " ")


def says(kind, body, target=None, unit="mm"):
    return plain(entry_sentence(entry("e", kind, body), target, unit))


def pick(step, field, value):
    return "pick", {"step": step, "field": field, "value": value}


def test_every_kind_of_entry_has_words():
    assert set(KIND_VALUES) == {*KINDS, UNREADABLE} == {*KIND_TITLES, "strike"}


SAID = [
    (
        "vehicle",
        {"name": "Plow truck", "units": "in", "from_job": "j"},
        "Vehicle record: Plow truck, units",
    ),
    ("tag", {"code": "K7RM-4TQX"}, "Tag: K7RM-4TQX"),
    (
        "limit",
        {"name": "bolt_clearance", "value": 0.4, "reason": "shop rule"},
        "House limit: bolt clearance: 0.4 mm, shop rule",
    ),
    (
        "job",
        {"axle": "front", "round": "as_found", "about": "wanders"},
        "Job opened, as found: wanders",
    ),
    ("job", {"axle": "front", "round": "recheck", "about": ""}, "Job opened, recheck"),
    (
        "reading",
        {"step": "centering", "field": "left", "value": 212.725, "unit": "in"},
        "Centering: left, 8 3/8 in",
    ),
    (
        "reading",
        {"step": "heights", "field": "right", "value": 402, "unit": "mm"},
        "Ride height: right, 402.0 mm",
    ),
    (
        "reading",
        {"step": "track_bar", "field": "fore_aft", "value": -12, "unit": "mm"},
        "Track bar: fore-aft lead, −12.0 mm",
    ),
    (
        "reading",
        {"step": "drag_link", "field": "toe_front", "value": 1500, "unit": "mm"},
        "Drag link: toe ahead, 1500.0 mm",
    ),
    ("tick", {"field": "level", "value": True}, "Floor level: yes"),
    ("tick", {"field": "swung", "value": False}, "Steering turned lock to lock: no"),
    (*pick("heights", "standing", "on_wheels"), "Ride height: standing, on its wheels"),
    (*pick("centering", "left_extra", 6), "Centering: spacer left, 6.0 mm"),
    (*pick("centering", "left_extra", None), "Centering: spacer left, none"),
    (*pick("centering", "tilt_deg", 0.35), "Centering: tilt of the floor, 0.35°"),
    (*pick("track_bar", "frame_end", "left"), "Track bar: frame end, left"),
    (*pick("track_bar", "carried", True), "Track bar: values on file confirmed, yes"),
    (*pick("drag_link", "ratio", 17.5), "Drag link: steering ratio, 17.5 : 1"),
    (*pick("drag_link", "wheel_deg", 12), "Drag link: steering wheel, 12° to the left"),
    (
        *pick("drag_link", "wheel_deg", [12, -8]),
        "Drag link: steering wheel, 12° to the left, then 8° to the right",
    ),
    ("note", {"text": "bolt was loose"}, "Note: bolt was loose"),
    ("hand_in", {"missing": [], "reason": None}, "Handed in"),
    (
        "hand_in",
        {"missing": ["No lean."], "reason": "lift needed"},
        "Handed in: No lean. lift needed",
    ),
    ("decision", {"hand_in": "h", "verdict": "accepted", "reason": None}, "Accepted"),
    (
        "decision",
        {"hand_in": "h", "verdict": "sent_back", "reason": "Torque: say the source"},
        "Sent back: Torque: say the source",
    ),
    (
        "pass_over",
        {"hold_point": "road", "reason": "yard only"},
        "Before the road passed over: yard only",
    ),
    (
        "close_item",
        {
            "axle": "front",
            "says": "Track bar, frame end: its hole is oval.",
            "reason": "within the sheet",
        },
        "Closed on the front axle, “Track bar, frame end: its hole is oval.”: within the sheet",
    ),
    (
        "confirm",
        {"code": "leans", "key": "leans 41", "says": "It leans."},
        "Measured again: it is right: It leans.",
    ),
    ("change", {"what": "bar_turned", "turns": 3.5}, "Change: track bar turned, 3 1/2 turns out"),
    ("change", {"what": "axle_painted"}, "Change: axle painted"),
    ("photo", {"of": "contact", "text": "at full bump"}, "Photo of parts that touch: at full bump"),
    (
        "plan",
        {"name": "taller bracket", "axle_end_up": 40},
        "Plan: taller bracket, track bar's axle end up 40 mm",
    ),
]


@pytest.mark.parametrize(("kind", "body", "sentence"), SAID)
def test_an_entry_says_what_it_is_about_and_what_it_holds(kind, body, sentence):
    assert says(kind, body) == sentence


def test_the_examples_have_every_kind_and_every_pick_of_the_walk_has_words():
    assert {kind for kind, _, _ in SAID} | {"strike"} == set(KINDS)
    for step in ("heights", "centering", "track_bar", "drag_link"):
        for field in PICKS[step]:
            assert "_" not in entry_title(entry("e", *pick(step, field, None)), None, "mm")


def test_an_adjuster_is_said_with_its_pitch_and_a_thread_of_that_pitch():
    def adjuster(**value):
        return says(*pick("track_bar", "adjuster", value))

    assert adjuster(kind="one_end", pitch=25.4 / 18) == (
        "Track bar: adjuster, one threaded end, pitch 1.411 mm (5/8-18)"
    )
    assert adjuster(kind="both_ends", pitch=1.35).endswith(
        "opposite hands at both ends, pitch 1.35 mm"
    )
    assert adjuster(kind="fixed", pitch=None).endswith("fixed length")
    assert adjuster(kind="own").endswith("thread not known")


def test_a_strike_says_what_was_struck_and_why():
    strike = {"target": "e", "reason": "Misread"}
    read = entry("e", "reading", {"step": "centering", "field": "left", "value": 212, "unit": "mm"})

    assert says("strike", strike, read) == "Strike of “Centering: left, 212.0 mm”: Misread"
    assert says("strike", strike, entry("s", "strike", strike)) == "Strike of a strike: Misread"
    assert says("strike", strike) == "Strike of an entry that is not here: Misread"


def test_a_kind_of_a_later_version_is_named():
    later = entry("e", "road_test", {"miles": 3})

    assert entry_title(later, None, "mm") == "Road test"
    assert entry_value(later, "mm") == ""
