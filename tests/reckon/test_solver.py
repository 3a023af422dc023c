"""An independent solver agrees: balls and links as constraints in space, no formula of ours."""

import numpy as np
import pytest
from kit.worked_sheets import EXAMPLES, SAMPLE
from scipy.optimize import brentq, least_squares, minimize_scalar

from webapp.reckon.checks.bump_steer import steer
from webapp.reckon.checks.track_bar import bar_arc, bar_change, shift_at
from webapp.reckon.checks.what_if import what_if
from webapp.reckon.checks.wheel_after_move import wheel

SHEETS = [SAMPLE] + [example["sheet"] for example in EXAMPLES]
TRAVELS = [-60.0, -25.0, 10.0, 25.0, 50.0]


def solved(off, start):
    """The root of `off` next to the start."""
    found = least_squares(off, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert abs(found.fun[0]) < 1e-9
    return found.x[0]


def ends_of(part):
    """Frame end and axle end in space at ride height (x forward, y left, z up), solved for y."""
    away = -1 if part["frame_end"] == "left" else 1
    frame = np.array([0.0, 0.0, part["frame_height"]])

    def gap(y):
        axle = np.array([part["fore_aft"], y, part["axle_height"]])
        return np.linalg.norm(axle - frame) - part["length"]

    across = brentq(gap, 0, away * 2 * part["length"])
    return frame, np.array([part["fore_aft"], across, part["axle_height"]])


def axle_at(bar, travel):
    """Where the bar's axle end is in this travel: on its sphere, in its plane, at its height."""
    frame, axle = ends_of(bar)

    def off(y):
        return np.linalg.norm([axle[0], y[0], axle[2] + travel] - frame) - bar["length"]

    across = solved(off, axle[1])
    return np.array([axle[0], across, axle[2] + travel])


def steered_at(link, moved):
    """The steer in degrees once the axle has moved so far in space."""
    frame, ball = ends_of(link)
    arm = np.array([link["arm"] if link["arm_points"] == "forward" else -link["arm"], 0.0, 0.0])
    axis = ball - arm

    def off(angle):
        turn = np.array(
            [
                [np.cos(angle[0]), -np.sin(angle[0]), 0],
                [np.sin(angle[0]), np.cos(angle[0]), 0],
                [0, 0, 1],
            ]
        )
        return np.linalg.norm(axis + moved + turn @ arm - frame) - link["length"]

    return np.degrees(solved(off, 0.0))


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("travel", TRAVELS)
def test_the_bar_carries_the_axle_along_its_sphere(sheet, travel):
    bar = sheet["track_bar"]

    moved = axle_at(bar, travel) - ends_of(bar)[1]

    assert shift_at(bar, travel) == pytest.approx(moved[1], abs=1e-7)


@pytest.mark.parametrize("sheet", SHEETS)
def test_bump_steer_is_what_the_link_forces(sheet):
    bar, link = sheet["track_bar"], sheet["drag_link"]

    for travel, steered in steer(bar, link)["curve"][::4]:
        moved = axle_at(bar, travel) - ends_of(bar)[1]
        assert steered == pytest.approx(steered_at(link, moved), abs=1e-7)


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("offset", [-9.0, 4.25, 12.0])
def test_the_changed_bar_puts_the_axle_in_the_middle(sheet, offset):
    bar = sheet["track_bar"]

    changed = {**bar, "length": bar["length"] + bar_change(bar, offset)["length_change"]}

    moved = ends_of(changed)[1][1] - ends_of(bar)[1][1]
    assert moved == pytest.approx(-offset, abs=1e-7)


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_steering_after_a_move_and_the_link_that_undoes_it(sheet):
    link = sheet["drag_link"]
    move = np.array([0.0, -6.5, 0.0])

    found = wheel({"move": -6.5}, link, 0.0)

    assert found["steer_deg"] == pytest.approx(steered_at(link, move), abs=1e-7)
    frame, ball = ends_of(link)
    apart = np.linalg.norm(ball + move - frame)
    assert found["link_length_change"] == pytest.approx(apart - link["length"], abs=1e-7)


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_roll_center_is_where_the_bars_line_meets_the_middle_plane(sheet):
    bar = {**sheet["track_bar"], "frame_end_from_center": 400.0, "fore_aft": 0.0}
    frame, axle = ends_of(bar)
    middle = -400.0 if bar["frame_end"] == "left" else 400.0

    share = (middle - frame[1]) / (axle[1] - frame[1])

    assert bar_arc(bar)["roll_center"] == pytest.approx((frame + share * (axle - frame))[2])


def raised(bar, lift):
    """The bar with its axle end raised and its length taken from the two points."""
    frame, axle = ends_of(bar)
    apart = np.linalg.norm(axle + np.array([0.0, 0.0, lift]) - frame)
    return {**bar, "axle_height": bar["axle_height"] + lift, "length": apart}


def worst_at(sheet, lift):
    bar = raised(sheet["track_bar"], lift)
    home = ends_of(bar)[1]
    travels = np.linspace(-bar["droop"], bar["bump"], 61)
    return max(abs(steered_at(sheet["drag_link"], axle_at(bar, each) - home)) for each in travels)


@pytest.mark.parametrize("sheet", SHEETS[:3])
def test_the_least_steer_raise_is_the_solvers(sheet):
    found = what_if(sheet["track_bar"], sheet["drag_link"], [])
    near = found["least_steer_raise"]

    best = minimize_scalar(
        lambda lift: worst_at(sheet, lift), bounds=(near - 8, near + 8), method="bounded"
    )

    assert near == pytest.approx(best.x, abs=0.1)
    assert found["least_steer_deg"] == pytest.approx(best.fun, abs=0.005)


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_parallel_raise_levels_the_two_slopes(sheet):
    found = what_if(sheet["track_bar"], sheet["drag_link"], [])
    frame, axle = ends_of(raised(sheet["track_bar"], found["parallel_raise"]))
    pitman, ball = ends_of(sheet["drag_link"])

    slope = (axle[2] - frame[2]) / (axle[1] - frame[1])

    assert slope == pytest.approx((ball[2] - pitman[2]) / (ball[1] - pitman[1]), abs=1e-9)
