"""Centering: offset, uncertainty, verdict, the check of the sum, and laws for any reading."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from kit.worked_sheets import LIMITS, OTHER, READY, SAMPLE, changed, mirrored

from webapp.reckon.assess import assess
from webapp.reckon.checks.centering import centering, side_variance
from webapp.reckon.sentences.reasons import in_words
from webapp.reckon.walk.missing import missing_heights

INCH = 25.4
TENTHS = st.integers(1500, 3500).map(lambda tenths: tenths / 10)
READINGS = st.lists(TENTHS, min_size=2, max_size=4)
PLUMB = {"method": "plumb_bob", "rail_point_height": 610.0, "face_point_height": 380.0}
STEPS = st.sampled_from([0.5, 0.79375, 1.0, 1.5875])


def sheet_of(left, right, **part):
    """A sheet that is ready for a verdict."""
    given = {"face": "rotor", "left": left, "right": right, "read_to": 1.0, **part}
    return {"standing": "on_wheels", "ready": dict(READY), "centering": given}


def found_of(left, right, limits=LIMITS, **part):
    return worded(sheet_of(left, right, **part), limits)


def worded(sheet, limits=LIMITS):
    """The centering of a sheet with its reasons in sentences."""
    return in_words(centering(sheet, limits), sheet.get("units", "mm"))


def test_offset_is_half_the_difference():
    found = found_of([220, 220], [200, 200])

    assert found["difference"] == 20
    assert found["offset"] == 10
    assert found["sum"] == 420
    assert found["toward"] == "left"


def test_out_by_half_an_inch_between_the_sides_is_a_quarter_offset():
    found = found_of([8.5 * INCH, 8.5 * INCH], [8 * INCH, 8 * INCH])

    assert found["offset"] == pytest.approx(0.25 * INCH)


def test_a_spacer_fakes_half_its_thickness_until_it_is_entered():
    """A 1/4 in spacer on one side fakes 1/8 in of offset."""
    faked = found_of([206.35, 206.35], [200, 200])
    honest = found_of([206.35, 206.35], [200, 200], left_extra=6.35)

    assert faked["offset"] == pytest.approx(INCH / 8)
    assert honest["offset"] == pytest.approx(0)
    assert found_of([200, 200], [206.35, 206.35], right_extra=6.35)["offset"] == pytest.approx(0)


def test_uncertainty_adds_the_tape_the_repeats_and_the_face():
    part = {"left": [200, 202], "read_to": 1.0}

    variance = side_variance(part, "left", LIMITS)

    assert variance == pytest.approx(1 / 12 + 2 / 2 + 0.25)
    assert found_of([200, 202], [200, 200])["expanded"] == pytest.approx(
        math.sqrt(variance + 1 / 12 + 0.25)
    )


@pytest.mark.parametrize(
    ("offset", "state"),
    [(0, "inside"), (1.9, "inside"), (2.5, "too_close"), (3.5, "too_close"), (4.1, "outside")],
)
@pytest.mark.parametrize("side", [1, -1])
def test_the_verdict_takes_the_whole_interval_against_the_limit(offset, state, side):
    """The expanded uncertainty of these readings is 0.816 mm, the limit 3 mm."""
    left = 200 + side * 2 * offset

    assert found_of([left, left], [200, 200])["state"] == state


def test_an_interval_that_just_touches_the_limit_is_inside():
    exact = found_of([206, 206], [200, 200], {**LIMITS, "face_u": 0}, read_to=1e-6)
    touching = {**LIMITS, "offset": exact["offset"] + exact["expanded"], "face_u": 0}

    assert found_of([206, 206], [200, 200], touching, read_to=1e-6)["state"] == "inside"


SETTLED = [
    (3.6, {"read_to": 1.5875, "limits": {"face_u": 0.1}}, "Reading to 1/32\u202fin"),
    (3.95, {"read_to": 1.5875, "left": [207.1, 208.7]}, "A finer tape and twice as many"),
    (3.1, {}, "It sits on the limit"),
]


@pytest.mark.parametrize(("offset", "more", "says"), SETTLED)
def test_too_close_to_call_says_what_would_settle_it(offset, more, says):
    limits = {**LIMITS, **more.get("limits", {})}
    readings = more.get("left", [200 + 2 * offset] * 2)

    found = found_of(readings, [200, 200], limits, read_to=more.get("read_to", 1.0))

    assert found["state"] == "too_close"
    assert found["settle"].startswith(says)
    assert found["settle"] in found["why"]


def test_scatter_is_named_where_it_is_what_keeps_the_answer_open():
    """0.75 mm from the limit, and alike readings would tell: no word of a limit that it sits on."""
    part = {**SAMPLE["centering"], "left": [224, 226], "right": [221, 220], "read_to": 1}
    sheet = changed(SAMPLE, play=None)
    found = assess({**sheet, "centering": part, "limits": {**sheet.get("limits", {}), "repeat": 3}})

    assert found["centering"]["state"] == "too_close"
    assert "Read again with the tape square." in found["centering"]["settle"]


SHORT = [
    ({"left": []}, "No reading on the left."),
    ({"right": None}, "No reading on the right."),
    ({"left": [200]}, "Take a second reading on the left."),
    ({"read_to": None}, "Say what the tape was read to."),
]


@pytest.mark.parametrize(("part", "says"), SHORT)
def test_short_readings_are_incomplete_and_say_what_is_missing(part, says):
    found = worded(changed(sheet_of([200, 201], [200, 201]), centering=part))

    assert found["state"] == "incomplete"
    assert found["why"] == [says]


BLOCKED = [
    ({"standing": "hanging"}, "The axle was hanging"),
    ({"standing": None}, "What the vehicle was standing on is not recorded."),
    ({"ready": {"level": False}}, "Not checked: Floor level."),
    ({"ready": {"straight": None}}, "Not checked: Wheels straight ahead."),
    ({"ready": None}, "Not checked: Floor level."),
    ({"centering": {"mixed_faces": ["hub", "tire"]}}, "The sides were measured from different"),
    ({"centering": {"method": "plumb_bob"}}, "The floor's tilt was not measured"),
    ({"centering": {"method": "plumb_bob", "tilt_deg": 1}}, "The floor's tilt was not measured"),
    (
        {"centering": {"method": "plumb_bob", "tilt_deg": 1, "rail_point_height": 600}},
        "The floor's tilt was not measured",
    ),
]


@pytest.mark.parametrize(("parts", "says"), BLOCKED)
def test_no_verdict_is_given_where_one_would_be_worthless(parts, says):
    found = worded(changed(sheet_of([220, 220], [200, 200]), **parts))

    assert found["state"] == "no_verdict"
    assert found["why"][0].startswith(says)
    assert found["offset"] == 10


def test_a_plumb_bob_on_a_sloping_floor_is_corrected():
    """Points 230 mm apart in height read 4.0 mm off on a slope of 1 degree."""
    floor = {**PLUMB, "tilt_deg": 1.0, "high_side": "left"}
    read = 4.0146

    found = found_of([200 + read, 200 + read], [200 - read, 200 - read], **floor)

    assert found["tilt_shift"] == pytest.approx(4.0, abs=0.05)
    assert found["offset"] == pytest.approx(0, abs=2e-3)
    assert found["state"] == "inside"
    assert "4.0\u202fmm too far to the left" in " ".join(found["why"])


def hung(x, height, tilt_deg):
    """Where a line from a point of a vehicle lands that stands on a floor rising to the left."""
    return x - height * math.tan(math.radians(tilt_deg))


@pytest.mark.parametrize("tilt", [1.0, 2.5])
def test_a_centered_axle_over_a_tilted_floor_comes_out_centered(tilt):
    """The vehicle leans with the floor, and its four plumb lines do not."""
    rails, faces = (430, -430), (760, -760)
    left = abs(hung(faces[0], 380, tilt) - hung(rails[0], 610, tilt))
    right = abs(hung(faces[1], 380, tilt) - hung(rails[1], 610, tilt))

    found = found_of([left] * 2, [right] * 2, **PLUMB, tilt_deg=tilt, high_side="left")

    assert (left - right) / 2 == pytest.approx(230 * math.tan(math.radians(tilt)))
    assert found["offset"] == pytest.approx(0, abs=1e-6)


def test_a_measured_tilt_takes_the_place_of_the_tick_for_a_level_floor():
    sheet = sheet_of([200, 200], [200, 200], **PLUMB, tilt_deg=1.0, high_side="left")
    sheet["ready"]["level"] = False

    assert worded(sheet)["state"] == "outside"
    assert missing_heights(sheet) == ["No ride height on the left.", "No ride height on the right."]
    sheet["centering"]["method"] = "square_to_rail"
    assert worded(sheet)["why"] == ["Not checked: Floor level."]


def test_a_level_floor_needs_no_heights():
    assert found_of([200, 200], [200, 200], method="plumb_bob", tilt_deg=0)["state"] == "inside"


def test_readings_that_do_not_repeat_point_at_play():
    found = found_of([200, 202.1], [200, 202.0])

    assert "The left does not repeat: its readings are 2.1\u202fmm apart." in found["why"][0]
    assert len(found["why"]) == 1
    assert found["unsteady"] == found["why"]


@pytest.mark.parametrize(("marks", "state"), [(1, "inside"), (2, "inside"), (3, "no_verdict")])
def test_readings_may_lie_two_marks_of_the_tape_apart(marks, state):
    """Two marks of a 1/16 in tape are more than the house's 1.5 mm."""
    left = [8 * INCH, 8 * INCH, (8 + marks / 16) * INCH]
    found = found_of(left, [8 * INCH] * 2, {**LIMITS, "offset": 10}, read_to=INCH / 16)

    assert found["state"] == state
    assert len(found["unsteady"]) == (1 if state == "no_verdict" else 0)


@pytest.mark.parametrize("first", [10.375, 14.375])
def test_readings_that_do_not_repeat_get_no_verdict_from_any_tape(first):
    """14 3/8 and 13 7/8 against 14 3/8 twice were once called too close to call."""
    left = [first * INCH, (first - 0.5) * INCH]

    found = found_of(left, [14.375 * INCH] * 2, read_to=INCH / 16)

    assert found["state"] == "no_verdict"
    assert found["why"][0].startswith(
        "The left does not repeat: its readings are 12.7\u202fmm apart"
    )


def test_scatter_alone_never_makes_a_verdict_too_close_to_call():
    """Two readings 1.4 mm apart may, and then they hide what the tape could tell."""
    found = found_of([205.0, 206.4], [201.5, 201.5])
    alike = found_of([205.7, 205.7], [201.5, 201.5])

    assert alike["state"] == "inside"
    assert found["state"] == "no_verdict"
    assert found["why"] == [
        "The readings on one side are up to 1.4\u202fmm apart. With that much scatter nobody can "
        "tell whether the axle is inside the limit. Read again with the tape square."
    ]


def test_tire_readings_are_called_rough():
    assert (
        "Readings from a tire are rough" in found_of([200, 200], [200, 200], face="tire")["why"][0]
    )


def test_a_sum_that_agrees_has_no_hint():
    found = found_of([220, 220], [200, 200], known_sum=421, known_sum_u=0.8)

    assert found["sum_state"] == "agrees"
    assert found["sum_hint"] is None
    assert found_of([220, 220], [200, 200])["sum_state"] == "unknown"


def test_the_room_for_the_sum_is_two_uncertainties_and_a_millimeter():
    room = 2 * math.sqrt(2 * (1 / 12 + 0.25) + 0.64) + 1

    def state(excess):
        found = found_of([210, 210], [210, 210], known_sum=420 - excess, known_sum_u=0.8)
        return found["sum_state"]

    assert state(room) == "agrees"
    assert state(-room) == "agrees"
    assert state(room + 0.001) == "differs"
    assert state(-room - 0.001) == "differs"


def test_the_hint_names_amount_and_direction_in_the_unit_in_use():
    more = worded(changed(sheet_of([205, 205], [200, 200], known_sum=400), units="in"))
    less = found_of([205, 205], [200, 200], known_sum=409)

    assert more["sum_hint"].startswith("The sides add up to ≈\u202f3/16\u202fin (5.0\u202fmm) more")
    assert less["sum_hint"].startswith("The sides add up to 4.0\u202fmm less than before. ")


HINTS = [
    (-3, {}, "One side may be misread"),
    (-25, {}, "started at the 1 in mark"),
    (25, {}, "a side may have been read 1 in short"),
    (-50, {}, "Both tapes may have been started at the 1 in mark"),
    (-10, {}, "started at the 1 cm mark"),
    (-100, {}, "started at the 10 cm mark"),
    (-200, {}, "Both tapes may have been started at the 10 cm mark"),
    (-6, {}, "A spacer of 1/4 in on one side would do that"),
    (-38, {}, "A spacer of 1 1/2 in on one side would do that"),
    (6, {"left_extra": 6.35}, "That is the left spacer"),
    (-6, {"right_extra": 6.35}, "That is the right spacer"),
    (16, {"right_extra": 6.35}, "One side may be misread"),
]


@pytest.mark.parametrize(("more", "part", "says"), HINTS)
def test_a_sum_that_differs_suggests_why(more, part, says):
    found = found_of([200, 200], [200, 200], known_sum=400, **part)
    excess = found_of([200, 200], [200, 200], known_sum=found["sum"] + more, **part)

    assert excess["sum_state"] == "differs"
    assert excess["sum_reason"]["excess"] == pytest.approx(-more)
    assert says in excess["sum_hint"]
    assert excess["sum_hint"] in excess["why"]


@given(READINGS, READINGS, STEPS)
def test_swapping_the_sides_swaps_the_answer(left, right, step):
    found = found_of(left, right, read_to=step)
    swapped = found_of(right, left, read_to=step)

    assert swapped["offset"] == pytest.approx(-found["offset"])
    assert swapped["expanded"] == pytest.approx(found["expanded"])
    assert swapped["sum"] == pytest.approx(found["sum"])
    assert swapped["state"] == found["state"]


@given(READINGS, READINGS, st.integers(-400, 400))
def test_the_sum_does_not_move_with_the_axle(left, right, tenths):
    moved = tenths / 10
    first = found_of(left, right)
    then = found_of([each + moved for each in left], [each - moved for each in right])

    assert then["sum"] == pytest.approx(first["sum"])
    assert then["offset"] == pytest.approx(first["offset"] + moved)


@given(READINGS, READINGS, STEPS)
def test_a_finer_tape_and_more_readings_never_widen_the_interval(left, right, step):
    found = found_of(left, right, read_to=step)

    assert found_of(left, right, read_to=step / 2)["expanded"] <= found["expanded"]
    doubled = found_of(left + left, right + right, read_to=step)
    assert doubled["expanded"] <= found["expanded"] + 1e-9


@given(READINGS, READINGS, st.floats(0.5, 10), st.floats(0, 10))
def test_a_wider_limit_never_makes_a_verdict_worse(left, right, limit, wider):
    order = ["outside", "too_close", "inside"]
    # Steady readings: how far they scatter is judged against another limit.
    left, right = left[:1] * 2, right[:1] * 2
    narrow = found_of(left, right, {**LIMITS, "offset": limit})["state"]
    wide = found_of(left, right, {**LIMITS, "offset": limit + wider})["state"]

    assert order.index(wide) >= order.index(narrow)


@given(READINGS, READINGS, st.sampled_from(["left", "right"]), st.floats(0, 3))
def test_a_mirrored_vehicle_has_the_mirrored_answer(left, right, high, tilt):
    floor = {**PLUMB, "tilt_deg": tilt, "high_side": high}
    sheet = sheet_of(left, right, **floor)

    found, mirror = centering(sheet, LIMITS), centering(mirrored(sheet), LIMITS)

    assert mirror["offset"] == pytest.approx(-found["offset"])
    assert mirror["toward"] == OTHER.get(found["toward"], "neither")
    assert mirror["state"] == found["state"]


STEADY = st.tuples(TENTHS, st.sampled_from([[0.0, 0.0], [0.0, 0.8], [0.5, 0.0, 0.0]])).map(
    lambda drawn: [drawn[0] + more for more in drawn[1]]
)
KINDS = st.sampled_from(["one_end", "both_ends"])


@given(STEADY, STEADY, KINDS, st.sampled_from(["left", "right"]))
def test_turning_by_the_answer_and_measuring_again_is_inside(left, right, kind, frame_end):
    adjuster = {"kind": kind, "pitch": 1.5875, "step": None}
    bar = {"frame_end": frame_end, "adjuster": adjuster}
    sheet = changed(SAMPLE, track_bar=bar, centering={"left": left, "right": right})
    found = assess(sheet)
    assume(found["centering"]["state"] == "outside")

    moved = found["bar_change"]["leftover"] - found["centering"]["offset"]
    again = {"left": [each + moved for each in left], "right": [each - moved for each in right]}
    assert assess(changed(sheet, centering=again))["centering"]["state"] == "inside"
