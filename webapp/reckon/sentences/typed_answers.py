"""What is said of a text that a parser of `typed/` asks back or refuses."""

TORQUE = "Write a torque such as 90 N·m, 65 lb-ft or 40 N·m then 90°."
LENGTH = "Write it like 14 3/8 or 365 mm."
SAYS = {
    "length_empty": "Nothing was entered. Write a length such as 14 3/8 or 365 mm.",
    "length_sign": "A length has no sign. Say which side is larger instead.",
    "length_below_zero": "A length is never below zero.",
    "length_too_long": "That is longer than any vehicle. Check the number and the unit.",
    "length_zero": "A distance of 0: was the reading left out? If the two touch, say so.",
    "length_range": "That is a range. Enter one reading at a time.",
    "length_angle": "That is an angle. Enter a length here.",
    "length_half_first": "Write the number first, then {about}.",
    "length_word": "“{about}” is not part of a length. " + LENGTH,
    "length_feet_or_inches": "Is that feet or inches?",
    "length_feet_twice": "Write the feet once, then the inches.",
    "length_feet_last": "Write the feet first, then the inches, as in 1 ft 2 3/8 in.",
    "length_feet_and_metric": (
        "Feet go with inches. Write all of it in mm, or all in feet and inches."
    ),
    "length_thread": "That is a thread (size and pitch) or a range. Enter one length such as 3/4.",
    "length_two_numbers": (
        "Two numbers with nothing between them. Write a fraction with /, as in 8 7/16."
    ),
    "length_unit_once": "The unit goes at the end, once.",
    "length_half_a_fraction": "The fraction has no lower number. Write it like 7/16.",
    "length_unclear": "That cannot be read as one length. " + LENGTH,
    "length_comma": "A comma can't be read here. Write the decimals with a point.",
    "length_not_a_number": "“{about}” is not a number. Write it like 14.375.",
    "length_comma_or_thousands": "Does the comma stand before decimals or thousands?",
    "length_fraction_of_wholes": "A fraction is written with whole numbers, as in 8 7/16.",
    "length_over_zero": "A fraction can't have 0 below the line.",
    "length_denominator": "No tape is divided into {about} parts. Write 16ths or 32nds.",
    "length_fraction_unit": "Fractions go with inches. Write decimals with {about}.",
    "length_fraction_too_large": "The fraction is a whole inch or more. Write it as in 8 7/16.",
    "length_is_it_inches": "Fractions go with inches. Is it inches?",
    "length_one": "Is that one length?",
    "length_mil": "Is that thousandths of an inch or millimeters?",
    "length_two_figures": "The two figures do not agree. Which one was read?",
    "length_split": "Is a space missing in {about}?",
    "angle_empty": "Nothing was entered. Write an angle such as 10 deg or 1° 30'.",
    "angle_sign": "An angle has no sign here. Say which side is higher or which way instead.",
    "angle_too_large": "That is more than any angle here. Check the number.",
    "angle_not_a_number": "“{about}” is not a number. Write it like 1.5.",
    "angle_word": "“{about}” is not part of an angle. Write it like 10 deg.",
    "angle_degrees_or_minutes": "Is that degrees or minutes of a degree?",
    "angle_mark_minutes": "Two numbers: mark the minutes, as in 1° 30'.",
    "angle_sixty": "A degree has 60 minutes. Check the minutes.",
    "wheel_empty": "Nothing was entered. Write it like 10 deg left or 1 o'clock.",
    "wheel_several": "“{about}” can't be read as one of several positions. Write each in full.",
    "wheel_hours": "Is that a clock position?",
    "wheel_side_once": "Say left or right only once.",
    "wheel_which_side": "To the left or to the right?",
    "wheel_clock_or_degrees": "Is {about} a clock position or degrees?",
    "wheel_turn_or_degrees": "Is that {about} of a turn or of a degree?",
    "wheel_too_far": "No steering wheel turns that far. Check the number.",
    "wheel_hours_of_clock": "A clock position is from 1 to 12, as in 1 o'clock or 1:30.",
    "wheel_other_side": "By the clock that is to the {about}. Say it one way.",
    "wheel_turns": "Write the turns like 1/4 turn left.",
    "wheel_how_far": "Say how far, as in 10 deg left.",
    "wheel_word": "“{about}” is not part of a wheel position. Write it like 10 deg left.",
    "dial_word": "“{about}” is not part of a reading. Write it like 0.4 mm or 16 thou.",
    "dial_half": "A gauge shows digits. Write what it shows, such as 0.4 mm.",
    "dial_thou": "Write the thousandths as a number, such as 16.",
    "dial_too_long": "That is more than a dial indicator reads. Check the number and the unit.",
    "dial_in_or_thou": "Is that inches or thousandths of an inch?",
    "dial_in_or_thou_ways": "Are these inches or thousandths of an inch?",
    "dial_bolt": "“{about}” is not a metric bolt. Write it like M14.",
    "dial_pitch": "Enter only the size of the bolt here. Is it this one?",
    "dial_movement": "“{about}” is the name of a bolt. Write a movement such as 0.4.",
    "dial_ways": "Enter one movement, or two for both ways, as in 0.4 + 0.5.",
    "dial_way_missing": "One way is missing, as in 0.4 + 0.5.",
    "dial_ways_or_fraction": "Are these two movements, or a fraction of an inch?",
    "driven_unclear": "Write the distance as a number, such as 500.",
    "driven_too_far": "That is too far. Write at most 20000.",
    "driven_thousands": "Is the mark one for thousands?",
    "turns_unclear": "Write the turns like 3 1/2 or 2 flats, and pick which way.",
    "turns_halves": "How many turns is that in all?",
    "turns_too_many": "No adjuster is turned that far at once. Check the number.",
    "pitch_unclear": "Write the pitch like 1.5 mm or 16 threads per inch.",
    "ratio_unclear": "Write the ratio as a number from 1 to 100, such as 18 or 17.5.",
    "ratio_range": "The ratio changes with the lock: which one is it straight ahead?",
    "ratio_is_it": "Is it this one?",
    "ratio_turned": "The steering wheel turns further than the road wheels. Is it this one?",
    "torque_empty": "Nothing was entered. " + TORQUE,
    "torque_no_number": "A torque begins with its number. " + TORQUE,
    "torque_word": "“{about}” is not a unit of torque. " + TORQUE,
    "torque_not_a_number": "“{about}” is not a number. " + TORQUE,
    "torque_thousands": "Does the mark in {about} stand before decimals or thousands?",
    "torque_weight": "“{about}” alone is a weight. Which torque is it?",
    "torque_unit": "Is that N·m or lb-ft?",
    "torque_fraction": "Is {about} a fraction, or are these two figures?",
    "torque_range": "That is a range. Which figure is meant, or is it the middle with a tolerance?",
    "torque_further": "What is the {about} behind the figure?",
    "torque_leftover": "There is more than one number. Which one is the torque?",
    "torque_left_over_digits": "{about} does not belong to any torque here. " + TORQUE,
    "torque_ends_early": "The number behind “{about}” is missing. " + TORQUE,
    "torque_sign": "A number has no sign here. " + TORQUE,
    "torque_bracket": "The parentheses hold one figure, as in 95 N·m (70 lb-ft).",
    "torque_two_angles": "Write one figure and one further angle, as in 40 then 90°.",
    "torque_two_tolerances": "Write only one tolerance, as in 525 ± 75.",
    "torque_zero": "A torque is more than 0.",
    "torque_too_large": "That is more than any fastener here. Check the number and the unit.",
    "torque_tolerance": "The tolerance is as large as the figure. Check both.",
    "torque_angle": "That is further than any bolt is turned. Check the angle.",
}  # fmt: skip


def says_of(found: dict) -> str:
    """The sentence for an answer that is not a value."""
    return SAYS[found["code"]].replace("{about}", found["about"])


def says_with_choices(found: dict) -> str:
    """The sentence with the choices behind it, for where they cannot be touched."""
    texts = [each["text"] for each in found["choices"]]
    if len(texts) == 0:
        return says_of(found)
    return says_of(found) + " Write " + " or ".join(texts) + "."


def with_sentence(found: dict) -> dict:
    """The answer of a parser with its sentence, `says`, where it asks back or refuses."""
    if not found["ok"]:
        found["says"] = says_of(found)
    return found
