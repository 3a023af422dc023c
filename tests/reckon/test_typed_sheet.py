"""Values of a sheet as they would be typed: read into numbers, or a fault with its choices."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.same_work import SHEETS
from kit.typed_texts import ANY, with_text
from kit.worked_sheets import SAMPLE, changed

from webapp.command import main
from webapp.reckon.assess import assess, assess_numbers
from webapp.reckon.sheet_faults import faults
from webapp.reckon.sheet_rules import RULES
from webapp.reckon.typed_sheet import DISTANCES, NO_TEXTS, ROADS, read_sheet

INCH = 25.4
LBF_FT = 1.3558179483


def at(sheet, path):
    """What stands at a path, the first of every list of objects."""
    for name in path.split("."):
        sheet = sheet[name.removesuffix("[]")]
        sheet = sheet[0] if name.endswith("[]") else sheet
    return sheet


READ = [
    ("track_bar.length", "8 7/16", "in", 8.4375 * INCH),
    ("track_bar.length", "862", "mm", 862),
    ("track_bar.length", "33 15/16 in", "mm", 33.9375 * INCH),
    ("track_bar.fore_aft", "-1/2", "in", -INCH / 2),
    ("track_bar.fore_aft", "+18", "mm", 18),
    ("track_bar.fore_aft", "0", "mm", 0),
    ("track_bar.adjuster.pitch", "1/16", "in", INCH / 16),
    ("track_bar.adjuster.step", "half a turn", "mm", 0.5),
    ("track_bar.adjuster.step", "1 flat", "mm", 1 / 6),
    ("drag_link.ratio", "18 to 1", "mm", 18),
    ("centering.tilt_deg", "1 30'", "mm", 1.5),
    ("centering.known_sum", "16 1/2", "in", 16.5 * INCH),
    ("heights.read_to", "1/16", "in", INCH / 16),
    ("play[].along", "+0.9 -0.7", "mm", [0.9, 0.7]),
    ("play[].along", "16 thou", "mm", 16 * INCH / 1000),
    ("play[].bolt", "M14", "in", 14),
    ("play[].maker_limit", "0.060", "in", 1.524),
    ("clearance[].gap", "3/8", "in", 9.525),
    ("clearance[].gap", "touches", "in", "touches"),
    ("steering.wheel_deg", "1 o'clock", "mm", -30),
    ("torque[].then_deg", "1/4 turn", "mm", 90),
    ("torque[].then_deg", "2 flats", "mm", 120),
    ("torque[].then_deg", "90°", "mm", 90),
    ("toe.front", "59 13/16", "in", 59.8125 * INCH),
    ("limits.offset", "1/8", "in", INCH / 8),
    ("before.offset", "-1.5", "mm", -1.5),
    ("plans[].axle_end_up", "2", "in", 2 * INCH),
]


@pytest.mark.parametrize(("path", "text", "unit", "value"), READ)
def test_a_text_is_read_as_its_field_is_typed(path, text, unit, value):
    found = read_sheet(with_text(path, text, units=unit))

    assert found["faults"] == []
    assert at(found["sheet"], path) == (value if isinstance(value, str) else pytest.approx(value))


@pytest.mark.parametrize("path", [rule[0] for rule in RULES if rule[1] not in NO_TEXTS])
def test_every_value_may_be_a_text_but_a_distance_on_the_road(path):
    texts = {"angles": ["5"], "numbers": ["5"]}
    kind = next(rule[1] for rule in RULES if rule[0] == path)
    text = "5 N·m" if path.startswith("torque[]") and "deg" not in path else "5"
    if path == "steering.wheel_deg" or kind == "angles":
        text = "5 deg left"
    value = [text] if kind in texts else text

    wrong = read_sheet(with_text(path, value))["faults"]

    assert [each["field"] for each in wrong] == ([path] if path in ROADS else [])


def test_readings_of_a_side_are_texts_and_numbers_mixed():
    sheet = {"units": "in", "centering": {"left": ["8 7/16", 214.3, "214 mm"], "read_to": "1/16"}}

    found = read_sheet(sheet)

    assert found["faults"] == []
    assert found["sheet"]["centering"]["left"] == pytest.approx([214.3125, 214.3, 214])


def test_strong_is_half_of_what_the_part_was_read_to():
    sheet = {"units": "in", "heights": {"left": ["8 strong"], "read_to": INCH / 32}}

    assert read_sheet(sheet)["sheet"]["heights"]["left"] == pytest.approx([8 * INCH + INCH / 64])


ASKED = [
    ("track_bar.length", "14' 3/8", "mm", ["14 3/8 in", "14 ft 3/8 in"]),
    ("track_bar.length", "21/4", "in", ["2 1/4 in", "5 1/4 in"]),
    ("track_bar.length", "8 7/16", "mm", ["8 7/16 in"]),
    ("torque[].value", "1.200 Nm", "mm", ["1.2 Nm", "1200 Nm"]),
    ("torque[].value", "450-600 Nm", "mm", ["525 ± 75 N·m", "450 N·m", "600 N·m"]),
    ("torque[].also", "150 lb", "mm", ["150 lb-ft", "150 lb-in"]),
    ("steering.wheel_deg", "12", "mm", ["12 o'clock", "12 deg left", "12 deg right"]),
    ("drag_link.ratio", "1:18", "mm", ["18:1"]),
    ("play[].bolt", "M14x1.5", "mm", ["M14"]),
    ("track_bar.adjuster.step", "some", "mm", []),
]


@pytest.mark.parametrize(("path", "text", "unit", "choices"), ASKED)
def test_a_text_that_is_asked_back_is_a_fault_with_its_choices(path, text, unit, choices):
    sheet = with_text(path, text, units=unit)

    [wrong] = read_sheet(sheet)["faults"]

    assert wrong["field"] == path.replace("[]", "[0]")
    assert wrong["says"].startswith(f"“{text}”: ")
    assert [each["text"] for each in wrong["choices"]] == choices
    assert all(each in wrong["says"] for each in choices)
    assert assess(sheet) == {"faults": [wrong]}


@pytest.mark.parametrize("path", DISTANCES)
def test_a_distance_of_zero_is_asked_back_and_touching_is_zero(path):
    [wrong] = read_sheet(with_text(path, ["0"]))["faults"]

    assert "left out?" in wrong["says"]
    assert at(read_sheet(with_text(path, ["touching"]))["sheet"], path) == [0]


def test_the_text_of_a_torque_fills_every_field_that_it_says():
    text = "70 ± 5 N·m (52 lb-ft), then 90°"

    found = read_sheet({"torque": [{"fastener": "bolt", "value": text}]})

    assert found["faults"] == []
    [item] = found["sheet"]["torque"]
    assert item == {
        "fastener": "bolt",
        "value": 70,
        "unit": "N·m",
        "tolerance": 5,
        "then_deg": 90,
        "also": pytest.approx(52),
        "also_unit": "lb-ft",
    }


@pytest.mark.parametrize(("unit", "nm"), [("in", 70 * LBF_FT), ("mm", 70)])
def test_a_bare_torque_is_in_the_usual_unit_of_the_sheet(unit, nm):
    found = assess({"units": unit, "torque": [{"value": "70"}]})

    assert found["torque"]["fasteners"][0]["nm"] == pytest.approx(nm)


def test_a_bare_torque_takes_the_unit_beside_it():
    item = {"value": "70", "unit": "kgf·m", "tolerance": "± 5", "also": "680 N·m"}

    [read] = read_sheet({"torque": [item]})["sheet"]["torque"]

    assert (read["value"], read["unit"], read["tolerance"]) == (70, "kgf·m", 5)
    assert (read["also"], read["also_unit"]) == (680, "N·m")


SAID_TWICE = [
    ({"value": "70 Nm", "unit": "lb-ft"}, "torque[0].unit", "written in N·m"),
    ({"value": "70 Nm then 90°", "then_deg": 90}, "torque[0].then_deg", "said again"),
    ({"value": "70 ± 5 Nm", "tolerance": 5}, "torque[0].tolerance", "said again"),
    ({"value": 70, "also": "52 lb-ft", "also_unit": "N·m"}, "torque[0].also_unit", "written in"),
    ({"value": 70, "also": "52 lb-ft then 90°"}, "torque[0].also", "one figure"),
]


@pytest.mark.parametrize(("item", "field", "says"), SAID_TWICE)
def test_what_a_torque_says_stands_once(item, field, says):
    [wrong] = read_sheet({"torque": [item]})["faults"]

    assert wrong["field"] == field
    assert says in wrong["says"]


def test_a_wheel_seen_in_several_places_stands_as_after_bumps():
    found = read_sheet({"steering": {"wheel_deg": "1, 3, 11 o'clock"}})

    assert found["faults"] == []
    assert found["sheet"]["steering"] == {"wheel_deg": None, "after_bumps": [-30, -90, 30]}
    assert "steering" not in assess({"steering": {"wheel_deg": "1, 3, 11 o'clock"}})


def test_several_places_and_after_bumps_are_said_once():
    sheet = {"steering": {"wheel_deg": "1, 3 o'clock", "after_bumps": ["1 o'clock"]}}

    [wrong] = read_sheet(sheet)["faults"]

    assert wrong["field"] == "steering.wheel_deg"


def test_a_sheet_in_texts_finds_what_the_same_sheet_in_numbers_finds():
    sides = {"left": ["8 7/16", "8 7/16"], "right": ["8", "8 1/32"]}
    numbers = {"left": [214.3125, 214.3125], "right": [203.2, 203.99375]}

    typed = assess(changed(SAMPLE, units="in", centering={**SAMPLE["centering"], **sides}))
    measured = assess(changed(SAMPLE, units="in", centering={**SAMPLE["centering"], **numbers}))

    assert typed["centering"]["offset"] == pytest.approx(measured["centering"]["offset"])
    assert typed["says"] == measured["says"]


def test_the_command_reads_texts_and_names_their_choices(tmp_path, capsys):
    path = tmp_path / "sheet.json"
    path.write_text(json.dumps({"track_bar": {"length": "14' 3/8"}}), "utf-8")

    assert main(["assess", str(path)]) == 2
    assert capsys.readouterr().err == (
        "track_bar.length: “14' 3/8”: Is that feet or inches? Write 14 3/8 in or 14 ft 3/8 in.\n"
    )


@given(st.sampled_from(RULES), ANY | st.lists(ANY, max_size=2))
def test_any_text_anywhere_gives_a_good_sheet_or_faults(rule, value):
    found = read_sheet(with_text(rule[0], value))

    if not found["faults"]:
        assert faults(found["sheet"]) == []
    for each in found["faults"]:
        assert each["field"]
        assert each["says"]


@given(sheet=SHEETS)
def test_the_sheet_of_a_round_has_no_texts_to_be_read(sheet):
    assert assess_numbers(sheet) == assess(sheet)


def test_a_text_is_at_fault_where_only_numbers_are_awaited():
    [fault] = assess_numbers({"track_bar": {"length": "33 15/16 in"}})["faults"]

    assert fault["field"] == "track_bar.length"
