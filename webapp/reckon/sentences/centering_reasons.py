"""What stands behind the centering in sentences: its reasons, and how its numbers came about."""

from ..numbers import MINUS, THIN, fixed, mean, signed, trimmed
from ..terms import FACES, TICK_WORDS, known_to, other
from ..typed.dial import show_fine
from ..typed.length_grammar import INCH
from ..typed.lengths import show_amount, show_length, show_limit, show_step

# Code of a reason to its sentence, or to what makes one from the reason and the unit.
CENTERING_SENTENCES: dict = {
    "no_readings": lambda reason, unit: f"No reading on the {reason['side']}.",
    "one_reading": lambda reason, unit: f"Take a second reading on the {reason['side']}.",
    "no_read_to": "Say what the tape was read to.",
    "axle_hanging": (
        "The axle was hanging. At ride height the bar holds it somewhere else. "
        "Put the load on the springs and measure again."
    ),
    "standing_unknown": "What the vehicle was standing on is not recorded.",
    "not_ticked": lambda reason, unit: f"Not checked: {TICK_WORDS[reason['tick']]}.",
    "mixed_faces": ("The sides were measured from different faces. Use one face for all readings."),
    "tilt_unknown": (
        "The floor's tilt was not measured, and both plumb lines lean with it. "
        "Measure the tilt, and how high both points stand above the floor."
    ),
    "does_not_repeat": lambda reason, unit: (
        f"The {reason['side']} does not repeat: its readings are "
        f"{show_amount(reason['apart'], unit)} apart. "
        "Read again with the tape square, then look for play."
    ),
    "scattered": lambda reason, unit: (
        f"The readings on one side are up to {show_amount(reason['apart'], unit)} apart. With "
        "that much scatter nobody can tell whether the axle is inside the limit. Read again with "
        "the tape square."
    ),
    "sum_differs": lambda reason, unit: sum_sentence(reason, unit),
    "tire_readings": (
        "Readings from a tire are rough: spacers, wheel offset, runout and wear all show up in "
        "them. "
        "Measure from the hub or rotor when the wheels are off."
    ),
    "tilt_corrected": lambda reason, unit: (
        f"The floor falls to the {other(reason['high_side'])} by "
        f"{trimmed(reason['tilt_deg'], 2)}°, so the plumb lines made the axle look "
        f"{show_amount(abs(reason['shift']), unit)} too far to the {reason['high_side']}. That "
        "has been subtracted; 0.1° more or less is "
        f"{show_amount(reason['per_tenth_deg'], unit)} of it."
    ),
    "settled_by_finer_tape": lambda reason, unit: (
        f"Reading to {show_step(reason['read_to'])} would settle it."
    ),
    "settled_by_finer_tape_and_more_readings": (
        "A finer tape and twice as many readings on each side would settle it."
    ),
    "on_the_limit": (
        "It sits on the limit: no tape will settle that. Centering it does, or the lead decides."
    ),
}


def sum_sentence(reason: dict, unit: str) -> str:
    """How far the sum is off, what may be the cause, and what to do."""
    more = "more" if reason["excess"] > 0 else "less"
    off = f"The sides add up to {show_amount(abs(reason['excess']), unit)} {more} than before."
    return f"{off} {cause_sentence(reason['cause'])}"


def cause_sentence(cause: dict | None) -> str:
    """What may make the sum differ, and what to do about it."""
    again = "Measure both sides again."
    if cause is None:
        return f"One side may be misread, or parts were changed. {again}"
    if cause["kind"] == "known_spacer":
        return (
            f"That is the {cause['side']} spacer. Is it on the vehicle, and was it subtracted "
            "only once?"
        )
    name = cause["name"]
    if cause["kind"] == "forgotten_spacer":
        return f"A spacer of {name} on one side would do that. Look behind both wheels."
    if cause["kind"] == "tape_start":
        tapes = "One tape" if cause["tapes"] == 1 else "Both tapes"
        return f"{tapes} may have been started at the {name} mark. {again}"
    if cause["tapes"] == 1:
        return f"That is {name}: a side may have been read {name} short. {again}"
    return f"Both sides may have been read {name} short. {again}"


def centering_basis(part: dict, found: dict, limits: dict, unit: str) -> list:
    """How the numbers came about, as sentences for whoever asks why."""
    says: list = []
    for side in ["left", "right"]:
        count = len(part[side])
        says.append(
            f"{side.capitalize()}: {count} {'reading' if count == 1 else 'readings'} from the "
            f"{FACES.get(part.get('face') or 'rotor', 'face')}, mean "
            f"{show_length(mean(part[side]), unit)} to the outer face of the rail"
            f"{spacer_words(part, side, unit)}."
        )
    half = half_sentence(found["left"], found["right"], unit)
    says.append(f"{half} The floor's tilt comes off that." if found["tilt_shift"] != 0 else half)
    says.append(
        f"It is good to {known_to(found['expanded'], unit)}, two standard uncertainties: tape read "
        f"to {show_step(part['read_to'])}, repeats, and {show_fine(limits['face_u'], unit)} for "
        "each face."
    )
    says.append(
        f"The limit of {show_limit(limits['offset'], unit)} each way is a house limit; a figure "
        "from the vehicle's maker takes priority."
    )
    return says


def half_sentence(left: float, right: float, unit: str) -> str:
    """How the offset comes from both sides: (214.30 − 203.60) / 2 = +5.35 mm."""
    one = INCH if unit == "in" else 1.0
    places = 3 if unit == "in" else 2
    sides = f"({fixed(left / one, places)} {MINUS} {fixed(right / one, places)}) / 2"
    half = signed((left - right) / 2 / one, places)
    equals = f"{sides} = {half}{THIN}{unit}"
    return f"The offset is half the difference between the sides: {equals}, left positive."


def spacer_words(part: dict, side: str, unit: str) -> str:
    """What was taken off a side, in words."""
    extra = part.get(f"{side}_extra") or 0.0
    return "" if extra == 0.0 else f", less {show_limit(extra, unit)} for its spacer"
