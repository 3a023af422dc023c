"""How many blunders are held back: true vehicles, one blunder in each job, counted by kind.

    python tests/kit/blunders.py

makes 100 jobs of each kind and writes the table in docs/judgment.md. With a number it makes so many
and only prints.
"""

import copy
import math
import random
import sys
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(each) for each in (ROOT, ROOT / "tests") if str(each) not in sys.path]

from kit.true_jobs import INCH, SIDES, WORK, carried, job  # noqa: E402
from webapp.reckon.assess import judged  # noqa: E402

PAGE = ROOT / "docs" / "judgment.md"
BEGIN, END = "[//]: # (counted: begin)", "[//]: # (counted: end)"
JOBS = 100
# An axle that ends up so far off, mm, because of a blunder is no longer centered to a tape's mark.
MATTERS = 1.0


def other(side):
    return "right" if side == "left" else "left"


def both(sheet, side, by):
    sheet["centering"][side] = [each + by for each in sheet["centering"][side]]


def swapped_digits(value):
    text = f"{value:.0f}"
    swapped = text[0] + text[2] + text[1] + text[3:]
    return float(swapped) if swapped != text else float(text[1] + text[0] + text[2:])


def shift(sheet, by):
    """Let the sides read an axle that lies so much further to the left."""
    both(sheet, "left", by)
    both(sheet, "right", -by)


def either(rng, least, most):
    return rng.choice([-1, 1]) * rng.uniform(least, most)


def set_in(name, field, change):
    def blunder(sheet, rng):
        sheet[name][field] = change(sheet[name][field])

    return blunder


def set_bar(field, change):
    return set_in("track_bar", field, change)


def set_link(field, change):
    return set_in("drag_link", field, change)


def adjuster(name, **changes):
    def blunder(sheet, rng):
        thread = sheet[name]["adjuster"]
        for field, change in changes.items():
            thread[field] = change(thread[field])

    return blunder


def tape(by, sides=1):
    def blunder(sheet, rng):
        for side in rng.sample(SIDES, sides):
            both(sheet, side, by)

    return blunder


def tape_between(least, most):
    def blunder(sheet, rng):
        both(sheet, rng.choice(SIDES), either(rng, least, most))

    return blunder


def units(factor):
    def blunder(sheet, rng):
        side = rng.choice(SIDES)
        sheet["centering"][side] = [each * factor for each in sheet["centering"][side]]

    return blunder


def sides_swapped(sheet, rng):
    part = sheet["centering"]
    part["left"], part["right"] = part["right"], part["left"]


def ends_swapped(name):
    def blunder(sheet, rng):
        rod = sheet[name]
        rod["frame_height"], rod["axle_height"] = rod["axle_height"], rod["frame_height"]

    return blunder


def heights_by(by, sides=2):
    def blunder(sheet, rng):
        for side in rng.sample(SIDES, sides):
            sheet["heights"][side][0] += by

    return blunder


def heights_in_inches(sheet, rng):
    for side in SIDES:
        sheet["heights"][side] = [sheet["heights"][side][0] / INCH]


def damage(sheet, rng):
    shift(sheet, either(rng, 4, 12))


def bracket_bent(sheet, rng):
    shift(sheet, either(rng, 4, 10))
    sheet["track_bar"][rng.choice(["frame_height", "axle_height"])] -= rng.uniform(2, 12)


def unmeasured_damage(sheet, rng):
    shift(sheet, either(rng, 6, 14))
    del sheet["heights"]


def bar_bent(sheet, rng):
    """A bent bar is shorter eye to eye, and pulls the axle along."""
    shorter = -rng.uniform(3, 9)
    sheet["track_bar"]["length"] += shorter
    shift(sheet, carried(sheet["on_file"]["track_bar"], shorter, 0))


def unlogged_turn(sheet, rng):
    longer = either(rng, 3, 9)
    sheet["track_bar"]["length"] += longer
    shift(sheet, carried(sheet["on_file"]["track_bar"], longer, 0))


def springs_and(blunder):
    """Springs were changed and logged, and a blunder is made behind that."""

    def both_done(sheet, rng):
        shift(sheet, WORK["springs changed"](sheet, rng))
        blunder(sheet, rng)

    return both_done


def bar_heights_of_before(sheet, rng):
    """Springs were changed and logged; the bar's ends were not measured again."""
    shift(sheet, WORK["springs changed"](sheet, rng))
    sheet["track_bar"] = copy.deepcopy(sheet["on_file"]["track_bar"])


def scatter(sheet, rng):
    sheet["centering"][rng.choice(SIDES)][1] += either(rng, 6, 15)


def zero(sheet, rng):
    sheet["centering"][rng.choice(SIDES)] = [0.0, 0.0]


def joint(**fields):
    def blunder(sheet, rng):
        sheet["play"] = [{**sheet["play"][0], **fields}]

    return blunder


def two_joints(sheet, rng):
    first = {**sheet["play"][0], "along": 1.8, "house_limit": 2.0}
    sheet["play"] = [first, {**first, "joint": "axle end"}]


def wanders(sheet, rng):
    sheet["steering"]["after_bumps"] = [0, rng.uniform(15, 60), -20]


def turned_wrong(sheet, rng):
    """Logged one way, turned the other, by as much."""
    longer = either(rng, 4, 8)
    sheet["track_bar"]["length"] += longer
    sheet["before"]["length_change"] = longer
    sheet["changes"] = ["bar_turned"]
    shift(sheet, carried(sheet["on_file"]["track_bar"], -longer, 0))


def turned_wrong_without_heights(sheet, rng):
    turned_wrong(sheet, rng)
    del sheet["heights"]


def old_numbers(sheet, rng):
    """The bar was turned; the numbers handed in are those of the round before."""
    longer = either(rng, 3, 9)
    sheet["before"]["length_change"] = longer
    sheet["changes"] = ["bar_turned"]
    sheet["track_bar"]["length"] += longer


def flats_as_turns(sheet, rng):
    """Flats of the nut logged as turns: six times what was done."""
    turned = either(rng, 1, 2.5)
    sheet["track_bar"]["length"] += turned
    sheet["before"]["length_change"] = 6 * turned
    sheet["changes"] = ["bar_turned"]
    shift(sheet, carried(sheet["on_file"]["track_bar"], turned, 0))


def turned_the_link(sheet, rng):
    """The drag link was turned, and it was logged as the bar."""
    sheet["before"]["length_change"] = either(rng, 3, 9)
    sheet["changes"] = ["bar_turned"]


def both_ends_for_one(sheet, rng):
    """A bar with opposite threads logged as one with one thread: half of what was done."""
    turned = either(rng, 5, 10)
    sheet["track_bar"]["length"] += turned
    sheet["before"]["length_change"] = turned / 2
    sheet["changes"] = ["bar_turned"]
    shift(sheet, carried(sheet["on_file"]["track_bar"], turned, 0))


def another(*parts):
    """These parts come from another vehicle: wrong tag, or the other axle."""

    def blunder(sheet, rng):
        strange = clean_job(rng, "drag_link" if "drag_link" in sheet else None)
        known = {key: sheet["centering"][key] for key in ("known_sum", "known_sum_u")}
        for each in parts:
            if each in sheet:
                sheet[each] = strange[each]
        sheet["centering"].update(known)

    return blunder


def spacer_on_the_wrong_side(sheet, rng):
    part, wide = sheet["centering"], rng.uniform(12, 38)
    side = rng.choice(SIDES)
    both(sheet, side, wide)
    key = f"{other(side)}_extra"
    part[key] = (part.get(key) or 0) + wide


def spacer_taken_off_twice(sheet, rng):
    part, wide = sheet["centering"], rng.uniform(12, 38)
    for side in SIDES:
        part[f"{side}_extra"] = (part.get(f"{side}_extra") or 0) + wide


def wheels_turned(sheet, rng):
    """The wheels point aside: one rotor's edge comes out, the other's goes in."""
    shift(sheet, 150 * math.sin(math.radians(either(rng, 2, 5))))


def floor(**changes):
    def blunder(sheet, rng):
        part = sheet["centering"]
        for field, change in changes.items():
            part[field] = change(part[field])

    return blunder


def points_swapped(sheet, rng):
    part = sheet["centering"]
    points = part["rail_point_height"], part["face_point_height"]
    part["face_point_height"], part["rail_point_height"] = points


def links_mixed(sheet, rng):
    for end in ("frame_height", "axle_height"):
        sheet["track_bar"][end], sheet["drag_link"][end] = (
            sheet["drag_link"][end] + 15,
            sheet["track_bar"][end] + 15,
        )


def tires_low_on_one_side(sheet, rng):
    """One side's tires are soft: rail and axle lean alike, and the frame end with them."""
    sheet["track_bar"]["frame_height" if rng.random() < 0.5 else "axle_height"] -= 7


def faces_mixed(sheet, rng):
    both(sheet, rng.choice(SIDES), rng.uniform(50, 90))


# Name, blunder, and what the job must have: parts of the sheet, or fields of its centering.
KINDS = [
    ("tape begun at 1 in", tape(INCH)),
    ("both tapes begun at 1 in", tape(INCH, 2)),
    ("tape begun at 1 cm", tape(10)),
    ("tape begun at 10 cm", tape(100)),
    ("read 1 in short", tape(-INCH)),
    ("read 1/4 in off", tape(6.35)),
    ("read 1/8 in off", tape(3.175)),
    ("13 heard as 30", tape_between(17, 17)),
    ("7 8/16 typed for 8 7/16", tape(-23.8)),
    ("the tape's case added, or not", tape_between(70, 90)),
    ("outer face of one rail, inner of the other", tape_between(55, 80)),
    ("rim lip on one side, hub on the other", faces_mixed),
    ("another face than that of the known sum", tape(-42, 2)),
    ("spacer forgotten", tape(31.75)),
    ("thin spacer forgotten", tape(7.9)),
    ("spacer taken off on the wrong side", spacer_on_the_wrong_side),
    ("spacer taken off twice", spacer_taken_off_twice),
    ("inches for mm", units(1 / INCH)),
    ("mm for inches", units(INCH)),
    ("cm for mm", units(0.1)),
    ("sides swapped", sides_swapped),
    ("reading of zero", zero),
    ("readings scatter", scatter),
    ("wheels not straight", wheels_turned),
    ("plumb lines, floor higher on the other side", floor(high_side=other), "tilt_deg"),
    ("plumb lines, percent for degrees", floor(tilt_deg=lambda deg: deg * 1.75), "tilt_deg"),
    ("plumb lines, points swapped", points_swapped, "tilt_deg"),
    ("last round's numbers again", old_numbers),
    ("another vehicle's tag", another("centering", "heights", "track_bar", "drag_link")),
    ("the other axle measured", another("centering", "heights", "track_bar")),
    ("sides and heights of another vehicle", another("centering", "heights")),
    ("axle moved by damage", damage),
    ("bracket bent", bracket_bent),
    ("bar bent", bar_bent),
    ("axle moved, heights not measured", unmeasured_damage),
    ("bar turned and not logged", unlogged_turn),
    ("bar turned the wrong way", turned_wrong),
    ("bar turned the wrong way, heights not measured", turned_wrong_without_heights),
    ("flats logged as turns", flats_as_turns),
    ("one end's thread logged for both ends'", both_ends_for_one),
    ("springs changed, and damage behind them", springs_and(damage)),
    ("springs changed, bar's ends as before", bar_heights_of_before),
    ("drag link turned, logged as the bar", turned_the_link),
    ("bar length, digits swapped", set_bar("length", swapped_digits)),
    ("bar length, 50 mm off", set_bar("length", lambda value: value + 50)),
    ("bar length over the eyes' edges", set_bar("length", lambda value: value + 38)),
    ("bar length between the eyes", set_bar("length", lambda value: value - 38)),
    ("bar length in inches", set_bar("length", lambda value: value / INCH)),
    ("frame height, digits swapped", set_bar("frame_height", swapped_digits)),
    ("axle height 20 mm off", set_bar("axle_height", lambda value: value - 20)),
    ("height to the bolt's head", set_bar("frame_height", lambda value: value + 12)),
    ("bar heights swapped", ends_swapped("track_bar")),
    ("bar's and link's heights mixed up", links_mixed, "drag_link"),
    ("bar's lead to the other side", set_bar("fore_aft", lambda value: -math.copysign(25, value))),
    ("link heights swapped", ends_swapped("drag_link"), "drag_link"),
    ("link's lead to the other side", set_link("fore_aft", lambda value: -value), "drag_link"),
    ("wrong frame-end side of the bar", set_bar("frame_end", other)),
    ("wrong frame-end side of the link", set_link("frame_end", other), "drag_link"),
    ("pitch ten times too large", adjuster("track_bar", pitch=lambda pitch: pitch * 10)),
    ("pitch of another thread", adjuster("track_bar", pitch=lambda pitch: pitch * 1.25)),
    ("pitch half", adjuster("track_bar", pitch=lambda pitch: pitch / 2)),
    ("threads per inch for mm", adjuster("track_bar", pitch=lambda pitch: INCH / pitch)),
    ("threaded at both ends for one, or one for both", adjuster(
        "track_bar", kind=lambda kind: "one_end" if kind == "both_ends" else "both_ends")),
    ("pitch of another thread, link", adjuster("drag_link", pitch=lambda pitch: pitch * 1.25),
     "drag_link"),
    ("arm in cm", set_link("arm", lambda value: value / 10), "drag_link"),
    ("arm of another vehicle", set_link("arm", lambda value: value + 25), "drag_link"),
    ("arm pointing the other way", set_link(
        "arm_points", lambda way: "rearward" if way == "forward" else "forward"), "drag_link"),
    ("steering ratio of another box", set_link("ratio", lambda ratio: ratio * 1.2), "drag_link"),
    ("link length 30 mm off", set_link("length", lambda value: value + 30), "drag_link"),
    ("hanging but ticked", heights_by(90)),
    ("springs changed unsaid", heights_by(50)),
    ("empty, not loaded", heights_by(28)),
    ("one side on a jack", heights_by(45, 1)),
    ("leaning", heights_by(-41, 1)),
    ("one height at another point of the frame", heights_by(24, 1)),
    ("height to the ground, not to the axle", heights_by(360)),
    ("heights in inches", heights_in_inches),
    ("joint past its limit", joint(along=2.2)),
    ("two joints, each inside its limit", two_joints),
    ("dial's thousandths as mm", joint(along=35)),
    ("bolt loose in its hole", joint(hole_long=15.3)),
    ("bolt measured over its thread", joint(bolt=13.3)),
    ("bolt larger than its hole", joint(bolt=16.2)),
    ("hole worn oval", joint(hole_long=15.4, hole_short=14.4)),
    ("bracket loose", joint(loose="bracket")),
    ("wheel wanders", wanders, "drag_link"),
]  # fmt: skip
# What is about as small as the tapes, floors and loads of two rounds differ anyway.
SMALL = [
    ("read 1/16 in off on one side, each time", tape(INCH / 16)),
    ("a decimal for a fraction: 14.3 for 14 3/8", tape(-1.9)),
    ("tape held askew by 8 degrees", units(1 / math.cos(math.radians(8)))),
    ("tires low on one side", tires_low_on_one_side),
]


CLEAN = [
    (f"clean, {work}" if work != "nothing done" else "clean", lambda sheet, rng: None, None, work)
    for work in WORK
]


def clean_job(rng, needed=None, work="nothing done"):
    """A clean job that has what a kind of blunder needs."""
    while True:
        sheet = job(rng, work)
        if needed is None or needed in sheet or needed in sheet["centering"]:
            return sheet


def first_seen(sheet):
    """The same job of a vehicle that has nothing on file."""
    bare = {key: part for key, part in sheet.items() if key not in ("before", "on_file")}
    bare["centering"] = {**bare["centering"], "known_sum": None, "known_sum_u": None}
    return bare


def ordered(found):
    """How much longer the findings tell somebody to make the bar, mm; None without a verdict."""
    if found["advice"]["state"] == "leave":
        return 0.0
    if found["advice"]["state"] == "none":
        return None
    return (found.get("bar_change") or {}).get("length_change")


def count(jobs, kinds, seed=1):
    """{kind: {held: [with a round on file, without one], off: mm of those that got past}}.

    What got past is told by how far the advice then differs from that of the clean job.
    """
    rng, found = random.Random(seed), {}
    for name, blunder, *needs in kinds:
        held, off = [0, 0], []
        for _ in range(jobs):
            sheet = clean_job(rng, *needs)
            true = ordered(judged(copy.deepcopy(sheet)))
            blunder(sheet, rng)
            for index, each in enumerate((sheet, first_seen(sheet))):
                answer = judged(each)
                is_held = answer["advice"]["state"] == "hold"
                held[index] += is_held
                if index == 0 and not is_held and None not in (true, ordered(answer)):
                    off.append(abs(ordered(answer) - true))
        found[name] = {"held": held, "off": off}
    return found


def row(name, found, jobs):
    """One row of the table: held with a file and without, and what got past."""
    with_file, without = [f"{100 * held / jobs:.0f} %" for held in found["held"]]
    past = [off for off in found["off"] if off >= MATTERS]
    mattered = f"{len(past)}, by {median(past):.1f} mm, at most {max(past):.1f}" if past else ""
    return f"| {name} | {with_file} | {without} | {mattered} |"


def table(jobs, seed=1):
    """The count as a table, with the totals of blunders and of clean jobs."""
    lines = [
        "| kind | held with a round on file | held when seen for the first time"
        " | got past and set the bar wrong |",
        "|---|---|---|---|",
    ]
    for title, kinds in (
        ("clean jobs", CLEAN),
        ("blunders", KINDS),
        ("blunders as small as two rounds differ anyway", SMALL),
    ):
        found = count(jobs, kinds, seed)
        lines += [row(name, each, jobs) for name, each in found.items()]
        held = [sum(each["held"][index] for each in found.values()) for index in (0, 1)]
        shares = [f"**{100 * each / jobs / len(kinds):.1f} %**" for each in held]
        past = sum(off >= MATTERS for each in found.values() for off in each["off"])
        of = jobs * len(kinds)
        lines.append(f"| **all {title}** | {' | '.join(shares)} | **{past} of {of}** |")
    return "\n".join(lines)


def main(arguments):
    """Print the table; without a number of jobs, write it into the page too."""
    made = table(int(arguments[0]) if arguments else JOBS)
    print(made)
    if not arguments:
        page = PAGE.read_text("utf-8")
        before, after = page.partition(BEGIN)[0], page.partition(END)[2]
        PAGE.write_text(f"{before}{BEGIN}\n\n{made}\n\n{END}{after}", "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
