"""What to do now, in words: the headline of a hold, its reasons, and what is asked back."""

from ..numbers import trimmed
from ..terms import degrees, known_to, move_words, side_of
from ..typed.dial import show_fine
from ..typed.lengths import show_amount, show_pitch
from .adjuster_words import thread_words
from .lean_words import higher_words
from .limit_words import bump_steer_outside
from .plan_rows import set_words
from .play_reasons import NAMELESS_JOINT
from .range_words import range_words
from .reasons import sentence

HOLD = "Do not adjust yet."
LINKS = {"track_bar": "track bar", "drag_link": "drag link"}
FIELDS = {
    "frame_end": "frame end",
    "length": "length",
    "frame_height": "frame-end height",
    "axle_height": "axle-end height",
    "pitch": "thread pitch",
    "kind": "kind of adjuster",
    "fore_aft": "fore-aft lead",
    "arm": "steering arm",
    "arm_points": "arm direction",
    "ratio": "steering ratio",
}
# What is looked at, not measured.
PICKED = ["frame_end", "pitch", "kind", "arm_points", "ratio"]
MISSING = {"heights": "the ride heights", "track_bar": "the track bar"}
BEHIND = {
    "mm": "\u202fmm",
    "cm": "\u202fcm",
    "in": "\u202fin",
    "thou": " thou",
    "degrees": " deg",
    "turns": " turns",
    "N·m": "\u202fN·m",
    "lb-ft": "\u202flb-ft",
    "lb-in": "\u202flb-in",
    "kgf·m": "\u202fkgf·m",
}
FAULTS = {
    "along": "is outside its limit",
    "clearance": "has a bolt too loose in its hole",
    "loose": "was found loose",
}


def with_words(found: dict, unit: str) -> dict:
    """The finding `advice` with `says` at each of its reasons and flags."""
    reasons: list = []
    for each in found["reasons"]:
        reason = dict(each)
        reason["says"] = reason_words(each, unit)
        reasons.append(reason)
    flags: list = []
    for each in found["flags"]:
        flag = dict(each)
        flag["says"] = bump_steer_outside(each, unit)
        flags.append(flag)
    return {"state": found["state"], "reasons": reasons, "flags": flags}


def asks_with_words(reasons: list, unit: str) -> list:
    """What is asked back, as {field, says, choices}, from reasons that have their words."""
    found: list = []
    for each in reasons:
        if each["code"] == "implausible":
            choices = [
                {"text": meant_words(one, unit), "value": one["value"]} for one in each["choices"]
            ]
            ask = {"field": each["field"], "says": each["says"], "choices": choices}
            ask["key"] = each["key"]
            found.append(ask)
    return found


def headline(found: dict) -> list:
    """The headline of a hold in runs: its first reason, and how many more there are."""
    reasons = found["reasons"]
    more = len(reasons) - 1
    rest = ""
    if more > 0:
        rest = f" And {more} more {'reason' if more == 1 else 'reasons'}: see why."
    return ["", HOLD, f" {reasons[0]['says']}{rest}"]


def reason_words(reason: dict, unit: str) -> str:
    """Why it is held back and what to do first, in one or two sentences."""
    code = reason["code"]
    if code == "implausible":
        return ask_words(reason, unit)
    if code == "differs_from_file":
        return file_words(reason, unit)
    if code == "does_not_repeat" or code == "sum_differs":
        return sentence(reason, unit)
    if code in ["one_side_differs", "wrong_side", "moved_unexplained"]:
        return move_reason_words(reason, unit)
    if code == "height_changed":
        return height_words(reason, unit)
    if code == "leans":
        return lean_words(reason, unit)
    return link_words(reason, unit)


def move_reason_words(reason: dict, unit: str) -> str:
    """A side, an axle or a steering wheel that is not where the last round and the log put it."""
    code = reason["code"]
    if code == "wrong_side" and reason.get("link") is not None:
        return (
            "The logged change of the drag link should have turned the steering wheel"
            f" {degrees(abs(reason['expected']), 0)} to the {side_of(reason['expected'])}; it went"
            f" {degrees(abs(reason['observed']), 0)} to the {side_of(reason['observed'])}. Which"
            " way was it turned? Check the adjuster and where the wheel sits."
        )
    if code == "wrong_side":
        return (
            "The logged change should have moved the axle"
            f" {move_words(reason['expected'], unit)}; it went"
            f" {move_words(reason['observed'], unit)}. Are the sides swapped? Check which way the"
            " adjuster went, and measure both sides again."
        )
    if code == "one_side_differs":
        way = "more" if reason["by"] > 0 else "less"
        return (
            f"The {reason['side']} side alone reads {show_amount(abs(reason['by']), unit)} {way}"
            f" than on file; the other reads as before. Measure the {reason['side']} side again."
        )
    return unexplained_words(reason, unit)


def unexplained_words(reason: dict, unit: str) -> str:
    """A move of the axle that nothing explains, or one that what is logged should have made."""
    did = move_words(reason["observed"], unit)
    start = (
        f"Neither heights nor logged changes explain a move of the axle of {did}"
        f" ({known_to(reason['room'], unit)}) since the last round."
    )
    if abs(reason["expected"]) > reason["room"]:
        start = (
            "By heights and logged changes the axle should have moved"
            f" {move_words(reason['expected'], unit)} since the last round; it moved"
            f" {did}."
        )
    elif len(reason["missing"]) > 0:
        start = (
            f"The axle moved {did} since the last round, and nothing that is logged explains it."
        )
    if len(reason["missing"]) > 0:
        parts = " and ".join([MISSING[each] for each in reason["missing"]])
        return f"{start} Measure {parts}; then look for swapped sides, damage, slip or play."
    return f"{start} Are the sides swapped? If not, look for damage, slip or play."


def height_words(reason: dict, unit: str) -> str:
    """A ride height that changed with nothing logged."""
    way = "higher" if reason["higher"] > 0 else "lower"
    return (
        f"The frame stands {show_amount(abs(reason['higher']), unit)} {way} over the axle on the"
        f" {reason['side']} than on file, and no change is logged. Is the axle hanging, is the "
        "load different, or were springs changed? Log what changed, then measure the heights of "
        "the bar and the drag link again."
    )


def lean_words(reason: dict, unit: str) -> str:
    """A frame that leans, and how much of the offset that looks like."""
    moved = move_words(reason["explains"], unit)
    looks = f"about {moved}"
    if reason["rough"]:
        looks = f"perhaps {moved}, less where the bar sits near the rails"
    return (
        f"The frame stands {higher_words(reason['difference'], unit)}."
        f" That alone moves the rails over the axle and looks like an offset of {looks}."
        " Find the cause of the lean first."
    )


def link_words(reason: dict, unit: str) -> str:
    """What is to be done to joints, steering or links before anything is set."""
    code = reason["code"]
    if code == "joint_outside":
        return joint_words(reason, unit)
    if code == "wheel_wanders":
        apart = degrees(reason["most"] - reason["least"], 0)
        return (
            f"After the bumps the steering wheel came to rest in places up to {apart} apart. "
            "Something is loose: find it first."
        )
    name = LINKS[reason["link"]]
    if code == "links_older":
        return (
            f"The heights of the {name} are older than the change of springs, tires or ride height."
            " Measure both of its ends again."
        )
    return (
        f"The {name}'s adjuster has {thread_words(reason['left'], unit)}. That is not enough, and"
        f" it must never come out further. Ask the lead: another {name} or another mount is"
        " needed."
    )


def joint_words(reason: dict, unit: str) -> str:
    """A joint that is not in order, or what all joints of a link let move together."""
    of = reason["of"]
    if reason["fault"] != "movement":
        todo = "Repair it" if of == "track_bar" else "Replace what is worn"
        return f"{joint_of_link(reason['joint'], of)} {FAULTS[reason['fault']]}. {todo} first."
    if of == "track_bar":
        return (
            "Play in the joints lets the axle move"
            f" {show_fine(reason['movement'], unit, places=1)}, more than the limit of its"
            " offset. Find the loose joint and repair it first."
        )
    free = f"lets it move {show_fine(reason['movement'], unit, places=1)}"
    most = show_fine(reason["most"], unit, places=1)
    if reason["rim_deg"] is not None:
        free = f"leaves the steering wheel {degrees(reason['rim_deg'], 1)} free"
        most = degrees(reason["most"], 0)
    return (
        f"Play in the drag link's joints {free}, and no wheel can be centered with more than"
        f" {most}. Find the loose joint and replace it first."
    )


def joint_of_link(joint: str | None, of: str) -> str:
    """A joint to begin a sentence with, and the link that it is of: The track bar's axle end.

    Names that say so themselves stand alone.
    """
    if joint is None or joint == "":
        return NAMELESS_JOINT
    if of in LINKS and LINKS[of] not in joint.lower():
        return f"The {LINKS[of]}'s {joint}"
    return f"{joint[:1].upper()}{joint[1:]}"


def file_words(reason: dict, unit: str) -> str:
    """A value that differs from what is on file."""
    name = f"{LINKS[reason['link']]}'s {FIELDS[reason['field']]}"
    now = value_words(reason["now"], reason["field"], unit)
    filed = value_words(reason["filed"], reason["field"], unit)
    since = "no change is logged."
    if reason.get("logged") is not None:
        by = show_amount(abs(reason["logged"]), unit)
        since = f"a change of {by} is logged since. Was it turned, and as far?"
    return (
        f"The {name} is {now} here and {filed} on file, and {since}"
        f" {'Look' if reason['field'] in PICKED else 'Measure it'} again: put it right, or confirm"
        " the new value."
    )


def value_words(value, field: str, unit: str) -> str:  # type: ignore[no-untyped-def]
    """A value of a link as it is shown."""
    if isinstance(value, str):
        return value.replace("_", " ")
    if field == "ratio":
        return trimmed(value, 1)
    return show_pitch(value, unit) if field == "pitch" else show_amount(value, unit)


def ask_words(reason: dict, unit: str) -> str:
    """What is asked back about a value that vehicles do not have."""
    says = ASKS[reason["ask"]] if reason["ask"] in ASKS else range_words(reason, unit)
    says = says.replace("{rod}", LINKS.get(reason["field"].split(".")[0], ""))
    if len(reason["choices"]) == 0:
        return f"{says} Measure it again."
    meant = " or ".join([meant_words(one, unit) for one in reason["choices"][:2]])
    return f"{says} Did you mean {meant}?"


ASKS = {
    "points": (
        "The point on the rail is entered lower than the one on the face. Are the two swapped?"
    ),
    "sum": "The two sides do not add up to the distance between faces and rails.",
    "offset": "No track bar holds an axle that far off center.",
    "reach": "A {rod} of that length does not fit between its ends.",
    "steep": "A {rod} that steep would bind.",
    "below": (
        "The frame end of the {rod} is entered lower than its axle end. Are the two heights "
        "swapped?"
    ),
    "rear_link": "Rear axles have no drag link.",
    "ends": "Bar and drag link have their frame ends on the same side in nearly every vehicle.",
    "mismatch": "Bar and drag link lie at angles too different to steer straight.",
    "hole": "The hole is entered wider across than along. Are the two swapped?",
    "bolt": "The bolt measures more than its hole.",
    "toe": "Wheels that far out of line would scrub the tires off.",
    "wheelbase": "An axle that far out of square would be seen from across the yard.",
}


def meant_words(choice: dict, unit: str) -> str:
    """What may have been meant: `365 mm`, `16 threads per inch`, `left`."""
    number = choice["number"]
    if isinstance(number, str):
        return number
    if choice["unit"] == "length":
        return set_words(number, unit)
    if choice["unit"] == "to_inch":
        return f"{trimmed(number, 2)} threads per inch"
    places = 4 if choice["unit"] == "in" else 3
    return f"{trimmed(number, places)}{BEHIND.get(choice['unit'], '')}"
