"""What the log takes of the drag link, of changes and of hold points, and who may pass one over."""

import pytest
from kit.entries import make_entry, new_id, verdicts

from webapp.shoplog.entries import Refused, checked

PHONE = new_id()


def kept(kind, body, **more):
    return checked(make_entry(PHONE, kind, body=body, **more), PHONE)


def link(field, value=12.0):
    return {"step": "drag_link", "field": field, "value": value, "unit": "mm", "read_to": 1}


@pytest.mark.parametrize("field", ["arm", "toe_rear", "wheelbase_left"])
def test_readings_of_the_drag_links_step_are_kept(field):
    assert kept("reading", link(field)).made["body"]["field"] == field


PICKS = [
    ("frame_end", "right"),
    ("arm_points", "rearward"),
    ("ratio", 17.5),
    ("wheel_deg", -12),
    ("wheel_deg", [-30, 0, 30]),
    ("carried", True),
    ("adjuster", {"kind": "both_ends", "pitch": 1.5, "step": 0}),
]


@pytest.mark.parametrize(("field", "value"), PICKS)
def test_picks_of_the_drag_links_step_are_kept(field, value):
    kept("pick", {"step": "drag_link", "field": field, "value": value})


WRONG = [
    ("reading", link("camber"), "The reading's field must be one of length, "),
    ("pick", {"step": "drag_link", "field": "arm_points", "value": "left"}, "forward, rearward"),
    ("pick", {"step": "drag_link", "field": "wheel_deg", "value": 2000}, "up to 1080 degrees"),
    ("pick", {"step": "drag_link", "field": "wheel_deg", "value": [2000]}, "up to 1080 degrees"),
    ("confirm", {"code": "wheel_wanders", "key": "x", "says": "x"}, "must be one of implausible"),
    ("confirm", {"code": "leans", "says": "x"}, "The confirm's key is missing."),
    ("change", {"what": "axle painted"}, "The change's what must be one of bar_turned"),
    ("change", {"what": "bracket_moved", "moved": 5, "toward": "away"}, "must be one of up, down"),
    ("change", {"what": "bar_turned", "turns": "three"}, "The change's turns must be a number"),
    ("pass_over", {"hold_point": "lunch", "reason": "hungry"}, "must be one of final_welding"),
    ("pass_over", {"hold_point": "road", "reason": "  "}, "The pass over's reason must be a text"),
    ("pass_over", {"hold_point": "road"}, "The pass over's reason is missing."),
    ("tick", {"field": "lights", "value": True}, "bar_fitted, swung"),
]


@pytest.mark.parametrize(("kind", "body", "says"), WRONG)
def test_what_the_log_cannot_read_back_is_refused_with_the_reason(kind, body, says):
    with pytest.raises(Refused, match="(?s)" + says.replace("(", r"\(")):
        kept(kind, body)


def test_a_change_belongs_to_a_job():
    with pytest.raises(Refused, match="The change does not say which job it belongs to"):
        kept("change", {"what": "bar_turned"}, job=None)


def test_the_ticks_of_the_fit_up_are_kept():
    for field in ("bar_fitted", "swung"):
        kept("tick", {"field": field, "value": True})


def test_only_a_lead_passes_a_hold_point_over(shop, crew):
    by_technician = make_entry(crew.phone, "pass_over")
    by_lead = make_entry(crew.leads_phone, "pass_over")

    [refused] = shop.append(crew.phone, [by_technician])
    assert refused["verdict"] == "refused"
    assert "Only a lead can make or strike a pass over" in refused["reason"]
    assert verdicts(shop.append(crew.leads_phone, [by_lead])) == ["stored"]


def test_only_a_lead_takes_a_passing_over_back(shop, crew):
    by_lead = make_entry(crew.leads_phone, "pass_over")
    shop.append(crew.leads_phone, [by_lead])
    strikes = [
        make_entry(phone, "strike", body={"target": by_lead["id"], "reason": "not yet"})
        for phone in (crew.phone, crew.leads_phone)
    ]

    assert verdicts(shop.append(crew.phone, strikes[:1])) == ["refused"]
    assert verdicts(shop.append(crew.leads_phone, strikes[1:])) == ["stored"]
