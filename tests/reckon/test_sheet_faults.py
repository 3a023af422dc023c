"""A sheet is read whole or not at all: each field at fault is named, with what it must be."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.assess import assess
from webapp.reckon.sheet_faults import RULES, faults

VALUES: dict[str, list] = {
    "choice": ["middle", 5, True, []],
    "truth": ["yes", 1, []],
    "number": ["12", True, math.nan, math.inf, 1e9, -1e9, []],
    "above zero": [0, -1, "1", 1e9],
    "numbers": [5, "5", [True], [-1], ["5"], [math.nan], [None]],
    "angles": [5, "5", [True], [-2000], ["5"], [math.nan], [None]],
    "texts": ["hub", {}],
    "text": [5, True, []],
    "along": ["5", True, [1], [1, 2, 3], [1, "2"], [-1, 1], -1],
    "gap": ["near", True, -1, [], 1e9],
    "pair": ["bar", ["bar"], ["bar", 5], ["a", "b", "c"]],
}
BAD = [(rule[0], value) for rule in RULES for value in VALUES[rule[1]]]


def sheet_with(path, value):
    """The sample sheet with this value at a path; lists hold one object."""
    sheet = changed(SAMPLE)
    at, names = sheet, path.split(".")
    for name in names[:-1]:
        if name.endswith("[]"):
            at[name[:-2]] = [{}]
            at = at[name[:-2]][0]
        else:
            at = at.setdefault(name, {})
    at[names[-1]] = value
    return sheet


@pytest.mark.parametrize(("path", "value"), BAD)
def test_each_field_at_fault_is_named(path, value):
    found = faults(sheet_with(path, value))

    assert [each["field"] for each in found] == [path.replace("[]", "[0]")]
    assert "must be" in found[0]["says"]


@pytest.mark.parametrize("path", [rule[0] for rule in RULES])
def test_a_field_may_be_left_empty(path):
    assert faults(sheet_with(path, None)) == []


def test_every_fault_is_listed():
    sheet = changed(SAMPLE, axle="middle", centering={"read_to": 0, "left": [1, -2]})

    assert [(each["field"], each["says"]) for each in faults(sheet)] == [
        ("axle", "must be one of front, rear"),
        ("centering.left", "reading 2 must be from 0 to 20000"),
        ("centering.read_to", "must be more than 0"),
    ]


@pytest.mark.parametrize(
    ("sheet", "field"),
    [
        ({"color": "red"}, "color"),
        ({"centering": {"lefft": [1]}}, "centering.lefft"),
        ({"track_bar": {"adjuster": {"pich": 1}}}, "track_bar.adjuster.pich"),
    ],
)
def test_a_misspelled_field_never_passes_unseen(sheet, field):
    assert faults(sheet) == [
        {"field": field, "says": "is not a field of a sheet; check its spelling"}
    ]


@pytest.mark.parametrize("part", ["centering", "track_bar", "limits", "ready"])
def test_a_part_must_be_an_object(part):
    assert faults({part: 5}) == [{"field": part, "says": "must be an object with its fields"}]


@pytest.mark.parametrize("part", ["play", "clearance", "torque", "plans"])
def test_a_list_of_objects_must_be_one(part):
    assert faults({part: 5}) == [{"field": part, "says": "must be a list of objects"}]
    assert faults({part: [{}, 5]}) == [
        {"field": f"{part}[1]", "says": "must be an object with its fields"}
    ]


def test_a_field_at_fault_in_a_list_is_named_with_its_place():
    assert faults({"play": [{"bolt": 14}, {"bolt": "14"}]}) == [
        {"field": "play[1].bolt", "says": "must be a number"}
    ]


def test_a_list_of_texts_holds_texts_and_those_of_its_choices():
    assert faults({"confirmed": ["leans", 5]}) == [
        {"field": "confirmed", "says": "must be a list of texts"}
    ]
    assert faults({"older": ["track_bar", "spring"]}) == [
        {"field": "older", "says": "may hold track_bar and drag_link only"}
    ]


@pytest.mark.parametrize("sheet", [None, 5, "sheet", [], [SAMPLE]])
def test_only_an_object_is_a_sheet(sheet):
    assert faults(sheet)[0]["field"] == "sheet"


def test_a_bad_sheet_gets_faults_and_no_findings():
    found = assess({"axle": 5})

    assert list(found) == ["faults"]


def test_an_empty_sheet_has_no_findings_and_no_faults():
    found = assess({})

    assert found["answer"] == []
    assert found["says"] == ""
    assert "centering" not in found


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=8,
)
NAMES = sorted({rule[0].split(".")[0].removesuffix("[]") for rule in RULES})


@given(st.dictionaries(st.sampled_from([*NAMES, "x"]), ANYTHING) | ANYTHING)
def test_any_json_gets_findings_or_faults(sheet):
    found = assess(sheet)

    for each in found.get("faults", []):
        assert isinstance(each["field"], str)
        assert each["says"]
