"""Whatever is said of a vehicle in inches begins with inches, and of a metric one with millimeters.

What goes by its own name keeps it: a drill, a bolt, a spacer, the mark that a tape was read to or
begun at, and what may have been meant by a number.
"""

import re

import pytest
from hypothesis import given
from kit.same_sheets import good_sheets, judged_sheets
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.sentences.findings_text import findings_text
from webapp.reckon.sentences.joint_answers import clearance_told, play_told, torque_told
from webapp.reckon.sentences.link_answer import link_answer, link_numbers

BEHIND = re.compile(r" ?\([^()]*\)")
OWN_NAMES = re.compile(
    r"Drill [^,]*,|(read |Reading )to \S+|[\d /]+ in bolt|Did you mean [^?]*\?"
    r"|A spacer of \S+( \S+)? in|A spacer of \d+ mm|started at the .*? mark|[Tt]hat is [^:]*:"
    r"|read \S+ \S+ short"
)
FIRST_OF_OTHER = {
    "in": re.compile(r"\d[\s\u202f]?(mm|N·m)\b|25 mm"),
    "mm": re.compile(r"\d[\s\u202f]?in\b(?! of)|lbf|an? inch|first inch"),
}
WORN = [
    {"joint": "frame end", "along": [0.4, 0.5], "bolt": 14.1, "hole_long": 15.2, "hole_short": 14.6,
     "edge": 22, "maker_limit": 0.5, "house_limit": 0.8},
    {"joint": "drag link axle end", "of": "drag_link", "along": 0.4},
]  # fmt: skip
GAPS = [
    {"between": ["track bar", "tie rod"], "state": "full_bump", "lock": "left", "gap": 9.5},
    {"between": ["tire", "frame"], "state": "ride", "lock": "right", "gap": 30},
]
BOLTS = [
    {"fastener": "frame-end bolt", "value": 118, "also": 70, "source": "manual", "end": "nut",
     "thread": "dry"},
]  # fmt: skip
# One sheet for each way in which lengths are spoken of.
CASES = {
    "sample": {},
    "worn": {"play": WORN, "clearance": GAPS, "torque": BOLTS, "limits": {"clearance": 12}},
    "scattered": {"centering": {"left": [214.3, 219.3], "right": [203.2, 204.0]}},
    "summed": {"centering": {"known_sum": 390.0, "known_sum_u": 0.5}},
    "spaced": {"centering": {"left_extra": 6.35}},
    "implausible": {"track_bar": {"length": 3650, "adjuster": {"pitch": 16}}},
    "short": {"drag_link": {"arm": 15.8}, "heights": {"left": [8.7]}},
    "swapped": {"track_bar": {"frame_height": 498, "axle_height": 612}},
    "on file": {"on_file": {"track_bar": {"length": 812, "axle_height": 478, "fore_aft": -20,
                                          "adjuster": {"pitch": 2.0}}}},
    "moved": {"before": {"offset": -9.0, "expanded": 0.9, "heights": {"left": [221.0],
                                                                     "right": [220.0]}}},
    "sunk": {"on_file": {"heights": {"left": 251.0, "right": 250.0}}},
    "leaning": {"heights": {"left": [261.0], "right": [219.5]}},
    "inside": {"centering": {"left": [208.0, 208.0], "right": [208.0, 208.5]}},
    "fixed": {"track_bar": {"adjuster": {"kind": "fixed"}}},
    "toe": {"toe": {"front": 1520, "rear": 1522, "span": 780},
            "wheelbase": {"left": 2601, "right": 2598, "track": 1480}},
}  # fmt: skip


def texts_of(value):
    """Every text in findings, runs of a sentence as one."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, each in value.items():
            if key not in ("choices", "field", "bolt", "key", "cause"):
                yield from texts_of(each)
    elif isinstance(value, list):
        for each in value:
            yield from texts_of(each)


def all_said(sheet, unit):
    """Everything that screens, desk and paper say of a sheet in a unit."""
    found = assess({**sheet, "units": unit})
    if "faults" in found:
        return []
    said = [*texts_of(found), findings_text(found, unit), "".join(link_answer(found, unit))]
    said += [each["shows"] for each in link_numbers(found, unit)]
    for name, tell in (("play", play_told), ("clearance", clearance_told)):
        if name in found:
            said.append("".join(tell(found[name], unit)))
    return said + (["".join(torque_told(found["torque"]))] if "torque" in found else [])


def out_of_order(sheet, unit):
    """What is said with the other unit first."""
    return [
        text
        for text in all_said(sheet, unit)
        if FIRST_OF_OTHER[unit].search(BEHIND.sub("", OWN_NAMES.sub("", text)))
    ]


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("name", CASES)
def test_the_vehicles_unit_comes_first(name, unit):
    assert out_of_order(changed(SAMPLE, **CASES[name]), unit) == []


@given(good_sheets() | judged_sheets())
def test_whatever_the_sheet_its_unit_comes_first(sheet):
    for unit in ("in", "mm"):
        assert out_of_order(sheet, unit) == []


def test_the_other_unit_in_front_is_seen():
    assert FIRST_OF_OTHER["in"].search(BEHIND.sub("", "It sits 5.4\u202fmm (7/32\u202fin) left."))
    assert not FIRST_OF_OTHER["in"].search(
        BEHIND.sub("", "It sits 7/32\u202fin (5.4\u202fmm) left.")
    )
