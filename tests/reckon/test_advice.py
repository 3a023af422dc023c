"""Advice: each reason to hold, what ends it, and that a held sheet tells nobody to set anything."""

import math
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kit.held_sheets import BEFORE, FILED, HEIGHTS, HELD, JOINT, KNOWN
from kit.same_sheets import measured_sheets
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.sentences.findings_text import findings_text
from webapp.reckon.sentences.link_answer import link_answer, link_numbers, link_why
from webapp.reckon.sentences.plan_rows import plan_rows
from webapp.reckon.terms import said

INCH = 25.4
ORDERS = re.compile(r"\bturns?\b|\blonger\b|\bshorter\b|\bMake the\b|Correct it", re.IGNORECASE)


def advised(**parts):
    return assess(changed(KNOWN, **parts))["advice"]


def codes(**parts):
    return [each["code"] for each in advised(**parts)["reasons"]]


def test_a_clean_job_with_a_round_on_file_is_adjusted():
    assert advised() == {"state": "adjust", "reasons": [], "flags": []}


def test_an_axle_in_the_middle_is_left_and_shows_nothing_to_set():
    found = assess(changed(KNOWN, centering={"left": [204.0, 204.0]}, before={"offset": 0.1}))

    assert found["advice"]["state"] == "leave"
    names = [each["name"] for each in found["numbers"]]
    assert "Bar length change" not in names and "Drag link length" not in names


@pytest.mark.parametrize("parts", [{"centering": None}, {"standing": "hanging"}])
def test_without_a_verdict_there_is_no_advice(parts):
    assert advised(**parts)["state"] == "none"


@pytest.mark.parametrize("code", HELD)
def test_each_reason_holds_and_says_what_to_do_first(code):
    found = assess(changed(KNOWN, **HELD[code]))

    assert found["advice"]["state"] == "hold"
    assert code in [each["code"] for each in found["advice"]["reasons"]]
    assert found["says"].startswith("Do not adjust yet. ")
    assert found["advice"]["reasons"][0]["says"] in found["says"]
    assert all(each["says"] in found["why"] for each in found["advice"]["reasons"])
    assert_nothing_to_set(found)


@pytest.mark.parametrize(
    "code", ["does_not_repeat", "joint_outside", "wheel_wanders", "thread_left"]
)
def test_what_a_repair_or_a_reading_ends_is_not_ended_by_an_answer(code):
    assert code in codes(**HELD[code], confirmed=[code])


@pytest.mark.parametrize(
    "code",
    ["sum_differs", "moved_unexplained", "leans", "differs_from_file", "implausible", "wrong_side",
     "links_older", "one_side_differs"],
)  # fmt: skip
def test_measured_again_it_is_so_ends_the_hold_for_that_reason(code):
    assert code in codes(**HELD[code])
    assert code not in codes(**HELD[code], confirmed=[code])
    assert code in codes(**HELD[code], confirmed=["height_changed"])


@pytest.mark.parametrize(
    ("code", "another"),
    [
        ("differs_from_file", {"track_bar": {"length": 820}}),
        ("implausible", {"centering": {"left": [9272.0, 9272.0]}, "before": None}),
        ("leans", {**HELD["leans"], "heights": {"left": [221.0], "right": [181.0]}}),
        ("moved_unexplained", {"before": {"offset": -0.9}}),
        ("links_older", {"older": ["drag_link"], "drag_link": {"frame_height": 588.4}}),
    ],
)
def test_an_answer_ends_the_hold_for_those_values_and_the_next_value_asks_again(code, another):
    keys = [each["key"] for each in advised(**HELD[code])["reasons"]]

    assert codes(**HELD[code], confirmed=keys) == []
    assert code in codes(**another, confirmed=keys)


def test_no_answer_is_kept_for_what_a_repair_ends():
    assert [each["key"] for each in advised(**HELD["joint_outside"])["reasons"]] == [None]


def test_an_answered_question_is_asked_no_more():
    parts = HELD["implausible"]

    assert len(assess(changed(KNOWN, **parts))["asks"]) > 0
    assert assess(changed(KNOWN, **parts, confirmed=["implausible"]))["asks"] == []


def test_a_logged_change_explains_heights_and_what_it_may_have_changed():
    lifted = {"heights": HEIGHTS, "before": {"offset": -1.5}, "changes": ["springs_changed"]}
    raised = {"frame_height": 663, "axle_height": 498}

    assert codes(**lifted) == ["links_older"]
    assert codes(**lifted, track_bar=raised, drag_link={"frame_height": 638}) == []


@pytest.mark.parametrize(
    ("field", "near", "far", "by"),
    [
        ("fore_aft", -2, 12, "bracket_moved"),
        ("arm", 162, 168, "arm_moved"),
        ("arm_points", "forward", "rearward", "arm_moved"),
        ("ratio", 18.5, 20, "pitman_changed"),
        ("length", 909, 915, "link_turned"),
        ("frame_height", 592, 600, "pitman_changed"),
    ],
)
def test_a_link_is_asked_about_where_it_is_not_the_one_on_file(field, near, far, by):
    filed = {**FILED, "drag_link": SAMPLE["drag_link"]}

    assert codes(on_file=filed, drag_link={field: near}) == []
    found = advised(on_file=filed, drag_link={field: far})["reasons"]
    assert [(each["code"], each["link"], each["field"]) for each in found] == [
        ("differs_from_file", "drag_link", field)
    ]
    assert codes(on_file=filed, drag_link={field: far}, changes=[by]) == []


def test_a_ratio_and_a_direction_are_said_as_they_are_picked():
    filed = {**FILED, "drag_link": SAMPLE["drag_link"]}
    found = assess(changed(KNOWN, on_file=filed, drag_link={"ratio": 20, "arm_points": "rearward"}))
    says = [each["says"] for each in found["advice"]["reasons"]]

    assert says[0].startswith("The drag link's arm direction is rearward here and forward on file")
    assert says[1] == (
        "The drag link's steering ratio is 20 here and 18 on file, and no change is logged."
        " Look again: put it right, or confirm the new value."
    )


def test_a_turned_bar_is_expected_to_be_as_long_as_it_was_turned():
    turned = {"offset": 8.1, "length_change": 3.0}

    assert codes(track_bar={"length": 865}, before=turned) == []
    assert codes(track_bar={"length": 862}, before={**turned, "length_change": 12.0})[0] == (
        "differs_from_file"
    )


def test_a_loose_bolt_and_a_joint_found_loose_hold():
    loose = [{**JOINT, "bolt": 14.0, "hole_long": 15.1}]

    assert advised(play=loose)["reasons"][0]["says"] == (
        "The track bar's axle end has a bolt too loose in its hole. Repair it first."
    )
    assert codes(play=loose, limits={"bolt_clearance": 1.2}) == []
    assert codes(play=[{**JOINT, "loose": "bracket"}]) == ["joint_outside"]
    assert codes(play=[{**JOINT, "along": 4.0}]) == ["joint_outside"]
    assert codes(play=[{**JOINT, "of": "other", "along": 4.0}]) == []


TIE_ROD = {"joint": "left tie rod end", "of": "other"}


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        ({"along": 6.0, "house_limit": 1.5}, "is outside its limit"),
        ({"along": 0.2, "loose": "bracket"}, "was found loose"),
        ({"bolt": 15.0, "hole_long": 16.2}, "has a bolt too loose in its hole"),
    ],
)
def test_a_steering_joint_that_is_bad_holds_and_is_replaced(bad, words):
    assert [each["says"] for each in advised(play=[{**TIE_ROD, **bad}])["reasons"]] == [
        f"Left tie rod end {words}. Replace what is worn first."
    ]


def link_play(along, **parts):
    joint = {"joint": "drag link axle end", "of": "drag_link", "along": along}
    return [each["says"] for each in advised(play=[joint], **parts)["reasons"]]


def test_a_drag_link_that_leaves_the_wheel_free_holds():
    per_mm = math.degrees(math.asin(905 / math.sqrt(905**2 - 67**2 - 12**2) / 158)) * 18

    assert link_play(4.9 / per_mm) == []
    assert link_play(5.1 / per_mm) == [
        "Play in the drag link's joints leaves the steering wheel 5.1° free, and no wheel can be "
        "centered with more than 5°. Find the loose joint and replace it first."
    ]
    assert len(link_play(11.9)) == 1
    assert len(link_play([6.0, 5.9])) == 1
    assert codes(play=[{"of": "drag_link", "along": 0.5}, {"of": "drag_link", "along": 0.5}]) == [
        "joint_outside"
    ]


@pytest.mark.parametrize("link", [None, {"ratio": None}, {"length": 20}])
def test_without_its_ratio_a_drag_link_holds_past_a_length(link):
    on_file = {"drag_link": link}

    assert not any("Play in the drag link" in says for says in link_play(1.5, **on_file))
    assert (
        "Play in the drag link's joints lets it move 1.6 mm, and no wheel can be centered with "
        "more than 1.5 mm. Find the loose joint and replace it first."
    ) in [says.replace("\u202f", " ") for says in link_play(1.6, **on_file)]


def test_a_joint_of_the_link_that_is_outside_itself_says_it_once():
    joint = {"joint": "drag link axle end", "of": "drag_link", "along": 3.0, "house_limit": 1.0}
    loose_bar = [{**JOINT, "along": [2.0, 2.0]}, joint]

    assert [each["fault"] for each in advised(play=[joint])["reasons"]] == ["along"]
    assert [each["fault"] for each in advised(play=loose_bar)["reasons"]] == ["along", "movement"]


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"track_bar": {"frame_height": 1300}}, "A track bar that steep would bind."),
        ({"drag_link": {"frame_height": 1300}}, "A drag link that steep would bind."),
        ({"track_bar": {"length": 60}}, "A track bar of that length does not fit between"),
        ({"drag_link": {"frame_height": 400}}, "The frame end of the drag link is entered lower"),
    ],
)
def test_what_is_odd_of_a_rod_is_told_with_its_name(parts, words):
    assert any(each["says"].startswith(words) for each in advised(**parts)["reasons"])


def assert_nothing_to_set(found, unit="mm"):
    """No sentence and no row of a held sheet names turns, a length to change or an order."""
    texts = [found["says"], said(found["answer"]), *found["why"], findings_text(found, unit)]
    rows = found["numbers"] + link_numbers(found, unit)
    texts += [f"{row['name']} {row['shows']}" for row in rows]
    texts += [said(link_answer(found, unit)), *link_why(found)]
    texts += [each["says"] for each in found["advice"]["reasons"]]
    for name in ("wheel", "what_if", "steering", "bar_change"):
        texts += (found.get(name) or {}).get("why") or []
    names = {
        "Bar length change",
        "Turns",
        "Thread left then",
        "Offset then",
        "Drag link length",
        "Raise to lie parallel",
    }
    assert not names & {row["name"] for row in rows}
    for text in texts:
        assert not ORDERS.search(text), text


LINKS = st.sampled_from([SAMPLE["drag_link"], None, {"arm": 158}])
WHEELS = st.none() | st.fixed_dictionaries(
    {"wheel_deg": st.integers(-90, 90)},
    optional={"after_bumps": st.lists(st.integers(-90, 90), max_size=3)},
)


@settings(max_examples=200)
@given(
    measured_sheets(),
    LINKS,
    WHEELS,
    st.sampled_from([None, BEFORE, {**BEFORE, "offset": -7.0, "length_change": 3.0}]),
    st.sampled_from([None, FILED]),
)
def test_any_held_sheet_tells_nobody_to_set_anything(sheet, link, wheel, before, filed):
    parts = {"drag_link": link, "steering": wheel, "before": before, "on_file": filed}
    found = assess({**sheet, **{name: part for name, part in parts.items() if part}})

    if found["advice"]["state"] == "hold":
        assert found["says"].startswith("Do not adjust yet")
        assert_nothing_to_set(found)
    else:
        assert not found["says"].startswith("Do not adjust yet")


def test_the_page_of_holds_and_these_tests_name_every_reason():
    page = (Path(__file__).parents[2] / "docs" / "judgment.md").read_text("utf-8")
    assert set(re.findall(r"^\| `(\w+)` \|", page, re.M)) == set(HELD)


# What else a held sheet may hold, none of which takes the hold away.
BESIDE = st.fixed_dictionaries(
    {"units": st.sampled_from(["mm", "in"])},
    optional={
        "plans": st.just([{"name": "Higher", "axle_end_up": 40.0}]),
        "toe": st.just({"front": 1520, "rear": 1522, "span": 780}),
        "wheelbase": st.just({"left": 2601, "right": 2598, "track": 1480}),
        "limits": st.sampled_from([{"bump_steer": 0.01}, {"clearance": 12.0}]),
        "clearance": st.just(SAMPLE["clearance"]),
        "torque": st.just([{"fastener": "jam nuts", "value": 90, "unit": "N·m"}]),
    },
)
OFFSETS = st.sampled_from([None, 30, -45])


@pytest.mark.parametrize("code", HELD)
@settings(max_examples=12)
@given(BESIDE, OFFSETS)
def test_every_reason_leaves_nothing_to_set_whatever_else_the_sheet_holds(code, beside, wheel):
    parts = {**beside, **HELD[code]}
    if wheel is not None and "steering" not in parts:
        parts["steering"] = {"wheel_deg": wheel}
    found = assess(changed(KNOWN, **parts))
    unit = beside["units"]

    assert code in [each["code"] for each in found["advice"]["reasons"]]
    assert found["advice"]["state"] == "hold"
    assert_nothing_to_set(found, unit)
    for plan in (found.get("what_if") or {}).get("plans") or []:
        rows = plan_rows(found["what_if"]["today"], plan, unit, "hold")
        assert not [row for row in rows if ORDERS.search(f"{row['name']} {row['then']}")]


def test_a_plan_of_a_held_sheet_names_no_length_in_the_report():
    plans = [{"name": "Higher", "axle_end_up": 40.0}]
    held = assess(changed(KNOWN, plans=plans, **HELD["differs_from_file"]))

    assert "Bar length to stay centered" in findings_text(assess(changed(KNOWN, plans=plans)), "mm")
    assert "Bar length to stay centered" not in findings_text(held, "mm")
    assert "Drag link to keep straight" not in findings_text(held, "mm")


def test_every_unit_says_the_same_reasons():
    for code, parts in HELD.items():
        metric, inch = (advised(**parts, units=unit) for unit in ("mm", "in"))
        same = [[each["code"] for each in found["reasons"]] for found in (metric, inch)]
        assert same[0] == same[1], code


ASKED = [
    ({"centering": {"left": [365 * INCH] * 2}, "units": "in"}, "centering.left", "365\u202fmm"),
    ({"heights": {"left": [8.7]}}, "heights.left", "8.7\u202fin"),
    ({"centering": {"right": [0.0, 0.0]}}, "centering.right", None),
    ({"track_bar": {"adjuster": {"kind": "one_end", "pitch": 15.875}}}, "track_bar.adjuster.pitch",
     "1.588\u202fmm"),
    ({"track_bar": {"frame_height": 498, "axle_height": 612}}, "track_bar.frame_height",
     "612\u202fmm"),
    ({"track_bar": {"frame_height": 1290, "axle_height": 498}}, "track_bar.frame_height", None),
    ({"track_bar": {"frame_end": "right"}}, "track_bar.frame_end", "left"),
    ({"track_bar": {"adjuster": {"kind": "one_end", "pitch": 16}}}, "track_bar.adjuster.pitch",
     "16 threads per inch"),
    ({"centering": {"left": [353.6] * 2}}, "centering", None),
]  # fmt: skip


@pytest.mark.parametrize(("parts", "field", "meant"), ASKED)
def test_a_value_that_vehicles_do_not_have_is_asked_back(parts, field, meant):
    found = assess(changed(SAMPLE, **parts))
    ask = next(each for each in found["asks"] if each["field"] == field)

    assert ask["says"][0].isupper()
    assert (ask["choices"][0]["text"] if ask["choices"] else None) == meant
    assert_nothing_to_set(found)


def test_what_springs_did_is_not_judged_by_the_bar_heights_of_before():
    far = {"before": {"offset": -0.5}}

    assert codes(**far, older=["track_bar"]) == ["links_older"]
    assert codes(**far, older=["drag_link"]) == ["moved_unexplained", "links_older"]


def test_a_wheel_that_went_against_the_turned_link_is_a_result_on_the_wrong_side():
    steering = {"wheel_deg": 30, "before_deg": 0, "link_longer": 0}
    held = [
        advised(steering={**steering, "link_longer": longer})["reasons"] for longer in (4.0, -4.0)
    ]

    [reason] = held[0] + held[1]
    assert (reason["code"], reason["link"]) == ("wrong_side", "drag_link")
    assert reason["observed"] == 30 and reason["expected"] < 0


@pytest.mark.parametrize(
    ("parts", "code"),
    [
        ({"steering": {"wheel_deg": 0, "after_bumps": [3, -2]}}, None),
        ({"steering": {"wheel_deg": 0, "after_bumps": [3, -2.1]}}, "wheel_wanders"),
        ({"steering": {"wheel_deg": 4, "after_bumps": [9]}}, None),
        ({"steering": {"wheel_deg": 4, "after_bumps": [9.1]}}, "wheel_wanders"),
        ({"heights": {"left": [236.0], "right": [235.0]}}, None),
        ({"heights": {"left": [236.1], "right": [235.0]}}, "height_changed"),
        ({"heights": {"left": [206.0], "right": [204.9]}}, "height_changed"),
    ],
)
def test_what_lies_on_a_limit_is_not_past_it(parts, code):
    assert [each for each in codes(**parts) if each in ("wheel_wanders", "height_changed")] == (
        [] if code is None else [code]
    )


def why_of(**parts):
    return " ".join(assess(changed(KNOWN, **parts))["why"])


def test_an_axle_that_did_not_move_is_not_said_to_have_moved():
    turned = {"before": {"offset": 5.35, "length_change": 4.5}, "on_file": None}

    [reason] = advised(**turned)["reasons"]

    assert reason["code"] == "moved_unexplained"
    assert "should have moved 4.6\u202fmm to the right since the last round" in reason["says"]
    assert "; it moved nothing." in reason["says"] and "to the left" not in reason["says"]


def test_an_axle_that_went_another_way_than_the_springs_took_it_is_told_both_moves():
    lifted = {"heights": {"left": [321.0], "right": [319.5]}, "changes": ["springs_changed"]}
    raised = {"track_bar": {"frame_height": 712}, "drag_link": {"frame_height": 688}}
    other_way = {"centering": {"left": [190.0, 190.0], "right": [228.0, 228.0]}}

    says = advised(**lifted, **raised, **other_way)["reasons"][0]["says"]

    assert "should have moved" in says and "to the left since the last round" in says
    assert "it moved 24.1\u202fmm to the right" in says and "swapped" in says


def test_a_move_against_the_log_without_heights_says_what_to_measure():
    turned = {"before": {"length_change": 9.0, "heights": None}, "heights": None, "on_file": None}

    says = advised(**turned)["reasons"][0]["says"]

    assert "should have moved 9.0\u202fmm to the right" in says
    assert "Measure the ride heights" in says


def test_heights_that_changed_unsaid_are_looked_at_before_the_move_that_they_make():
    assert codes(heights=HEIGHTS)[0] == "height_changed"


def test_a_move_is_not_told_from_heights_of_the_bar_that_a_change_overtook():
    lifted = {"heights": {"left": [321.0], "right": [319.5]}, "changes": ["springs_changed"]}

    assert codes(**lifted)[0] == "links_older"
    assert "look for damage" not in why_of(**lifted)
    assert "Since the last round the axle moved" in why_of()


def test_bump_steer_outside_its_limit_stands_among_the_reasons():
    assert "is outside the house limit of 0.1°" in why_of(limits={"bump_steer": 0.1})
    assert "is outside the house limit" not in why_of(limits={"bump_steer": 2.0})


def test_a_sentence_stands_once():
    why = assess(changed(KNOWN, steering={"wheel_deg": 20}))["why"]

    assert len(why) == len(set(why))


def test_a_rear_axle_with_a_drag_link_asks_whether_it_is_the_front_one():
    found = assess(changed(KNOWN, axle="rear"))

    [ask] = found["asks"]
    assert (ask["field"], [each["value"] for each in ask["choices"]]) == ("axle", ["front"])
    assert ask["says"].endswith("Rear axles have no drag link. Did you mean front?")
    assert codes(axle="rear", drag_link=None) == []
