"""Clean jobs of vehicles whose truth is known: a sheet, with a round on file.

Tapes, floors and loads differ from one round to the next as they do in a shop, and so do the
vehicles: inch and metric, either side, front and rear, spacers, a known lean, plumb lines.
"""

import math

INCH = 25.4
READY = dict.fromkeys(["level", "tires", "load", "settled", "straight"], True)
SIDES = ["left", "right"]
TAPES = [1.0, INCH / 32, INCH / 16]


def job(rng, work="nothing done"):
    """A clean job with a round on file; `work` names what was done, and logged, since then."""
    step = rng.choice(TAPES)
    bar = true_bar(rng)
    link = true_link(rng, bar) if rng.random() < 0.85 else None
    height, lean = rng.uniform(140, 320), rng.choice([0, 0, 0, rng.uniform(-18, 18)])
    filed = {side: height + rng.gauss(0, 2) for side in SIDES}
    filed["left"] += lean
    sheet = {
        "axle": "rear" if link is None else "front",
        "units": rng.choice(["in", "mm"]),
        "standing": rng.choice(["on_wheels", "on_stands_loaded"]),
        "ready": dict(READY),
        "heights": {side: [filed[side] + rng.gauss(0, 3)] for side in SIDES},
        "before": {
            "expanded": 0.9,
            "heights": {side: [filed[side]] for side in SIDES},
        },
        "on_file": {"heights": filed, "track_bar": bar},
        "play": [{"joint": "frame end", "of": "track_bar", "along": 0.3, "house_limit": 1.0,
                  "bolt": 14.2, "hole_long": 14.5}],
    }  # fmt: skip
    if lean != 0:
        sheet["heights"]["known_lean"] = lean
    sheet["track_bar"] = measured_again(rng, bar)
    if link is not None:
        sheet["drag_link"] = measured_again(rng, link)
        sheet["on_file"]["drag_link"] = link
        sheet["steering"] = {"wheel_deg": rng.uniform(-4, 4)}
    offset = rng.uniform(-12, 12)
    sheet["before"]["offset"] = offset + rng.gauss(0, 0.4)
    offset += WORK[work](sheet, rng)
    sheet["centering"] = distances(rng, offset, step)
    return sheet


def true_bar(rng):
    """A track bar at ride height, its bolts at true heights."""
    long, axle = round(rng.uniform(650, 1050)), rng.uniform(380, 560)
    return {
        "frame_end": rng.choice(SIDES),
        "length": long,
        "frame_height": axle + long * rng.uniform(0.03, 0.22),
        "axle_height": axle,
        "fore_aft": rng.uniform(-40, 40),
        "adjuster": thread(rng),
        "bump": rng.uniform(60, 110),
        "droop": rng.uniform(70, 140),
    }


def true_link(rng, bar):
    """A drag link that lies about as the bar does."""
    long, slope = round(rng.uniform(620, 1050)), rise(bar) / bar["length"]
    axle = bar["axle_height"] + rng.uniform(-30, 60)
    return {
        "frame_end": bar["frame_end"],
        "length": long,
        "frame_height": axle + long * max(0.0, slope + rng.uniform(-0.06, 0.04)),
        "axle_height": axle,
        "fore_aft": rng.uniform(-60, 60),
        "arm": rng.uniform(125, 200),
        "arm_points": rng.choice(["forward", "rearward"]),
        "ratio": rng.choice([14.0, 16.0, 17.0, 18.0, 20.0]),
        "adjuster": thread(rng),
    }


def thread(rng):
    """An adjuster as shops have them."""
    if rng.random() < 0.5:
        return {"kind": "one_end", "pitch": rng.choice([INCH / 16, INCH / 18, 2.0]), "step": 0.5}
    return {"kind": "both_ends", "pitch": rng.choice([1.5, INCH / 12, INCH / 16]), "step": 0}


def rise(rod):
    """How much higher its frame end lies, mm."""
    return rod["frame_height"] - rod["axle_height"]


def measured_again(rng, rod):
    """The rod as another tape reads it on another day; what is picked stays as picked."""
    again = {**rod, "adjuster": dict(rod["adjuster"])}
    for field, spread in (("length", 1), ("frame_height", 1), ("axle_height", 1), ("fore_aft", 2)):
        again[field] = rod[field] + rng.gauss(0, spread)
    return again


def distances(rng, offset, step):
    """Two readings a side of an axle so far to the left, by tape or by plumb lines."""
    half, extra = rng.uniform(150, 260), rng.choice([0, 0, rng.uniform(20, 35)])
    part = {"face": rng.choice(["rotor", "hub"]), "method": "square_to_rail", "read_to": step,
            "known_sum": 2 * half + rng.gauss(0, 0.5), "known_sum_u": 0.6}  # fmt: skip
    seen = offset
    if extra:
        part["left_extra"] = part["right_extra"] = extra
    if rng.random() < 0.2:
        part.update(method="plumb_bob", tilt_deg=rng.uniform(0.3, 1.5), high_side=rng.choice(SIDES),
                    rail_point_height=610.0, face_point_height=380.0)  # fmt: skip
        way = 1 if part["high_side"] == "left" else -1
        seen += way * 230 * math.tan(math.radians(part["tilt_deg"]))
    for side, way in (("left", 1), ("right", -1)):
        part[side] = [read(rng, half + extra + way * seen, step) for _ in range(2)]
    return part


def read(rng, value, step):
    """What a tape shows of a distance."""
    return round((value + rng.gauss(0, 0.4)) / step) * step


def carried(bar, longer, higher):
    """How far a longer bar and a higher frame move the axle, left positive, in mm."""

    def run(rod):
        return math.sqrt(rod["length"] ** 2 - rise(rod) ** 2 - rod["fore_aft"] ** 2)

    then = {**bar, "length": bar["length"] + longer, "frame_height": bar["frame_height"] + higher}
    return (-1 if bar["frame_end"] == "left" else 1) * (run(then) - run(bar))


def nothing(sheet, rng):
    """Nothing was done."""
    return 0.0


def bar_turned(sheet, rng):
    """The bar was turned and that is logged."""
    longer = rng.choice([-1, 1]) * rng.uniform(2, 9)
    sheet["track_bar"]["length"] += longer
    sheet["before"]["length_change"] = longer
    sheet["changes"] = ["bar_turned"]
    return carried(sheet["on_file"]["track_bar"], longer, 0)


def lifted(sheet, rng):
    """Springs were changed and that is logged; what stands on them was measured again."""
    higher = rng.uniform(25, 90)
    for rod in ("track_bar", "drag_link"):
        if rod in sheet:
            sheet[rod]["frame_height"] += higher
    for side in SIDES:
        sheet["heights"][side][0] += higher
    sheet["changes"] = ["springs_changed"]
    return carried(sheet["on_file"]["track_bar"], 0, higher)


def other_tires(sheet, rng):
    """Larger tires: everything stands higher over the floor, and nothing else is moved."""
    for rod in ("track_bar", "drag_link"):
        for end in ("frame_height", "axle_height"):
            if rod in sheet:
                sheet[rod][end] += 38
    sheet["before"]["changed"] = True
    sheet["changes"] = ["wheels_changed"]
    return 0.0


def other_floor(sheet, rng):
    """Another bay, whose floor lies lower under the axle than where its tape was set up."""
    for rod in ("track_bar", "drag_link"):
        for end in ("frame_height", "axle_height"):
            if rod in sheet:
                sheet[rod][end] += 9
    return 0.0


def sagged(sheet, rng):
    """Springs that have settled a little, as they do within a year."""
    lower = rng.uniform(4, 8)
    for side in SIDES:
        sheet["heights"][side][0] -= lower
    for rod in ("track_bar", "drag_link"):
        if rod in sheet:
            sheet[rod]["frame_height"] -= lower
    return carried(sheet["on_file"]["track_bar"], 0, -lower)


WORK = {
    "nothing done": nothing,
    "bar turned": bar_turned,
    "springs changed": lifted,
    "larger tires": other_tires,
    "measured in another bay": other_floor,
    "springs settled": sagged,
}
