"""Track bar, drag link and steering in sentences: their reasons, and which readings they need."""

from ..numbers import THIN, fixed
from ..terms import degrees, known_to, move_words, steer_words, turns_words, way_of
from ..typed.lengths import show_amount

SHOWN = 0.1
NEEDED_NAMES = {
    "track_bar": "The track bar",
    "drag_link": "The drag link",
    "toe": "Toe",
    "wheelbase": "Wheelbase",
}
NEEDED = {
    "track_bar": {
        "frame_end": "on which side its frame end is",
        "length": "its length from eye to eye",
        "frame_height": "the height of its frame-end bolt",
        "axle_height": "the height of its axle-end bolt",
    },
    "drag_link": {
        "frame_end": "on which side its frame end is",
        "length": "its length from ball to ball",
        "frame_height": "the height of its frame-end ball",
        "axle_height": "the height of its axle-end ball",
        "arm": "the length of the steering arm",
        "arm_points": "whether the arm points forward or rearward",
    },
    "toe": {
        "front": "the distance between the wheels ahead of the axle",
        "rear": "the distance between the wheels behind the axle",
        "span": "how far apart fore and aft the two distances were measured",
    },
    "wheelbase": {
        "left": "the wheelbase on the left",
        "right": "the wheelbase on the right",
        "track": "the track",
    },
}
READINGS = {
    "offset": "the readings of the two sides",
    "bar.length": "the track bar's length",
    "bar.frame_height": "the height of the track bar's frame end",
    "bar.axle_height": "the height of the track bar's axle end",
    "bar.fore_aft": "the track bar's fore-aft lead",
    "link.length": "the drag link's length",
    "link.frame_height": "the height of the drag link's frame end",
    "link.axle_height": "the height of the drag link's axle end",
    "link.fore_aft": "the drag link's fore-aft lead",
    "link.arm": "the steering arm's length",
    "before": "the earlier round, which cannot be measured again",
    "heights": "the frame-to-axle heights",
}
WHICH_AXLE = (
    "One difference cannot tell which of the two axles is off: measure the diagonals from each "
    "axle to the frame."
)

# Code of a reason to its sentence, or to what makes one from the reason and the unit.
LINKAGE_SENTENCES: dict = {
    "missing": lambda reason, unit: (
        f"{NEEDED_NAMES[reason['part']]} needs {NEEDED[reason['part']][reason['field']]}."
    ),
    "improve": lambda reason, unit: improve_sentence(reason),
    "no_bar_length": (
        "No length of this bar moves the axle that far: it would pass the bar's frame end. "
        "Check both sides' readings and the bar's length."
    ),
    "change_known_to": lambda reason, unit: (
        f"The change of length is known to {known_to(reason['expanded'], unit)}."
    ),
    "adjuster_missing": "Enter the adjuster and its thread to get the turns.",
    "bar_too_short": (
        "A bar of this length cannot reach between these ends: its bolts are further apart in "
        "height and fore-aft than it is long. Measure the length and both heights again."
    ),
    "bar_out_of_travel": (
        "The bar cannot reach through the whole travel. Check its length and heights."
    ),
    "link_too_short": (
        "A drag link of this length cannot reach between its ends: they are further apart in "
        "height and fore-aft than it is long. Measure its length and both heights again."
    ),
    "near_dead_center": (
        "Seen from above, the steering arm and the drag link are almost in line, so a small move "
        "steers a lot. Check the arm's length, the link's fore-aft lead and which way the arm "
        "points."
    ),
    "no_track_bar": "Enter the track bar: it carries the axle sideways.",
    "frame_ends_opposite": (
        "Bar and link have their frame ends on opposite sides, so they cannot follow each other "
        "far. Their angles are both given as seen from the bar's frame end."
    ),
    "no_travel": "Enter bump and droop travel to find the worst.",
    "out_of_travel": (
        "The bar or the link cannot reach through the whole travel. Check lengths and heights."
    ),
    "bump_rate": lambda reason, unit: bump_rate_sentence(reason, unit),
    "worst_steer": lambda reason, unit: (
        f"The most it steers over the travel is {steer_words(reason['steer_deg'])}, at "
        f"{travel_words(reason['at'], unit)}."
    ),
    "worst_steer_known_to": lambda reason, unit: (
        f"The worst steer is known to ±{degrees(reason['expanded'], 2)}."
    ),
    "link_cannot_follow": "The drag link cannot reach after that move.",
    "ratio_missing": "Enter the steering ratio to find the steering wheel's angle.",
    "bar_change_steers": lambda reason, unit: (
        "If nothing else changes, the bar change steers the wheels "
        f"{steer_words(reason['steer_deg'])}. {link_change_sentence(reason, unit)}"
    ),
    "wheel_off_center": (
        "A steering wheel more than 5° off center can set off the stability control."
    ),
    "steer_known_to": lambda reason, unit: (
        f"That steer is known to ±{degrees(reason['expanded'], 2)}."
    ),
    "no_link_and_ratio": "Enter the drag link and the steering ratio to find out what centers the "
    "steering wheel.",
    "no_drag_link": "Enter the drag link to find out what a plan does to the steering.",
    "raises": lambda reason, unit: raises_sentence(reason, unit),
    "bar_did_not_reach": "This bar could not reach where the axle was then.",
    "offsets_missing": "The offset of both rounds is needed to say what moved the axle.",
    "heights_missing": "The ride height of both rounds is needed to say what moved the axle.",
    "axle_moved": lambda reason, unit: (
        "Since the last round the axle moved: "
        f"{move_words(reason['observed'], unit)}. Ride height and logged bar changes account "
        f"for {move_words(reason['expected'], unit)}."
    ),
    "rest_explained": "The rest is within what the readings can tell.",
    "rest_changed": lambda reason, unit: (
        f"The rest, {rest_words(reason, unit)}, goes with the other work that is logged."
    ),
    "rest_unexplained": lambda reason, unit: (
        f"Nothing that is logged explains the rest, {rest_words(reason, unit)}: look for damage "
        "or play before adjusting."
    ),
    "toe_impossible": (
        "The two distances differ by more than the wheels allow. Measure both again."
    ),
    "toe": lambda reason, unit: toe_sentence(reason, unit),
    "square": lambda reason, unit: square_sentence(reason, unit),
}


def improve_sentence(reason: dict) -> str:
    """Which reading makes up most of an uncertainty, and that it is the one to improve."""
    reading = READINGS[reason["reading"]]
    share = fixed(100 * reason["share"], 0)
    if share == "100":
        return f"All of that comes from {reading}."
    first = "" if reason["reading"] == "before" else ": improve that first"
    return f"The largest part of that, {share}%, comes from {reading}{first}."


def bump_rate_sentence(reason: dict, unit: str) -> str:
    """How much the wheels steer in the first inch, or the first 25 mm, of bump."""
    inches = unit == "in"
    first = "inch" if inches else f"25{THIN}mm"
    steer = reason["per_inch_deg"] if inches else reason["per_25_deg"]
    if reason["toward"] == "neither" or steer is None:
        return f"In the first {first} of bump the wheels do not steer."
    return f"In the first {first} of bump the wheels steer {steer_words(steer)}."


def travel_words(travel: float, unit: str) -> str:
    """A travel from ride height: `2 in of bump` or `100 mm of droop`."""
    way = "bump" if travel > 0 else "droop"
    size = show_amount(abs(travel), unit) if unit == "in" else f"{fixed(abs(travel), 0)}{THIN}mm"
    return f"{size} of {way}"


def link_change_sentence(reason: dict, unit: str) -> str:
    """The change of the drag link that brings the wheels back."""
    longer = "longer" if reason["link_length_change"] > 0 else "shorter"
    change = f"{show_amount(abs(reason['link_length_change']), unit)} {longer}"
    if reason["fixed"]:
        return f"The drag link cannot be adjusted; it would have to be {change}."
    turns = ""
    if reason["turns"] is not None and reason["turns"] != 0:
        turns = f" ({turns_words(reason['turns'])} {way_of(reason['turns'])})"
    centers = "brings them back" if reason["from_deg"] == 0 else "centers the steering wheel"
    return f"Making the drag link {change}{turns} {centers}."


def raises_sentence(reason: dict, unit: str) -> str:
    """The raises of the bar's axle end that lie parallel to the link and steer least."""
    parallel = (
        f"Bar and link would lie parallel with the axle end {up_words(reason['parallel'], unit)}"
    )
    if reason["least"] is None:
        return f"{parallel}."
    low = up_words(reason["lowest"], unit)
    high = up_words(reason["highest"], unit)
    end = f", the end of what was searched ({low} to {high})" if reason["at_the_end"] else ""
    least = f"the worst steer is least with it {up_words(reason['least'], unit)}"
    return (
        f"{parallel}; {least}{end}. The bar's length is reset so that the axle stays where it is."
    )


def up_words(lift: float, unit: str) -> str:
    """A raise in words; one too small to be shown is none."""
    if abs(lift) < SHOWN / 2:
        return "where it is"
    return show_amount(abs(lift), unit) + (" lower" if lift < 0 else " higher")


def rest_words(reason: dict, unit: str) -> str:
    """What is left unexplained of a move, and how well that is known."""
    return f"{move_words(reason['rest'], unit)} ({known_to(reason['expanded'], unit)})"


def toe_sentence(reason: dict, unit: str) -> str:
    """The toe, and where the wheels stand further apart."""
    if reason["difference"] == 0:
        return "Total toe is zero: both distances are the same."
    toe_in = reason["difference"] > 0
    wider = "behind" if toe_in else "ahead of"
    return (
        f"Total toe is {degrees(abs(reason['total_deg']), 2)} {'in' if toe_in else 'out'}: the "
        f"wheels stand {show_amount(abs(reason['difference']), unit)} further apart {wider} the "
        "axle."
    )


def square_sentence(reason: dict, unit: str) -> str:
    """How the axle stands, and what one difference cannot tell."""
    if reason["forward"] == "even":
        return "The axle stands square: both wheelbases are the same."
    return (
        f"The {reason['forward']} wheel stands {show_amount(abs(reason['difference']), unit)} "
        f"forward: the axle is {degrees(abs(reason['yaw_deg']), 2)} off square. {WHICH_AXLE}"
    )
