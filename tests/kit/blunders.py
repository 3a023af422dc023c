"""How many blunders are held back: true vehicles, one blunder in each job, counted by kind.

    python tests/kit/blunders.py

prints a table of blunders held and clean jobs held, with and without a round on file.
"""

import copy
import random
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT)] if str(ROOT) not in sys.path else []

from webapp.reckon.assess import assess  # noqa: E402

INCH = 25.4
READY = dict.fromkeys(["level", "tires", "load", "settled", "straight"], True)
SIDES = ["left", "right"]


def job(rng):
    """A clean job of a vehicle with known truth: its sheet, with a round on file."""
    offset, half = rng.uniform(-9, 9), rng.uniform(150, 260)
    height = rng.uniform(170, 280)
    end, step = rng.choice(SIDES), rng.choice([1.0, INCH / 32, INCH / 16])
    axle, rise = rng.uniform(420, 560), rng.uniform(40, 160)

    def read(value, grain=step, spread=0.4):
        return round((value + rng.gauss(0, spread)) / grain) * grain

    def distances(where):
        return {
            "left": [read(half + where), read(half + where)],
            "right": [read(half - where), read(half - where)],
        }

    bar = {
        "frame_end": end, "length": round(rng.uniform(720, 980)), "frame_height": axle + rise,
        "axle_height": axle, "adjuster": {"kind": "one_end", "pitch": 1.5875, "step": 0.5},
    }  # fmt: skip
    link = {
        "frame_end": end, "length": round(rng.uniform(750, 1000)),
        "frame_height": axle + rise * 0.8, "axle_height": axle + 10, "arm": 158,
        "arm_points": "forward", "ratio": 17,
        "adjuster": {"kind": "both_ends", "pitch": 1.5, "step": 0},
    }  # fmt: skip
    filed_heights = {side: height + rng.gauss(0, 2) for side in SIDES}
    heights = {side: [height + rng.gauss(0, 3)] for side in SIDES}
    again = {**bar, "length": bar["length"] + rng.choice([-1, 0, 1])}
    for field in ("frame_height", "axle_height"):
        again[field] = bar[field] + rng.gauss(0, 1)
    sheet = {
        "axle": "front", "standing": "on_wheels", "ready": dict(READY), "heights": heights,
        "centering": {"face": "rotor", "method": "square_to_rail", "read_to": step,
                      **distances(offset), "known_sum": 2 * half + rng.gauss(0, 0.5),
                      "known_sum_u": 0.6},
        "track_bar": again, "drag_link": link,
        "play": [{"joint": "frame end", "of": "track_bar", "along": 0.3, "house_limit": 1.0,
                  "bolt": 14.2, "hole_long": 14.5}],
        "steering": {"wheel_deg": rng.uniform(-4, 4)},
        "before": {"offset": offset + rng.gauss(0, 0.4), "expanded": 0.9,
                   "heights": {side: [filed_heights[side]] for side in SIDES}},
        "on_file": {"heights": filed_heights, "track_bar": bar, "drag_link": dict(link)},
    }  # fmt: skip
    return sheet


def both(sheet, side, by):
    sheet["centering"][side] = [each + by for each in sheet["centering"][side]]


def swapped_digits(value):
    text = f"{value:.0f}"
    swapped = text[0] + text[2] + text[1] + text[3:]
    return float(swapped) if swapped != text else float(text[1] + text[0] + text[2:])


def set_bar(field, change):
    def blunder(sheet, rng):
        sheet["track_bar"][field] = change(sheet["track_bar"][field])

    return blunder


def set_link(field, change):
    def blunder(sheet, rng):
        sheet["drag_link"][field] = change(sheet["drag_link"][field])

    return blunder


def tape(by, sides=1):
    def blunder(sheet, rng):
        for side in rng.sample(SIDES, sides):
            both(sheet, side, by)

    return blunder


def units(factor):
    def blunder(sheet, rng):
        side = rng.choice(SIDES)
        sheet["centering"][side] = [each * factor for each in sheet["centering"][side]]

    return blunder


def sides_swapped(sheet, rng):
    part = sheet["centering"]
    for side in SIDES:
        both(sheet, side, 4 if side == "left" else -4)
    sheet["before"]["offset"] += 4
    part["left"], part["right"] = part["right"], part["left"]


def ends_swapped(name):
    def blunder(sheet, rng):
        rod = sheet[name]
        rod["frame_height"], rod["axle_height"] = rod["axle_height"], rod["frame_height"]

    return blunder


def other_end(name):
    def blunder(sheet, rng):
        sheet[name]["frame_end"] = "right" if sheet[name]["frame_end"] == "left" else "left"

    return blunder


def pitch(factor):
    def blunder(sheet, rng):
        adjuster = copy.deepcopy(sheet["track_bar"]["adjuster"])
        adjuster["pitch"] *= factor
        sheet["track_bar"]["adjuster"] = adjuster

    return blunder


def heights_by(by, sides=2):
    def blunder(sheet, rng):
        for side in rng.sample(SIDES, sides):
            sheet["heights"][side] = [each + by for each in sheet["heights"][side]]

    return blunder


def heights_in_inches(sheet, rng):
    sheet["heights"] = {side: [each[0] / INCH] for side, each in sheet["heights"].items()}


def damage(sheet, rng):
    moved = rng.choice([-1, 1]) * rng.uniform(4, 12)
    both(sheet, "left", moved)
    both(sheet, "right", -moved)


def scatter(sheet, rng):
    sheet["centering"][rng.choice(SIDES)][1] += rng.choice([-1, 1]) * rng.uniform(6, 15)


def zero(sheet, rng):
    sheet["centering"][rng.choice(SIDES)] = [0.0, 0.0]


def joint(**fields):
    def blunder(sheet, rng):
        sheet["play"] = [{**sheet["play"][0], **fields}]

    return blunder


def wanders(sheet, rng):
    sheet["steering"]["after_bumps"] = [0, rng.uniform(15, 60), -20]


def turned_wrong(sheet, rng):
    longer = rng.choice([-1, 1]) * rng.uniform(4, 8)
    sheet["track_bar"]["length"] += longer
    way = 1 if sheet["track_bar"]["frame_end"] == "left" else -1
    sheet["before"]["length_change"] = longer
    sheet["before"]["offset"] -= way * longer


BLUNDERS = {
    "tape begun at 1 in": tape(INCH),
    "both tapes begun at 1 in": tape(INCH, 2),
    "tape begun at 1 cm": tape(10),
    "tape begun at 10 cm": tape(100),
    "read 1 in short": tape(-INCH),
    "read 1/4 in off": tape(6.35),
    "spacer forgotten": tape(31.75),
    "thin spacer forgotten": tape(7.9),
    "inches for mm": units(1 / INCH),
    "mm for inches": units(INCH),
    "cm for mm": units(0.1),
    "sides swapped": sides_swapped,
    "reading of zero": zero,
    "readings scatter": scatter,
    "axle moved by damage": damage,
    "bar turned the wrong way": turned_wrong,
    "bar length, digits swapped": set_bar("length", swapped_digits),
    "bar length, 50 mm off": set_bar("length", lambda value: value + 50),
    "bar length in inches": set_bar("length", lambda value: value / INCH),
    "frame height, digits swapped": set_bar("frame_height", swapped_digits),
    "axle height 20 mm off": set_bar("axle_height", lambda value: value - 20),
    "bar heights swapped": ends_swapped("track_bar"),
    "link heights swapped": ends_swapped("drag_link"),
    "wrong frame-end side of the bar": other_end("track_bar"),
    "wrong frame-end side of the link": other_end("drag_link"),
    "pitch ten times too large": pitch(10),
    "pitch of another thread": pitch(1.25),
    "pitch half": pitch(0.5),
    "arm in cm": set_link("arm", lambda value: value / 10),
    "link length 30 mm off": set_link("length", lambda value: value + 30),
    "arm of another vehicle": set_link("arm", lambda value: value + 25),
    "hanging but ticked": heights_by(90),
    "springs changed unsaid": heights_by(50),
    "empty, not loaded": heights_by(28),
    "leaning": heights_by(-41, 1),
    "heights in inches": heights_in_inches,
    "joint past its limit": joint(along=2.2),
    "bolt loose in its hole": joint(hole_long=15.3),
    "bracket loose": joint(loose="bracket"),
    "wheel wanders": wanders,
}


def count(jobs, seed=1):
    """{kind: [held with a round on file, held without one]} of so many jobs, `clean` among them."""
    rng, found = random.Random(seed), {}
    for name, blunder in {"clean": lambda sheet, rng: None, **BLUNDERS}.items():
        held = [0, 0]
        for _ in range(jobs):
            sheet = job(rng)
            blunder(sheet, rng)
            bare = {key: part for key, part in sheet.items() if key not in ("before", "on_file")}
            bare["centering"] = {**bare["centering"], "known_sum": None, "known_sum_u": None}
            for index, each in enumerate((sheet, bare)):
                held[index] += assess(each)["advice"]["state"] == "hold"
        found[name] = held
    return found


def table(found, jobs):
    """The count as a table of percentages, with both totals."""
    rows = ["| kind | with a round on file | seen for the first time |", "|---|---|---|"]
    for name, held in found.items():
        rows.append(f"| {name} | {100 * held[0] / jobs:.0f} % | {100 * held[1] / jobs:.0f} % |")
    kinds = [held for name, held in found.items() if name != "clean"]
    totals = [100 * sum(held[index] for held in kinds) / jobs / len(kinds) for index in (0, 1)]
    return "\n".join([*rows, f"| all blunders | {totals[0]:.1f} % | {totals[1]:.1f} % |"])


if __name__ == "__main__":
    JOBS = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    print(table(count(JOBS), JOBS))
