"""What stands open on file: which lines go there, and what settles each of them."""

import pytest

from webapp.reckon.checks.clearance import pair_name
from webapp.reckon.log.stale import pair_and_place
from webapp.reckon.walk.carried import lines_to_file, still_left

PLACE = {"between": ["oil pan", "track bar"], "state": "ride", "lock": "left"}


PAIR = f"pair {pair_name(PLACE)}"
AT = f"place {pair_and_place(PLACE)}"
ELSEWHERE = f"place {pair_and_place({**PLACE, 'state': 'full_bump'})}"
LOOSE = {"joint": "frame end", "along": None, "loose": "bracket"}


def line(*about, hold_point="road"):
    says = {"step": "play", "says": " and ".join(about), "unseen": False}
    return {"hold_point": hold_point, **says, "about": list(about)}


def entry(kind, **body):
    return {"id": "e-1", "kind": kind, "round": "recheck", "body": body}


def found(**findings):
    return {"name": "recheck", "sheet": {"axle": "front"}, "findings": findings}


def left(lines, stand=(), rounds=(), hold_point="road"):
    return [each["says"] for each in still_left(lines, hold_point, list(stand), list(rounds))]


JOINT = {"joint": "frame end", "along": 0.2}
SETTLED = [
    ("joint frame end", [], [found(play={"joints": [JOINT]})]),
    ("joint frame end", [], [found(play={"joints": [LOOSE]})]),
    ("hole frame end", [entry("reading", step="play", field="bolt", joint="frame end")], []),
    ("hole frame end", [entry("change", what="hole_repaired", part="frame-end bracket")], []),
    ("torque jam nuts", [entry("reading", step="torque", field="f", fastener="jam nuts")], []),
    ("step heights", [entry("reading", step="heights", field="left")], []),
    ("step heights", [entry("pick", step="heights", field="standing", value="on_wheels")], []),
    ("tick swung", [entry("tick", field="swung", value=True)], []),
    ("repair", [entry("change", what="part_replaced", part="bushing")], []),
    (PAIR, [entry("reading", step="clearance", field="gap", **PLACE)], []),
    (AT, [entry("reading", step="clearance", field="gap", **PLACE)], []),
    ("centering", [], [found(centering={"state": "outside"})]),
    ("steering", [], [found(steering={"state": "off"})]),
    ("bump_steer", [], [found(bump_steer={"state": "inside"})]),
]  # fmt: skip
NOT_SETTLED = [
    ("joint axle end", [], [found(play={"joints": [JOINT]})]),
    ("joint frame end", [], [found(play={"joints": [{**JOINT, "along": None}]})]),
    ("hole axle end", [entry("change", what="hole_repaired", part="frame-end bracket")], []),
    ("repair", [entry("change", what="bar_turned", turns=1)], []),
    ("tick swung", [entry("tick", field="swung", value=False)], []),
    (ELSEWHERE, [entry("reading", step="clearance", field="gap", **PLACE)], []),
    ("centering", [], [found(centering={"state": "no_verdict"})]),
    ("whole", [], [found()]),
]  # fmt: skip


@pytest.mark.parametrize(("about", "stand", "rounds"), SETTLED)
def test_a_line_is_settled_by_what_it_is_about(about, stand, rounds):
    assert left([line(about)]) == [about]
    assert left([line(about)], stand, rounds) == []


@pytest.mark.parametrize(("about", "stand", "rounds"), NOT_SETTLED)
def test_a_line_is_not_settled_by_anything_else(about, stand, rounds):
    assert left([line(about)], stand, rounds) == [about]


def test_a_line_about_several_things_waits_for_all_of_them():
    stand = [entry("reading", step="torque", field="f", fastener="jam nuts")]

    assert left([line("torque jam nuts", "torque axle-end bolt")], stand) != []


def test_lines_stay_with_their_hold_point():
    lines = [line("repair"), line("tick swung", hold_point="final_welding")]

    assert left(lines, hold_point="final_welding") == ["tick swung"]
    assert left(lines) == ["repair"]


def test_what_nobody_ever_looked_at_does_not_go_on_file_and_the_rest_does():
    seen = {"step": "play", "says": "oval", "unseen": False, "cause": {"seq": 7}, "passed": False}
    points = [
        {
            "hold_point": "road",
            "open": [{**seen, "about": ["hole frame end"]}, {**seen, "unseen": True, "about": []}],
        }
    ]

    [filed] = lines_to_file(points)

    assert filed == {
        "hold_point": "road", "step": "play", "says": "oval", "unseen": False,
        "passed": False, "since": 7, "about": ["hole frame end"],
    }  # fmt: skip
    assert left([filed]) == ["oval"]
