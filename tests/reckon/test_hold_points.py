"""Hold points."""

import pytest
from kit.looked_over import (
    BOLTS,
    OPENED,
    OVAL,
    PLACES,
    change,
    points,
    says,
    seen,
    swept,
    tight,
    torqued,
)
from kit.worked_sheets import LIMITS, SAMPLE, entry

from webapp.reckon.assess import assess
from webapp.reckon.log.fold import fold_job
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.reckon.step_names import HOLD_POINT_TITLES
from webapp.reckon.walk.carried import lines_to_file
from webapp.reckon.walk.hold_points import CLEAR, PASSED_OVER, hold_points


def test_where_all_was_looked_at_and_is_in_order_nothing_is_open():
    found = points([])

    assert list(found) == ["road"]
    assert (found["road"]["state"], found["road"]["open"]) == ("clear", [])
    assert found["road"]["shows"] == "nothing open"
    assert "safe" not in " ".join([*HOLD_POINT_TITLES.values(), CLEAR, PASSED_OVER])


NEVER = [
    ("centering", "Not looked at: where the axle sits."),
    ("steering", "Not looked at: where the steering wheel sits."),
    ("play", "Not looked at: play at the frame end and the axle end of the bar."),
    ("clearance", "Not looked at: clearance through the travel, at each lock."),
    ("torque", "Not looked at: torque of the fasteners."),
]


@pytest.mark.parametrize(("part", "words"), NEVER)
def test_what_was_never_looked_at_is_said_and_keeps_the_road_closed(part, words):
    road = points([], seen(**{part: None}))["road"]

    assert (road["state"], says(road)) == ("open", [words])
    assert road["shows"] == "1 not looked at" and road["open"][0]["unseen"]


def test_a_plain_check_of_the_centering_looks_at_no_more_than_that():
    plain = {part: None for part, _ in NEVER[1:]}

    road = points([], seen(**plain))["road"]

    assert says(road) == [words for _, words in NEVER[1:]]
    assert road["shows"] == "4 not looked at"


def test_a_rear_axle_has_no_wheel_to_center():
    rear = seen(axle="rear", steering=None, drag_link=None, torque=BOLTS[:3])

    found = hold_points([entry("o", "job", {"axle": "rear", "round": "as_found"})], [rear])

    assert found[0]["open"] == []


PARTLY = [
    ({"play": [tight("axle end")]}, "Not looked at: play at the frame end of the bar."),
    ({"torque": BOLTS[1:]}, "Not looked at: torque of the frame-end bolt."),
    ({"torque": BOLTS[2:]}, "Not looked at: torque of the frame-end bolt and the axle-end bolt."),
    ({"clearance": swept(places=PLACES[:10])}, "Not looked at: 2 places of track bar to oil pan."),
]


@pytest.mark.parametrize(("parts", "words"), PARTLY)
def test_what_was_looked_at_in_part_names_the_rest(parts, words):
    assert says(points([], seen(**parts))["road"]) == [words]


def test_a_fastener_with_a_name_of_its_own_stands_for_a_usual_one():
    own = [*BOLTS[1:], torqued("four bracket bolts")]

    assert points([], seen(torque=own))["road"]["open"] == []


def test_hoses_and_wires_are_looked_at_as_the_axle_hangs():
    hoses = ("track bar", "hoses and wires")

    assert points([], seen(clearance=swept(25.0, PLACES[6:9], hoses)))["road"]["open"] == []


def test_movement_without_a_limit_is_listed_as_not_judged():
    loose = tight("frame end", house_limit=None)

    road = points([], seen(play=[loose, tight("axle end")]))["road"]

    assert road["state"] == "clear"
    assert road["not_judged"] == [
        "Track bar, frame end: recorded and not judged, because no limit is known."
    ]


WORN = {"bolt": 14.1, "hole_long": 15.2, "hole_short": 14.6, "read_to": 0.1}


def hole(id, round="as_found"):
    body = {"step": "play", "field": "hole_long", "joint": "frame end", "of": "track_bar"}
    return entry(id, "reading", {**body, "value": 15.2, "unit": "mm"}, round=round)


def test_an_oval_hole_stays_open_when_only_the_joint_is_rocked_again():
    found = seen(play=[tight("frame end", **WORN), tight("axle end")])
    rocked = seen("as_left")

    road = points([hole("h")], found, rocked)["road"]

    words = "Track bar, frame end: its hole is oval. Repair it, or let the lead judge it."
    assert says(road) == [words]
    repair = entry("c", "change", {"what": "hole_repaired", "part": "frame-end bracket"})
    assert words not in says(points([hole("h"), repair], found, rocked)["road"])
    assert words in says(points([repair, hole("h")], found, rocked)["road"])


def test_a_bolt_too_loose_in_a_round_hole_is_open_too():
    worn = {**WORN, "hole_short": 15.2}

    road = points([], seen(play=[tight("frame end", **worn), tight("axle end")]))["road"]

    assert says(road) == [
        "Track bar, frame end: its bolt is too loose in the hole. Repair it, or let the lead judge "
        "it."
    ]


@pytest.mark.parametrize(
    ("short", "words"), [(14.6, "its hole is oval."), (15.2, "its bolt is too loose in the hole.")]
)
def test_a_worn_hole_of_a_steering_part_asks_for_another_part(short, words):
    worn = {**WORN, "hole_short": short, "joint": "left tie rod end", "of": "other"}

    road = points([], seen(play=[tight("frame end"), tight("axle end"), worn]))["road"]

    assert says(road) == [
        f"Tie rod, left end: {words} Replace the worn part, or let the lead judge it."
    ]


def test_a_held_advice_keeps_the_road_closed_with_its_reason():
    bumped = {"wheel_deg": 0, "after_bumps": [-10, 25]}

    road = points([], seen(steering=bumped))["road"]

    assert [each["step"] for each in road["open"]] == ["drag_link"]
    assert "Something is loose: find it first." in says(road)[0]


def test_a_joint_that_is_outside_is_said_once():
    worn = tight("frame end", along=2.0)

    assert says(points([], seen(play=[worn, tight("axle end")]))["road"]) == [
        "Track bar, frame end: outside its limit."
    ]


@pytest.mark.parametrize(
    ("of", "words"),
    [("track_bar", "Play in the joints lets the axle"), ("drag_link", "Play in the drag link's")],
)
def test_what_all_joints_of_a_link_let_move_keeps_the_road_closed(of, words):
    loose = {"joint": "own", "of": of, "along": 5.0}

    road = points([], seen(play=[tight("frame end"), tight("axle end"), loose]))["road"]

    assert [each["step"] for each in road["open"]] == ["play"]
    assert says(road)[0].startswith(words)


HELD = [
    ({"centering": SAMPLE["centering"]}, "The axle sits"),
    ({"centering": {"left": [209.0, 209.0]}}, "too close to the limit to call"),
    ({"standing": "hanging"}, "No verdict on the centering"),
    ({"centering": {"known_sum": 300.0, "known_sum_u": 0.5}}, "The sides add up to"),
    ({"steering": {"wheel_deg": -9}}, "9° to the right. Center it with the drag link."),
    (
        {"clearance": swept("touches", PLACES[:1])},
        "Track bar to oil pan: contact, at ride height, left lock.",
    ),
    (
        {"play": [{"joint": "frame end", "of": "track_bar", "along": 2.0, "house_limit": 1.0}]},
        "Track bar, frame end: outside its limit.",
    ),
    ({"torque": [{"fastener": "frame-end bolt", "value": 90, "unit": "N·m"}]}, "Frame-end bolt: "),
]


@pytest.mark.parametrize(("parts", "words"), HELD)
def test_before_the_road_each_finding_that_is_not_in_order_is_open(parts, words):
    road = points([], seen(**parts))["road"]

    assert road["state"] == "open"
    assert any(words in each for each in says(road)), says(road)


def test_a_wheel_that_sits_centered_is_not_open():
    assert points([], seen(steering={"wheel_deg": 2}))["road"]["open"] == []


def test_a_later_round_goes_before_an_earlier_one_joint_by_joint():
    worn = [tight("frame end", along=2.0), tight("axle end")]

    road = points([], seen(play=worn), seen("as_left"))["road"]

    assert road["open"] == []


def test_what_a_change_overtook_is_open_once_and_with_its_step():
    road = points([change("bar_turned")], seen(steering={"wheel_deg": 30}))["road"]

    assert [each["step"] for each in road["open"]] == [
        "centering",
        "drag_link",
        "clearance",
        "torque",
    ]


WELDING = [
    ([], [seen("fit_up")]),
    ([change("bracket_moved")], []),
    ([change("hole_repaired")], []),
]


@pytest.mark.parametrize(("entries", "rounds"), WELDING)
def test_a_fit_up_or_cut_metal_comes_to_final_welding(entries, rounds):
    welding = points(entries, *rounds)["final_welding"]

    assert welding["state"] == "open"
    assert [each["says"] for each in welding["open"] if not each["unseen"]] == [
        "Not checked: Bar installed as it will run.",
        "Not checked: Steering turned lock to lock.",
    ]
    assert len([each for each in welding["open"] if each["unseen"]]) >= len(AROUND_BRACKET) - 1


def test_a_contact_stays_open_until_that_place_is_looked_at_again():
    bump, ride = PLACES[3], PLACES[0]
    found = seen(clearance=[*swept("touches", [bump]), *swept(9.0, [*PLACES[:3], *PLACES[4:]])])
    elsewhere = seen("as_left", clearance=swept(25.0, [ride]))
    there = seen("as_left", clearance=swept(12.0, [bump]))

    road = points([], found, elsewhere)["road"]

    assert says(road) == ["Track bar to oil pan: contact, at full bump, left lock."]
    assert points([], found, there)["road"]["open"] == []


def tick(field, value=True, id=None, round="fit_up"):
    return entry(id or field, "tick", {"field": field, "value": value}, round=round)


READY = [tick("bar_fitted"), tick("swung")]


AROUND_BRACKET = [
    "spring bucket", "bump stop", "shock", "tie-rod joint", "drag-link joint", "knuckle yoke",
]  # fmt: skip


def all_around(part="bracket"):
    """Every usual pair of a part, swept."""
    found = swept(25.0, PLACES[6:9], (part, "hoses and wires"))
    for other in AROUND_BRACKET:
        found = found + swept(12.0, PLACES, (part, other))
    return found


BAR_PAIRS = [
    ("track bar", "differential cover"), ("track bar", "oil pan"), ("track bar", "tie rod"),
    ("drag link", "track bar"),
]  # fmt: skip


def around_bar():
    """Every usual pair of the bar, swept."""
    return all_around("track bar") + [
        one for pair in BAR_PAIRS for one in swept(12.0, PLACES, pair)
    ]


def test_a_fit_up_that_was_swept_fitted_and_swung_has_nothing_open():
    fit_up = seen("fit_up", clearance=all_around())

    assert points(READY, fit_up)["final_welding"]["state"] == "clear"


def test_one_pair_that_has_nothing_to_do_with_the_bracket_clears_nothing():
    welding = points(READY, seen("fit_up", clearance=swept(between=("tire", "frame"))))

    assert welding["final_welding"]["shows"] == "7 not looked at"


FOLLOWS = [
    ("bar_replaced", {}, around_bar()),
    ("bracket_moved", {"part": "axle-end bracket"}, all_around()),
    ("part_replaced", {"part": "track bar bushing"}, around_bar()),
    ("part_replaced", {"part": "wiper"}, all_around()),
]


@pytest.mark.parametrize(("what", "more", "needed"), FOLLOWS)
def test_the_pairs_to_sweep_follow_from_what_was_changed(what, more, needed):
    made = [entry("c", "change", {"what": what, **more}), *READY]

    whole = points(made, seen("fit_up", clearance=needed))["final_welding"]
    short = points(made, seen("fit_up", clearance=needed[3:]))["final_welding"]

    assert (whole["state"], whole["open"]) == ("clear", [])
    assert short["shows"] == "1 not looked at"


def test_parts_that_never_come_near_each_other_need_no_sweep():
    value = {"between": ["shock", "bracket"], "apart": True}
    said = entry("n", "pick", {"step": "clearance", "field": "apart", "value": value})
    without = [one for one in all_around() if "shock" not in one["between"]]
    fit_up = seen("fit_up", clearance=without)

    assert points(READY, fit_up)["final_welding"]["shows"] == "1 not looked at"
    assert points([*READY, said], fit_up)["final_welding"]["state"] == "clear"
    moved = change("bracket_moved", "m", "fit_up")
    again = [tick("bar_fitted", id="t3"), tick("swung", id="t4")]
    late = points([*READY, said, moved, *again], fit_up)["final_welding"]
    assert says(late) == ["Not looked at: bracket to shock."]


OPEN_AT_FIT_UP = [
    ([tick("swung")], [], "Not checked: Bar installed"),
    ([tick("bar_fitted"), tick("swung", False)], [], "Not checked: Steering turned"),
    ([tick("bar_fitted"), tick("swung", round="as_left")], [], "Not checked: Steering turned"),
    (
        READY,
        swept("touches"),
        "Track bar to oil pan: contact at fit-up, at ride height",
    ),
    (READY, swept(places=PLACES[:10]), "Not looked at: 2 places of track bar to oil pan."),
]


@pytest.mark.parametrize(("ticks", "clearance", "words"), OPEN_AT_FIT_UP)
def test_before_final_welding_it_is_said_what_is_open(ticks, clearance, words):
    swept_all = [*all_around(), *clearance]
    welding = points(ticks, seen("fit_up", clearance=swept_all))["final_welding"]

    assert len(says(welding)) == 1 and words in says(welding)[0]


def place_read(id, round="fit_up"):
    body = {"step": "clearance", "field": "gap", "value": 9.0, "between": ["track bar", "oil pan"]}
    return entry(id, "reading", {**body, "state": "ride", "lock": "left"}, round=round)


REFITTED = [
    (change("bracket_moved", "c", "fit_up"), 3),
    (change("bar_replaced", "c", "fit_up"), 3),
    (change("hole_repaired", "c", "as_left"), 3),
    (change("bar_turned", "c", "as_left"), 0),
    (change("link_turned", "c", "fit_up"), 0),
]


@pytest.mark.parametrize(("changed_then", "count"), REFITTED)
def test_a_change_after_the_sweep_asks_for_another_fit_up(changed_then, count):
    made = [*READY, place_read("r"), changed_then]
    again = [tick("bar_fitted", id="t3"), tick("swung", id="t4"), place_read("r2")]
    round = seen("fit_up", clearance=[*all_around(), *around_bar()])

    assert len(says(points(made, round)["final_welding"])) == count
    assert points([*made, *again], round)["final_welding"]["state"] == "clear"


def passed(id="p", seen_open=None, point="road"):
    body = {"hold_point": point, "reason": "tested on the ring road"}
    return entry(id, "pass_over", body if seen_open is None else {**body, "open": seen_open})


def test_passing_over_covers_what_was_open_then_and_no_more():
    outside = seen(centering=SAMPLE["centering"])
    opened = says(points([], outside)["road"])

    covered = points([passed(seen_open=opened)], outside)["road"]
    more = points([passed(seen_open=opened), change("part_replaced")], outside)["road"]

    assert covered["state"] == "passed_over"
    assert covered["passed"]["body"]["reason"] == "tested on the ring road"
    assert more["state"] == "open" and more["passed"] is not None
    assert points([passed()], outside)["road"]["state"] == "passed_over"
    assert points([passed(point="final_welding")], outside)["road"]["passed"] is None
    assert points([passed(seen_open=opened)])["road"]["state"] == "clear"


def read(step, field, seq, **body):
    return entry(f"r{seq}", "reading", {"step": step, "field": field, **body}, seq=seq)


def pick(step, field, seq, value):
    return entry(f"r{seq}", "pick", {"step": step, "field": field, "value": value}, seq=seq)


LOOSE = tight("frame end", loose="bracket")
TOUCHING = [{**place, "gap": "touches"} for place in swept()[:1]] + swept()[1:]
TOUCHED = {"between": ["oil pan", "track bar"], "state": "ride", "lock": "left"}
# What a round finds, and the entry of a later one that finds the same again.
FOUND_AGAIN = [
    ({"play": [OVAL, tight("axle end")]}, read("play", "hole_long", 9, joint="frame end")),
    ({"play": [LOOSE, tight("axle end")]},
     pick("play", "loose", 9, {"joint": "frame end", "what": "bracket"})),
    ({"play": [tight("frame end", house_limit=0.05), tight("axle end")]},
     read("play", "along", 9, joint="frame end")),
    ({"clearance": TOUCHING}, read("clearance", "gap", 9, **TOUCHED)),
    ({"clearance": swept(places=PLACES[1:])}, read("clearance", "gap", 9, **TOUCHED)),
    ({"torque": [torqued("jam nuts", source=None), *BOLTS[:2], *BOLTS[3:]]},
     read("torque", "fastener", 9, fastener="jam nuts")),
    ({"centering": SAMPLE["centering"]}, read("centering", "left", 9)),
    ({"ready": {"level": False}}, entry("t9", "tick", {"field": "level", "value": False}, seq=9)),
    ({"steering": {"wheel_deg": 20}}, pick("drag_link", "wheel_deg", 9, 20)),
    ({"heights": {"left": [260.0]}}, read("heights", "left", 9)),
    ({"limits": {"bump_steer": 0.1}}, read("drag_link", "frame_height", 9)),
    ({"torque": None}, entry("o9", "job", {"axle": "front", "round": "recheck"}, seq=9)),
]  # fmt: skip
ELSEWHERE = [
    read("play", "hole_long", 9, joint="axle end"),
    read("clearance", "gap", 9, **{**TOUCHED, "state": "full_droop"}),
    read("torque", "fastener", 9, fastener="axle-end bolt"),
]


def closings_of(says):
    body = {"axle": "front", "reason": "seen"}
    return [
        entry(f"k{at}", "close_item", {**body, "says": each}, seq=5) for at, each in enumerate(says)
    ]


def road_closed(parts, entries):
    """Before the road, with everything that one round found open closed by the lead."""
    round = seen(**parts)
    opened = says({each["hold_point"]: each for each in hold_points([OPENED], [round])}["road"])
    assert opened
    begun = {**OPENED, "seq": 1}
    past = {"jobs": [], "closings": closings_of(opened)}
    return hold_points([begun, *entries], [round], past)[-1]


@pytest.mark.parametrize(("parts", "again"), FOUND_AGAIN)
def test_a_close_holds_for_what_was_found_until_then_and_no_longer(parts, again):
    before = road_closed(parts, [{**again, "seq": 3}])
    after = road_closed(parts, [again])

    assert (before["open"], after["closed"]) == ([], before["closed"][len(after["open"]) :])
    assert len(after["open"]) > 0


@pytest.mark.parametrize("other", ELSEWHERE)
def test_what_is_measured_elsewhere_leaves_an_item_closed(other):
    assert road_closed({"play": [OVAL, tight("axle end")]}, [other])["open"] == []


@pytest.mark.parametrize(("parts", "again"), FOUND_AGAIN[:-1])
def test_a_close_stays_undone_on_file_beyond_the_jobs_that_are_looked_through(parts, again):
    point = road_closed(parts, [again])
    filed = lines_to_file([point])
    assert [each["since"] for each in filed] == [9] * len(point["open"])
    closed = [each["says"] for each in filed]

    def left_with(seq):
        made = [{**one, "seq": seq} for one in closings_of(closed)]
        past = {"jobs": [], "closings": made, "filed": filed}
        return [each for each in says(hold_points([OPENED], [], past)[-1]) if each in closed]

    assert (left_with(5), left_with(11)) == (closed, [])


def test_passing_over_does_not_cover_what_is_found_once_more():
    round = seen(play=[OVAL, tight("axle end")])
    opened = says(points([], round)["road"])
    over = {**passed(seen_open=opened), "seq": 5}
    again = read("play", "hole_long", 9, joint="frame end")

    assert points([over, {**again, "seq": 3}], round)["road"]["state"] == "passed_over"
    assert points([over, again], round)["road"]["state"] == "open"


def test_a_struck_passing_over_passes_nothing():
    strike = entry("s", "strike", {"target": "p", "reason": "not yet"})

    found = points([passed(), strike], seen(centering=SAMPLE["centering"]))["road"]

    assert (found["state"], found["passed"]) == ("open", None)


def test_a_real_jobs_sheets_come_to_hold_points():
    entries = [OPENED, change("bar_turned")]
    sheet = sheet_for(entries, "as_found", {}, LIMITS)
    rounds = [{"name": "as_found", "sheet": sheet, "findings": assess(sheet)}]

    assert fold_job(entries)["rounds"] == ["as_found"]
    assert len(hold_points(entries, rounds)[0]["open"]) == 5
