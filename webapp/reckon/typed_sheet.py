"""A sheet whose values are written as they would be typed, read into numbers.

Texts stand for lengths, angles, torques, gauge readings, turns and ratios; a text that must be
asked back is a fault with its choices, and so is one that says what another field says too.
"""

from .sentences.typed_answers import says_with_choices
from .sheet_faults import TREE, fault, faults
from .typed.angles import TURN_WORDS, parse_angle, parse_wheel
from .typed.dial import parse_along, parse_dial
from .typed.lengths import parse_distance, parse_length
from .typed.pitches import parse_pitch
from .typed.ratios import parse_ratio
from .typed.tokens import plain, words_of
from .typed.torque_figures import UNITS_IN_NM, parse_torque
from .typed.turns import FLAT_WORDS, parse_turns

# What a field is called decides how its text is read; every other number is a length.
QUANTITIES = {
    "ratio": "ratio", "box_ratio": "ratio", "step": "turns", "tilt_deg": "angle",
    "bump_steer": "angle", "then_deg": "further", "wheel_deg": "wheel", "after_bumps": "wheel",
    "along": "along", "bolt": "dial", "hole_long": "dial", "hole_short": "dial", "sleeve": "dial",
    "edge": "dial", "pitch": "pitch", "maker_limit": "dial", "house_limit": "dial",
}  # fmt: skip
DISTANCES = ["heights.left", "heights.right", "centering.left", "centering.right"]
NO_TEXTS = ["choice", "truth", "text", "texts", "pair"]
# A recheck's distance is in km or miles.
ROADS = ["recheck.distance"]
# What a torque's text may say beside its figure.
SAID_WITH_A_TORQUE = ["tolerance", "then_deg", "also", "also_unit"]


def read_sheet(sheet: object) -> dict:
    """{sheet, faults}: the sheet with numbers for its texts, and everything at fault in it."""
    if not isinstance(sheet, dict):
        return {"sheet": sheet, "faults": faults(sheet)}
    found: list = []
    unit = "in" if sheet.get("units") == "in" else "mm"
    numbers = read_part(sheet, TREE, "", unit, found)
    return {"sheet": numbers, "faults": found + faults(numbers)}


def read_part(part: dict, at: dict, prefix: str, unit: str, found: list) -> dict:
    """An object of a sheet with numbers for its texts; their faults are put with those found."""
    result = dict(part)
    for name in list(part):
        if name in at["fields"]:
            result[name] = read_field(part, name, at["fields"][name], prefix + name, unit, found)
    if isinstance(part.get("wheel_deg"), str):
        read_wheel(result, part["wheel_deg"], prefix, found)
    return result


def read_field(part: dict, name: str, at: dict, path: str, unit: str, found: list) -> object:
    """The value of a field with numbers for its texts, whatever it holds."""
    value = part[name]
    if at["rule"] is not None:
        readable = at["rule"][1] not in NO_TEXTS and path not in ROADS and name != "wheel_deg"
        return read_value(value, part, at["rule"], path, unit, found) if readable else value
    if at["many"] and isinstance(value, list):
        return [read_each(each, at, f"{path}[{index}]", unit, found)
                for index, each in enumerate(value)]  # fmt: skip
    return read_part(value, at, path + ".", unit, found) if isinstance(value, dict) else value


def read_each(each: object, at: dict, path: str, unit: str, found: list) -> object:
    """One object of a list; a fastener's texts say more than one field."""
    if not isinstance(each, dict):
        return each
    if path.startswith("torque["):
        each = read_fastener(each, path, unit, found)
    return read_part(each, at, path + ".", unit, found)


def read_value(value: object, part: dict, rule: list, path: str, unit: str, found: list) -> object:
    """A value with numbers for its texts; without those that are at fault."""
    if isinstance(value, list):
        read: list = []
        for each in value:
            number = read_value(each, part, rule, path, unit, found)
            if number is not None or each is None:
                read.append(number)
        return read
    if not isinstance(value, str) or (rule[1] == "gap" and value in rule[2]):
        return value
    answer = answer_of(value, part, rule, unit)
    if not answer["ok"]:
        found.append(text_fault(path, value, answer))
        return None
    return answer["pair"] if answer.get("pair") is not None else answer["value"]


def answer_of(text: str, part: dict, rule: list, unit: str) -> dict:
    """What the parser of a field's quantity answers to its text."""
    names = rule[0].split(".")
    quantity = QUANTITIES.get(names[len(names) - 1], "length")
    if quantity == "ratio":
        return parse_ratio(text)
    if quantity == "turns":
        return parse_turns(text)
    if quantity == "pitch":
        return parse_pitch(text, unit)
    if quantity == "angle":
        return parse_angle(text)
    if quantity == "further":
        return parse_further(text)
    if quantity == "wheel":
        return parse_wheel(text)
    if quantity == "along":
        return parse_along(text, unit)
    return parse_dial(text, unit) if quantity == "dial" else parse_size(text, part, rule, unit)


def parse_size(text: str, part: dict, rule: list, unit: str) -> dict:
    """A length; with a sign before it where the field goes either way."""
    read_to = part.get("read_to")
    step = read_to if isinstance(read_to, (int, float)) and not isinstance(read_to, bool) else None
    if rule[0] in DISTANCES:
        return parse_distance(text, unit, step)
    written = plain(text)
    if rule[1] == "gap" or rule[2][0] >= 0 or written[:1] not in ["-", "+"]:
        return parse_length(text, unit, step)
    answer = parse_length(written[1:], unit, step)
    if written.startswith("-") and answer["ok"]:
        answer["value"] = -answer["value"]
    return answer


def parse_further(text: str) -> dict:
    """A bolt's further angle: degrees, turns or flats."""
    pieces = words_of(text)
    if len(pieces) == 0 or pieces[len(pieces) - 1] not in TURN_WORDS + FLAT_WORDS:
        return parse_angle(text)
    answer = parse_turns(text)
    if answer["ok"]:
        answer["value"] = answer["value"] * 360
    return answer


def text_fault(path: str, text: str, answer: dict) -> dict:
    """The fault of a text that is asked back or refused: {field, says, choices}."""
    wrong = fault(path, f"“{text}”: {says_with_choices(answer)}")
    wrong["choices"] = answer["choices"]
    return wrong


def read_wheel(result: dict, text: str, prefix: str, found: list) -> None:
    """Put where the wheel sits into its part; several places stand as those after bumps."""
    answer = parse_wheel(text)
    result["wheel_deg"] = None
    if not answer["ok"]:
        found.append(text_fault(prefix + "wheel_deg", text, answer))
    elif answer["value"] is not None:
        result["wheel_deg"] = answer["value"]
    elif result.get("after_bumps") is None:
        result["after_bumps"] = answer["positions"]
    else:
        found.append(fault(prefix + "wheel_deg", "is said again by after_bumps; write it once"))


def read_fastener(item: dict, path: str, unit: str, found: list) -> dict:
    """A fastener with numbers for the texts of its figure, its tolerance and its second figure."""
    result = dict(item)
    usual = "lb-ft" if unit == "in" else "N·m"
    if isinstance(item.get("value"), str):
        read_figure(result, item["value"], path, usual, found)
    written = result.get("unit") if result.get("unit") in list(UNITS_IN_NM) else usual
    if isinstance(item.get("tolerance"), str):
        read_torque(result, "tolerance", "unit", path, written or usual, found)
    if isinstance(item.get("also"), str):
        given = item.get("also_unit")
        beside = given if given in list(UNITS_IN_NM) else "lb-ft"
        read_torque(result, "also", "also_unit", path, beside, found)
    return result


def read_figure(result: dict, text: str, path: str, usual: str, found: list) -> None:
    """Put a torque as written into its fields: value, unit, tolerance, angle, second figure."""
    given = result.get("unit")
    answer = parse_torque(text, given if given in list(UNITS_IN_NM) else usual)
    result["value"] = None
    if not answer["ok"]:
        found.append(text_fault(path + ".value", text, answer))
        return
    unit = answer["unit"]
    if given is not None and given != unit:
        found.append(fault(path + ".unit", f"is {given}, but the value is written in {unit}"))
    result["unit"] = unit
    result["value"] = answer["value"] / UNITS_IN_NM[unit]
    if answer["tolerance"] is not None:
        answer["tolerance"] = answer["tolerance"] / UNITS_IN_NM[unit]
    if answer["also"] is not None:
        answer["also"] = answer["also"] / UNITS_IN_NM[answer["also_unit"]]
    for name in SAID_WITH_A_TORQUE:
        told = answer[name]
        if told is not None and result.get(name) is not None:
            found.append(fault(f"{path}.{name}", "is said again by the value; write it once"))
        elif told is not None:
            result[name] = told


def read_torque(
    result: dict, name: str, unit_name: str, path: str, usual: str, found: list
) -> None:
    """Put a torque that is a figure alone into its field, in the unit of its own field."""
    text = result[name]
    answer = parse_torque(plain(text).lstrip("±+ ") if name == "tolerance" else text, usual)
    result[name] = None
    if not answer["ok"]:
        found.append(text_fault(f"{path}.{name}", text, answer))
        return
    said = [each for each in ["tolerance", "then_deg", "also"] if answer[each] is not None]
    if len(said) > 0:
        found.append(fault(f"{path}.{name}", "must be one figure"))
        return
    unit = usual if name == "tolerance" else answer["unit"]
    if result.get(unit_name) is not None and result[unit_name] != unit:
        says = f"is {result[unit_name]}, but {name} is written in {unit}"
        found.append(fault(f"{path}.{unit_name}", says))
    if name == "also":
        result[unit_name] = unit
    result[name] = answer["value"] / UNITS_IN_NM[unit]
