"""What the log keeps of play, clearance and torque, and what it refuses."""

import pytest
from kit.entries import make_entry

from webapp.shoplog import entries

PHONE = "11111111-2222-4333-8444-555555555555"
ALONG = {
    "step": "play",
    "field": "along",
    "joint": "frame end",
    "of": "track_bar",
    "how": "wheel rocked lightly by hand",
    "value": 0.9,
    "pair": [0.4, 0.5],
    "unit": "mm",
    "read_to": 0.1,
}
GAP = {
    "step": "clearance",
    "field": "gap",
    "between": ["track bar", "tie rod"],
    "state": "full_bump",
    "lock": "left",
    "value": 9.5,
    "mark": None,
    "unit": "mm",
    "read_to": 1,
}
BOLT = {
    "step": "torque",
    "field": "fastener",
    "fastener": "frame-end bolt",
    "value": 118,
    "figure": "118 N·m",
    "source": "maker's manual, page 12",
    "end": "bolt",
    "thread": "dry",
    "then_angle": 90,
    "tool": "wrench 4",
    "rubber": True,
    "on_springs": True,
}
LIMIT = {"joint": "axle end", "maker_limit": 0.5, "maker_source": "manual", "house_limit": None}
DUE = {"distance": 800, "unit": "km", "date": "2026-12-24"}


def kept(kind, body):
    """Whether the log keeps the body as it is."""
    return entries.checked(make_entry(PHONE, kind, body=body), PHONE).made["body"] == body


def refusal(kind, body):
    """Why the log refuses it."""
    with pytest.raises(entries.Refused) as refused:
        kept(kind, body)
    return str(refused.value)


def pick(step, field, value):
    return {"step": step, "field": field, "value": value}


@pytest.mark.parametrize(
    "body",
    [
        ALONG,
        {**ALONG, "pair": None, "how": None},
        *({**ALONG, "field": field, "pair": None} for field in ("bolt", "hole_long", "edge")),
        GAP,
        {**GAP, "value": 0},
        {**GAP, "value": None, "mark": "touches"},
        {**GAP, "value": None, "mark": "witness mark", "state": "crossed"},
        BOLT,
        {**BOLT, "rubber": False, "on_springs": False},
        {"step": "torque", "field": "fastener", "fastener": "axle-end bolt", "moved": False},
        {**BOLT, "moved": True, "source": None, "value": 80},
    ],
)
def test_a_whole_reading_is_kept(body):
    assert kept("reading", body)


@pytest.mark.parametrize(
    ("body", "says"),
    [
        ({**ALONG, "field": "across"}, "The reading's field must be one of along, bolt, hole_long"),
        ({**ALONG, "pair": [0.4, 0.6]}, "do not add up to its value"),
        ({**ALONG, "pair": [0.9]}, "The reading's pair must be a list of two numbers"),
        ({**ALONG, "pair": [0.5, "0.4"]}, "The reading's pair, no. 2 must be a number from 0"),
        ({**ALONG, "value": -1, "pair": None}, "value must be a number from 0 to 20000"),
        ({**ALONG, "field": "bolt", "value": 0, "pair": None}, "measures more than 0"),
        ({**ALONG, "joint": " "}, "The reading's joint must be a text"),
        ({**ALONG, "of": "wheel"}, "must be one of track_bar, drag_link, steering"),
        ({"step": "play", "field": "along"}, "The reading's joint is missing."),
        ({**GAP, "field": "left"}, "The reading's field must be one of gap."),
        ({**GAP, "mark": "touches"}, "a gap in mm or a mark: one of the two"),
        ({**GAP, "value": None}, "a gap in mm or a mark: one of the two"),
        ({**GAP, "mark": "close", "value": None}, "must be one of touches, witness mark"),
        ({**GAP, "between": ["track bar"]}, "The reading's between must be a list of two parts"),
        ({**GAP, "between": ["a", ""]}, "The reading's between, no. 2 must be a text"),
        ({**GAP, "state": "airborne"}, "must be one of ride, full_bump"),
        ({**BOLT, "field": "bolt"}, "The reading's field must be one of fastener."),
        ({**BOLT, "on_springs": False}, "Set the vehicle down first"),
        ({**BOLT, "value": None}, "A torque needs its figure and where the figure comes from"),
        ({**BOLT, "source": None}, "A torque needs its figure and where the figure comes from"),
        ({**BOLT, "source": ""}, "The reading's source must be a text"),
        ({**BOLT, "value": 0}, "The reading's value must be a number above 0"),
        ({**BOLT, "then_angle": 900}, "an angle up to 720 degrees"),
        ({**BOLT, "end": "both"}, "must be one of nut, bolt"),
        ({**BOLT, "thread": "rusty"}, "must be one of dry, oiled"),
        ({**BOLT, "moved": "no"}, "The reading's moved must be true or false"),
    ],
)
def test_a_reading_that_makes_no_sense_is_refused_with_the_reason(body, says):
    assert says in refusal("reading", body)


def test_a_rubber_bush_clamped_in_the_air_is_refused_and_says_why():
    assert "the rubber is twisted" in refusal("reading", {**BOLT, "on_springs": False})


@pytest.mark.parametrize(
    "body",
    [
        pick("play", "limit", LIMIT),
        pick("play", "limit", {**LIMIT, "maker_limit": None, "maker_source": None}),
        pick("play", "loose", {"joint": "axle end", "what": "bolt_in_hole"}),
        pick("play", "loose", {"joint": "axle end", "what": None}),
        pick("torque", "recheck", DUE),
        pick("torque", "recheck", {**DUE, "date": None}),
        pick("torque", "recheck", {"distance": None, "unit": None, "date": "2026-12-24"}),
    ],
)
def test_a_whole_choice_is_kept(body):
    assert kept("pick", body)


@pytest.mark.parametrize(
    ("step", "field", "value", "says"),
    [
        ("play", "limit", {**LIMIT, "maker_source": ""}, "value, maker source must be a text"),
        ("play", "limit", {**LIMIT, "house_limit": -1}, "house limit must be a number from 0"),
        ("play", "limit", {"maker_limit": 1}, "The pick's value, joint is missing."),
        ("play", "limit", 0.5, "The pick's limit must be the limits of one joint"),
        (
            "play",
            "loose",
            {"joint": "axle end", "what": "all of it"},
            "one of sleeve_in_rubber",
        ),
        ("play", "loose", "bolt_in_hole", "must be a joint and what is loose there"),
        ("play", "rocked", "by hand", "nothing to pick called rocked in the step play"),
        ("torque", "recheck", {**DUE, "unit": "m"}, "unit must be one of km, mi"),
        ("torque", "recheck", {**DUE, "date": "soon"}, "date must be a day such as 2026-12-24"),
        ("torque", "recheck", {**DUE, "date": 20261224}, "date must be a day such as 2026-12-24"),
        (
            "torque",
            "recheck",
            {**DUE, "distance": 0},
            "a number above 0, up to 20000",
        ),
        ("play", "limit", {**LIMIT, "maker_source": None}, "limit needs its source"),
        ("torque", "recheck", {**DUE, "unit": None}, "needs the unit of its distance"),
        ("torque", "recheck", {**DUE, "mileage": 9}, "mileage is not a field"),
        ("torque", "recheck", {}, "needs a day, a distance in km or mi, or both"),
        (
            "torque",
            "recheck",
            None,
            "recheck must be a day, a distance in km or mi",
        ),
    ],
)
def test_a_choice_that_makes_no_sense_is_refused_with_the_reason(step, field, value, says):
    assert says in refusal("pick", pick(step, field, value))
